/**
 * The observation line (NDJSON): one device seen, as a shop or a collection of dumps records it. What
 * revisions, changeovers and catalog drafts are learnt from.
 */
import * as z from "zod";
import { checkAgainst, fault, type Outcome, readJson, shortText } from "./common.ts";

/** Longest observation line that is read, in UTF-16 code units. */
export const MAX_OBSERVATION_CHARS = 64 * 1024;

const text = shortText.nullish();
const amount = z.number().nullish();

/** The schema of one observation line. Fields it does not know are ignored: collections carry more than we read. */
const observationSchema = z.object({
  model: z.string().min(1).max(400),
  maker: text,
  board: text,
  boardVersion: text,
  /** A date text of the device itself, where the shop knows it (`2021-W20`, `2021-05`, `2021-05-17`, `2021`). */
  built: text,
  firmwareDate: text,
  battery: z
    .object({
      name: text,
      designVoltage_mV: amount,
      designCapacity_mWh: amount,
      /** A date text of the battery: the device's too, as long as the battery is the first one. */
      built: text,
    })
    .nullish(),
  memory: z.array(shortText).max(64).nullish(),
});

/** One device seen. */
export type Observation = z.infer<typeof observationSchema>;

/** Reads one NDJSON line as an observation; faults name the field and what was expected. */
export function readObservationLine(line: string): Outcome<Observation> {
  const json = readJson(line, MAX_OBSERVATION_CHARS);
  if (!json.ok) return json;
  if (typeof json.value !== "object" || json.value === null || Array.isArray(json.value)) {
    return fault("", 'Expected one JSON object a line, with at least "model".');
  }
  return checkAgainst(observationSchema, json.value) as Outcome<Observation>;
}
