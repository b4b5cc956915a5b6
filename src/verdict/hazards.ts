/**
 * What a wrong part would do, computed from what differs between it and the right one (design section 5).
 *
 *   connector: other family or positions → does not plug in; else pin by pin
 *   quantities: as the part type's rule compares them; without a rule only equal or not
 *   anything that the catalog leaves out, or no difference found at all → `not-known`, which says so
 *
 * Sentences are `hazard_<code>` in the message files; put them into words with `hazardText`.
 */
import type { Connector, Part } from "../formats/catalog.ts";
import type { Consequence, PartTypeRule, QuantityRule } from "../formats/part-type-rule.ts";
import type { Effect, Hazard, SentenceValue, SignalWord } from "../formats/verdict.ts";
import { seriesCells } from "../text/quantity-check.ts";
import { compareQuantity, type Outcome, type QuantityValue, quantityRule } from "./compare.ts";
import { type PinDifference, pinDifferences } from "./pins.ts";

/** What is compared of a part. */
export type ComparablePart = Pick<Part, "quantities" | "connector">;

/**
 * Worst first. What is not known may be worse than what is, so it stands before the effects that hurt nothing.
 */
const WORST_FIRST: readonly Effect[] = [
  "burns",
  "destroys",
  "no-connection",
  "no-function",
  "not-known",
  "reduced",
  "cosmetic",
];
const SIGNAL_OF: Readonly<Record<Consequence["harm"], SignalWord | null>> = {
  serious: "WARNING",
  light: "CAUTION",
  property: "NOTICE",
  none: null,
};
const SIGNALS: readonly (SignalWord | null)[] = ["WARNING", "CAUTION", "NOTICE", null];
/** Effects that make the thing itself dangerous to handle or try: the type's general caution goes with them. */
const CAUTIONED: ReadonlySet<Effect> = new Set(["burns", "destroys", "no-connection", "no-function", "not-known"]);

/**
 * Everything that differs between an offered part and the right one, worst first; never empty, because two parts
 * that are not interchangeable differ in something.
 *
 * @param rule of their part type; without one only equality of quantities and the connector are judged
 */
export function compareParts(offered: ComparablePart, right: ComparablePart, rule: PartTypeRule | undefined): Hazard[] {
  const hazards = [
    ...connectorHazards(offered.connector, right.connector, offered, right, rule),
    ...quantityHazards(offered, right, rule),
  ];
  if (hazards.length === 0) hazards.push(notKnown("nothing-differs", rule));
  return worstFirst(hazards);
}

/**
 * What it would do if a part were as a listing states it, where that differs from the right part; empty where the
 * statements say nothing against it.
 *
 * @param stated quantities by name; `positions` is the number of contacts
 */
export function compareStated(
  stated: Readonly<Record<string, QuantityValue>>,
  right: ComparablePart,
  rule: PartTypeRule | undefined,
): Hazard[] {
  const ours = right.quantities ?? {};
  const hazards = Object.keys(stated).flatMap((name) => {
    const [said, known] = [stated[name], name === "positions" ? positionsOf(right.connector) : ours[name]];
    if (said === undefined || known === undefined) return [];
    if (name === "positions") {
      const [offered, wanted] = [Number(said), Number(known)];
      return offered === wanted ? [] : [noConnection("connector-positions", { offered, right: wanted }, rule)];
    }
    return quantityHazard(name, said, known, rule) ?? [];
  });
  return worstFirst(hazards);
}

/** The hazard of a part of which nothing is known but that it is not, or may not be, the right one. */
export function unknownPart(rule: PartTypeRule | undefined): Hazard {
  return notKnown("offered-not-known", rule);
}

function positionsOf(connector: Connector | undefined): number | undefined {
  return connector?.positions ?? connector?.pins?.length;
}

/** Worst first: by effect, then by signal word; equal ones stay in order. */
export function worstFirst(hazards: readonly Hazard[]): Hazard[] {
  return [...hazards].sort((a, b) => harmRank(a) - harmRank(b));
}

/** 0 for the worst; no hazard comes after all. */
export function harmRank(hazard: Hazard | null): number {
  if (hazard === null) return WORST_FIRST.length * SIGNALS.length;
  return WORST_FIRST.indexOf(hazard.effect) * SIGNALS.length + SIGNALS.indexOf(hazard.signal);
}

