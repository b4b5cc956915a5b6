/**
 * The text of a record as lines and chunks.
 *
 * A *line* is what stands between two block boundaries, breaks or ends of links: the unit in which prices and their labels are
 * read. A *chunk* is the part of a line that one element holds as running text: the unit in which titles are
 * found. Texts of neighbouring elements are joined as a browser would show them, with one liberty: cents set in
 * an element of their own ("19" beside a raised "99") get the decimal sign that typography leaves out.
 */
import { MAX_LINES, MAX_RECORD_NODES } from "./limits.ts";
import type { Sight } from "./sight.ts";
import { elementAt, Mark, type PageTree } from "./tree.ts";

/** A text node's part of a line. */
export interface Piece {
  /** Index of the element that holds the text. */
  readonly holder: number;
  /** Index of the text itself. */
  readonly text: number;
  /** Place in the line's text. */
  readonly start: number;
  readonly end: number;
}

/** One line of a record. */
export interface Line {
  readonly text: string;
  readonly pieces: readonly Piece[];
  /** Index of the block element that the line lies in. */
  readonly block: number;
  /** Index of the line's first text. */
  readonly at: number;
}

const INLINE = new Set(
  "a abbr acronym b bdi bdo big cite code data dfn em font i ins del s strike kbd label mark meter nobr output q ruby rb rt samp slot small span strong sub sup time tt u var wbr".split(
    " ",
  ),
);
const FORMATTING = new Set("b i em strong mark wbr sub sup font u big bdi bdo abbr nobr".split(" "));
const BREAKS = new Set(["br", "hr", "wbr-block"]);
const FRACTION_CLASS = /(?:^|[-_\s])(?:cents?|fraction|decimals?|sup|superscript|minor|centimes?|kopeks?)(?:$|[-_\s])/i;

/** True for elements that stand in a line of text. */
export function isInline(tag: string): boolean {
  return INLINE.has(tag) || tag.includes("-");
}

interface OpenLine {
  text: string;
  pieces: Piece[];
  block: number;
  /** The link that the line lies in, -1 outside of links. */
  link: number;
  at: number;
}

/** Reads the lines of the range [start, end). */
export function readLines(tree: PageTree, start: number, end: number): Line[] {
  const lines: Line[] = [];
  let open: OpenLine | null = null;
  const stop = Math.min(end, start + MAX_RECORD_NODES);
  for (let at = start; at < stop && lines.length < MAX_LINES; at++) {
    const marks = tree.marks[at] ?? 0;
    if ((marks & Mark.spaced) !== 0 && open !== null && !open.text.endsWith(" ")) open.text += " ";
    if ((marks & Mark.text) === 0) {
      const tag = tree.tag[at] ?? "";
      if (BREAKS.has(tag) || !isInline(tag)) open = closed(lines, open);
      continue;
    }
    const holder = tree.parent[at] ?? 0;
    const block = blockOf(tree, holder, start);
    const link = linkAround(tree, holder, block);
    if (open !== null && (open.block !== block || open.link !== link)) open = closed(lines, open);
    open ??= { text: "", pieces: [], block, link, at };
    append(tree, open, holder, at);
  }
  closed(lines, open);
  return lines;
}

function closed(lines: Line[], open: OpenLine | null): null {
  if (open !== null && open.text.trim() !== "") lines.push({ ...open, text: open.text.trimEnd() });
  return null;
}

function blockOf(tree: PageTree, holder: number, start: number): number {
  let at = holder;
  while (at > start && isInline(tree.tag[at] ?? "")) at = tree.parent[at] ?? start;
  return at;
}

function linkAround(tree: PageTree, holder: number, block: number): number {
  for (let at = holder; at > block; at = tree.parent[at] ?? block) {
    if (((tree.marks[at] ?? 0) & Mark.link) !== 0) return at;
  }
  return -1;
}

function append(tree: PageTree, line: OpenLine, holder: number, node: number): void {
  const text = tidy((tree.nodes[node] as Text).data);
  const last = line.pieces.at(-1);
  const joined = last === undefined ? "" : joint(tree, line.text, last.holder, holder, text);
  const body = line.text === "" || /\s$/.test(line.text + joined) ? text.trimStart() : text;
  if (body === "") {
    if (!line.text.endsWith(" ") && line.text !== "") line.text += " ";
    return;
  }
  line.text += joined;
  const start = line.text.length;
  line.text += body;
  line.pieces.push({ holder, text: node, start, end: line.text.length });
}

/** Runs of space as one; marks that nobody sees (soft hyphen, zero-width space, byte order mark) dropped. */
export function tidy(text: string): string {
  return text.replace(/[\u00ad\u200b\u2060\ufeff]/g, "").replace(/[ \t\n\r\f\v]+/g, " ");
}

/** Direction marks: nobody sees them. */
const MARKS = "\u200e\u200f\u061c";

function withoutMarksAfter(text: string): string {
  let end = text.length;
  while (end > 0 && MARKS.includes(text.charAt(end - 1))) end--;
  return text.slice(0, end);
}

function firstUnmarked(text: string): string {
  let at = 0;
  while (at < text.length && MARKS.includes(text.charAt(at))) at++;
  return text.charAt(at);
}

