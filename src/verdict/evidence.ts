/** What board numbers, dates, revision words and quantities of a listing point to among the revisions of the family. */
import type { Claim, DateClaim, QuantityClaim, RevisionWord } from "../claims/claims.ts";
import { NAMED_DIMENSION } from "../claims/vocabulary.ts";
import type { Part } from "../formats/catalog.ts";
import { intersects } from "../text/dates.ts";
import { measureOf } from "../text/measures.ts";
import { quantityName } from "../text/quantities.ts";
import { seriesCells } from "../text/quantity-check.ts";
import { contradicts, quantityRule } from "./compare.ts";
import { saysByMeasure } from "./measured.ts";
import type { PreparedDevice, PreparedRevision } from "./prepare.ts";
import { CONNECTOR } from "./value-words.ts";

/** One claim, and the revisions that it agrees with. */
export interface Pointer {
  readonly claim: Claim;
  readonly kind: "board" | "date" | "revision" | "quantity";
  /** As the listing says it. */
  readonly stated: string;
  /** Ids of revisions that the claim agrees with. */
  readonly revisions: ReadonlySet<string>;
  readonly against: boolean;
  /** True where only the order of the catalog tells what "rev. 2" means: too little to confirm or to stop anything. */
  readonly weak: boolean;
  /** True for a quantity of another part of the device, by which the listing tells its revision. */
  readonly borrowed?: boolean;
}

/** Every claim that tells revisions apart, for a part type. */
export function pointersOf(claims: readonly Claim[], partType: string | null, device: PreparedDevice): Pointer[] {
  return claims.flatMap((claim) => {
    if (claim.stance === "passing" || claim.stance === "elsewhere" || claim.stance === "successor") return [];
    const pointer = pointerOf(claim, partType, device);
    return pointer === null ? [] : [pointer];
  });
}

function pointerOf(claim: Claim, partType: string | null, device: PreparedDevice): Pointer | null {
  switch (claim.kind) {
    case "number":
      return claim.named?.board === true ? boardPointer(claim, claim.number, claim.written, device) : null;
    case "revision":
      return revisionPointer(claim, claim.revision, device);
    case "date":
      return datePointer(claim, device);
    case "quantity":
      return partType === null ? null : quantityPointer(claim, partType, device);
    case "all":
      return null;
  }
}

function pointer(
  claim: Claim,
  kind: Pointer["kind"],
  stated: string,
  revisions: Iterable<string>,
  weak = false,
): Pointer {
  return { claim, kind, stated, revisions: new Set(revisions), against: claim.stance === "against", weak };
}

function boardPointer(claim: Claim, number: string, stated: string, device: PreparedDevice): Pointer | null {
  const here = device.index.revisionsByBoard(number).filter(({ family }) => family === device.family);
  return here.length === 0
    ? null
    : pointer(
        claim,
        "board",
        stated,
        here.map(({ revision }) => revision.id),
      );
}

function revisionPointer(claim: Claim, word: RevisionWord, device: PreparedDevice): Pointer | null {
  const { revisions } = device;
  const named = revisions.filter((each) => isNamed(each, word));
  if (named.length > 0 && named.length < revisions.length) {
    return pointer(
      claim,
      "revision",
      revisionText(word, named),
      named.map(({ revision }) => revision.id),
    );
  }
  const byOrder = inOrder(revisions, word);
  if (byOrder === undefined) return null;
  return pointer(claim, "revision", revisionText(word, [byOrder]), [byOrder.revision.id], word.how === "ordinal");
}

function isNamed({ revision, words }: PreparedRevision, word: RevisionWord): boolean {
  if (word.how === "name") return revision.id === word.id;
  if (word.how === "letter") {
    return (
      (word.letter.length === 1 && revision.id.toUpperCase() === word.letter) ||
      words.some((each) => each.how === "letter" && each.letter === word.letter)
    );
  }
  if (word.how === "ordinal") return words.some((each) => each.how === "ordinal" && each.ordinal === word.ordinal);
  return words.some((each) => each.how === word.how);
}

/** Catalogs list revisions from the earliest on: good for "early" and "late" where no name says it. */
function inOrder(revisions: readonly PreparedRevision[], word: RevisionWord): PreparedRevision | undefined {
  if (revisions.length < 2) return undefined;
  if (word.how === "early") return revisions[0];
  if (word.how === "late") return revisions.at(-1);
  if (word.how !== "ordinal" || revisions.some(({ words }) => words.some(({ how }) => how === "ordinal")))
    return undefined;
  return revisions[word.ordinal - 1];
}

function revisionText(word: RevisionWord, named: readonly PreparedRevision[]): string {
  return named[0]?.revision.name ?? named[0]?.revision.id ?? word.how;
}

/** A bare year that no revision was built in is not the device's. */
function datePointer(claim: DateClaim, device: PreparedDevice): Pointer | null {
  const dated = device.revisions.filter(({ built }) => built.length > 0);
  if (dated.length === 0) return null;
  const agree = dated.filter(({ built }) => built.some((interval) => intersects(interval, claim.interval)));
  if (agree.length === 0 && !claim.told) return null;
  const undated = device.revisions.filter(({ built }) => built.length === 0);
  return pointer(
    claim,
    "date",
    dateText(claim),
    [...agree, ...undated].map(({ revision }) => revision.id),
  );
}

