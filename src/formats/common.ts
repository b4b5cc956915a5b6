/**
 * What all four formats share: safe JSON reading, bounded sizes and readable faults.
 *
 * Every file, message and stored value passes through {@link readJson} and a zod schema before any other
 * code sees it (design section 8). Types are inferred from the schemas, so the two cannot drift.
 */
import * as z from "zod";

/** One thing wrong with an input: where it stands and what was expected there. */
export interface Fault {
  /** Path of the field, such as `families[0].revisions[1].built.from`; `""` for the whole input. */
  readonly field: string;
  /** What was wrong and what to write instead, one sentence. */
  readonly message: string;
  /** One-based line of the input, where known. */
  readonly line?: number;
}

/** The outcome of reading an input: the value, or every fault found (all of them, not only the first). */
export type Outcome<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly faults: readonly Fault[] };

/** Largest catalog or bench text that is read, in UTF-16 code units (64 Mi). */
export const MAX_FILE_CHARS = 64 * 1024 * 1024;
/** Deepest nesting of JSON that is read; the formats need eight. */
export const MAX_DEPTH = 64;
/** How many faults are listed before the rest is only counted. */
export const MAX_FAULTS = 50;

/** A piece of text a person reads: no lone surrogates, bounded, trimmed of nothing. */
export const shortText = z
  .string()
  .max(2_000)
  .refine(isWellFormed, "holds half of a surrogate pair; save the file as valid UTF-8");
/** An identifier inside one file. */
export const identifier = z.string().min(1).max(200).refine(isWellFormed, "holds half of a surrogate pair");
/** A number printed on a part, board or case. */
export const printedNumber = z.string().min(1).max(80).refine(isWellFormed, "holds half of a surrogate pair");
/** A kebab-case part type; the vocabulary is open (design section 3). */
export const partTypeName = z
  .string()
  .max(60)
  .regex(/^[a-z0-9]+(?:-[a-z0-9]+)*$/, "must be lower-case words joined by hyphens, such as battery or display-panel");

/** A decimal amount as text, such as `36.00`: money never passes through floating point. */
export const decimalAmount = z
  .string()
  .max(24)
  .regex(/^\d{1,15}(?:\.\d{1,4})?$/, "must be a decimal amount as text, such as 36.00");
/** ISO 4217 alphabetic currency code. */
export const currencyCode = z.string().regex(/^[A-Z]{3}$/, "must be a three-letter ISO 4217 code, such as EUR");

/** A value of a quantity: a number in the unit that the name ends with, a word, or yes/no. */
const quantityValue = z.union([z.number(), z.string().max(120), z.boolean()]);
/** Quantities by `name_unit`, such as `nominalVoltage_V`. */
export const quantities = z.record(
  z
    .string()
    .max(60)
    .regex(/^[A-Za-z][A-Za-z0-9]*(?:_[A-Za-z0-9]+)?$/, "must be a name with its unit, such as energy_Wh"),
  quantityValue,
);

/** True when the string holds no lone surrogate. */
export function isWellFormed(text: string): boolean {
  for (let i = 0; i < text.length; i++) {
    const unit = text.charCodeAt(i);
    if (unit < 0xd800 || unit > 0xdfff) continue;
    if (unit > 0xdbff) return false;
    const next = text.charCodeAt(i + 1);
    if (!(next >= 0xdc00 && next <= 0xdfff)) return false;
    i++;
  }
  return true;
}

/**
 * Parses JSON text without trusting it: bounded length and depth, and `__proto__`, `constructor` and
 * `prototype` keys are refused rather than carried along.
 *
 * @param text the whole input; a leading byte order mark is ignored
 * @returns the plain value, or one fault with the line where reading stopped
 */
export function readJson(text: string, maxChars: number = MAX_FILE_CHARS): Outcome<unknown> {
  if (text.length > maxChars) {
    return fault("", `The file is ${text.length} characters long; at most ${maxChars} are read. Split it.`);
  }
  const body = text.charCodeAt(0) === 0xfeff ? text.slice(1) : text;
  const deep = tooDeepAt(body);
  if (deep >= 0) {
    return fault("", `Nesting deeper than ${MAX_DEPTH} levels; no Falsefit format needs that.`, lineAt(body, deep));
  }
  let value: unknown;
  try {
    value = MAY_HOLD_UNSAFE_KEY.test(body) ? JSON.parse(body, refuseUnsafeKeys) : JSON.parse(body);
  } catch (error) {
    const said = error instanceof Error ? error.message : String(error);
    if (error instanceof UnsafeKey) return fault("", said);
    const at = /position (\d+)/.exec(said);
    const position = at ? Number(at[1]) : body.length;
    return fault(
      "",
      `Not valid JSON (${body.length === 0 ? "the input is empty" : said}); expected one JSON object.`,
      lineAt(body, position),
    );
  }
  return { ok: true, value };
}

