/**
 * A text dump as an outline: sections with headings, and entries of a label and a value.
 *
 * Decoders and system tools print in a handful of styles: `Label: value` under headings, `KEY=value`,
 * `Label : value` blocks between blank lines, paths of a device tree with values, columns with a head line.
 * All of them become the same outline here; what the labels mean is decided elsewhere. One pass over the
 * lines, nothing is backtracked, everything is capped.
 */

/** One labelled value. */
export interface Entry {
  readonly label: string;
  /** The label folded: lower case, letters and digits only. */
  readonly key: string;
  readonly value: string;
  /** One-based line, or 0 where lines mean nothing. */
  readonly line: number;
}

/** A heading and what stands under it. */
export interface Section {
  readonly heading: string;
  /** The heading folded like a key. */
  readonly key: string;
  /** SMBIOS structure type, where the dump names it. */
  readonly structure: number | null;
  readonly parent: Section | null;
  readonly entries: Entry[];
  readonly children: Section[];
}

/** Most entries of one outline; further ones are left out. */
export const MAX_ENTRIES = 50_000;
const MAX_LABEL = 80;
const MAX_VALUE = 400;
/** Deepest nesting that is kept apart; deeper headings join the one above. */
const MAX_NESTING = 40;

/** A heading or label folded for comparison. */
export function foldKey(label: string): string {
  return label
    .slice(0, 200)
    .normalize("NFKC")
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, "");
}

/** A new section under a parent (or a root). */
export function openSection(parent: Section | null, heading: string, structure: number | null = null): Section {
  const section = { heading, key: foldKey(heading), structure, parent, entries: [], children: [] };
  if (parent) parent.children.push(section);
  return section;
}

/** Every section of an outline, parents before children. */
export function* allSections(root: Section): Generator<Section> {
  const queue = [root];
  for (let i = 0; i < queue.length; i++) {
    const section = queue[i];
    if (!section) continue;
    yield section;
    queue.push(...section.children);
  }
}

/** Line ends of all systems as single line feeds; some tools write CR CR LF. */
export function plainLines(text: string): string[] {
  return text.replaceAll("\r\r\n", "\n").replaceAll("\r\n", "\n").replaceAll("\r", "\n").split("\n");
}

/**
 * Reads a plain text.
 *
 * @param lines as {@link plainLines} gives them
 * @param columnHeads folded labels that may head a table of columns
 */
export function outlineOfText(lines: readonly string[], columnHeads: ReadonlySet<string>): Section {
  const reader = new OutlineReader();
  for (let i = 0; i < lines.length && !reader.full; i++) {
    const line = lines[i] ?? "";
    const rows = columnsAt(lines, i, columnHeads);
    if (rows > 0) {
      reader.table(lines.slice(i, i + rows), i + 1);
      i += rows - 1;
    } else reader.line(line, i + 1);
  }
  return reader.root;
}

interface Open {
  readonly indent: number;
  readonly section: Section;
}

class OutlineReader {
  readonly root = openSection(null, "");
  #stack: Open[] = [];
  #count = 0;
  #blank = false;
  #paths = new Map<string, Section>();

  get full(): boolean {
    return this.#count >= MAX_ENTRIES;
  }

  line(raw: string, number: number): void {
    const { indent, text } = indented(raw);
    if (text === "") {
      this.#blank = true;
      return;
    }
    if (this.#blank && indent === 0) this.#stack = [];
    this.#blank = false;
    if (text.startsWith("/") && this.#path(text, number)) return;
    const handle = /^Handle 0x[0-9A-Fa-f]{1,8}, DMI type (\d{1,3})\b/.exec(text);
    if (handle) {
      this.#stack = [{ indent: -1, section: openSection(this.root, "", Number(handle[1])) }];
      return;
    }
    const pair = splitPair(text);
    while (this.#stack.length > 0 && (this.#stack.at(-1)?.indent ?? -1) >= indent) this.#stack.pop();
    if (pair === null) this.#heading(text, indent);
    else this.#entry(pair, indent, number);
  }

  table(lines: readonly string[], first: number): void {
    const starts = columnStarts(lines[0] ?? "");
    for (const [i, row] of lines.entries()) {
      if (i === 0 || /^[\s-]*$/.test(row)) continue;
      const section = openSection(this.root, "");
      for (const [c, { label, at }] of starts.entries()) {
        const value = row.slice(at, starts[c + 1]?.at ?? row.length).trim();
        this.#add(section, label, value, first + i);
      }
    }
    this.#stack = [];
  }

  #heading(text: string, indent: number): void {
    const above = this.#stack.at(-1);
    if (above?.section.structure !== null && above?.indent === -1 && indent === 0) return;
    // Below an entry that opened a list, a bare line is an item of it and no heading.
    if (above?.section.heading.endsWith(":") && above.section.entries.length === 0) return;
    this.#open(text, indent);
  }

  #entry({ label, value }: Pair, indent: number, number: number): void {
    let section = this.#stack.at(-1)?.section;
    if (section === undefined) {
      section = openSection(this.root, "");
      this.#stack.push({ indent: -1, section });
    }
    // A list that starts over with its first label is the next thing of the same kind.
    if (section.heading === "" && section.structure === null && section.entries.length > 1) {
      if (section.entries[0]?.key === foldKey(label) && this.#stack.at(-1)?.indent === -1) {
        section = openSection(this.root, "");
        this.#stack = [{ indent: -1, section }];
      }
    }
    this.#add(section, label, value, number);
    if (value === "") this.#open(`${label}:`, indent);
  }

  #open(heading: string, indent: number): void {
    if (this.#stack.length >= MAX_NESTING) return;
    const parent = this.#stack.at(-1)?.section ?? this.root;
    this.#stack.push({ indent, section: openSection(parent, heading.slice(0, 200)) });
  }

  /** `/sys/…/name:value` as a recursive search prints it, or `/sys/…/name = value [unit]`. */
  #path(text: string, number: number): boolean {
    const end = text.search(/[:=\s]/);
    const path = end < 0 ? text : text.slice(0, end);
    const slash = path.lastIndexOf("/");
    if (slash <= 0 || end < 0) {
      this.#open(text, 0);
      return true;
    }
    const value = text.slice(end).replace(/^\s*[:=]?\s*/, "");
    const folder = path.slice(0, slash);
    let section = this.#paths.get(folder);
    if (section === undefined) {
      section = openSection(this.root, folder);
      this.#paths.set(folder, section);
    }
    const inner = path.endsWith("/uevent") ? splitPair(value) : null;
    this.#add(section, inner?.label ?? path.slice(slash + 1), inner?.value ?? value, number);
    return true;
  }