function dateText({ interval }: DateClaim): string {
  const year = (day: number | null): string =>
    day === null ? "…" : String(new Date(day * 86_400_000).getUTCFullYear());
  const [from, to] = [year(interval.from), year(interval.to)];
  return from === to ? from : `${from}–${to}`;
}

/** The dimension of cell counts: listings tell devices apart by them, whatever part is sold ("for the 7-cell one"). */
const CELLS = "cells";

/** What a quantity says of the part; where no part of the type states it, what it says of the device's other parts. */
function quantityPointer(claim: QuantityClaim, partType: string, device: PreparedDevice): Pointer | null {
  if (isOfOther(claim, partType, device)) {
    const said = pointBy(claim, device, (type) => claim.of.includes(type));
    return said === "silent" || said === null || said.revisions.size === 0 ? null : { ...said, borrowed: true };
  }
  const own = pointBy(claim, device, (type) => type === partType);
  if (own !== "silent") return own;
  if (claim.quantity.dimension !== CELLS && device.types.has(partType)) return null;
  const other = pointBy(claim, device, (type) => type !== partType);
  return other === "silent" || other === null || other.revisions.size === 0 ? null : { ...other, borrowed: true };
}

/**
 * True where the quantity is told of another type of part: "charger for a 36 V battery". A word for what gives the volts
 * ("zasilanie 5 V") tells of the part that takes them.
 */
export function isOfOther({ of, quantity }: QuantityClaim, partType: string | null, device: PreparedDevice): boolean {
  if (partType === null || !ELECTRIC.has(quantity.dimension)) return false;
  // "gas valve 36 V" of a part that the catalog calls a valve.
  const isNear = (a: string, b: string): boolean => device.partTypes.get(a)?.near?.includes(b) === true;
  if (of.some((type) => type === partType || isNear(type, partType) || isNear(partType, type))) return false;
  return of.some((type) => device.partTypes.get(type)?.readsAs?.["voltage"] !== "outputVoltage_V");
}

/** Dimensions that a device's parts have each for itself; positions and sizes are those of what meets. */
const ELECTRIC: ReadonlySet<string> = new Set(["voltage", "cells", "charge", "energy", "current", "power"]);

/** A quantity as a person writes it: "11.1/10.8 V". */
export function quantityText({ quantity }: QuantityClaim): string {
  const unit = quantity.name.split("_")[1] ?? (quantity.name === "positions" ? "pins" : "");
  return [quantity.value, ...quantity.alternatives].join("/") + (unit === "" ? "" : ` ${unit}`);
}

function pointBy(
  claim: QuantityClaim,
  device: PreparedDevice,
  isMeant: (type: string) => boolean,
): Pointer | "silent" | null {
  const agree: string[] = [];
  let stated = 0;
  let byName = false;
  for (const { revision, parts } of device.revisions) {
    const telling = parts.filter((part) => isMeant(part.type)).flatMap((part) => part.readings.map((r) => r.part));
    const verdicts = telling.map((part) => saysOf(claim, part, device, false)).filter((said) => said !== null);
    byName ||= telling.some((part) => saysByName(claim, part, device) !== null);
    if (verdicts.length > 0) stated++;
    if (verdicts.length === 0 || verdicts.some((agrees) => agrees)) agree.push(revision.id);
  }
  if (stated === 0 || (agree.length === 0 && !byName)) return "silent";
  if (agree.length === device.revisions.length) return null;
  return pointer(claim, "quantity", quantityText(claim), agree);
}

/**
 * Whether a stated quantity can be true of a part as a catalog describes it: by its very name and the type's rule, else
 * by whatever quantity of the part measures the same.
 *
 * @param isNamed true where the listing names a number of the part
 * @returns `null` where the catalog does not say
 */
export function saysOf(claim: QuantityClaim, part: Part, device: PreparedDevice, isNamed: boolean): boolean | null {
  const byName = saysByName(claim, part, device);
  if (claim.quantity.dimension.startsWith(NAMED_DIMENSION)) return byName;
  const rule = device.partTypes.get(part.type);
  const refuted = byName === false ? quantityName(claim.quantity, rule) : undefined;
  const sisters = device.sisters.get(part.type) ?? [];
  const byMeasure = saysByMeasure(claim, part, sisters, device.measures, isNamed, refuted);
  if (byName === null || byMeasure === null) return byName ?? byMeasure;
  return byName ? byMeasure || !isRounded(claim, part, device) : byMeasure;
}

/** The type's rule lets values pass that lie near enough: a sister part's own value is not meant by that. */
function isRounded({ quantity }: QuantityClaim, part: Part, device: PreparedDevice): boolean {
  const rule = device.partTypes.get(part.type);
  const each = quantityRule(rule, quantityName(quantity, rule));
  return (each?.claim ?? each?.compare)?.how === "tolerance";
}

