/** `falsefit schema`: prints the JSON Schema of one format, or of all four as one object by name. */
import { exits, Stop } from "./exits.ts";
import { formatNames, formatSchemas } from "./schemas.ts";
import type { Run } from "./shell.ts";

/** Runs `schema`. */
export const schema: Run = async (given, { out, words }) => {
  const wanted = given.operands[0];
  const schemas: Readonly<Record<string, unknown>> = formatSchemas();
  const chosen = wanted === undefined ? schemas : Object.hasOwn(schemas, wanted) ? schemas[wanted] : undefined;
  if (chosen === undefined) {
    throw new Stop(exits.usage, [words.say("command_unknown_format", { format: wanted ?? "", known: formatNames })]);
  }
  await out.write(`${JSON.stringify(chosen, null, 2)}\n`);
  return exits.done;
};
