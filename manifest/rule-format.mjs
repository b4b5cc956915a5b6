// @ts-check
/**
 * The canonical form of rule files: what they hold decides every byte, so that two people who make the same change make
 * the same file. Each field stands on a line of its own; a list stands on one line where it fits. Run as a program (by
 * `npm run format`) it puts every rule file into this form.
 */
import { readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";

const RULES = fileURLToPath(new URL("../rules/", import.meta.url));
/** The folders of rules; catalogs are none. */
const FOLDERS = ["column-names", "number-formats", "page-shapes", "page-words", "part-types", "wording"];

/** Longest line. */
const WIDTH = 120;

/** Every rule file, absolute. */
export function ruleFiles() {
  return FOLDERS.flatMap((folder) =>
    readdirSync(join(RULES, folder))
      .filter((name) => name.endsWith(".json"))
      .map((name) => join(RULES, folder, name)),
  );
}

/**
 * A rule as the text of its file.
 *
 * @param {unknown} value plain JSON
 */
export function ruleText(value) {
  return `${layOut(value, "", 0, 0)}\n`;
}

/**
 * @param {unknown} value
 * @param {string} indent of the line on which the value starts
 * @param {number} before columns that its name takes on that line
 * @param {number} after columns that follow it: 1 for a comma
 * @returns {string}
 */
function layOut(value, indent, before, after) {
  const inner = `${indent}  `;
  if (Array.isArray(value)) {
    if (value.length === 0) return "[]";
    const line = oneLine(value);
    if (line !== null && indent.length + before + columns(line) + after <= WIDTH) return line;
    if (value.every((each) => typeof each === "number")) return `[\n${filled(value, inner)}\n${indent}]`;
    const items = value.map((each, i) => inner + layOut(each, inner, 0, i < value.length - 1 ? 1 : 0));
    return `[\n${items.join(",\n")}\n${indent}]`;
  }
  if (typeof value !== "object" || value === null) return JSON.stringify(value);
  const fields = Object.entries(value).map(([key, each], i, all) => {
    const name = `${JSON.stringify(key)}: `;
    return inner + name + layOut(each, inner, columns(name), i < all.length - 1 ? 1 : 0);
  });
  return fields.length === 0 ? "{}" : `{\n${fields.join(",\n")}\n${indent}}`;
}

/**
 * A list on one line; `null` where it holds an object with fields.
 *
 * @param {unknown[]} list
 * @returns {string | null}
 */
function oneLine(list) {
  const items = list.map((each) => {
    if (Array.isArray(each)) return oneLine(each);
    const isPlain = typeof each !== "object" || each === null || Object.keys(each).length === 0;
    return isPlain ? JSON.stringify(each) : null;
  });
  return items.includes(null) ? null : `[${items.join(", ")}]`;
}

/**
 * Columns that a text takes: letters of East Asian scripts take two.
 *
 * @param {string} text
 */
function columns(text) {
  const wide = text.match(
    /[\p{Script=Han}\p{Script=Hangul}\p{Script=Hiragana}\p{Script=Katakana}\u30fc\uff01-\uff60]/gu,
  );
  return [...text].length + (wide?.length ?? 0);
}

/**
 * Numbers, as many on a line as fit.
 *
 * @param {number[]} numbers
 * @param {string} indent
 */
function filled(numbers, indent) {
  const lines = [];
  let line = indent;
  for (const [i, number] of numbers.entries()) {
    const item = i < numbers.length - 1 ? `${number},` : String(number);
    if (line !== indent && line.length + 1 + item.length > WIDTH) {
      lines.push(line);
      line = indent;
    }
    line += line === indent ? item : ` ${item}`;
  }
  return [...lines, line].join("\n");
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  for (const path of ruleFiles()) {
    const text = readFileSync(path, "utf8");
    const canonical = ruleText(JSON.parse(text));
    if (canonical !== text) writeFileSync(path, canonical);
  }
}
