/** JSON Schemas (draft 2020-12) of the four formats, made from the schemas that the code itself checks with. */
import * as z from "zod";
import { benchSchema } from "../formats/bench.ts";
import { catalogSchema } from "../formats/catalog.ts";
import { listingLineSchema } from "../formats/listing.ts";
import { verdictLineSchema } from "../formats/verdict.ts";

/** Names of the formats, as `falsefit schema` takes them. */
export const formatNames = ["catalog", "bench", "listing", "verdict"] as const;
/** One of the four formats. */
export type FormatName = (typeof formatNames)[number];

const sources: Readonly<Record<FormatName, { title: string; schema: z.ZodType }>> = {
  catalog: { title: "Falsefit catalog, version 1", schema: catalogSchema },
  bench: { title: "Falsefit bench, version 1", schema: benchSchema },
  listing: { title: "Falsefit listing line (NDJSON)", schema: listingLineSchema },
  verdict: { title: "Falsefit verdict line (NDJSON)", schema: verdictLineSchema },
};

/** What a file of each format must look like before defaults are filled in. */
export function formatSchemas(): Record<FormatName, Record<string, unknown>> {
  return Object.fromEntries(formatNames.map((name) => [name, formatSchema(name)])) as Record<
    FormatName,
    Record<string, unknown>
  >;
}

function formatSchema(name: FormatName): Record<string, unknown> {
  const { title, schema } = sources[name];
  const { $schema, ...body } = z.toJSONSchema(schema, { io: "input" });
  return { $schema, title, ...body };
}
