/**
 * The title of a record: which of its texts names what is sold, and that name in full.
 *
 * Candidates are headings, chunks of text and links. Their standing is judged by column (candidates at the same
 * place of their records, after partial alignment in DEPTA, WWW 2005): a title is a heading or a link more often
 * than not, differs from record to record, and recurs in the picture's alternative text or in the address.
 */
import { type Cues, foldWords } from "./cues.ts";
import { MAX_TITLE } from "./limits.ts";
import { type Chunk, isInline, isUnseenWithin, type Line, tidy } from "./lines.ts";
import type { TitlePlace } from "./price.ts";
import type { RecordSpan } from "./records.ts";
import type { Sight } from "./sight.ts";
import { elementAt, lowerBound, Mark, type PageTree } from "./tree.ts";

/** A text that could be the title. */
export interface TitleCandidate {
  /** Index of the element that holds the text. */
  readonly element: number;
  readonly text: string;
  /** Number of the line it stands in, -1 when it is read from an attribute. */
  readonly line: number;
  /** Its place in the record: candidates of equal columns are compared over records. */
  readonly column: string;
  /** How it was come by. */
  readonly source: "heading" | "link" | "chunk";
  readonly score: number;
}

/** What is read with. */
export interface TitleReading {
  readonly tree: PageTree;
  readonly sight: Sight;
  readonly cues: Cues;
  /** Standing of a column by the names and kinds of its elements; filled while reading. */
  readonly columns: Map<string, number>;
}

const TITLE_WORDS = new Set(
  "title titel titre titulo titolo name heading headline subject caption nombre nome naam namn nazwa".split(" "),
);
/** Words for other things than titles; with "name" or "title" after them, the first group is still another thing. */
const OWNER_WORDS = new Set(
  "brand vendor manufacturer maker seller shop store merchant user username author category categories cat location place city region badge label".split(
    " ",
  ),
);
const OTHER_WORDS = new Set(
  "date time rating ratings review reviews stars flag tag tags ribbon sticker sku ref reference description desc summary excerpt subtitle meta attributes attribute specs features stock availability shipping delivery condition bids bid countdown timer breadcrumb price prices btn button cta promo info facts subtext".split(
    " ",
  ),
);

/** What the names of an element say of it: 1 a title, -1 something else, fractions for vague hints. */
function standingOf(names: string): number {
  let standing = 0;
  for (const name of names.split(" ")) {
    const words = name
      .toLowerCase()
      .split(/[-_]+/)
      .filter((word) => word !== "");
    const last = words.at(-1) ?? "";
    const isOwned = words.some((word) => OWNER_WORDS.has(word));
    if (TITLE_WORDS.has(last) && words.at(-2) !== "sub")
      standing = isOwned ? Math.min(standing, -1) : Math.max(standing, 1);
    else if (OTHER_WORDS.has(last) || OWNER_WORDS.has(last) || last === "title") standing ||= -1;
    else if (isOwned || words.some((word) => OTHER_WORDS.has(word))) standing ||= -0.5;
    else if (words.some((word) => TITLE_WORDS.has(word))) standing ||= 0.6;
  }
  return standing;
}

/** Where in its line a title stands; the whole line when its text is not found there letter by letter. */
export function placeOf(candidate: TitleCandidate, lines: readonly Line[]): TitlePlace | null {
  const line = lines[candidate.line];
  if (line === undefined) return null;
  const at = line.text.indexOf(candidate.text);
  return at < 0
    ? { line: candidate.line, start: 0, end: line.text.length }
    : { line: candidate.line, start: at, end: at + candidate.text.length };
}

/** Where in its record a class of records has its titles: learnt from the first records, sought in the rest. */
export interface TitleColumn {
  readonly column: string;
  readonly source: TitleCandidate["source"];
}

