/**
 * Tables with named columns: what a heading row says of the cells under it. A bare number under "Price (EUR)" is
 * an amount; a cell under "Condition" is an item specific of that name.
 */
import { readMoney } from "../text/money.ts";
import { CURRENCY_SIGNS, currencyOfLanguage, isCurrencyCode } from "../text/money-symbols.ts";
import { type Cues, foldWords } from "./cues.ts";
import type { MoneyHabits } from "./page-money.ts";
import { Mark, type PageTree } from "./tree.ts";

/** Most columns that are looked at. */
const MAX_COLUMNS = 24;
/** Longest text of a heading cell. */
const MAX_HEAD = 40;

/** The tables of a page. */
export class Tables {
  readonly #tree: PageTree;
  readonly #heads = new Map<number, readonly string[] | null>();

  constructor(tree: PageTree) {
    this.#tree = tree;
  }

  /** Texts of the heading cells over a row, by column; null where the row is none or its table has no headings. */
  headsOver(row: number): readonly string[] | null {
    if (this.#tree.tag[row] !== "tr") return null;
    const table = tableOf(this.#tree, row);
    if (table < 0) return null;
    let heads = this.#heads.get(table);
    if (heads === undefined) {
      heads = headingsOf(this.#tree, table);
      this.#heads.set(table, heads);
    }
    const cells = cellsOf(this.#tree, row);
    return heads !== null && cells.length === heads.length ? heads : null;
  }

  /** The index of a row's cell by column. */
  cells(row: number): readonly number[] {
    return cellsOf(this.#tree, row);
  }
}

function tableOf(tree: PageTree, row: number): number {
  for (let at = tree.parent[row] ?? -1, step = 0; at >= 0 && step < 3; at = tree.parent[at] ?? -1, step++) {
    if (tree.tag[at] === "table") return at;
  }
  return -1;
}

function cellsOf(tree: PageTree, row: number): number[] {
  const cells: number[] = [];
  const end = tree.end[row] ?? row;
  for (let at = row + 1; at < end && cells.length < MAX_COLUMNS; at = tree.end[at] ?? end) {
    if (tree.tag[at] === "td" || tree.tag[at] === "th") cells.push(at);
  }
  return cells;
}

/** The first row's texts when it is a heading row: all `th`, or short texts without links, numbers and amounts. */
function headingsOf(tree: PageTree, table: number): readonly string[] | null {
  const end = tree.end[table] ?? table;
  for (let at = table + 1; at < end; at++) {
    if (tree.tag[at] !== "tr") continue;
    const cells = cellsOf(tree, at);
    if (cells.length < 2) return null;
    const texts = cells.map((cell) => cellText(tree, cell));
    const areHeads = cells.every((cell) => tree.tag[cell] === "th") || texts.every(isHeadText);
    return areHeads && texts.some((text) => text !== "") ? texts : null;
  }
  return null;
}

function isHeadText(text: string): boolean {
  return text.length <= MAX_HEAD && !/\d/.test(text);
}

function cellText(tree: PageTree, cell: number): string {
  const parts: string[] = [];
  for (let at = cell; at < (tree.end[cell] ?? cell); at++) {
    if (((tree.marks[at] ?? 0) & Mark.text) !== 0) parts.push((tree.nodes[at] as Text).data);
  }
  return parts.join(" ").replace(/\s+/g, " ").trim().slice(0, 200);
}

/**
 * Bare numbers that a column's heading makes amounts of money.
 *
 * @returns index of each such text with its currency (ISO 4217)
 */
export function bareAmounts(tree: PageTree, tables: Tables, cues: Cues, habits: MoneyHabits): Map<number, string> {
  const amounts = new Map<number, string>();
  for (let row = 0; row < tree.nodes.length; row++) {
    if (tree.tag[row] !== "tr") continue;
    const heads = tables.headsOver(row);
    if (heads === null) continue;
    const cells = cellsOf(tree, row);
    for (const [column, head] of heads.entries()) {
      const currency = currencyOfHead(head, cues, habits);
      const text = currency === null ? -1 : bareNumberIn(tree, cells[column] ?? -1);
      if (currency !== null && text >= 0) amounts.set(text, currency);
    }
  }
  return amounts;
}

/** "Preis (EUR)", "Price in $", "Price": the currency named, else the page's own under a price heading. */
function currencyOfHead(head: string, cues: Cues, habits: MoneyHabits): string | null {
  if (head === "" || head.length > MAX_HEAD || !cues.has("priceLabel", foldWords(head))) return null;
  const sign = head.split(/[\s()[\],:/]+/).find((word) => CURRENCY_SIGNS.has(word) || isCurrencyCode(word));
  if (sign === undefined) return habits.currency ?? currencyOfLanguage(habits.language);
  const [money] = readMoney(`${sign} 1`, { language: habits.language, currency: habits.currency });
  return money?.currency ?? null;
}

function bareNumberIn(tree: PageTree, cell: number): number {
  if (cell < 0) return -1;
  for (let at = cell; at < (tree.end[cell] ?? cell); at++) {
    if (((tree.marks[at] ?? 0) & Mark.text) === 0) continue;
    const text = (tree.nodes[at] as Text).data.trim();
    return ((tree.marks[at] ?? 0) & Mark.money) === 0 && /^\p{Nd}[\p{Nd}\s.,'’]{0,18}$/u.test(text) ? at : -1;
  }
  return -1;
}
