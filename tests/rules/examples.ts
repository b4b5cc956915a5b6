/** What rule files are expected to do: `fixtures/rules/<folder>/<name>.json`, held against the rules. */
import { existsSync, readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { JSDOM } from "jsdom";
import * as z from "zod";
import type { RawRules } from "../../src/formats/rules.ts";
import { verdictWords } from "../../src/formats/verdict.ts";
import { readPage } from "../../src/page/read.ts";
import { foldVisible } from "../../src/text/fold.ts";
import { prepareQuantityRules, readQuantities } from "../../src/text/quantities.ts";
import { demoCatalog, judged, makeCatalog, prepare } from "../verdict/bench.ts";

const listings = z.array(z.strictObject({ title: z.string().min(1), verdict: z.enum(verdictWords) })).min(1);
const quantities = z.record(z.string(), z.union([z.number(), z.string()]));
const partExample = z.strictObject({ numbers: z.array(z.string()).min(1), quantities });

const shapes = {
  wording: z.strictObject({ listings }),
  "part-types": z.strictObject({ early: partExample, late: partExample, listings }),
  "number-formats": z.strictObject({
    texts: z.array(z.strictObject({ text: z.string().min(1), quantities })).min(1),
  }),
  "page-shapes": z.strictObject({
    url: z.url(),
    listings: z.array(z.strictObject({ title: z.string().min(1), price: z.string().optional() })).min(1),
  }),
};

/** The folders of rules that may have expectations. */
export type ExampleFolder = keyof typeof shapes;
const exampleFolders = Object.keys(shapes) as ExampleFolder[];

/** One difference between what is expected and what the rules do, as a sentence. */
type Fault = string;

/** Every expectation under a folder such as `fixtures/rules/`, by folder and name. */
export function examplesIn(root: string): { folder: ExampleFolder; name: string; path: string }[] {
  return exampleFolders.flatMap((folder) => {
    const path = join(root, folder);
    const files = existsSync(path) ? readdirSync(path).filter((file) => file.endsWith(".json")) : [];
    return files.map((file) => ({ folder, name: file.slice(0, -".json".length), path: join(path, file) }));
  });
}

/** What differs; also what is not filled in yet. */
export function exampleFaults(folder: ExampleFolder, name: string, path: string, rules: RawRules): Fault[] {
  const value: unknown = JSON.parse(readFileSync(path, "utf8"));
  const shape = shapes[folder].safeParse(value);
  if (!shape.success) return shape.error.issues.map((issue) => `${issue.path.join(".")}: ${issue.message}`);
  if (folder === "wording") return verdictFaults(shapes.wording.parse(value).listings, larkWith([], rules));
  if (folder === "part-types") {
    const example = shapes["part-types"].parse(value);
    const parts = [
      { id: "early-part", type: name, ...example.early },
      { id: "late-part", type: name, ...example.late },
    ];
    return verdictFaults(example.listings, larkWith(parts, rules));
  }
  if (folder === "number-formats") return quantityFaults(shapes["number-formats"].parse(value).texts, rules);
  const { url, listings: expected } = shapes["page-shapes"].parse(value);
  return pageFaults(path.replace(/\.json$/, ".html"), url, expected, name, rules);
}

/** The demonstration's handheld with the late board, and a further part for each of its revisions. */
function larkWith(parts: readonly { id: string }[], rules: RawRules): ReturnType<typeof prepare> {
  const families = demoCatalog.families.map((family) =>
    family.id !== "lark-20"
      ? family
      : {
          ...family,
          revisions: family.revisions.map((revision, i) => ({
            ...revision,
            parts: [...revision.parts, ...parts.filter((_, part) => part === i).map(({ id }) => id)],
          })),
        },
  );
  const catalog = makeCatalog({ ...demoCatalog, families, parts: [...demoCatalog.parts, ...parts] });
  return prepare({ modelNumbers: ["PL-20"], boardNumber: "PW-4410-5", buildDate: "2021-W20" }, [catalog], rules);
}

function verdictFaults(expected: z.infer<typeof listings>, device: ReturnType<typeof prepare>): Fault[] {
  return expected.flatMap(({ title, verdict }) => {
    const said = judged(title, device).verdict;
    return said === verdict ? [] : [`"${title}" is ${said}, not ${verdict}`];
  });
}

function quantityFaults(
  texts: readonly { text: string; quantities: Readonly<Record<string, unknown>> }[],
  rules: RawRules,
): Fault[] {
  const prepared = prepareQuantityRules(rules.numberFormats);
  return texts.flatMap(({ text, quantities: wanted }) => {
    const read = readQuantities(foldVisible(text).text, prepared);
    return Object.entries(wanted).flatMap(([name, value]) => {
      const found = read.filter((each) => each.name === name).map((each) => each.value);
      return found.some((each) => each === value) ? [] : [`"${text}": ${name} is ${found.join(", ") || "not read"}`];
    });
  });
}

function pageFaults(
  path: string,
  url: string,
  expected: readonly { title: string; price?: string | undefined }[],
  name: string,
  rules: RawRules,
): Fault[] {
  const { document } = new JSDOM(readFileSync(path, "utf8"), { url }).window;
  const shapes = rules.pageShapes.filter(({ id }) => id === name);
  const read = readPage(document, { pageWords: rules.pageWords, shapes }).map(({ listing }) => listing);
  const lines = (all: readonly { title: string; price?: string | undefined }[]): string =>
    all.map((each) => `${each.title} ${each.price ?? ""}`.trim()).join("\n");
  const found = lines(read.map(({ title, price }) => ({ title, price: price?.amount })));
  return found === lines(expected) ? [] : [`the page reads as:\n${found}`];
}