/** A record whose title is sought. */
export interface TitleScene {
  readonly span: RecordSpan;
  readonly lines: readonly Line[];
  /** The record's chunks, made when asked for. */
  readonly chunks: () => readonly Chunk[];
  /** Where the first amount of a line stands. */
  readonly priceStart: (line: number) => number | null;
}

/**
 * Collects a record's candidates.
 *
 * @param only where titles are known to stand: nothing else is looked at
 */
export function titleCandidates(reading: TitleReading, scene: TitleScene, only: TitleColumn | null): TitleCandidate[] {
  const { tree } = reading;
  const { span, lines } = scene;
  const hints = only === null ? linkHints(tree, span) : null;
  const found: TitleCandidate[] = [];
  const take = (
    source: TitleCandidate["source"],
    element: number,
    order: number,
    textAt: () => [string, number, number],
  ) => {
    const column = columnOf(tree, element);
    if (only !== null && column !== only.column) return;
    const [text, line, bonus] = textAt();
    const body = tidy(text).trim();
    const folded = foldWords(body);
    if (!isNaming(reading.cues, body, folded)) return;
    const standing = hints === null ? 0 : columnScore(reading, column, element, span) + textScore(body, folded, hints);
    found.push({ element, text: body, line, column, source, score: bonus + standing - Math.min(order, 8) });
  };
  const seen = (element: number, bonus: number) => (): [string, number, number] => [
    seenText(reading, element),
    lineOf(tree, lines, element),
    bonus,
  ];
  if (only === null || only.source === "heading") {
    for (const heading of within(tree.headings, span)) take("heading", heading, 0, seen(heading, 0));
  }
  if (only === null || only.source === "link") {
    for (const link of within(tree.links, span)) if (isRunning(tree, link)) take("link", link, 2, seen(link, 3));
  }
  if (only !== null && only.source !== "chunk") return found;
  scene.chunks().forEach((chunk, order) => {
    const amount = scene.priceStart(chunk.line);
    if (amount === chunk.start) return;
    const isBefore = amount !== null && chunk.start < amount && amount < chunk.end;
    const text = isBefore ? beforePrice(chunk.text, amount - chunk.start) : chunk.text;
    take("chunk", chunk.owner, order, () => [text, chunk.line, amount !== null && chunk.end > amount ? -14 : 0]);
  });
  return found;
}

/** The entries of a sorted list that lie in a record. */
function within(sorted: readonly number[], span: RecordSpan): readonly number[] {
  return sorted.slice(lowerBound(sorted, span.start), lowerBound(sorted, span.end));
}

/** What a record's links and pictures say besides its text: words of addresses and alternative texts. */
interface LinkHints {
  readonly address: string;
  readonly alternatives: readonly string[];
}

function linkHints(tree: PageTree, span: RecordSpan): LinkHints {
  const alternatives: string[] = [];
  for (let at = lowerBound(tree.images, span.start); (tree.images[at] ?? span.end) < span.end; at++) {
    const alt = elementAt(tree, tree.images[at] as number).getAttribute("alt");
    if (alt && alternatives.length < 6) alternatives.push(foldWords(alt));
  }
  let address = "";
  for (let at = lowerBound(tree.links, span.start); (tree.links[at] ?? span.end) < span.end; at++) {
    const href = elementAt(tree, tree.links[at] as number).getAttribute("href") ?? "";
    if (href.length > address.length && href.length < 600) address = href;
  }
  return { address: address.toLowerCase(), alternatives };
}