function saysByName({ quantity }: QuantityClaim, part: Part, device: PreparedDevice): boolean | null {
  if (quantity.dimension.startsWith(NAMED_DIMENSION) && quantity.dimension !== NAMED_DIMENSION + part.type) return null;
  const rule = device.partTypes.get(part.type);
  const name = quantityName(quantity, rule);
  const values = [quantity.value, ...quantity.alternatives];
  if (name === "cells") return cellsAgree(values, part);
  if (name === CONNECTOR)
    return part.connector?.family === undefined ? null : sameWord(String(quantity.value), part.connector.family);
  const known = name === "positions" ? part.connector?.positions : (part.quantities?.[name] ?? derived(name, part));
  if (known === undefined) return name === "size_mm" ? sizeAgrees(values, part, device) : null;
  if (quantity.dimension.startsWith(NAMED_DIMENSION)) return sameWord(String(quantity.value), String(known));
  const each = quantityRule(rule, name);
  if (each === undefined && measureOf(name, device.measures) !== null) return null;
  return values.some((value) => !contradicts(each, value, known));
}

/**
 * Quantities that are, to the digit, what the parts of some revisions state and those of others do not. They point there
 * although other values of the same class would serve: too little to stop anything.
 */
export function exactPointersOf(claims: readonly Claim[], partType: string | null, device: PreparedDevice): Pointer[] {
  return claims.flatMap((claim) => {
    if (claim.kind !== "quantity" || claim.hedged || !POINTING.has(claim.stance)) return [];
    const name = quantityName(claim.quantity, partType === null ? undefined : device.partTypes.get(partType));
    const equal = device.revisions.filter(({ parts }) =>
      parts.some(
        (part) =>
          part.type === partType &&
          part.readings.some(({ part: read }) => read.quantities?.[name] === claim.quantity.value),
      ),
    );
    if (equal.length === 0 || equal.length === device.revisions.length) return [];
    return [
      pointer(
        claim,
        "quantity",
        quantityText(claim),
        equal.map(({ revision }) => revision.id),
      ),
    ];
  });
}

const POINTING: ReadonlySet<string> = new Set(["plain", "for", "replaces"]);

/** "80x80x25 mm" of a part that the catalog gives one edge of: no edge can be that wide. */
function sizeAgrees(values: readonly (string | number)[], part: Part, device: PreparedDevice): boolean | null {
  const width = part.quantities?.["width_mm"];
  const rule = quantityRule(device.partTypes.get(part.type), "width_mm");
  if (typeof width !== "number" || rule === undefined) return null;
  const edges = values.flatMap((value) => String(value).split("x").map(Number)).filter(Number.isFinite);
  return edges.length === 0 || edges.some((edge) => !contradicts(rule, edge, width)) ? null : false;
}

/** Words of catalogs for "there is none". */
const NONE = new Set(["none", "no", "false", "without", "not", "0"]);

/** A value in a rule's words against a catalog's own: "without frame" is "none", "with frame" is "yes". */
function sameWord(stated: string, known: string): boolean {
  const plain = (text: string): string => text.trim().toLowerCase();
  const [a, b] = [plain(stated), plain(known)];
  if (a === b) return true;
  const negative = (text: string): boolean => NONE.has(text) || NONE.has(text.split(/[\s-]/)[0] ?? "");
  const yesOrNo = negative(a) || negative(b) || /^(?:with\b|yes$|true$)/.test(b);
  return yesOrNo ? negative(a) === negative(b) : a.replace(/[\s-]/g, "") === b.replace(/[\s-]/g, "");
}

/** Nominal volts of one lithium-ion cell, as part-type rules have it for batteries. */
const CELL_LOW_V = 3.55;
const CELL_HIGH_V = 3.9;

/** So many strings side by side are still plausible; a single string's pack of one cell has one or two cells. */
function isPackOf(cells: number, series: number): boolean {
  return cells % series === 0 && cells / series <= (series === 1 ? 2 : 4);
}

/** A count of all cells is a multiple of those in series. */
function cellsAgree(values: readonly (string | number)[], part: Part): boolean | null {
  const total = part.quantities?.["cells"];
  if (typeof total === "number") return values.includes(total);
  const series = part.quantities?.["seriesCells"] ?? derived("seriesCells", part);
  if (typeof series !== "number") return null;
  return values.some((value) => typeof value === "number" && isPackOf(value, series));
}

/** What follows from what the catalog states: energy is volts times ampere-hours, cells follow from nominal volts. */
function derived(name: string, part: Part): number | undefined {
  const { nominalVoltage_V: volts, capacity_Ah: charge, energy_Wh: energy } = part.quantities ?? {};
  if (typeof volts !== "number" || !(volts > 0)) return undefined;
  if (name === "seriesCells" && part.type === "battery")
    return seriesCells(volts, CELL_LOW_V, CELL_HIGH_V) ?? undefined;
  if (name === "energy_Wh" && typeof charge === "number") return volts * charge;
  if (name === "capacity_Ah" && typeof energy === "number") return energy / volts;
  return undefined;
}
