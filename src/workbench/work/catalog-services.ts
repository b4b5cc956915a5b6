/** Opening, changing, comparing and making catalogs beside the page: some hold a million numbers. */
import { type Disagreement, mergeCatalogFiles } from "../../desks/merge-files.ts";
import { type Catalog, type Family, type Part, readCatalog } from "../../formats/catalog.ts";
import type { Outcome } from "../../formats/common.ts";
import type { RawRules } from "../../formats/rules.ts";
import type { CatalogNote, CatalogStore } from "../../store/catalogs.ts";
import type { Words } from "../../text/words.ts";
import { type CatalogChange, type Place, placesOf } from "../catalogs/change.ts";
import { type CatalogDiff, diffCatalogs } from "../catalogs/diff.ts";
import { type Findings, findInCatalog } from "../catalogs/find.ts";
import { type CatalogInfo, catalogText, infoOf } from "./catalog-info.ts";
import type { AddedCatalog, CatalogKeeper, KeptCatalog } from "./catalog-keeper.ts";
import {
  type Converted,
  type ConvertRequest,
  convertSheet,
  type Learned,
  type LearnRequest,
  learnDraft,
} from "./catalog-making.ts";
import type { Job } from "./job.ts";

/** A revision that a part can be put into. */
export interface NamedPlace extends Place {
  readonly familyName: string;
  readonly revisionName: string;
}

/** Several catalogs as one, and what they disagree on. */
export interface MergedCatalogs {
  readonly info: CatalogInfo;
  readonly text: string;
  readonly disagreements: readonly Disagreement[];
}

/** What the services work with. */
export interface CatalogGround {
  readonly catalogs: CatalogStore;
  readonly rules: RawRules;
  readonly words: (language: string) => Promise<Words>;
}

/** Services about catalogs. */
export function catalogServices({ catalogs, rules, words }: CatalogGround, keeper: CatalogKeeper) {
  return {
    /** Checks a catalog's text without keeping it. */
    async catalogRead(text: string): Promise<Outcome<CatalogInfo>> {
      const read = readCatalog(text);
      return read.ok ? { ok: true, value: infoOf(read.value) } : read;
    },
    /** Keeps a catalog's text, new or in place of the one with this id. */
    catalogAdd: (added: AddedCatalog): Promise<Outcome<KeptCatalog>> => keeper.add(added),
    async catalogRemove(id: string): Promise<{ note: CatalogNote; undo: number } | null> {
      return keeper.remove(id);
    },
    /** Takes the latest change, addition or removal of a catalog back. */
    async catalogUndo(undo: number): Promise<null> {
      await keeper.undo(undo);
      return null;
    },
    catalogText: async (id: string): Promise<string | null> => (await catalogs.text(id)) ?? null,
    async catalogInfo(id: string): Promise<Outcome<CatalogInfo>> {
      const opened = await keeper.open(id);
      return opened.ok ? { ok: true, value: infoOf(opened.value) } : opened;
    },
    async catalogFind({ id, text, most }: { id: string; text: string; most: number }): Promise<Findings | null> {
      const opened = await keeper.open(id);
      return opened.ok ? findInCatalog(opened.value, text, most) : null;
    },
    async catalogFamily({ id, family }: { id: string; family: string }): Promise<Family | null> {
      const opened = await keeper.open(id);
      return opened.ok ? (opened.value.families.find((each) => each.id === family) ?? null) : null;
    },
    async catalogPart({ id, part }: { id: string; part: string }): Promise<{ part: Part; places: Place[] } | null> {
      const opened = await keeper.open(id);
      const found = opened.ok ? opened.value.parts.find((each) => each.id === part) : undefined;
      return opened.ok && found ? { part: found, places: placesOf(opened.value, part) } : null;
    },
    /** The revisions that a part can be put into. */
    async catalogPlaces({ id, most }: { id: string; most: number }): Promise<NamedPlace[]> {
      const opened = await keeper.open(id);
      return opened.ok ? allPlaces(opened.value).slice(0, most) : [];
    },
    /** Parts by their ids, each with what it is called. */
    async catalogPartNames({ id, parts }: { id: string; parts: readonly string[] }): Promise<Record<string, string>> {
      const opened = await keeper.open(id);
      const wanted = new Set(parts);
      const found = opened.ok ? opened.value.parts.filter((part) => wanted.has(part.id)) : [];
      return Object.fromEntries(found.map((part) => [part.id, part.numbers[0] ?? part.name ?? part.id]));
    },
    /** Makes a change if the catalog stays one that can be read; faults name the field otherwise. */
    catalogChange: ({ id, change }: { id: string; change: CatalogChange }): Promise<Outcome<{ undo: number }>> =>
      keeper.change(id, change),
    /** What another text of a catalog would change about it. */
    async catalogCompare({ id, text }: { id: string; text: string }): Promise<Outcome<CatalogDiff>> {
      const [before, after] = [await keeper.open(id), readCatalog(text)];
      if (!after.ok) return after;
      return before.ok ? { ok: true, value: diffCatalogs(before.value, after.value) } : before;
    },
    async catalogMerge(ids: readonly string[]): Promise<Outcome<MergedCatalogs>> {
      const opened: Catalog[] = [];
      for (const id of ids) {
        const one = await catalogs.open(id);
        if (!one.ok) return one;
        opened.push(one.value);
      }
      const { catalog, disagreements } = mergeCatalogFiles(opened);
      return { ok: true, value: { info: infoOf(catalog), text: catalogText(catalog), disagreements } };
    },
    /** Makes a catalog of a spreadsheet, row by row; nothing is kept. */
    sheetConvert: (asked: ConvertRequest, job: Job): Promise<Converted> => convertSheet(asked, rules, job),
    /** Learns drafts from observations, of a file or given one by one; nothing is kept. */
    async learn(asked: LearnRequest, job: Job): Promise<Learned> {
      return learnDraft(asked, await words(asked.language), job);
    },
  };
}

function allPlaces({ families }: Catalog): NamedPlace[] {
  return families.flatMap((family) =>
    family.revisions.map((revision) => ({
      family: family.id,
      revision: revision.id,
      familyName: family.name ?? family.id,
      revisionName: revision.name ?? revision.id,
    })),
  );
}
