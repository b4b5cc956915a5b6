/** The sites that a person has switched on, one record each: `site/<scheme>//<host>`. */
import * as z from "zod";
import type { RecordKind, Records } from "./records.ts";

const PREFIX = "site/";
const siteSchema = z.object({ site: z.string().min(1).max(300) });
const siteKind: RecordKind<z.infer<typeof siteSchema>> = { version: 1, schema: siteSchema, migrations: {} };

/** The sites that a person has switched on. */
export class SiteStore {
  readonly #records: Records;

  constructor(records: Records) {
    this.#records = records;
  }

  /** Sites such as `https://shop.example`, sorted. */
  async list(): Promise<string[]> {
    return (await this.#records.list(PREFIX, siteKind)).map(({ value }) => value.site).sort();
  }

  async has(site: string): Promise<boolean> {
    return (await this.#records.read(PREFIX + site, siteKind)) !== undefined;
  }

  async add(site: string): Promise<void> {
    await this.#records.write([{ key: PREFIX + site, value: { site } }], siteKind);
  }

  async remove(site: string): Promise<void> {
    await this.#records.remove([PREFIX + site]);
  }
}

/**
 * The site of an address that can be switched on, such as `https://shop.example`: scheme and host. Ports are left
 * out because match patterns take none in one of the browser families. `undefined` for what is not http or https.
 */
export function siteOf(address: string | undefined): string | undefined {
  if (address === undefined || !URL.canParse(address)) return undefined;
  const { protocol, hostname } = new URL(address);
  return protocol === "https:" || protocol === "http:" ? `${protocol}//${hostname}` : undefined;
}

/** The match pattern of a site. */
export function matchPattern(site: string): string {
  return `${site}/*`;
}
