/** `falsefit title`: titles in, how a buyer of each revision reads them out. */
import rules from "falsefit:rules";
import { type Composition, DEFAULT_LIMIT } from "../desks/compose.ts";
import { entryListing, readEntry } from "../desks/entries.ts";
import { openTitleDesk, type TitleDesk, type TitleReading } from "../desks/title-check.ts";
import type { TitleFault } from "../desks/title-faults.ts";
import type { Fault } from "../formats/common.ts";
import { type Listing, readListingLine } from "../formats/listing.ts";
import type { Words } from "../text/words.ts";
import { reasonText } from "../verdict/index.ts";
import type { Arguments } from "./arguments.ts";
import { indexOf, readCatalogs } from "./catalogs.ts";
import { wholeNumber } from "./check.ts";
import { csvFaultSentence, openList } from "./csv.ts";
import { exits, Stop } from "./exits.ts";
import { textLines } from "./lines.ts";
import { faultText } from "./load.ts";
import type { Run, Shell } from "./shell.ts";

/** Longest limit that makes sense, in characters. */
const MAX_LIMIT = 10_000;

/** Runs `title`. */
export const title: Run = async (given, shell) => {
  const { words, out } = shell;
  const faults: string[] = [];
  const index = indexOf(readCatalogs(given, words, faults));
  const partId = given.value("part");
  if (faults.length === 0 && partId !== undefined && index.part(partId) === undefined) {
    faults.push(words.say("command_unknown_part", { part: partId }));
  }
  if (faults.length > 0) throw new Stop(exits.usage, faults);
  const limit = wholeNumber(given, "limit", 1, MAX_LIMIT, words) ?? DEFAULT_LIMIT;
  const desk = openTitleDesk(index, rules, words);
  const composing = given.has("compose");
  if (composing && partId !== undefined && given.operands.length === 0) {
    await out.write(`${JSON.stringify(composedJson(desk.compose(partId, limit), limit, words))}\n`);
    return exits.done;
  }
  const file = given.operands[0] ?? "-";
  let bad = 0;
  for await (const { number, read } of given.has("csv") ? rowsOf(file, given, shell) : linesOf(file, shell)) {
    if ("faults" in read) {
      bad++;
      for (const fault of read.faults) shell.complain(faultText(file, { ...fault, line: number }));
      continue;
    }
    const reading = desk.check(read.listing, partId);
    const composed = composing && reading.part !== null ? composition(desk, reading.part, limit, words) : {};
    await out.write(`${JSON.stringify({ ...readingJson(read.listing, number, reading, words), ...composed })}\n`);
  }
  return bad > 0 ? exits.someBad : exits.done;
};

/** One thing to check, with its one-based line or row. */
interface Item {
  readonly number: number;
  readonly read: { readonly listing: Listing } | { readonly faults: readonly Fault[] };
}

async function* linesOf(file: string, shell: Shell): AsyncGenerator<Item> {
  for await (const { number, text, fault } of textLines(file, shell)) {
    yield { number, read: text === null ? { faults: [{ field: "", message: fault }] } : readTitle(text) };
  }
}

/** Rows of a list, by their titles and numbers. */
async function* rowsOf(file: string, given: Arguments, shell: Shell): AsyncGenerator<Item> {
  const { shape, rows } = await openList(file, given, shell);
  for await (const piece of rows) {
    for (const { row, kind } of piece.faults) {
      yield { number: row, read: { faults: [{ field: "", message: csvFaultSentence(kind, shell) }] } };
    }
    for (const { row, cells } of piece.rows) {
      const entry = readEntry(cells, row, shape);
      if (entry !== null) yield { number: row, read: { listing: entryListing(entry) } };
    }
  }
}

/** A line that starts like JSON is a listing, anything else a bare title. */
function readTitle(text: string): Item["read"] {
  const trimmed = text.trim();
  if (!trimmed.startsWith("{")) return { listing: { title: trimmed } };
  const read = readListingLine(trimmed);
  return read.ok ? { listing: read.value } : { faults: read.faults };
}

function composition(desk: TitleDesk, part: string, limit: number, words: Words): Record<string, unknown> {
  return { composed: composedJson(desk.compose(part, limit), limit, words) };
}

function composedJson({ titles, problem, shortest, warning }: Composition, limit: number, words: Words): unknown {
  const said =
    problem === null
      ? {}
      : { problem, says: words.say(`title_problem_${key(problem)}`, { limit, length: shortest?.length ?? 0 }) };
  return { titles, shortest, ...said, warning };
}

/** One line of output. */
function readingJson(listing: Listing, line: number, reading: TitleReading, words: Words): Record<string, unknown> {
  const { part, named, buyers, summary, faults } = reading;
  return {
    ...(listing.id === undefined ? { line } : { id: listing.id }),
    title: listing.title,
    part,
    named,
    summary,
    buyers: buyers.map(({ family, revision, right, outcome, verdict, effect }) => ({
      family,
      revision,
      right,
      outcome,
      verdict: verdict.verdict,
      tier: verdict.tier,
      effect,
      says: verdict.reasons.slice(0, 1).map((reason) => reasonText(reason, words)),
    })),
    faults: faults.map((fault) => faultJson(fault, words)),
  };
}

function faultJson({ code, values, spans, buyers, effect }: TitleFault, words: Words): Record<string, unknown> {
  return {
    code,
    says: words.say(`title_fault_${key(code)}`, values),
    fix: words.say(`title_fix_${key(code)}`, values),
    spans,
    buyers,
    effect,
  };
}

function key(code: string): string {
  return code.replaceAll("-", "_");
}
