/**
 * Item specifics: names and values from tables, definition lists, bullet lists and labelled or paired lines.
 */
import { type Cues, foldWords } from "./cues.ts";
import { MAX_SPECIFIC_NAME, MAX_SPECIFIC_VALUE, MAX_SPECIFICS } from "./limits.ts";
import { isInline, type Line, tidy } from "./lines.ts";
import { Mark, type PageTree } from "./tree.ts";

/** Names and values in the order found. */
export type Specifics = Record<string, string>;

/** Collects pairs, first come first kept, bounded. */
export class SpecificsCollector {
  readonly found: Specifics = Object.create(null) as Specifics;
  #count = 0;

  /** Adds a pair if name and value look like ones. */
  put(name: string, value: string): void {
    const label = withoutColon(tidy(name).trim());
    const body = tidy(value).trim();
    if (label === "" || body === "" || label.length > MAX_SPECIFIC_NAME || this.#count >= MAX_SPECIFICS) return;
    if (!/\p{L}/u.test(label) || UNSAFE_NAMES.has(label) || this.found[label] !== undefined) return;
    this.found[label] = body.slice(0, MAX_SPECIFIC_VALUE);
    this.#count++;
  }
}

function withoutColon(label: string): string {
  return /[:：]$/.test(label) ? label.slice(0, -1).trimEnd() : label;
}

const UNSAFE_NAMES = new Set(["__proto__", "constructor", "prototype"]);

/** Reads pairs from the range [start, end) except inside `skipped` ranges. */
export function readSpecifics(
  tree: PageTree,
  start: number,
  end: number,
  isSkipped: (index: number) => boolean,
  into: SpecificsCollector,
): void {
  for (let at = start; at < end; at++) {
    const tag = tree.tag[at];
    if (isSkipped(at)) {
      at = (tree.end[at] ?? at + 1) - 1;
      continue;
    }
    if (tag === "tr") readRow(tree, at, into);
    else if (tag === "dl") readDefinitions(tree, at, into);
    else if (tag === "li") readBullet(tree, at, into);
    else if (tag === "div" || tag === "p") readPair(tree, at, into);
    else if (tag === "span") readLabelled(tree, at, into);
  }
}

function textOf(tree: PageTree, index: number): string {
  let text = "";
  for (let at = index; at < (tree.end[index] ?? index + 1) && text.length < MAX_SPECIFIC_VALUE * 2; at++) {
    if (((tree.marks[at] ?? 0) & Mark.text) !== 0) text += (tree.nodes[at] as Text).data;
    else if (at > index && (!isInline(tree.tag[at] ?? "") || tree.tag[at] === "br")) text += " ";
  }
  return tidy(text).trim();
}

function childrenOf(tree: PageTree, index: number): number[] {
  const children: number[] = [];
  const end = tree.end[index] ?? index;
  for (let child = index + 1; child < end; child = tree.end[child] ?? end) {
    if (tree.tag[child] !== "#") children.push(child);
  }
  return children;
}

function readRow(tree: PageTree, row: number, into: SpecificsCollector): void {
  const cells = childrenOf(tree, row).filter((cell) => tree.tag[cell] === "td" || tree.tag[cell] === "th");
  if (cells.length !== 2 && cells.length !== 4) return;
  if (cells.every((cell) => tree.tag[cell] === "th")) return;
  for (let at = 0; at + 1 < cells.length; at += 2) {
    into.put(textOf(tree, cells[at] as number), textOf(tree, cells[at + 1] as number));
  }
}

function readDefinitions(tree: PageTree, list: number, into: SpecificsCollector): void {
  let name = "";
  const values: string[] = [];
  const flush = () => {
    if (name !== "" && values.length > 0) into.put(name, values.join(", "));
    values.length = 0;
  };
  const entries = childrenOf(tree, list).flatMap((child) =>
    tree.tag[child] === "div" ? childrenOf(tree, child) : [child],
  );
  for (const entry of entries) {
    if (tree.tag[entry] === "dt") {
      flush();
      name = textOf(tree, entry);
    } else if (tree.tag[entry] === "dd") values.push(textOf(tree, entry));
  }
  flush();
}

function readBullet(tree: PageTree, item: number, into: SpecificsCollector): void {
  if ((tree.end[item] ?? 0) - item > 16) return;
  const children = childrenOf(tree, item);
  const text = textOf(tree, item);
  const pair = pairOf(text);
  if (pair !== null) into.put(pair[0], pair[1]);
  else if (children.length === 2 && ((tree.marks[item] ?? 0) & Mark.ownText) === 0) {
    into.put(textOf(tree, children[0] as number), textOf(tree, children[1] as number));
  } else if (children.length === 1) readNamedValue(tree, item, children[0] as number, into);
}

/** "Condition<span>Good</span>": the item's own text names what its only element says. */
function readNamedValue(tree: PageTree, item: number, value: number, into: SpecificsCollector): void {
  const isFirst = ((tree.marks[item + 1] ?? 0) & Mark.text) !== 0 && value === item + 2;
  if (!isFirst || tree.end[value] !== tree.end[item] || !holdsPlainText(tree, value)) return;
  if (((tree.marks[value] ?? 0) & Mark.link) !== 0) return;
  into.put((tree.nodes[item + 1] as Text).data, textOf(tree, value));
}

/** "SKU: <b>PB-1840</b>" in one inline element. */
function readLabelled(tree: PageTree, index: number, into: SpecificsCollector): void {
  const nodes = (tree.end[index] ?? 0) - index;
  if (nodes < 3 || nodes > 6) return;
  const pair = pairOf(textOf(tree, index));
  if (pair !== null) into.put(pair[0], pair[1]);
}

/** Rows of two boxes each, name and value, at least two such rows in a row. */
function readPair(tree: PageTree, row: number, into: SpecificsCollector): void {
  const pair = boxesOf(tree, row);
  if (pair === null) {
    const text = (tree.end[row] ?? 0) - row <= 6 ? pairOf(textOf(tree, row)) : null;
    if (text !== null) into.put(text[0], text[1]);
    return;
  }
  const next = tree.end[row] ?? 0;
  const hasTwin = [tree.previous[row] ?? -1, tree.parent[next] === tree.parent[row] ? next : -1].some(
    (twin) => twin >= 0 && tree.tag[twin] === tree.tag[row] && boxesOf(tree, twin) !== null,
  );
  if (hasTwin) into.put(textOf(tree, pair[0]), textOf(tree, pair[1]));
}

/** Most nodes of a row of two boxes. */
const MAX_PAIR_NODES = 12;

function boxesOf(tree: PageTree, row: number): [number, number] | null {
  if ((tree.end[row] ?? 0) - row > MAX_PAIR_NODES || ((tree.marks[row] ?? 0) & Mark.ownText) !== 0) return null;
  const [first, second, ...others] = childrenOf(tree, row);
  if (first === undefined || second === undefined || others.length > 0) return null;
  const inside = [first, second].every((box) => holdsPlainText(tree, box));
  return inside ? [first, second] : null;
}

function holdsPlainText(tree: PageTree, box: number): boolean {
  for (let at = box; at < (tree.end[box] ?? box); at++) {
    const marks = tree.marks[at] ?? 0;
    if ((marks & (Mark.money | Mark.control | Mark.image | Mark.heading)) !== 0) return false;
  }
  return textOf(tree, box) !== "";
}

/** "Name: value" as a pair; null where a text is none (an address, a time, prose). */
export function pairOf(text: string): [string, string] | null {
  const at = text.search(/[:：]/);
  if (at < 1 || at > 40 || text.length > 300) return null;
  const name = text.slice(0, at);
  const value = text.slice(at + 1).trim();
  if (value === "" || value.startsWith("//") || /\d$/.test(name) || name.split(/\s+/).length > 5) return null;
  if (!/^[\p{L}]/u.test(name) || /[.!?]\s/.test(name)) return null;
  return [name, value];
}

/** Pairs that stand as lines of a card: "Condition: used", or a label line over a value line. */
export function lineSpecifics(cues: Cues, lines: readonly Line[], isUsed: (line: number) => boolean): Specifics {
  const into = new SpecificsCollector();
  lines.forEach((line, number) => {
    if (isUsed(number)) return;
    const pair = pairOf(line.text);
    if (pair !== null && !isMoneyLabel(cues, pair[0])) into.put(pair[0], pair[1]);
  });
  return into.found;
}

function isMoneyLabel(cues: Cues, name: string): boolean {
  const folded = foldWords(name);
  return (["priceLabel", "oldPrice", "nowPrice", "shipping", "discount", "exTax", "buyNow", "bids"] as const).some(
    (key) => cues.is(key, folded),
  );
}

/** The name of a control of choices and what it offers, from its label or its own attributes. */
export function readChoices(scope: Element, into: SpecificsCollector): void {
  for (const select of Array.from(scope.querySelectorAll("select")).slice(0, 20)) {
    const name = labelOf(select);
    const options = Array.from(select.querySelectorAll("option"))
      .filter((option) => option.getAttribute("value") !== "" && !option.hasAttribute("disabled"))
      .map((option) => tidy(option.textContent ?? "").trim())
      .filter((text) => text !== "" && !/^\d{1,3}$/.test(text));
    if (name !== "" && options.length > 1) into.put(name, options.slice(0, 40).join(", "));
  }
}

function labelOf(control: Element): string {
  const id = control.getAttribute("id");
  const root = control.getRootNode() as Document | ShadowRoot;
  const labels = id
    ? Array.from(root.querySelectorAll("label")).find((label) => label.getAttribute("for") === id)
    : null;
  const text = (labels ?? control.closest("label"))?.firstChild?.textContent ?? "";
  return tidy(text).trim() || (control.getAttribute("aria-label") ?? "").trim();
}
