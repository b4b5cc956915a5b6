/**
 * What machines say when nobody filled the field in.
 *
 * Firmware, batteries and operating systems hand out texts such as "Default string" as if they were numbers.
 * A placeholder must never become a fact. The lists are data: add what you meet, in lower case, letters and
 * digits only.
 */

/** Whole values that mean "nothing", folded to lower-case letters and digits. */
const NOTHING: ReadonlySet<string> = new Set([
  "",
  "all series",
  "asset",
  "asset tag",
  "asset tag 1234567890",
  "bad index",
  "base board product name",
  "base board serial number",
  "base board version",
  "baseboard",
  "battery",
  "board",
  "board product name",
  "board version",
  "chassis serial number",
  "customer reference number",
  "dmi",
  "empty",
  "fill by oem",
  "filled by oem",
  "generic",
  "invalid",
  "laptop",
  "mainboard",
  "manufacturer",
  "model",
  "model name",
  "module part number",
  "motherboard",
  "n a",
  "na",
  "name",
  "no",
  "no asset",
  "no asset tag",
  "no dimm",
  "no module installed",
  "none",
  "notebook",
  "null",
  "nil",
  "o e m",
  "oem",
  "oem default string 000",
  "oem string",
  "out of spec",
  "part number",
  "part num",
  "pc",
  "primary",
  "product",
  "product name",
  "rsvd",
  "reserved",
  "sample",
  "serial number",
  "ser num",
  "sku",
  "sku number",
  "smart battery",
  "standard",
  "standard battery",
  "string",
  "system board",
  "system manufacturer",
  "system name",
  "system product name",
  "system serial number",
  "system sku",
  "system version",
  "tbd",
  "test",
  "unavailable",
  "undefined",
  "unknow",
  "unknown",
  "unspecified",
  "version",
  "xxx",
]);

/** Beginnings that make the whole value a placeholder, folded likewise. */
const NOTHING_STARTS: readonly string[] = [
  "to be filled",
  "to be set",
  "default string",
  "default",
  "not applicable",
  "not available",
  "not defined",
  "not installed",
  "not populated",
  "not present",
  "not provided",
  "not specified",
  "not set",
  "no information",
  "no memory",
  "type1productconfigid",
  "type1family",
  "type1sku",
  "type1 ",
  "type2 ",
  "type3 ",
  "undefined ",
  "unknown ",
  "battery name",
  "insert ",
  "please ",
];

/** Words that name a kind of thing: a value that holds one is a description, not a number printed on a part. */
const KIND_WORDS: ReadonlySet<string> = new Set([
  "battery",
  "batterie",
  "batteria",
  "bateria",
  "akku",
  "akumulator",
  "lion",
  "lipo",
  "ion",
  "memory",
  "display",
  "monitor",
  "screen",
  "panel",
]);

/** True for a value that says nothing: a default text, one character repeated, digits in a row, only punctuation. */
export function isPlaceholder(value: string): boolean {
  const folded = fold(value);
  if (NOTHING.has(folded) || NOTHING_STARTS.some((start) => folded.startsWith(start))) return true;
  const bare = folded.replaceAll(" ", "");
  return isRepeated(bare) || isCounting(bare);
}

/**
 * True for a value that can be a number printed on a part: a word of five characters or more with a digit in
 * it, and no word that only names the kind of thing.
 */
export function looksLikePrintedNumber(value: string): boolean {
  if (value.length > 80 || isPlaceholder(value)) return false;
  const words = fold(value).split(" ");
  if (words.some((word) => KIND_WORDS.has(word))) return false;
  const joined = words.join("");
  return joined.length >= 5 && /\d/.test(joined) && words.some((word) => word.length >= 4);
}

/** Lower-case letters and digits, everything else one space. */
function fold(value: string): string {
  return value
    .slice(0, 200)
    .normalize("NFKC")
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, " ")
    .trim();
}

function isRepeated(bare: string): boolean {
  for (let i = 1; i < bare.length; i++) if (bare[i] !== bare[0]) return false;
  return bare.length !== 1 || /[0fx]/.test(bare);
}

/** `123456789`, `0123456789`, `1234567`: at least six digits, each one more than the last. */
function isCounting(bare: string): boolean {
  if (bare.length < 6 || !/^\d+$/.test(bare)) return false;
  for (let i = 1; i < bare.length; i++) {
    if (Number(bare[i]) !== (Number(bare[i - 1]) + 1) % 10) return false;
  }
  return true;
}
