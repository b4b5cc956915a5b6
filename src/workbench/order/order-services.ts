/** The worker's side of the order desk: two lists, what is asked about them, and what is written out. */

import type { CatalogIndex } from "../../catalog/index.ts";
import { resolveRevisions } from "../../catalog/resolve.ts";
import { SAMPLE_ROWS, tellColumns } from "../../desks/columns.ts";
import { entryListing } from "../../desks/entries.ts";
import { printedSheet, type SheetSection, sheetCells, sheetHeading, sheetRecord } from "../../desks/order-sheet.ts";
import { type OrderSummary, summarize } from "../../desks/order-tally.ts";
import type { Device } from "../../formats/bench.ts";
import type { ColumnNames } from "../../formats/column-names.ts";
import type { ListSlot } from "../../store/lists.ts";
import type { Words } from "../../text/words.ts";
import { explain } from "../../ui/explanation.ts";
import { judge, prepareDevice } from "../../verdict/index.ts";
import { partTypeName } from "../part-types.ts";
import { placeName } from "../place-name.ts";
import { breather, type Job } from "../work/job.ts";
import type { CatalogsNow } from "../work/shelf.ts";
import { BenchHolder } from "./bench-holder.ts";
import { jobName } from "./job-name.ts";
import { CHUNK_LINES, type KeptLine, type ListHead } from "./kept.ts";
import { lineFinder, linePlaces } from "./line-places.ts";
import { type CheckTools, ListCheck } from "./list-check.ts";
import { encodingOf, firstRows } from "./list-rows.ts";
import { type ListExport, type ListSummary, MOST_SHOWN, type OrderServices, type ShownLine } from "./order-calls.ts";

/** What the services work with. */
export interface OrderPlatform extends Omit<CheckTools, "bench" | "now" | "breathe"> {
  readonly columnNames: readonly ColumnNames[];
  readonly catalogs: () => Promise<CatalogsNow>;
  readonly words: (language: string) => Promise<Words>;
}

/** A message to oneself comes behind those that wait already, and without the pause that timers are given. */
function letMessagesIn(): Promise<void> {
  return new Promise((resolve) => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = () => {
      port1.close();
      resolve();
    };
    port2.postMessage(null);
  });
}

/** Rows from the top that are shown before a list is checked. */
const ROWS_SHOWN = 30;

/** Rows that hold a right number, by the row of the wrong line. */
type Remedies = ReadonlyMap<number, Pick<ShownLine, "elsewhere" | "inStock">>;
const NO_REMEDY: Pick<ShownLine, "elsewhere" | "inStock"> = { elsewhere: [], inStock: [] };

