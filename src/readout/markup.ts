/**
 * Reports in HTML and lists in XML (property lists too) as the same outline that plain text gives.
 *
 * Tags are scanned once from left to right; nothing is executed, fetched or trusted, and broken markup only
 * loses what it breaks.
 */
import { type Entry, foldKey, MAX_ENTRIES, openSection, type Section } from "./outline.ts";

const NAMED: ReadonlyMap<string, string> = new Map([
  ["amp", "&"],
  ["lt", "<"],
  ["gt", ">"],
  ["quot", '"'],
  ["apos", "'"],
  ["nbsp", " "],
]);

/** A piece of markup: a tag with its name, or the text between tags. */
interface Piece {
  readonly kind: "open" | "close" | "empty" | "text";
  readonly name: string;
  readonly text: string;
}

/** True where the text starts like an HTML page. */
export function looksLikeHtml(text: string): boolean {
  const start = text.slice(0, 2_000).trimStart().toLowerCase();
  return (
    start.startsWith("<!doctype html") ||
    start.startsWith("<html") ||
    (start.startsWith("<") && start.includes("<table"))
  );
}

/** True where the text starts like XML. */
export function looksLikeXml(text: string): boolean {
  const start = text.slice(0, 200).trimStart();
  return start.startsWith("<?xml") || /^<[A-Za-z!][^<>]{0,150}>/.test(start);
}

/**
 * Headings open sections; table rows become entries: the first cell is the label. Rows of several values (one
 * column a battery) give each column a section of its own.
 */
export function outlineOfHtml(text: string): Section {
  const root = openSection(null, "");
  let section = openSection(root, "");
  let columns: Section[] = [];
  let cells: string[] | null = null;
  let cell: string | null = null;
  let heading: string | null = null;
  let count = 0;
  const endRow = (): void => {
    const [label, ...values] = (cells ?? []).map((each) => each.replace(/\s+/g, " ").trim());
    cells = null;
    if (!label || values.length === 0 || count >= MAX_ENTRIES) return;
    for (const [i, value] of values.slice(0, 16).entries()) {
      let into = section;
      if (values.length > 1 || columns.length > 1) {
        into = columns[i] ?? openSection(section, section.heading);
        columns[i] = into;
      }
      into.entries.push(entryOf(label, value));
      count++;
    }
  };
  for (const piece of pieces(text)) {
    const { kind, name } = piece;
    if (kind === "text") {
      if (cell !== null) cell += piece.text;
      else if (heading !== null) heading += piece.text;
    } else if (/^h[1-6]$/.test(name)) {
      if (kind === "open") heading = "";
      else if (heading !== null) {
        section = openSection(root, heading.replace(/\s+/g, " ").trim().slice(0, 200));
        columns = [];
        heading = null;
      }
    } else if (name === "table") columns = [];
    else if (name === "tr") {
      endRow();
      cells = kind === "open" ? [] : null;
    } else if (name === "td" || name === "th") {
      if (cell !== null) cells?.push(cell);
      cell = kind === "open" ? "" : null;
    } else if (name === "br" && cell !== null) cell += " ";
  }
  endRow();
  return root;
}

/** Elements with children become sections, elements with text entries; `<key>` names what follows it. */
export function outlineOfXml(text: string): Section {
  const root = openSection(null, "");
  let section = root;
  let depth = 0;
  let held = "";
  let key: string | null = null;
  let opened: { name: string; hasChild: boolean }[] = [];
  let count = 0;
  for (const piece of pieces(text)) {
    if (count >= MAX_ENTRIES) break;
    if (piece.kind === "text") held += piece.text;
    else if (piece.kind === "open") {
      const above = opened.at(-1);
      if (above && !above.hasChild) {
        above.hasChild = true;
        if (depth < 60) {
          section = openSection(section, key ?? above.name);
          depth++;
        }
        key = null;
      }
      opened.push({ name: piece.name, hasChild: false });
      held = "";
    } else if (piece.kind === "close") {
      const at = opened.findLastIndex(({ name }) => name === piece.name);
      if (at < 0) continue;
      const closed = opened[at];
      const dropped = opened.slice(at).filter(({ hasChild }) => hasChild).length;
      opened = opened.slice(0, at);
      for (let i = 0; i < dropped && section.parent; i++, depth--) section = section.parent;
      if (closed && !closed.hasChild) {
        if (closed.name === "key") key = held.trim();
        else {
          section.entries.push(entryOf(key ?? closed.name, held));
          count++;
          key = null;
        }
      }
      held = "";
    } else {
      section.entries.push(entryOf(key ?? piece.name, piece.name));
      count++;
      key = null;
    }
  }
  return root;
}

