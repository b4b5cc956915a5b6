/** What the index asks of catalogs, however they are kept. Numbers are canonical. */
import type { Family } from "../formats/catalog.ts";
import type { Link } from "./links.ts";
import type { KnownFamily, KnownPart, KnownRevision } from "./merge.ts";
import type { NumberTable } from "./number-table.ts";

/** A revision and the family it belongs to. */
export interface RevisionPlace {
  readonly family: KnownFamily;
  readonly revision: KnownRevision;
}

/** Catalogs, merged. The same part or family is the same object for as long as anyone holds it. */
export interface Knowledge {
  /** All families, in order; those of big catalogs are made for the asking. */
  families(): readonly KnownFamily[];
  parts(): readonly KnownPart[];
  /** By its id, or by the id that any of the catalogs uses. */
  family(id: string): KnownFamily | undefined;
  part(id: string): KnownPart | undefined;
  /** Parts that bear a number, in order. */
  bearers(number: string): readonly KnownPart[];
  /** Statements that tie a number to others, in the order of the catalogs. */
  links(number: string): readonly Link[];
  /** Numbers, as printed, that a list or a part puts beside one; it may be among them. */
  listedBeside(number: string): readonly string[];
  familiesByModel(number: string): readonly KnownFamily[];
  revisionsByBoard(number: string): readonly RevisionPlace[];
  /** Where a part is listed, disputed places left out. */
  placesOf(partId: string): readonly RevisionPlace[];
  disputedPlacesOf(partId: string): readonly RevisionPlace[];
  /** A family as one catalog describes it. */
  reading(family: KnownFamily, catalog: number): Family | undefined;
  /** Every number, each once: parts' numbers, then those only in lists. */
  numbers(): Iterable<string>;
  table(): NumberTable;
}
