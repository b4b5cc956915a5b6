/** The bench file `*.bench.json` (design section 3): the saved devices; also the backup. */
import * as z from "zod";
import { dateSpan, dateText } from "./catalog.ts";
import {
  checkFile,
  type Fault,
  identifier,
  type Outcome,
  partTypeName,
  printedNumber,
  quantities,
  readJson,
  shortText,
} from "./common.ts";
import { pageShapeSchema } from "./page-shape.ts";

/** The value of `format` in a bench file. */
export const BENCH_FORMAT = "falsefit-bench/1";

const fitted = z.strictObject({
  type: partTypeName,
  numbers: z.array(printedNumber).max(200).default([]),
  quantities: quantities.optional(),
  source: z.enum(["label", "readout", "photo", "assumed"]).default("assumed"),
  note: shortText.optional(),
});

const settled = z.strictObject({
  number: printedNumber,
  date: shortText.optional(),
  note: shortText.optional(),
});

/** A fact about the device and where it came from, kept so that a person can see what rests on what. */
const fact = z.strictObject({
  /** Which field of the device it filled: `boardNumber`, `buildDate`, `fitted.battery`, … */
  field: z.string().max(80),
  value: shortText,
  /** Where it was read: `SMBIOS type 2`, `EDID`, `purchase date`, `label`, … */
  source: shortText,
  confidence: z.enum(["certain", "likely", "rough"]),
  note: shortText.optional(),
});

const device = z.strictObject({
  id: identifier,
  name: shortText.optional(),
  modelNumbers: z.array(printedNumber).max(50).default([]),
  boardNumber: printedNumber.optional(),
  buildDate: z.union([dateText, dateSpan]).optional(),
  family: identifier.optional(),
  revision: identifier.optional(),
  fitted: z.array(fitted).max(200).default([]),
  accept: z.array(settled).max(2_000).default([]),
  refuse: z.array(settled).max(2_000).default([]),
  facts: z.array(fact).max(500).optional(),
  job: shortText.optional(),
  note: shortText.optional(),
  archived: z.boolean().optional(),
  /** A photo as a data address, at most 256 KiB. */
  picture: z
    .string()
    .max(256 * 1024)
    .regex(/^data:image\/(?:png|jpeg|webp);base64,[A-Za-z0-9+/=]+$/)
    .optional(),
});

/** The schema of a whole bench file. */
export const benchSchema = z.strictObject({
  format: z.literal(BENCH_FORMAT),
  devices: z.array(device).max(20_000).default([]),
  pageShapes: z.array(pageShapeSchema).max(500).optional(),
  note: shortText.optional(),
});

/** The saved devices as their file states them. */
export type Bench = z.infer<typeof benchSchema>;
/** One saved device. */
export type Device = Bench["devices"][number];
/** A part read off the device, and how. */
export type FittedPart = Device["fitted"][number];
/** A fact about the device with its source. */
export type DeviceFact = NonNullable<Device["facts"]>[number];

/** Reads a bench file; every fault is listed with its field. */
export function readBench(text: string): Outcome<Bench> {
  const json = readJson(text);
  return json.ok ? checkBench(json.value) : json;
}

/** Checks an already parsed value as a bench; see {@link readBench}. */
export function checkBench(value: unknown): Outcome<Bench> {
  return checkFile(value, ["falsefit-bench", 1], benchSchema, sameIdFaults);
}

function* sameIdFaults({ devices }: Bench): Generator<Fault> {
  const seen = new Set<string>();
  for (const [i, { id }] of devices.entries()) {
    if (seen.has(id))
      yield { field: `devices[${i}].id`, message: `"${id}" is used by an earlier device; ids must differ.` };
    seen.add(id);
  }
}
