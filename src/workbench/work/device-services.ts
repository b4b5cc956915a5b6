/** What the catalogs say of devices, worked out beside the page. */

import type { CatalogIndex } from "../../catalog/index.ts";
import { allQuestions, type Question } from "../../catalog/question.ts";
import { type ResolvedRevisions, resolveRevisions, revisionName } from "../../catalog/resolve.ts";
import { type Bench, type Device, readBench } from "../../formats/bench.ts";
import type { Outcome } from "../../formats/common.ts";
import { readDump } from "../../readout/dump.ts";
import type { Readout } from "../../readout/facts.ts";
import { type Standing, standingFrom, standingOf } from "../bench/standing.ts";
import { partTypeName } from "../part-types.ts";
import { readBackup } from "../settings/backup-format.ts";
import type { Shelf } from "./shelf.ts";

/** A catalogued part that one or more of a device's possible revisions take. */
export interface PartForDevice {
  readonly id: string;
  readonly type: string;
  readonly name: string | null;
  readonly numbers: readonly string[];
  /** Names of the possible revisions that take it. */
  readonly revisions: readonly string[];
  /** False where another possible revision takes another part of this type, or none. */
  readonly forAll: boolean;
}

/** Everything that is known of one device. */
export interface Study {
  readonly standing: Standing;
  readonly resolved: ResolvedRevisions;
  /** Checks that would narrow it down, best first. */
  readonly questions: readonly Question[];
  readonly parts: readonly PartForDevice[];
  /** Titles of catalogs that could not be read. */
  readonly unreadable: readonly string[];
}

/** A family that a model number may belong to. */
export interface FamilyChoice {
  readonly id: string;
  readonly name: string;
  readonly revisions: readonly { readonly id: string; readonly name: string; readonly tellBy: string | null }[];
}

/** Services about devices. */
export function deviceServices(shelf: Shelf) {
  return {
    /** How each device stands, in the order given. */
    async standings({ devices, language }: { devices: readonly Device[]; language: string }): Promise<Standing[]> {
      const index = await shelf.indexFor(devices);
      return devices.map((device) => standingOf(device, index, (type) => partTypeName(type, language)));
    },
    /** Everything about one device. */
    async study({ device, language }: { device: Device; language: string }): Promise<Study> {
      const { unreadable } = await shelf.open();
      const index = await shelf.indexFor([device]);
      const resolved = resolveRevisions(device, index);
      const partName = (type: string) => partTypeName(type, language);
      const questions = allQuestions(device, resolved, index, { partName });
      return {
        standing: standingFrom(device, resolved, index, questions),
        resolved,
        questions,
        parts: partsFor(resolved, index),
        unreadable,
      };
    },
    /** The families that bear any of these model numbers. */
    async familiesFor(models: readonly string[]): Promise<FamilyChoice[]> {
      const index = await shelf.indexFor([{ id: "", modelNumbers: [...models], fitted: [], accept: [], refuse: [] }]);
      const families = [...new Set(models.flatMap((model) => index.familiesByModel(model)))];
      return families.map(({ id, maker, name, revisions }) => ({
        id,
        name: [maker, name ?? id].filter((text) => text !== undefined).join(" "),
        revisions: revisions.map((each) => ({ id: each.id, name: revisionName(each), tellBy: each.tellBy ?? null })),
      }));
    },
    /** Reads what machines printed about themselves; several dumps count as one. */
    async readDumps({ inputs, today }: { inputs: readonly (Uint8Array | string)[]; today: number }): Promise<Readout> {
      const read = inputs.map((input) => readDump(input, { today }));
      return {
        kinds: [...new Set(read.flatMap(({ kinds }) => kinds))],
        facts: read.flatMap(({ facts }) => facts),
        messages: read.flatMap(({ messages }) => messages),
      };
    },
    /** Reads a bench file, or the bench out of a backup of everything. */
    async readBench(text: string): Promise<Outcome<Bench>> {
      const bench = readBench(text);
      if (bench.ok) return bench;
      const backup = readBackup(text);
      return backup.ok ? { ok: true, value: backup.value.bench } : bench;
    },
  };
}

/** The parts of all revisions that are left, those that every one of them takes marked. */
function partsFor({ revisions }: ResolvedRevisions, index: CatalogIndex): PartForDevice[] {
  const ids = [...new Set(revisions.flatMap((revision) => revision.parts))];
  const parts = ids.flatMap((id): PartForDevice[] => {
    const part = index.part(id);
    if (part === undefined) return [];
    const taking = revisions.filter((revision) => revision.parts.includes(id));
    return [
      {
        id,
        type: part.type,
        name: part.name ?? null,
        numbers: part.numbers,
        revisions: taking.map((revision) => revision.name ?? revision.id),
        forAll: taking.length === revisions.length,
      },
    ];
  });
  return parts.sort((a, b) => (a.type < b.type ? -1 : a.type > b.type ? 1 : 0));
}
