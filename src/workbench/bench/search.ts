/** Finding a device on a bench of hundreds: by any word of its name, job or note, or by any number in any spelling. */
import type { SavedDevice } from "../../store/devices.ts";
import { canonicalNumber } from "../../text/part-number.ts";
import type { Standing } from "./standing.ts";

/** Which devices are listed. */
export const benchFilters = ["all", "open", "contradicted", "unknown", "pinned", "archived"] as const;
/** Which devices are listed. */
export type BenchFilter = (typeof benchFilters)[number];
/** In which order they are listed. */
export const benchOrders = ["newest", "name", "job"] as const;
/** In which order they are listed. */
export type BenchOrder = (typeof benchOrders)[number];

/** What a person asked for. */
export interface BenchQuery {
  readonly text: string;
  readonly filter: BenchFilter;
  readonly order: BenchOrder;
}

/** The devices that answer a query, in its order. */
export function findDevices(
  devices: readonly SavedDevice[],
  standings: ReadonlyMap<string, Standing>,
  { text, filter, order }: BenchQuery,
): SavedDevice[] {
  const asked = askedWords(text);
  const found = devices.filter(
    (saved) => passes(saved, standings.get(saved.device.id), filter) && asked.every((word) => holds(saved, word)),
  );
  return sorted(found, order);
}

/** How many devices each filter lists. */
export function countByFilter(
  devices: readonly SavedDevice[],
  standings: ReadonlyMap<string, Standing>,
): Record<BenchFilter, number> {
  const count = (filter: BenchFilter) =>
    devices.filter((saved) => passes(saved, standings.get(saved.device.id), filter)).length;
  return Object.fromEntries(benchFilters.map((filter) => [filter, count(filter)])) as Record<BenchFilter, number>;
}

function passes({ device }: SavedDevice, standing: Standing | undefined, filter: BenchFilter): boolean {
  if (filter === "archived") return device.archived === true;
  if (device.archived === true) return false;
  return filter === "all" || standing?.word === filter;
}

function sorted(devices: SavedDevice[], order: BenchOrder): SavedDevice[] {
  if (order === "newest") return devices.reverse();
  const key = ({ device }: SavedDevice) =>
    order === "job" ? (device.job ?? "\uffff") : (device.name ?? device.modelNumbers[0] ?? "\uffff");
  const compare = new Intl.Collator(undefined, { numeric: true }).compare;
  return devices.sort((a, b) => compare(key(a), key(b)));
}

interface AskedWord {
  readonly plain: string;
  readonly number: string;
}

function askedWords(text: string): AskedWord[] {
  return text
    .split(/\s+/)
    .filter((word) => word !== "")
    .slice(0, 12)
    .map((word) => ({ plain: folded(word), number: canonicalNumber(word) }));
}

function holds(saved: SavedDevice, { plain, number }: AskedWord): boolean {
  const { words, numbers } = findableOf(saved);
  return words.includes(plain) || (number.length > 1 && numbers.some((each) => each.includes(number)));
}

interface Findable {
  readonly words: string;
  readonly numbers: readonly string[];
}

const remembered = new WeakMap<SavedDevice, Findable>();

function findableOf(saved: SavedDevice): Findable {
  const known = remembered.get(saved);
  if (known !== undefined) return known;
  const { device } = saved;
  const numbers = [
    ...device.modelNumbers,
    device.boardNumber ?? "",
    ...device.fitted.flatMap((part) => part.numbers),
    ...device.accept.map((each) => each.number),
  ];
  const texts = [device.name, device.job, device.note, ...numbers, ...device.fitted.map(({ type }) => type)];
  const findable: Findable = {
    words: folded(texts.filter((text) => text !== undefined).join("\n")),
    numbers: numbers.map(canonicalNumber),
  };
  remembered.set(saved, findable);
  return findable;
}

function folded(text: string): string {
  return text.normalize("NFKD").replace(/\p{M}/gu, "").toLowerCase();
}
