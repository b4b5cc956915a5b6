// @ts-check
/**
 * How well the labelled corpus is judged, and where it is judged worst: by language, family and part type, and every
 * listing that is judged otherwise than its label says.
 *
 *   npm run bench -- corpus
 *   FALSEFIT_CORPUS=DIR npm run bench -- corpus        catalogs, benches and listings of another folder
 */
import { resolve } from "node:path";
import { pathToFileURL } from "node:url";
import { load } from "./load.mjs";

const { confusion, judgeCorpus, shareOf, sharesBy } = await load('export * from "./tests/verdict/corpus.ts";');
const other = process.env["FALSEFIT_CORPUS"];
const folder =
  other === undefined ? new URL("../../fixtures/listings/", import.meta.url) : pathToFileURL(`${resolve(other)}/`);
const judged = judgeCorpus(folder, "open");

console.log("rows: the truth; columns: what was said");
console.table(confusion(judged));
console.table({ all: shareOf(judged) });
for (const by of ["language", "family", "partType"]) {
  console.log(`by ${by}, the weakest first`);
  console.table(sharesBy(judged, by));
}
console.log("judged otherwise");
for (const { truth, said, line } of judged) {
  const { id, title } = JSON.parse(line);
  if (truth !== said) console.log(`${id}: ${said}, not ${truth}: ${title}`);
}
