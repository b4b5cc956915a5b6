/** Making catalogs of spreadsheets and of devices seen, row by row, with progress; nothing is kept. */
import { learnFromObservations } from "../../catalog/learn.ts";
import { draftCatalog } from "../../catalog/learn-draft.ts";
import type { TableShape } from "../../desks/columns.ts";
import { type ConvertFault, listConverter } from "../../desks/convert-list.ts";
import type { CsvFault } from "../../desks/csv-rows.ts";
import type { Catalog } from "../../formats/catalog.ts";
import { type Fault, fault } from "../../formats/common.ts";
import { MAX_OBSERVATION_CHARS, type Observation, readObservationLine } from "../../formats/observation.ts";
import type { RawRules } from "../../formats/rules.ts";
import type { Reason } from "../../formats/verdict.ts";
import type { Words } from "../../text/words.ts";
import { listRows } from "../order/list-rows.ts";
import type { Reading } from "../order/order-calls.ts";
import { blobLines } from "./blob-lines.ts";
import { type CatalogInfo, infoOf } from "./catalog-info.ts";
import { breather, type Job } from "./job.ts";

/** A catalog made of a spreadsheet. */
export interface Converted {
  readonly catalog: Catalog;
  readonly info: CatalogInfo;
  readonly rows: number;
  readonly faults: readonly (ConvertFault | CsvFault)[];
  /** Faults beyond those listed. */
  readonly beyond: number;
}

/** How a spreadsheet is to be read, and what it does not say itself. */
export interface ConvertRequest {
  readonly content: Blob;
  readonly reading: Reading;
  readonly shape: TableShape;
  readonly title: string;
  readonly partType?: string;
  readonly model?: string;
}

/** Observations to learn from. */
export interface LearnRequest {
  readonly content?: Blob;
  readonly observations?: readonly Observation[];
  /** Language of names and notes in the draft. */
  readonly language: string;
}

/** What was learnt from devices seen. */
export interface Learned {
  readonly draft: Catalog;
  readonly notes: readonly { readonly model: string; readonly says: Reason }[];
  readonly observations: number;
  readonly faults: readonly Fault[];
  readonly beyond: number;
}

/** Faults that are listed; the rest is counted. */
const MOST_FAULTS = 200;

/** Makes a catalog of a spreadsheet. */
export async function convertSheet(
  { content, reading, shape, title, partType, model }: ConvertRequest,
  rules: RawRules,
  job: Job,
): Promise<Converted> {
  const converter = listConverter({
    shape,
    rules,
    title,
    ...(partType === undefined ? {} : { partType }),
    ...(model === undefined ? {} : { model }),
  });
  const breathe = breather(job);
  const faults: (ConvertFault | CsvFault)[] = [];
  let beyond = 0;
  let rows = 0;
  const complain = (found: readonly (ConvertFault | CsvFault)[]) => {
    const room = Math.max(0, MOST_FAULTS - faults.length);
    faults.push(...found.slice(0, room));
    beyond += Math.max(0, found.length - room);
  };
  for await (const piece of listRows(content, reading)) {
    complain(piece.faults);
    for (const { row, cells } of piece.rows) {
      if (row <= shape.skip) continue;
      rows++;
      complain(converter.take(cells, row));
      await breathe();
    }
    job.progress(content.size === 0 ? 1 : piece.bytesDone / content.size);
  }
  const catalog = converter.catalog();
  return { catalog, info: infoOf(catalog), rows, faults, beyond };
}

/** Learns a catalog draft. */
export async function learnDraft(asked: LearnRequest, words: Words, job: Job): Promise<Learned> {
  const observations: Observation[] = [...(asked.observations ?? [])];
  const faults: Fault[] = [];
  let beyond = 0;
  const breathe = breather(job);
  if (asked.content) {
    for await (const { line, text, cut, done } of blobLines(asked.content, MAX_OBSERVATION_CHARS)) {
      const read = cut ? fault("", `Longer than ${MAX_OBSERVATION_CHARS} characters.`) : readObservationLine(text);
      if (read.ok) observations.push(read.value);
      else if (faults.length < MOST_FAULTS) faults.push(...read.faults.map((each) => ({ ...each, line })));
      else beyond++;
      job.progress(done);
      await breathe();
    }
  }
  const { catalog, notes } = draftCatalog(learnFromObservations(observations), words);
  return {
    draft: catalog,
    notes: notes.map(({ model, says }) => ({ model, says })),
    observations: observations.length,
    faults,
    beyond,
  };
}
