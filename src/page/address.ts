/** Addresses of records and of the page itself. */
import type { RecordSpan } from "./records.ts";
import { countIn, elementAt, lowerBound, Mark, type PageTree } from "./tree.ts";

/** The address of a record: the title's own link, the link around it, else the first that holds a picture, else any. */
export function linkOf(tree: PageTree, span: RecordSpan, title: number): string | null {
  for (let at = title, step = 0; at >= 0 && step < 12; at = tree.parent[at] ?? -1, step++) {
    if (isLink(tree, at)) return addressAt(tree, at);
    if (at < span.start - 3) break;
  }
  for (let at = title; at < (tree.end[title] ?? title); at++) if (isLink(tree, at)) return addressAt(tree, at);
  const first = lowerBound(tree.links, span.start);
  const inside = tree.links
    .slice(first, lowerBound(tree.links, span.end))
    .filter((link) => addressAt(tree, link) !== null);
  const pictured = inside.find((link) => countIn(tree.images, link, tree.end[link] ?? link) > 0);
  const chosen = pictured ?? inside[0];
  return chosen === undefined ? null : addressAt(tree, chosen);
}

function isLink(tree: PageTree, index: number): boolean {
  return ((tree.marks[index] ?? 0) & Mark.link) !== 0;
}

/** An address that leads somewhere: no script, no place on this page. */
export function addressAt(tree: PageTree, index: number): string | null {
  const href = elementAt(tree, index).getAttribute("href")?.trim() ?? "";
  return href === "" || href.startsWith("#") || /^(?:javascript|mailto|tel|data|blob):/i.test(href) ? null : href;
}

/** The page's own address or base, where it has one that is of use. */
export function baseOf(document: Document, url: string | undefined): string | null {
  const stated = document.querySelector("base[href]")?.getAttribute("href") ?? null;
  const own = isWeb(document.URL) ? document.URL : url !== undefined && isWeb(url) ? url : null;
  if (stated === null) return own;
  if (isWeb(stated)) return stated;
  return own === null ? null : URL.canParse(stated, own) ? new URL(stated, own).href : own;
}

export function isWeb(address: string): boolean {
  return /^https?:\/\//i.test(address);
}

/** Absolute where the base is known, else as given. */
export function absolute(address: string, base: string | null): string {
  if (base === null) return address;
  if (PLAIN_PATH.test(address)) return originOf(base) + address;
  return URL.canParse(address, base) ? new URL(address, base).href : address;
}

/** A path from the root that no parser would write differently: it is only put behind the origin. */
const PLAIN_PATH = /^\/(?:[\w-][\w~/-]*)?(?:\?[\w=&~-]*)?$/;

let lastBase = "";
let lastOrigin = "";

/** Scheme and host of an address; the one asked for last is remembered. */
function originOf(base: string): string {
  if (base !== lastBase) {
    lastOrigin = new URL(base).origin;
    lastBase = base;
  }
  return lastOrigin;
}
