// @ts-check
/**
 * `npm run new-rule -- KIND NAME`: a rule file in canonical form, an empty expectation beside it that fails until it is
 * filled, and what to fill in next.
 *
 *   npm run new-rule -- wording nl
 *   npm run new-rule -- part-type fuse
 *   npm run new-rule -- number-format words-nl
 *   npm run new-rule -- number-format din-plugs plug-class
 *   npm run new-rule -- page-shape harrow-lane
 */
import { existsSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { ruleText } from "./rule-format.mjs";

const ROOT = fileURLToPath(new URL("..", import.meta.url));
const LANGUAGES = ["en", "de", "fr", "es", "it", "pl"];

/** What number formats hold besides their head, by kind. @type {Record<string, Record<string, unknown>>} */
const FORMATS = {
  units: { units: [], prefixes: [] },
  resolutions: { names: [] },
  "cell-designation": { negative: {}, positive: {}, shapes: {} },
  "primary-cell": { systems: {}, diameters: {}, sizes: {} },
  "memory-module": { tolerance: 0, generations: [] },
  "card-size": { widths_mm: [], lengths_mm: [], keys: {} },
  "plug-class": { classes: [] },
};

/** @typedef {{ name: string, more: string, root: string }} Asked */
/** @typedef {{ files: Record<string, string>, next: string[] }} Made */

/** Makes the files of each kind of rule. @type {Record<string, { name: RegExp, make: (asked: Asked) => Made }>} */
const KINDS = {
  wording: { name: /^[a-z]{2,3}(?:-[A-Za-z0-9]{2,8})*$/, make: wording },
  "part-type": { name: /^[a-z0-9]+(?:-[a-z0-9]+)*$/, make: partType },
  "number-format": { name: /^[a-z0-9]+(?:-[A-Za-z0-9]+)*$/, make: numberFormat },
  "page-shape": { name: /^[a-z0-9]+(?:-[a-z0-9]+)*$/, make: pageShape },
};

/** A request that cannot be met; the message says why. */
export class NewRuleFault extends Error {}

/**
 * Writes a new rule and its expectation; nothing where a file of that name is there already.
 *
 * @param {string[]} words kind, name and, for a number format that is no language, its own kind
 * @param {string} [root] the tree to write in
 * @returns {{ written: string[], next: string[] }} paths from the root, and what to do next
 */
export function newRule([kind = "", name = "", more = ""], root = ROOT) {
  const rule = Object.hasOwn(KINDS, kind) ? KINDS[kind] : undefined;
  if (rule === undefined) throw new NewRuleFault(`A rule is one of: ${Object.keys(KINDS).join(", ")}.`);
  if (!rule.name.test(name)) throw new NewRuleFault(`"${name}" is no name for a ${kind} (${rule.name.source}).`);
  const { files, next } = rule.make({ name, more, root });
  for (const path of Object.keys(files)) {
    if (existsSync(join(root, path))) throw new NewRuleFault(`${path} is there already.`);
  }
  for (const [path, text] of Object.entries(files)) {
    mkdirSync(dirname(join(root, path)), { recursive: true });
    writeFileSync(join(root, path), text);
  }
  return { written: Object.keys(files), next };
}

/** @param {Asked} asked @returns {Made} */
function wording({ name, root }) {
  const english = read(root, "rules/wording/en.json");
  const rule = { ...emptied(english), format: english["format"], language: name };
  return {
    files: {
      [`rules/wording/${name}.json`]: ruleText(rule),
      [`fixtures/rules/wording/${name}.json`]: ruleText({ listings: [{ title: "", verdict: "" }] }),
    },
    next: [
      `Fill the lists of rules/wording/${name}.json: "for", "against", "not", "only" and "wanted" first; keep each sorted.`,
      `Write titles with their verdicts into fixtures/rules/wording/${name}.json (for a Lark 20 with the late board).`,
      `Add "${name}" to names, words and accessories in rules/part-types/, and make its number words: npm run new-rule -- number-format words-${name}`,
      "npm test -- --quick",
    ],
  };
}

/** @param {Asked} asked @returns {Made} */
function partType({ name }) {
  const each = (/** @type {unknown} */ value) => Object.fromEntries(LANGUAGES.map((language) => [language, value]));
  const rule = {
    format: "falsefit-part-type/1",
    id: name,
    names: each(""),
    words: each([]),
    accessories: each([]),
    quantities: [],
    pins: "none",
  };
  const expected = {
    early: { numbers: ["XA-100"], quantities: {} },
    late: { numbers: ["XA-200"], quantities: {} },
    listings: [{ title: "", verdict: "" }],
  };
  return {
    files: {
      [`rules/part-types/${name}.json`]: ruleText(rule),
      [`fixtures/rules/part-types/${name}.json`]: ruleText(expected),
    },
    next: [
      `Name it and its words and accessories in six languages in rules/part-types/${name}.json.`,
      "For each quantity: how it is compared, and what a mismatch does in each direction; then the pins and the caution.",
      `Write titles with their verdicts into fixtures/rules/part-types/${name}.json (the device takes the late part).`,
      "npm test -- --quick",
    ],
  };
}

/** @param {Asked} asked @returns {Made} */
function numberFormat({ name, more, root }) {
  const language = /^words-(.+)$/.exec(name)?.[1];
  const expected = ruleText({ texts: [{ text: "", quantities: {} }] });
  const paths = [`rules/number-formats/${name}.json`, `fixtures/rules/number-formats/${name}.json`];
  const test = "npm test -- --quick";
  if (language !== undefined) {
    const english = read(root, "rules/number-formats/words-en.json");
    const dates = /** @type {Record<string, unknown>} */ (emptied(english["dates"]));
    const rule = {
      ...emptied(english),
      format: english["format"],
      id: name,
      kind: "words",
      language,
      dates: { ...dates, months: Array.from({ length: 12 }, () => []) },
    };
    return {
      files: { [paths[0] ?? ""]: ruleText(rule), [paths[1] ?? ""]: expected },
      next: [
        `Fill the lists of ${paths[0]}: units, counts, the twelve months (January first), "from", "until", "week".`,
        "Leave a list empty where the language has no such word.",
        `Write texts with the quantities that they state into ${paths[1]}, such as { "nominalVoltage_V": 11.1 }.`,
        test,
      ],
    };
  }
  const fields = Object.hasOwn(FORMATS, more) ? FORMATS[more] : undefined;
  if (fields === undefined) {
    throw new NewRuleFault(
      `A number format that is no "words-<language>" needs its kind: ${Object.keys(FORMATS).join(", ")}.`,
    );
  }
  const source = [{ document: "", status: "from memory" }];
  const rule = { format: "falsefit-number-format/1", id: name, kind: more, source, ...fields };
  return {
    files: { [paths[0] ?? ""]: ruleText(rule), [paths[1] ?? ""]: expected },
    next: [
      `Name the document in ${paths[0]} and how well it is confirmed.`,
      "Enter what it lays down; src/formats/number-format-rule.ts says what each field means.",
      `Write texts with the quantities that they state into ${paths[1]}.`,
      test,
    ],
  };
}

/** @param {Asked} asked @returns {Made} */
function pageShape({ name }) {
  const rule = {
    format: "falsefit-page-shape/1",
    id: name,
    host: "shop.example",
    record: "li",
    title: "a",
    origin: "shipped",
  };
  const page = `<!doctype html>
<html lang="en">
  <body>
    <ul>
      <li><a href="/1"></a></li>
    </ul>
  </body>
</html>
`;
  return {
    files: {
      [`rules/page-shapes/${name}.json`]: ruleText(rule),
      [`fixtures/rules/page-shapes/${name}.html`]: page,
      [`fixtures/rules/page-shapes/${name}.json`]: ruleText({
        url: "https://shop.example/",
        listings: [{ title: "", price: "" }],
      }),
    },
    next: [
      `Make fixtures/rules/page-shapes/${name}.html lie as the pages of that site do, with invented wares.`,
      `Name the host and the selectors in rules/page-shapes/${name}.json.`,
      `Write the titles and prices that must be read into fixtures/rules/page-shapes/${name}.json.`,
      "npm test -- --quick",
    ],
  };
}

/**
 * @param {string} root
 * @param {string} path
 * @returns {Record<string, unknown>}
 */
function read(root, path) {
  return JSON.parse(readFileSync(join(root, path), "utf8"));
}

/**
 * The same fields with every list empty.
 *
 * @param {unknown} value
 * @returns {any}
 */
function emptied(value) {
  if (Array.isArray(value)) return [];
  if (typeof value !== "object" || value === null) return value;
  return Object.fromEntries(Object.entries(value).map(([key, each]) => [key, emptied(each)]));
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  try {
    const { written, next } = newRule(process.argv.slice(2));
    for (const path of written) console.log(`new: ${path}`);
    for (const [i, step] of next.entries()) console.log(`${i + 1}. ${step}`);
  } catch (error) {
    if (!(error instanceof NewRuleFault)) throw error;
    console.error(error.message);
    process.exitCode = 2;
  }
}