/** Makes the services; both lists lie in the store that the platform names. */
export function orderServices(platform: OrderPlatform): OrderServices {
  const bench = new BenchHolder(platform.catalogs);
  const tools: CheckTools = { ...platform, bench, now: () => performance.now(), breathe: letMessagesIn };
  const checks: Readonly<Record<ListSlot, ListCheck>> = {
    order: new ListCheck("order", tools),
    stock: new ListCheck("stock", tools),
  };
  const whole = new Summaries(checks, bench);
  const done = async (work: Promise<void>): Promise<null> => {
    await work;
    return null;
  };
  return {
    listBench: async (news) => {
      bench.tell(news);
      checks.order.refresh();
      checks.stock.refresh();
      return null;
    },
    listLook: async ({ content, encoding = "", delimiter = "" }) => {
      const reading = { encoding: encoding || (await encodingOf(content)), delimiter };
      const { rows, delimiter: found } = await firstRows(content, reading, SAMPLE_ROWS);
      const shape = tellColumns(rows, platform.columnNames, found);
      return {
        encoding: reading.encoding,
        delimiter: found,
        shape,
        heading: shape.heading === "" ? [] : (rows[shape.skip - 1] ?? []),
        rows: rows.slice(0, ROWS_SHOWN),
        bytes: content.size,
      };
    },
    listStart: ({ slot, source, reading, shape }) => done(checks[slot].start(source, reading, shape)),
    listNews: ({ slot, seen }, { signal }) => checks[slot].news(seen, signal),
    listGoOn: ({ slot }) => done(checks[slot].goOn()),
    listAgain: ({ slot, reading, shape }) => done(checks[slot].again(reading, shape)),
    listCancel: ({ slot }) => done(checks[slot].cancel()),
    listRemove: ({ slot, removed }) => done(checks[slot].remove(removed)),
    listSource: ({ slot }) => checks[slot].source(),
    listSummary: ({ slot, needs }) => whole.summary(slot, needs),
    listPlaces: async ({ slot, standings, order, text = "" }, job) => {
      const head = await checks[slot].head();
      const places = linePlaces(head?.kinds ?? new Uint8Array(), standings, order);
      return head === null || text.trim() === "" ? places : placesWith(text, places, head, checks[slot], job);
    },
    listLines: async ({ slot, places }) => {
      const remedies = await whole.remedies(slot);
      const { index } = await bench.get();
      const lines = await Promise.all(places.map((place) => checks[slot].line(place)));
      return lines.map((line) => line && shownLine(line, remedies, index));
    },
    listExplain: async ({ slot, place, device: id }) => {
      const line = await checks[slot].line(place);
      const { devices, index, language } = await bench.get();
      const device = devices.find((each) => each.id === id);
      if (line === null || device === undefined) return null;
      const listing = entryListing(line.entry);
      const verdict = judge(listing, prepareDevice(device, index, platform.rules));
      const words = await platform.words(language);
      return explain(listing, verdict, { device, index, resolved: resolveRevisions(device, index), words });
    },
    listExport: async ({ slot }, job) => {
      const head = await checks[slot].head();
      if (head === null) return null;
      const { devices, index, language } = await bench.get();
      const words = await platform.words(language);
      const names: SheetNames = { words, index, job: namesOf(devices, words) };
      return writeSheet(head, checks[slot], await whole.remedies(slot), names, job);
    },
    listSheet: async ({ slot, needs }) => {
      const head = await checks[slot].head();
      const summary = await whole.sumUp(slot, needs);
      if (head === null || summary === null) return null;
      const { devices, index, language } = await bench.get();
      const words = await platform.words(language);
      const cut = cutForPaper(summary, (type) => partTypeName(type, language));
      // The sheet shows the cautions itself, at its head.
      const setup = { devices, words, cautions: [] };
      if (slot === "order") return printedSheet(cut, setup);
      // Of a stock list, no line is wrong: what each part fits takes the place of that.
      const inStock = await stockSection(head, checks.stock, index, words);
      return [inStock, ...printedSheet({ ...cut, sums: [], wrong: [], wrongBeyond: 0, duplicates: [] }, setup)];
    },
  };
}

/** Rows of one kind that a printed sheet holds; the rest is counted. */
const MOST_PRINTED = 400;

function cutForPaper(summary: OrderSummary, typeName: (type: string) => string): OrderSummary {
  const { wrong, wrongBeyond, duplicates, contested, missing } = summary;
  return {
    ...summary,
    wrong: wrong.slice(0, MOST_PRINTED),
    wrongBeyond: wrongBeyond + Math.max(0, wrong.length - MOST_PRINTED),
    duplicates: duplicates.slice(0, MOST_PRINTED).map((each) => ({ ...each, partType: typeName(each.partType) })),
    contested: contested.slice(0, MOST_PRINTED),
    missing: missing.slice(0, MOST_PRINTED).map((each) => ({ ...each, partType: typeName(each.partType) })),
  };
}

/** Which revisions each stocked part fits, from the top of the list. */
async function stockSection(
  head: ListHead,
  check: ListCheck,
  index: CatalogIndex,
  words: Words,
): Promise<SheetSection> {
  const count = Math.min(head.lines, MOST_PRINTED);
  const lines = await Promise.all(Array.from({ length: count }, (_, place) => check.line(place)));
  const rows = lines.flatMap((line) =>
    line === null
      ? []
      : [
          [
            String(line.entry.row),
            line.entry.number,
            line.entry.title,
            String(line.entry.quantity),
            line.revisions.map((place) => placeName(place, index)).join("; "),
          ],
        ],
  );
  const beyond = head.lines - count;
  return {
    heading: words.say("order_desk_slot_stock"),
    text: beyond > 0 ? [words.say("order_desk_beyond", { count: beyond })] : [],
    table: {
      head: ["row", "number", "title", "pieces", "revisions"].map((name) => words.say(`order_column_${name}`)),
      rows,
    },
  };
}

/** What a device is called on paper: its name and job number. */
function namesOf(devices: readonly Device[], words: Words): (id: string) => string {
  const names = new Map(devices.map((device) => [device.id, jobName(device, words)]));
  return (id) => names.get(id) ?? id;
}

/** Those of the places whose line has a text in its number, description or job. */
async function placesWith(
  text: string,
  places: Uint32Array,
  head: ListHead,
  check: ListCheck,
  job: Job,
): Promise<Uint32Array> {
  const breathe = breather(job);
  const wanted = lineFinder(text);
  const found = new Uint8Array(head.lines);
  for (let chunk = 0; chunk * CHUNK_LINES < head.lines; chunk++) {
    await breathe();
    for (const [i, line] of (await check.chunk(chunk)).entries()) {
      if (wanted(line)) found[chunk * CHUNK_LINES + i] = 1;
    }
  }
  return places.filter((place) => found[place] === 1);
}

