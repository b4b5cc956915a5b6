/** The page reader on a document made by jsdom: no script runs, nothing is loaded. */
import rules from "falsefit:rules";
import { JSDOM, VirtualConsole } from "jsdom";
import type { Words } from "../text/words.ts";
import { isNestedDeeper } from "./nesting.ts";
import { pageListings } from "./page-listings.ts";
import type { PageReader } from "./read.ts";

/** Largest page that is read, in bytes. */
const MAX_PAGE_BYTES = 64 * 1024 * 1024;

/** Elements inside one another, at most; browsers stop at some hundreds. */
const MAX_DEPTH = 2_000;

/** Makes the reader. */
export function jsdomReader(words: Words): PageReader {
  return {
    async read({ bytes, url, contentType }) {
      if (bytes.length > MAX_PAGE_BYTES) {
        throw new Error(words.say("command_file_too_big", { most: MAX_PAGE_BYTES / 1024 / 1024 }));
      }
      if (isNestedDeeper(bytes.toString("latin1").replaceAll("\0", ""), MAX_DEPTH)) {
        throw new Error(words.say("command_page_too_deep", { most: MAX_DEPTH }));
      }
      // What jsdom has to say about broken style sheets is no business of the person.
      const dom = new JSDOM(bytes, { url, contentType, virtualConsole: new VirtualConsole() });
      try {
        return pageListings(dom.window.document, rules)
          .map((listing) => JSON.stringify(listing))
          .join("\n");
      } finally {
        dom.window.close();
      }
    },
    end: async () => undefined,
  };
}