/**
 * Checks a parsed value against a schema and collects every fault, each named by its path.
 */
export function checkAgainst<T>(schema: z.ZodType<T>, value: unknown): Outcome<T> {
  const result = schema.safeParse(value);
  if (result.success) return { ok: true, value: result.data };
  const faults: Fault[] = result.error.issues.slice(0, MAX_FAULTS).flatMap(issueFaults).slice(0, MAX_FAULTS);
  if (result.error.issues.length > MAX_FAULTS) {
    faults.push({
      field: "",
      message: `and ${result.error.issues.length - MAX_FAULTS} more faults`,
    });
  }
  return { ok: false, faults };
}

/** A field that the schema does not know is named itself, not only what it stands in. */
function issueFaults(issue: z.core.$ZodIssue): Fault[] {
  if (issue.code !== "unrecognized_keys") return [{ field: pathText(issue.path), message: issue.message }];
  return issue.keys.map((key) => ({
    field: pathText([...issue.path, key]),
    message: "This field is not known; correct its name or remove it.",
  }));
}

/**
 * Refuses a file whose `format` is missing, another kind, or a major version this program does not know.
 *
 * @param kind the part before the slash, such as `falsefit-catalog`
 */
export function checkFormat(value: unknown, kind: string, major: number): Outcome<Record<string, unknown>> {
  if (typeof value !== "object" || value === null || Array.isArray(value)) {
    return fault("", `Expected one JSON object with "format": "${kind}/${major}".`);
  }
  const record = value as Record<string, unknown>;
  const format = record["format"];
  if (typeof format !== "string") {
    return fault("format", `Missing; expected "${kind}/${major}" as the value of "format".`);
  }
  const [name, version] = format.split("/", 2);
  if (name !== kind) return fault("format", `This is "${clip(format)}"; expected "${kind}/${major}".`);
  if (version !== String(major)) {
    return fault(
      "format",
      `Version "${clip(version ?? "")}" is not known to this program; it reads "${kind}/${major}". Update Falsefit or convert the file.`,
    );
  }
  return { ok: true, value: record };
}

/**
 * Checks a parsed value as a file of one format: its version, its shape, and what else must hold of a whole file.
 *
 * @param further faults of a value whose shape is right
 */
export function checkFile<T>(
  value: unknown,
  [kind, major]: readonly [kind: string, major: number],
  schema: z.ZodType<T>,
  further: (value: T) => Iterable<Fault>,
): Outcome<T> {
  const format = checkFormat(value, kind, major);
  if (!format.ok) return format;
  const shape = checkAgainst(schema, format.value);
  if (!shape.ok) return shape;
  const faults = [...further(shape.value)];
  return faults.length > 0 ? { ok: false, faults } : shape;
}

/** One fault as a failed outcome. */
export function fault(field: string, message: string, line?: number): { ok: false; faults: Fault[] } {
  return {
    ok: false,
    faults: [line === undefined ? { field, message } : { field, message, line }],
  };
}

/** `["families", 0, "id"]` as `families[0].id`. */
export function pathText(path: readonly PropertyKey[]): string {
  let text = "";
  for (const step of path) {
    if (typeof step === "number") text += `[${step}]`;
    else text += text === "" ? String(step) : `.${String(step)}`;
  }
  return text;
}

/** Only such texts need the slower walk over every key: the keys themselves, or escapes that could spell them. */
const MAY_HOLD_UNSAFE_KEY = /"(?:__proto__|constructor|prototype)"|\\u/;

class UnsafeKey extends Error {}

function refuseUnsafeKeys(key: string, value: unknown): unknown {
  if (key === "__proto__" || key === "constructor" || key === "prototype") {
    throw new UnsafeKey(`The key "${key}" is not allowed in a Falsefit file; remove it.`);
  }
  return value;
}

function clip(text: string): string {
  return text.length > 60 ? `${text.slice(0, 60)}…` : text;
}

function lineAt(text: string, position: number): number {
  let line = 1;
  const end = Math.min(position, text.length);
  for (let i = 0; i < end; i++) if (text.charCodeAt(i) === 10) line++;
  return line;
}

/** Index of the bracket that goes past {@link MAX_DEPTH}, or -1. Strings are skipped; one pass. */
function tooDeepAt(text: string): number {
  let depth = 0;
  let inString = false;
  for (let i = 0; i < text.length; i++) {
    const unit = text.charCodeAt(i);
    if (inString) {
      if (unit === 0x5c) i++;
      else if (unit === 0x22) inString = false;
    } else if (unit === 0x22) inString = true;
    else if (unit === 0x5b || unit === 0x7b) {
      if (++depth > MAX_DEPTH) return i;
    } else if (unit === 0x5d || unit === 0x7d) depth--;
  }
  return -1;
}
