/** A part as it is being typed, and the way back with every fault named at its field. Pure. */
import type { Connector, Part } from "../../formats/catalog.ts";
import { quantityValue, splitNumbers } from "../bench/device-draft.ts";
import { freeId, type Place } from "./change.ts";
import { type FieldFaults, filled } from "./family-draft.ts";

/** A connector as it is being typed. */
export interface ConnectorDraft {
  readonly family: string;
  readonly positions: string;
  /** What stands on each pin, pin 1 first; empty where it is not set yet. */
  readonly pins: readonly string[];
}

/** A part as it is being typed. */
export interface PartDraft {
  readonly type: string;
  readonly name: string;
  readonly numbers: string;
  readonly quantities: Readonly<Record<string, string>>;
  readonly connector: ConnectorDraft;
  readonly places: readonly Place[];
  readonly note: string;
}

/** Most positions of a connector, as the format has it. */
const MOST_POSITIONS = 400;

/** A part to be changed; without one, an empty form. */
export function partDraftOf(part: Part | undefined, places: readonly Place[]): PartDraft {
  const quantities = Object.entries(part?.quantities ?? {}).map(([name, value]) => [name, String(value)]);
  const connector = part?.connector;
  const positions = connector?.positions ?? connector?.pins?.length;
  return {
    type: part?.type ?? "battery",
    name: part?.name ?? "",
    numbers: part?.numbers.join(", ") ?? "",
    quantities: Object.fromEntries(quantities),
    connector: {
      family: connector?.family ?? "",
      positions: positions === undefined ? "" : String(positions),
      pins: connector?.pins ?? [],
    },
    places,
    note: part?.note ?? "",
  };
}

/** The part that a draft describes, or its faults. */
export function partFrom(
  draft: PartDraft,
  before: Part | undefined,
): { ok: true; part: Part } | { ok: false; faults: FieldFaults } {
  const faults = new Map<string, string>();
  const numbers = splitNumbers(draft.numbers);
  if (draft.type.trim() === "") faults.set("type", "bench_fault_part_type");
  if (numbers.length === 0 && draft.name.trim() === "") faults.set("numbers", "catalog_fault_part_nameless");
  if (numbers.some((number) => number.length > 80)) faults.set("numbers", "bench_fault_number_long");
  const connector = connectorFrom(draft.connector, faults);
  for (const name of Object.keys(draft.quantities)) {
    if (!QUANTITY_NAME.test(name)) faults.set("quantities", "catalog_fault_quantity_name");
  }
  if (faults.size > 0) return { ok: false, faults };
  const stated = Object.entries(draft.quantities).filter(([, text]) => text.trim() !== "");
  const quantities = Object.fromEntries(stated.map(([name, text]) => [name, quantityValue(text)]));
  const part: Part = {
    id: before?.id ?? freeId(numbers[0] ?? draft.name.trim(), []),
    type: draft.type.trim(),
    ...filled("name", draft.name),
    numbers,
    ...(stated.length === 0 ? {} : { quantities }),
    ...(connector === null ? {} : { connector }),
    ...filled("note", draft.note),
  };
  return { ok: true, part };
}

/** As the format has it: a name and, after an underscore, its unit. */
export const QUANTITY_NAME = /^[A-Za-z][A-Za-z0-9]{0,39}(?:_[A-Za-z0-9]{1,15})?$/;

function connectorFrom(draft: ConnectorDraft, faults: Map<string, string>): Connector | null {
  const family = draft.family.trim();
  const positions = draft.positions.trim();
  const count = Number(positions);
  if (positions !== "" && !(Number.isInteger(count) && count >= 1 && count <= MOST_POSITIONS)) {
    faults.set("positions", "catalog_fault_positions");
    return null;
  }
  const pins = pinsFor(draft.pins, positions === "" ? 0 : count);
  const set = pins.filter((pin) => pin !== "").length;
  if (set > 0 && set < pins.length) faults.set("pins", "catalog_fault_pins");
  if (family === "" && positions === "") return null;
  return {
    ...(family === "" ? {} : { family }),
    ...(positions === "" ? {} : { positions: count }),
    ...(set > 0 ? { pins } : {}),
  };
}

/** Exactly as many pins as there are positions; new ones are not set. */
export function pinsFor(pins: readonly string[], positions: number): string[] {
  const count = Math.min(MOST_POSITIONS, Math.max(0, positions));
  return Array.from({ length: count }, (_, i) => pins[i] ?? "");
}