/** The signal word for what may happen to whom (ISO 3864-2, ANSI Z535.6); never DANGER for a match of texts. */
export function signalWord(harm: Consequence["harm"]): SignalWord | null {
  return SIGNAL_OF[harm];
}

function connectorHazards(
  offered: Connector | undefined,
  right: Connector | undefined,
  offeredPart: ComparablePart,
  rightPart: ComparablePart,
  rule: PartTypeRule | undefined,
): Hazard[] {
  if (rule?.pins === "none") return [];
  if (offered === undefined || right === undefined) return [notKnown("connector-not-known", rule)];
  const counts = [positionsOf(offered), positionsOf(right)] as const;
  if (counts[0] !== undefined && counts[1] !== undefined && counts[0] !== counts[1]) {
    return [noConnection("connector-positions", { offered: counts[0], right: counts[1] }, rule)];
  }
  const families = [offered.family, right.family] as const;
  if (families[0] !== undefined && families[1] !== undefined && !sameFamily(families[0], families[1])) {
    return [noConnection("connector-family", { offered: families[0], right: families[1] }, rule)];
  }
  if ([...counts, ...families].includes(undefined)) return [notKnown("connector-not-known", rule)];
  if (offered.pins === undefined || right.pins === undefined) return [notKnown("pins-not-known", rule)];
  return pinHazards(pinDifferences(offeredPart, rightPart, rule), rule);
}

/** One hazard for each kind of difference, naming its pins. */
function pinHazards(differences: readonly PinDifference[], rule: PartTypeRule | undefined): Hazard[] {
  const byCode = new Map<string, PinDifference[]>();
  for (const difference of differences) {
    if (difference.code === null) continue;
    byCode.set(difference.code, [...(byCode.get(difference.code) ?? []), difference]);
  }
  return [...byCode].flatMap(([code, pins]) => {
    const first = pins[0];
    if (first === undefined || first.effect === null) return [];
    const caution = first.caution ?? cautionFor(first.effect, rule);
    const values = { pins: pins.map(({ pin }) => String(pin)), ...wordsOf(first), pin: first.pin };
    return [{ effect: first.effect, signal: signalWord(first.harm), code, values, caution }];
  });
}

function wordsOf({ offered, right }: PinDifference): { offered: string; right: string } {
  return { offered: offered ?? "not-connected", right: right ?? "not-connected" };
}

function quantityHazards(offered: ComparablePart, right: ComparablePart, rule: PartTypeRule | undefined): Hazard[] {
  const hazards = new Map<string, Hazard>();
  const [theirs, ours] = [offered.quantities ?? {}, right.quantities ?? {}];
  for (const name of quantityNames(theirs, ours, rule)) {
    const [o, r] = [theirs[name], ours[name]];
    if (o === undefined || r === undefined) continue;
    if (name !== "seriesCells" && tellsCells(quantityRule(rule, name), o, r) && bothCount(theirs, ours)) continue;
    const hazard = quantityHazard(name, o, r, rule);
    // Volts and cells say the same thing twice; the first says it with both.
    if (hazard !== null && !hazards.has(sameThing(hazard.code))) hazards.set(sameThing(hazard.code), hazard);
  }
  if (lacksWeighty(theirs, ours, rule)) hazards.set("quantities-not-known", notKnown("quantities-not-known", rule));
  return [...hazards.values()];
}

/** Names that either part has, in the order of the rule, then the rest. */
function quantityNames(
  a: Readonly<Record<string, QuantityValue>>,
  b: Readonly<Record<string, QuantityValue>>,
  rule: PartTypeRule | undefined,
): Set<string> {
  return new Set([...(rule?.quantities.map(({ name }) => name) ?? []), ...Object.keys(a), ...Object.keys(b)]);
}

/** Volts that no single number of cells explains. */
function tellsCells(rule: QuantityRule | undefined, offered: QuantityValue, right: QuantityValue): boolean {
  return rule?.compare.how === "class" && compareQuantity(rule, offered, right) === "other";
}

/** The catalog counts the cells of both parts. */
function bothCount(...parts: readonly Readonly<Record<string, QuantityValue>>[]): boolean {
  return parts.every(({ seriesCells: cells }) => typeof cells === "number");
}