/** Names something: has letters, is no button, label, amount, date or placeholder. */
function isNaming(cues: Cues, text: string, folded: string): boolean {
  if (text.length < 3 || text.length > MAX_TITLE || !/\p{L}{2}|\p{L}\d|\p{Script=Han}/u.test(text)) return false;
  if (/\{\{|\}\}|\$\{|<%|%>|\[\[/.test(text)) return false;
  return !(
    cues.is("notTitles", folded) ||
    cues.is("buy", folded) ||
    cues.is("badges", folded) ||
    cues.is("conditions", folded) ||
    cues.is("noPrice", folded) ||
    cues.is("freeShipping", folded) ||
    cues.is("stock", folded) ||
    cues.is("priceLabel", folded)
  );
}

function columnOf(tree: PageTree, index: number): string {
  const element = elementAt(tree, index);
  const first = (element.getAttribute("class") ?? "").trim().split(/\s+/, 1)[0] ?? "";
  return `${tree.path[index] ?? 0} ${first}`;
}

/** Standing of a column, told once by the names and kinds of the element and those around it. */
function columnScore(reading: TitleReading, column: string, index: number, span: RecordSpan): number {
  const known = reading.columns.get(column);
  if (known !== undefined) return known;
  const { tree } = reading;
  let score = 0;
  for (let at = index, step = 0; at >= span.start && step < 4; at = tree.parent[at] ?? -1, step++) {
    const element = elementAt(tree, at);
    const marks = tree.marks[at] ?? 0;
    if ((marks & Mark.heading) !== 0) score += 34;
    if ((marks & Mark.link) !== 0) score += step < 2 ? 16 : 6;
    if ((marks & Mark.control) !== 0) score -= 40;
    if (tree.tag[at] === "b" || tree.tag[at] === "strong") score += 8;
    if (tree.tag[at] === "dt" || tree.tag[at] === "label" || tree.tag[at] === "th") score -= 6;
    if (tree.tag[at] === "dd" || tree.tag[at] === "small" || tree.tag[at] === "time") score -= 10;
    const standing = step < 3 ? standingOf(namesOf(element)) : 0;
    score += standing * (standing > 0 ? (step === 0 ? 24 : 14) : step === 0 ? 26 : 12);
  }
  reading.columns.set(column, score);
  return score;
}

function namesOf(element: Element): string {
  if (!element.hasAttributes()) return "";
  return ["class", "itemprop", "data-testid", "data-test", "data-qa", "data-hook", "data-cy", "property"]
    .map((name) => element.getAttribute(name) ?? "")
    .join(" ")
    .replace(/([a-z])([A-Z])/g, "$1-$2")
    .trim()
    .replace(/\s+/g, " ")
    .slice(0, 400);
}

function textScore(text: string, folded: string, hints: LinkHints): number {
  const words = text.split(/\s+/);
  let score = text.length >= 15 ? 10 : text.length >= 8 ? 4 : -8;
  if (text.length > 160) score -= 20;
  if (words.length >= 3) score += 6;
  if (/\p{L}/u.test(text) && /\d/.test(text)) score += 2;
  if (/:$/.test(text) || /^[^\p{L}\p{N}]*\d[\d\s./-]*$/u.test(text)) score -= 20;
  if (/^[\p{L} ]{2,20}: /u.test(text)) score -= 8;
  if (folded.length > 5 && hints.alternatives.some((alt) => alt.startsWith(folded.slice(0, 40)))) score += 14;
  return score + Math.round(14 * shareInAddress(folded, hints.address));
}

/** Share of a text's longer words that stand in the address. */
function shareInAddress(folded: string, address: string): number {
  if (address === "") return 0;
  const words = folded
    .split(" ")
    .filter((word) => word.length > 2)
    .slice(0, 12);
  if (words.length < 2) return 0;
  return words.filter((word) => address.includes(word)).length / words.length;
}

/** A text that stands in one line with its price: what precedes the amount. */
function beforePrice(text: string, amount: number): string {
  let end = Math.max(0, amount);
  while (end > 0 && /[\s:–—|•·(-]/.test(text.charAt(end - 1))) end--;
  return text.slice(0, end);
}

/** An element that holds nothing but running text. */
function isRunning(tree: PageTree, index: number): boolean {
  const end = tree.end[index] ?? index;
  if (end - index > 24) return false;
  for (let at = index + 1; at < end; at++) {
    const marks = tree.marks[at] ?? 0;
    if ((marks & Mark.money) !== 0) return false;
    if ((marks & Mark.text) === 0 && !isInline(tree.tag[at] ?? "") && (marks & Mark.image) === 0) return false;
  }
  return true;
}

function lineOf(tree: PageTree, lines: readonly Line[], index: number): number {
  const end = tree.end[index] ?? index;
  return lines.findIndex((line) => line.at >= index && line.at < end);
}

const BADGE_NAMES = /(?:^|[-_\s])(?:badge|flag|ribbon|sticker|tag|label|new-?flag)(?:$|[-_\s])/i;

/** The text of an element as a person sees it: no screen-reader texts, no badges laid over it. */
export function seenText(reading: TitleReading, index: number): string {
  const { tree, sight } = reading;
  const end = tree.end[index] ?? index + 1;
  let text = "";
  let holder = -1;
  for (let at = index; at < end; at++) {
    if (at > index && ((tree.marks[at] ?? 0) & Mark.spaced) !== 0) text += " ";
    if (((tree.marks[at] ?? 0) & Mark.text) === 0) {
      if (at > index && isLaidOver(reading, at)) {
        at = (tree.end[at] ?? at + 1) - 1;
        text += " ";
        continue;
      }
      if (!isInline(tree.tag[at] ?? "") || tree.tag[at] === "br") text += " ";
      else if (at > index && sight.isBlock(elementAt(tree, at))) text += " ";
      continue;
    }
    const parent = tree.parent[at] ?? index;
    if (holder !== parent && !isInline(tree.tag[holder] ?? "b") && holder > index) text += " ";
    holder = parent;
    text += (tree.nodes[at] as Text).data;
  }
  return tidy(text).trim();
}

/** A badge or a text for screen readers inside a title. */
function isLaidOver(reading: TitleReading, index: number): boolean {
  const { tree, sight, cues } = reading;
  const element = elementAt(tree, index);
  if (sight.isUnseen(element)) return true;
  if ((tree.end[index] ?? 0) - index > 6) return false;
  if (isAmount(tree, index)) return true;
  const text = foldWords(element.textContent ?? "");
  if (text === "" || text.length > 40) return false;
  return cues.is("badges", text) || (text.length <= 20 && BADGE_NAMES.test(element.getAttribute("class") ?? ""));
}

/** An element whose every text is money: a price set inside of a heading. */
function isAmount(tree: PageTree, index: number): boolean {
  let texts = 0;
  for (let at = index + 1; at < (tree.end[index] ?? index); at++) {
    const marks = tree.marks[at] ?? 0;
    if ((marks & Mark.text) === 0) continue;
    if ((marks & Mark.money) === 0 || (tree.nodes[at] as Text).data.length > 24) return false;
    texts++;
  }
  return texts > 0;
}

/** Picks each record's title, columns weighed over all records. */
export function chooseTitles(
  reading: TitleReading,
  records: readonly (readonly TitleCandidate[])[],
  spans: readonly RecordSpan[],
): (TitleCandidate | null)[] {
  const bonus = columnBonus(records);
  return records.map((candidates, at) => {
    const span = spans[at];
    if (span === undefined) return null;
    const ranked = [...candidates].sort((a, b) => total(b, bonus) - total(a, bonus));
    const best = ranked.slice(0, 6).find((candidate) => isSeen(reading, candidate, span.start)) ?? null;
    const pictured =
      best !== null && isWeak(reading, best) ? titleFromAttributes(reading.tree, span, MIN_ALTERNATIVE) : null;
    const gives = pictured !== null && !foldWords(pictured.text).includes(foldWords(best?.text ?? ""));
    return gives ? null : best;
  });
}

/** Share of the records in which one column must hold the titles for it to be sought alone. */
const MIN_AGREEING = 0.8;

/** The column that holds nearly all of the chosen titles; null where records differ. */
export function titleColumn(chosen: readonly (TitleCandidate | null)[]): TitleColumn | null {
  const counts = new Map<string, number>();
  for (const title of chosen) if (title !== null) counts.set(title.column, (counts.get(title.column) ?? 0) + 1);
  const best = [...counts].sort((a, b) => b[1] - a[1])[0];
  if (best === undefined || best[1] < chosen.length * MIN_AGREEING) return null;
  const title = chosen.find((one) => one?.column === best[0]);
  return title === undefined || title === null ? null : { column: title.column, source: title.source };
}

function total(candidate: TitleCandidate, bonus: ReadonlyMap<string, number>): number {
  return candidate.score + (bonus.get(candidate.column) ?? 0);
}

/** True when a person sees the candidate. */
export function isSeen(reading: TitleReading, candidate: TitleCandidate, start: number): boolean {
  const { tree, sight } = reading;
  return sight.isRendered(elementAt(tree, candidate.element)) && !isUnseenWithin(tree, sight, candidate.element, start);
}

/** Columns that most records have gain; columns that say the same in every record lose. */
function columnBonus(records: readonly (readonly TitleCandidate[])[]): Map<string, number> {
  const texts = new Map<string, string[]>();
  for (const candidates of records) {
    const seen = new Set<string>();
    for (const { column, text } of candidates) {
      if (seen.has(column)) continue;
      seen.add(column);
      const column_ = texts.get(column);
      if (column_ === undefined) texts.set(column, [text]);
      else column_.push(text);
    }
  }
  const bonus = new Map<string, number>();
  for (const [column, values] of texts) {
    const coverage = values.length / records.length;
    const distinct = new Set(values).size / values.length;
    const sameness = values.length >= 3 && distinct < 0.5 ? -36 * (1 - distinct) : 0;
    bonus.set(column, 16 * coverage + sameness);
  }
  return bonus;
}

/** Longest text that a picture's own text outdoes where nothing else speaks for the text. */
const MAX_WEAK = 12;
const MIN_ALTERNATIVE = 15;

/** True for a short text that is neither heading nor named a title, in a record whose picture says more. */
function isWeak(reading: TitleReading, candidate: TitleCandidate): boolean {
  const isNamed = (reading.columns.get(candidate.column) ?? 0) >= 20;
  return candidate.text.length < MAX_WEAK && !isNamed;
}

/** A title taken from the picture or the link, for records that show no text. */
export function titleFromAttributes(
  tree: PageTree,
  span: RecordSpan,
  minLength = 3,
): { text: string; element: number } | null {
  for (let at = span.start; at < span.end; at++) {
    const marks = tree.marks[at] ?? 0;
    if ((marks & (Mark.image | Mark.link)) === 0) continue;
    const element = elementAt(tree, at);
    const text = (
      element.getAttribute("aria-label") ??
      element.getAttribute("alt") ??
      element.getAttribute("title") ??
      ""
    ).trim();
    if (text.length >= minLength && /\p{L}{2}/u.test(text)) return { text: tidy(text), element: at };
  }
  return null;
}

const ELLIPSES = ["…", "...", "‥", "\u22ef"];

/** The text before the ellipsis that it ends with; null when it ends with none. */
function cutStem(text: string): string | null {
  const body = text.trimEnd();
  const ellipsis = ELLIPSES.find((one) => body.endsWith(one));
  return ellipsis === undefined ? null : body.slice(0, -ellipsis.length).trim();
}

/** A title and whether it was completed from elsewhere. */
export interface WholeTitle {
  readonly text: string;
  readonly isCompleted: boolean;
}

/**
 * A title that the page cuts short, given whole where the record holds it whole: in an attribute (alternative
 * text, title, label, data), in the structured data, else in the words of the address.
 *
 * @param known whole names known from structured data
 * @param address the record's link
 */
export function wholeTitle(
  tree: PageTree,
  span: RecordSpan,
  shown: string,
  known: { namesLike(title: string): readonly string[] },
  address: string,
): WholeTitle {
  const stem = cutStem(shown);
  if (stem === null || stem.length < 3) return { text: shown, isCompleted: false };
  const attribute = [...attributeTexts(tree, span), ...known.namesLike(stem)]
    .map((text) => continued(stem, text))
    .filter((text): text is string => text !== null)
    .sort((a, b) => a.length - b.length)[0];
  const whole = attribute ?? fromAddress(stem, address);
  return whole === null ? { text: shown, isCompleted: false } : { text: whole, isCompleted: true };
}

/** The text that begins like the stem and goes on to its end; null when it does not, or is cut itself. */
function continued(stem: string, text: string): string | null {
  const body = tidy(text).trim();
  if (body.length <= stem.length || body.length > MAX_TITLE || cutStem(body) !== null) return null;
  const at = body.toLowerCase().indexOf(stem.toLowerCase());
  if (at < 0) return null;
  if (at === 0) return body;
  const closing = CLOSING[body.charAt(at - 1)];
  if (closing === undefined) return null;
  const end = body.indexOf(closing, at + stem.length);
  return end < 0 ? null : body.slice(at, end);
}

const CLOSING: Readonly<Record<string, string>> = {
  '"': '"',
  "'": "'",
  "“": "”",
  "„": "“",
  "«": "»",
  "‘": "’",
  "「": "」",
};

function attributeTexts(tree: PageTree, span: RecordSpan): string[] {
  const texts: string[] = [];
  for (let at = span.start; at < span.end && texts.length < 200; at++) {
    if (((tree.marks[at] ?? 0) & Mark.text) !== 0) continue;
    const element = elementAt(tree, at);
    for (const { name, value } of Array.from(element.attributes)) {
      if (value.length > 8 && value.length < 2_000 && name !== "class" && name !== "href" && name !== "src")
        texts.push(value);
    }
  }
  return texts;
}

/** Continues a cut title by the words of the address that follow the ones it shows. */
function fromAddress(stem: string, address: string): string | null {
  const slug = slugWords(address);
  const shown = foldWords(stem)
    .replace(/[^\p{L}\p{N}]+/gu, " ")
    .trim()
    .split(" ")
    .map(plain);
  const lastShown = shown.at(-1) ?? "";
  let at = 0;
  let matched = 0;
  for (const word of shown.slice(0, -1)) {
    const found = slug.indexOf(word, at);
    if (found < 0 || found > at + 2) continue;
    at = found + 1;
    matched++;
  }
  if (matched < Math.max(1, (shown.length - 1) * 0.6)) return null;
  const next = slug[at];
  if (next === undefined || lastShown === "" || !next.startsWith(lastShown)) return null;
  const rest = slug.slice(at + 1);
  const tail = next.slice(lastShown.length);
  if (rest.length === 0 && tail === "") return null;
  return `${stem}${tail}${rest.length > 0 ? ` ${rest.join(" ")}` : ""}`;
}

function slugWords(address: string): string[] {
  const path = (address.split(/[?#]/)[0] ?? "").replace(/\.(?:html?|php|aspx?)$/i, "");
  const segments = path.split("/").map((part) =>
    decoded(part)
      .toLowerCase()
      .split(/[-_+.]+/)
      .filter((word) => word !== ""),
  );
  const longest = segments.reduce((best, next) => (next.length > best.length ? next : best), [] as string[]);
  const words = longest.map(plain);
  while (words.length > 0 && /^(?:\d{4,}|p\d+|i\d+|a\d+)$/.test(words.at(-1) ?? "")) words.pop();
  return words;
}

function decoded(part: string): string {
  try {
    return decodeURIComponent(part);
  } catch (error) {
    if (error instanceof URIError) return part; // not percent-encoded after all
    throw error;
  }
}

/** Without diacritics, as addresses spell words. */
function plain(word: string): string {
  return word.normalize("NFKD").replace(/\p{M}/gu, "").replace(/ß/g, "ss").toLowerCase();
}
