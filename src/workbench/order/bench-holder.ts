/** What judging a list needs to know: the jobs, the catalogs, the language. Told by the page, waited for by the checks. */
import type { CatalogIndex } from "../../catalog/index.ts";
import { type RightNumberFinder, rightNumberFinder } from "../../desks/right-numbers.ts";
import type { Device } from "../../formats/bench.ts";
import type { CatalogsNow } from "../work/shelf.ts";
import type { BenchNews } from "./order-calls.ts";

/** Everything that judging needs besides the rules. */
export interface BenchKnowledge extends CatalogsNow {
  readonly finder: RightNumberFinder;
  /** Devices that are not put away. */
  readonly devices: readonly Device[];
  readonly language: string;
}

/** Holds the latest news of the bench. */
export class BenchHolder {
  readonly #catalogs: () => Promise<CatalogsNow>;
  readonly #first: Promise<void>;
  #told: () => void = () => undefined;
  #news: BenchNews | null = null;
  #finder: { readonly index: CatalogIndex; readonly finder: RightNumberFinder } | null = null;

  constructor(catalogs: () => Promise<CatalogsNow>) {
    this.#catalogs = catalogs;
    this.#first = new Promise((resolve) => {
      this.#told = resolve;
    });
  }

  tell(news: BenchNews): void {
    this.#news = news;
    this.#told();
  }

  /** What is known now; waits until the page has told the bench. */
  async get(): Promise<BenchKnowledge> {
    await this.#first;
    const { index, stamp, unreadable } = await this.#catalogs();
    if (this.#finder?.index !== index) this.#finder = { index, finder: rightNumberFinder(index) };
    const { devices = [], stamp: benchStamp = "", language = "en" } = this.#news ?? {};
    return {
      index,
      finder: this.#finder.finder,
      devices: devices.filter(({ archived }) => archived !== true),
      language,
      unreadable,
      stamp: `${stamp} | ${benchStamp}`,
    };
  }
}