/** A parsed JSON value as an outline: objects are sections, plain values entries. */
export function outlineOfJson(value: unknown): Section {
  const root = openSection(null, "");
  let count = 0;
  const queue: { value: unknown; section: Section; label: string }[] = [{ value, section: root, label: "" }];
  for (let i = 0; i < queue.length && count < MAX_ENTRIES; i++) {
    const item = queue[i];
    if (!item) continue;
    if (Array.isArray(item.value)) {
      for (const each of item.value.slice(0, 10_000))
        queue.push({ value: each, section: item.section, label: item.label });
    } else if (typeof item.value === "object" && item.value !== null) {
      const section = openSection(item.section, item.label);
      for (const [label, each] of Object.entries(item.value)) queue.push({ value: each, section, label });
    } else if (item.value !== null) {
      item.section.entries.push(entryOf(item.label, String(item.value)));
      count++;
    }
  }
  return root;
}

function entryOf(label: string, value: string): Entry {
  return { label: label.trim().slice(0, 80), key: foldKey(label), value: value.trim().slice(0, 4_000), line: 0 };
}

function* pieces(text: string): Generator<Piece> {
  for (let i = 0; i < text.length; ) {
    if (text.charCodeAt(i) !== 0x3c) {
      const end = text.indexOf("<", i);
      const stop = end < 0 ? text.length : end;
      yield { kind: "text", name: "", text: decoded(text.slice(i, stop)) };
      i = stop;
      continue;
    }
    if (text.startsWith("<!--", i)) {
      const end = text.indexOf("-->", i + 4);
      i = end < 0 ? text.length : end + 3;
      continue;
    }
    if (text.startsWith("<![CDATA[", i)) {
      const end = text.indexOf("]]>", i + 9);
      yield { kind: "text", name: "", text: text.slice(i + 9, end < 0 ? text.length : end) };
      i = end < 0 ? text.length : end + 3;
      continue;
    }
    const end = text.indexOf(">", i + 1);
    if (end < 0) return;
    const inner = text.slice(i + 1, Math.min(end, i + 2_000));
    i = end + 1;
    const name = /^\/?([A-Za-z][A-Za-z0-9:_-]{0,60})/.exec(inner)?.[1];
    if (name === undefined) continue;
    const plain = name.slice(name.lastIndexOf(":") + 1);
    const lower = plain.toLowerCase();
    if (lower === "script" || lower === "style") {
      if (!inner.startsWith("/")) i = pastElement(text, i, lower);
      continue;
    }
    const isHtml = /^(?:h[1-6]|table|tr|td|th|br)$/.test(lower);
    const kind = inner.startsWith("/") ? "close" : inner.endsWith("/") ? "empty" : "open";
    yield { kind, name: isHtml ? lower : plain, text: "" };
  }
}

/** The place after the closing tag of an element whose text is no text. */
function pastElement(text: string, from: number, name: string): number {
  for (let at = text.indexOf("</", from); at >= 0; at = text.indexOf("</", at + 2)) {
    if (text.slice(at + 2, at + 2 + name.length).toLowerCase() === name) return at;
  }
  return text.length;
}

function decoded(text: string): string {
  if (!text.includes("&")) return text;
  return text.replace(/&(#x[0-9A-Fa-f]{1,6}|#\d{1,7}|[A-Za-z]{2,8});/g, (whole, name: string) => {
    if (!name.startsWith("#")) return NAMED.get(name) ?? whole;
    const point = name.startsWith("#x") ? Number.parseInt(name.slice(2), 16) : Number(name.slice(1));
    const valid = point > 0 && point <= 0x10ffff && (point < 0xd800 || point > 0xdfff);
    return valid ? String.fromCodePoint(point) : "";
  });
}