function shownLine(line: KeptLine, remedies: Remedies, index: CatalogIndex): ShownLine {
  const places = line.revisions.map((place) => placeName(place, index));
  return { ...line, ...(remedies.get(line.entry.row) ?? NO_REMEDY), places };
}

/** Sums lists up, each only once for what it is and knows. */
class Summaries {
  readonly #checks: Readonly<Record<ListSlot, ListCheck>>;
  readonly #bench: BenchHolder;
  readonly #remedies = new Map<ListSlot, { head: ListHead | null; stock: ListHead | null; found: Remedies }>();

  constructor(checks: Readonly<Record<ListSlot, ListCheck>>, bench: BenchHolder) {
    this.#checks = checks;
    this.#bench = bench;
  }

  async summary(slot: ListSlot, needs: "tried" | "all"): Promise<ListSummary | null> {
    const whole = await this.sumUp(slot, needs);
    if (whole === null) return null;
    const { sums, duplicates, contested, missing } = whole;
    return {
      sums,
      duplicates: duplicates.slice(0, MOST_SHOWN),
      duplicatesBeyond: beyond(duplicates),
      contested: contested.slice(0, MOST_SHOWN),
      contestedBeyond: beyond(contested),
      missing: missing.slice(0, MOST_SHOWN),
      missingBeyond: beyond(missing),
    };
  }

  async remedies(slot: ListSlot): Promise<Remedies> {
    const head = await this.#checks[slot].head();
    const stock = await this.#stock(slot);
    const before = this.#remedies.get(slot);
    if (before !== undefined && before.head === head && before.stock === stock) return before.found;
    const whole = await this.sumUp(slot, "tried");
    const found: Remedies = new Map(
      whole?.wrong
        .filter(({ elsewhere, inStock }) => elsewhere.length + inStock.length > 0)
        .map(({ row, elsewhere, inStock }) => [row, { elsewhere, inStock }]),
    );
    this.#remedies.set(slot, { head, stock, found });
    return found;
  }

  /** The stock list, where it is another one. */
  async #stock(slot: ListSlot): Promise<ListHead | null> {
    return slot === "stock" ? null : this.#checks.stock.head();
  }

  async sumUp(slot: ListSlot, needs: "tried" | "all"): Promise<OrderSummary | null> {
    const head = await this.#checks[slot].head();
    if (head === null) return null;
    const stock = await this.#stock(slot);
    const { devices, finder } = await this.#bench.get();
    return summarize(head.tally, { devices, finder, needs, ...(stock === null ? {} : { stock: stock.tally }) });
  }
}

function beyond(all: readonly unknown[]): number {
  return Math.max(0, all.length - MOST_SHOWN);
}

/** What names things in a sheet. */
interface SheetNames {
  readonly words: Words;
  readonly index: CatalogIndex;
  readonly job: (id: string) => string;
}

/** A line as cells, devices and revisions by name. */
function lineCells(line: ShownLine, { words, job }: SheetNames): string[] {
  const named = {
    ...line,
    verdicts: line.verdicts.map((each) => ({ ...each, device: job(each.device) })),
    rightFor: line.rightFor.map(job),
    revisions: line.places,
  };
  return sheetCells(named, words, line.elsewhere);
}

async function writeSheet(
  head: ListHead,
  check: ListCheck,
  remedies: Remedies,
  names: SheetNames,
  job: Job,
): Promise<ListExport> {
  const breathe = breather(job);
  // The byte order mark has spreadsheets read UTF-8 as such.
  const pieces: string[] = ["\ufeff", sheetRecord(sheetHeading(names.words), head.delimiter)];
  const chunks = Math.ceil(head.lines / CHUNK_LINES);
  for (let chunk = 0; chunk < chunks; chunk++) {
    await breathe();
    const lines = await check.chunk(chunk);
    const records = lines.map((line) =>
      sheetRecord(lineCells(shownLine(line, remedies, names.index), names), head.delimiter),
    );
    pieces.push(records.join(""));
    job.progress((chunk + 1) / chunks);
  }
  const base = head.name.replace(/\.[A-Za-z0-9]{1,5}$/, "");
  return { name: `${base}.falsefit.csv`, content: new Blob(pieces, { type: "text/csv;charset=utf-8" }) };
}