  #add(section: Section, label: string, value: string, line: number): void {
    const key = foldKey(label);
    if (key === "" || this.full) return;
    this.#count++;
    section.entries.push({ label, key, value: value.slice(0, MAX_VALUE).trim(), line });
  }
}

interface Pair {
  readonly label: string;
  readonly value: string;
}

/** Splits `Label: value`, `KEY=value`, `"key" = value` or `label<TAB>value`; `null` for a line that is none of them. */
function splitPair(line: string): Pair | null {
  const text = withoutTreeMarks(line);
  for (let i = 0; i < text.length && i <= MAX_LABEL; i++) {
    const at = text.charAt(i);
    if (at !== ":" && at !== "=" && at !== "\t") continue;
    if (at === ":" && !endsLabel(text, i)) continue;
    const label = text.slice(0, i).trim();
    if (label === "") return null;
    const rest = text.slice(i + 1).trim();
    return { label: unquoted(label), value: unquoted(rest.startsWith(": ") ? rest.slice(2).trim() : rest) };
  }
  return null;
}

/** A colon ends a label before white space or the end; directly before a value only after a word without spaces. */
function endsLabel(text: string, at: number): boolean {
  const next = text.charAt(at + 1);
  if (next === "" || next === " " || next === "\t") return true;
  const label = text.slice(0, at);
  return /^[A-Za-z][A-Za-z_-]{2,40}$/.test(label) && next !== "/" && next !== "\\";
}

/** Leaves out the marks that tools draw for trees and records: `| `, `+-o`, `E: `. */
function withoutTreeMarks(line: string): string {
  let text = line;
  while (text.startsWith("|") || text.startsWith(" ")) text = text.slice(1);
  return /^[EPSNL]: (?=[A-Z_]+=)/.test(text) ? text.slice(3) : text;
}

function unquoted(text: string): string {
  const bare = text.endsWith(",") ? text.slice(0, -1).trim() : text;
  const quote = bare.charAt(0);
  const quoted = bare.length >= 2 && (quote === '"' || quote === "'") && bare.endsWith(quote);
  return quoted ? bare.slice(1, -1).trim() : bare;
}

function indented(raw: string): { indent: number; text: string } {
  let indent = 0;
  let i = 0;
  for (; i < raw.length; i++) {
    const unit = raw.charCodeAt(i);
    if (unit === 0x20 || unit === 0xa0) indent++;
    else if (unit === 0x09) indent += 8 - (indent % 8);
    else break;
  }
  return { indent, text: raw.slice(i).trimEnd() };
}

/** How many lines a table takes that starts at line `i`: its head names known labels only; 0 for no table. */
function columnsAt(lines: readonly string[], i: number, heads: ReadonlySet<string>): number {
  const line = lines[i] ?? "";
  if (line.length > 2_000 || line.trim() === "" || /[:=\t]/.test(line)) return 0;
  const starts = columnStarts(line);
  if (starts.length === 0 || !starts.every(({ label }) => heads.has(foldKey(label)))) return 0;
  let rows = 1;
  while (rows < 200 && (lines[i + rows] ?? "").trim() === "" && rows < 3 && i + rows < lines.length) rows++;
  const first = rows;
  while (rows < 200 && (lines[i + rows] ?? "").trim() !== "") rows++;
  return rows > first ? rows : 0;
}

/** Column heads are parted by two spaces or more. */
function columnStarts(line: string): { label: string; at: number }[] {
  const starts: { label: string; at: number }[] = [];
  for (let i = 0; i < line.length; ) {
    if (line.charAt(i) === " ") {
      i++;
      continue;
    }
    const gap = line.indexOf("  ", i);
    const end = gap < 0 ? line.length : gap;
    starts.push({ label: line.slice(i, end).trim(), at: i });
    i = end;
  }
  return starts;
}