/** What goes between two neighbouring texts of a line. */
function joint(tree: PageTree, before: string, from: number, to: number, text: string): string {
  if (from === to) return "";
  const shown = withoutMarksAfter(before);
  const last = shown.at(-1) ?? "";
  const next = firstUnmarked(text);
  if (isFraction(tree, shown, to, text)) return /\d\.\d{3}$/.test(before.trimEnd()) ? "," : ".";
  if (/\s/.test(last) || /\s/.test(next)) return "";
  if (/\p{L}\.$/u.test(shown) && /[\p{N}+(]/u.test(next)) return " ";
  // Two amounts side by side, or a sign in an element of its own.
  if (/\p{Sc}/u.test(last) || /[\p{Sc}\-−–+(]/u.test(next))
    return /[\p{L}\p{N}\p{Sc}]/u.test(last) && last !== "" ? " " : "";
  const isWordGap = /[\p{L}\p{N}]/u.test(last) && /[\p{L}\p{N}]/u.test(next);
  if (!isWordGap) return "";
  return FORMATTING.has(tree.tag[to] ?? "") || FORMATTING.has(tree.tag[from] ?? "") ? "" : " ";
}

function isFraction(tree: PageTree, before: string, holder: number, text: string): boolean {
  if (!/\d ?$/.test(before) || !/^ ?\d{2}(?!\d)/.test(text) || /[.,]\d{1,2} ?$/.test(before)) return false;
  if (tree.tag[holder] === "sup") return true;
  const element = elementAt(tree, holder);
  if (FRACTION_CLASS.test(element.getAttribute("class") ?? "")) return true;
  return /^\d{2}$/.test(text.trim()) && /\d$/.test(before) && isInline(tree.tag[holder] ?? "");
}

/** A part of a line that one element holds as running text. */
export interface Chunk {
  /** Index of the element that holds it. */
  readonly owner: number;
  readonly text: string;
  readonly line: number;
  readonly start: number;
  readonly end: number;
}

/** Splits lines into chunks. `start` is the first index of the record. */
export function chunksOf(tree: PageTree, lines: readonly Line[], start: number): Chunk[] {
  return lines.flatMap((line, number) => {
    const chunks: Chunk[] = [];
    let owner = -1;
    let first = 0;
    let end = 0;
    const close = () => {
      const text = line.text.slice(first, end).trim();
      if (owner >= 0 && text !== "") chunks.push({ owner, text, line: number, start: first, end });
    };
    for (const piece of line.pieces) {
      const holder = ownerOf(tree, piece.holder, start);
      if (holder !== owner) {
        close();
        owner = holder;
        first = piece.start;
      }
      end = piece.end;
    }
    close();
    return chunks;
  });
}

/** The outermost element around a text that holds text of its own, reached through inline elements only. */
function ownerOf(tree: PageTree, holder: number, start: number): number {
  let owner = holder;
  let at = holder;
  while (at > start && isInline(tree.tag[at] ?? "")) {
    at = tree.parent[at] ?? start;
    if (((tree.marks[at] ?? 0) & Mark.ownText) !== 0) owner = at;
  }
  return owner;
}

/** Levels above a text that are asked whether they are there for screen readers only. */
const UNSEEN_LEVELS = 2;

/** What was found of elements of one path and one set of class names: style sheets tell them apart by nothing else. */
const unseenByKind = new WeakMap<PageTree, Map<string, boolean>>();

/** True when an element, or one close around it inside the record that begins at `top`, is for screen readers only. */
export function isUnseenWithin(tree: PageTree, sight: Sight, index: number, top: number): boolean {
  let kinds = unseenByKind.get(tree);
  if (kinds === undefined) {
    kinds = new Map();
    unseenByKind.set(tree, kinds);
  }
  for (let at = index, level = 0; at >= top && at >= 0 && level < UNSEEN_LEVELS; at = tree.parent[at] ?? -1, level++) {
    if (tree.tag[at] !== "#" && isUnseen(kinds, tree, sight, at)) return true;
  }
  return false;
}

function isUnseen(kinds: Map<string, boolean>, tree: PageTree, sight: Sight, index: number): boolean {
  const element = elementAt(tree, index);
  if (element.hasAttribute("style")) return sight.isUnseen(element);
  const kind = `${tree.path[index]} ${element.getAttribute("class") ?? ""} ${element.parentElement?.getAttribute("class") ?? ""}`;
  const known = kinds.get(kind);
  if (known !== undefined) return known;
  const answer = sight.isUnseen(element);
  kinds.set(kind, answer);
  return answer;
}

/** The parts of lines that lie inside an element. */
export function linesWithin(tree: PageTree, lines: readonly Line[], element: number): Line[] {
  const end = tree.end[element] ?? element + 1;
  return lines.flatMap((line) => {
    const inside = line.pieces.filter((piece) => piece.text >= element && piece.text < end);
    const from = inside[0]?.start;
    const to = inside.at(-1)?.end;
    if (from === undefined || to === undefined) return [];
    const pieces = inside.map((piece) => ({ ...piece, start: piece.start - from, end: piece.end - from }));
    return [{ ...line, text: line.text.slice(from, to), pieces }];
  });
}

/** Stands for a part of a line that is not to be read as text. */
const BLANK = "■";

/** Lines with the pieces blanked out that are not to be read; a line of nothing else is dropped. */
export function withoutPieces(lines: readonly Line[], isSkipped: (text: number) => boolean): Line[] {
  return lines.flatMap((line) => {
    const skipped = line.pieces.filter((piece) => isSkipped(piece.text));
    if (skipped.length === 0) return [line];
    if (skipped.length === line.pieces.length) return [];
    const text = skipped.reduce((whole, piece) => blanked(whole, piece.start, piece.end), line.text);
    return [{ ...line, text }];
  });
}

/** A text with a part of it blanked out, all else in its place. */
export function blanked(text: string, start: number, end: number): string {
  return `${text.slice(0, start)}${BLANK.repeat(end - start)}${text.slice(end)}`;
}