function quantityHazard(
  name: string,
  offered: QuantityValue,
  right: QuantityValue,
  rule: PartTypeRule | undefined,
): Hazard | null {
  const each = quantityRule(rule, name);
  const outcome = compareQuantity(each, offered, right);
  if (outcome === "same") return null;
  const said = { name, offered: withUnit(name, offered), right: withUnit(name, right) };
  if (each === undefined) return hazard({ effect: "not-known", harm: "none", code: "unruled-quantity" }, said, rule);
  const consequence = consequenceOf(each, outcome, offered, right);
  if (consequence === null) return null;
  return hazard(consequence, { ...said, ...cellsOf(each, offered, right) }, rule);
}

function consequenceOf(
  rule: QuantityRule,
  outcome: Outcome,
  offered: QuantityValue,
  right: QuantityValue,
): Consequence | null {
  const { mains } = rule;
  if (mains !== undefined && [offered, right].some((value) => Number(value) >= mains.from)) return mains.consequence;
  if (outcome === "low-side") return rule.within ?? null;
  const sided = outcome === "more" ? rule.more : outcome === "less" ? rule.less : undefined;
  return sided ?? rule.other ?? null;
}

/** The cell counts behind two voltages, or the counts themselves. */
function cellsOf(rule: QuantityRule, offered: QuantityValue, right: QuantityValue): Record<string, SentenceValue> {
  if (rule.compare.how !== "class") return {};
  const { low, high } = rule.compare;
  const count = (value: QuantityValue) => seriesCells(Number(value), low, high);
  const [offeredCells, rightCells] = [count(offered), count(right)];
  return offeredCells === null || rightCells === null ? {} : { offeredCells, rightCells };
}

function hazard(
  consequence: Consequence,
  values: Readonly<Record<string, SentenceValue>>,
  rule: PartTypeRule | undefined,
): Hazard {
  const { effect, harm } = consequence;
  // Cell counts without volts have sentences of their own.
  const plain = consequence.code ?? `differs-${effect}`;
  const code =
    plain.startsWith("cells-") && plain !== "cells-unlike" && !("offeredCells" in values) ? `${plain}-count` : plain;
  const mains = code === "mains-voltage";
  return { effect, signal: signalWord(harm), code, values, caution: mains ? "mains" : cautionFor(effect, rule) };
}

function notKnown(code: string, rule: PartTypeRule | undefined): Hazard {
  return { effect: "not-known", signal: null, code, values: {}, caution: cautionFor("not-known", rule) };
}

function noConnection(
  code: string,
  values: Readonly<Record<string, SentenceValue>>,
  rule: PartTypeRule | undefined,
): Hazard {
  return { effect: "no-connection", signal: null, code, values, caution: cautionFor("no-connection", rule) };
}

function cautionFor(effect: Effect, rule: PartTypeRule | undefined): Hazard["caution"] {
  return CAUTIONED.has(effect) ? (rule?.caution ?? null) : null;
}

/** True where a quantity that can burn or destroy is given for neither or only one of the parts. */
function lacksWeighty(
  offered: Readonly<Record<string, QuantityValue>>,
  right: Readonly<Record<string, QuantityValue>>,
  rule: PartTypeRule | undefined,
): boolean {
  if (rule === undefined) return Object.keys(offered).length === 0 || Object.keys(right).length === 0;
  const weighty = rule.quantities.filter((each) =>
    [each.more, each.less, each.other].some((c) => c?.effect === "burns" || c?.effect === "destroys"),
  );
  const known = weighty.filter(({ name }) => offered[name] !== undefined && right[name] !== undefined);
  return weighty.length > 0 && known.length === 0;
}

function sameThing(code: string): string {
  return code.replace(/-count$/, "");
}

function sameFamily(a: string, b: string): boolean {
  const plain = (family: string) => family.toLowerCase().replace(/[\s_,./-]/g, "");
  return plain(a) === plain(b);
}

/** A value with the unit that its name ends with: `nominalVoltage_V`, 14.8 → "14.8 V". */
function withUnit(name: string, value: QuantityValue): string {
  const unit = /_([A-Za-z0-9]{1,12})$/.exec(name)?.[1];
  return typeof value === "number" && unit !== undefined ? `${value} ${unit}` : String(value);
}
