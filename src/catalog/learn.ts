/**
 * Learning from devices seen: what a shop's observations, or a collection of dumps, tell about one model.
 *
 * From observations (model, board, dates, battery) come, for each model, the number groups of its batteries,
 * and for every board and date what to expect inside: cells in series and number group, with "cannot be
 * known" as an answer of its own. `learn-draft.ts` turns the same into a catalog draft for review. Nothing
 * here is ever used for a verdict.
 *
 * Method. Devices of a model are draws from a few classes. A model's shares start from an even prior, a
 * board's shares from those of the model's other boards (in the spirit of a hierarchical Dirichlet prior: Teh,
 * Jordan, Beal & Blei, JASA 101, 2006), and either may change once in time (`change-point.ts`). A class that was
 * never seen keeps a share. The answer is given when its posterior probability reaches a threshold and withheld
 * otherwise (Chow, "On optimum recognition error and reject tradeoff", IEEE Trans. Inf. Theory 16, 1970). Weights
 * and threshold were chosen on 300 models, resampling whole models (not devices) so that a set of other models
 * has at most two wrong in a hundred answers with about 98 % probability; the hold-out test prints the figures.
 *
 * The data are rough: default dates (the same day in many machines, 1 January), dates of another battery than
 * the first one, placeholder names, swapped packs. Dates that cannot be are dropped before anything is
 * learnt; names that are no numbers form no group.
 */
import type { Observation } from "../formats/observation.ts";
import type { Reason, SentenceValue } from "../formats/verdict.ts";
import { calendarDate, dayNumber, intervalOfDateText } from "../text/dates.ts";
import { canonicalNumber } from "../text/part-number.ts";
import { isPlaceholder } from "../text/placeholders.ts";
import { type ChangePosterior, changePosterior, type Draw, sharesOn } from "./change-point.ts";
import { groupNumbers, groupOf, type NumberGroup, numberKey, type PackSeen } from "./learn-groups.ts";
import { seriesCells } from "./resolve.ts";

export type { NumberGroup, PackSeen } from "./learn-groups.ts";

/** Weight of the even prior of a model, in devices: one device seen already says most. */
const MODEL_PRIOR = 0.3;
/** Weight of the other boards' shares on a board, in devices. */
const BOARD_PRIOR = 1;
/** How likely a change in time is before looking. */
const CHANGE_PRIOR = 0.3;
/** An answer about cells is given from this probability on: a wrong count over- or under-charges. */
const CELLS_THRESHOLD = 0.9;
/** An answer about the number group is given from this probability on. */
const NUMBERS_THRESHOLD = 0.9;
/** Dates before 1995 are no build dates of machines that report their battery; clocks start at 1980. */
const EARLIEST = dayNumber(1995, 1, 1);
/** A date text wider than this (two months) says too little about a change. */
const WIDEST_DATE = 62;

/** One device as it was learnt from. */
export interface SeenDevice {
  /** Canonical board number, or `null`. */
  readonly board: string | null;
  /** Day it (or its battery) was made, or `null`. */
  readonly day: number | null;
  readonly pack: PackSeen | null;
  /** Cells in series of its battery, or `null`. */
  readonly cells: number | null;
  /** Place of its battery's number group, or `null`. */
  readonly group: number | null;
}

/** What is known of one model; plain data. */
export interface LearnedModel {
  readonly model: string;
  readonly maker: string | null;
  /** Board numbers as printed, most frequent first. */
  readonly boards: readonly { readonly number: string; readonly key: string; readonly seen: number }[];
  readonly groups: readonly NumberGroup[];
  readonly devices: readonly SeenDevice[];
  /** Days that machines state when they know none. */
  readonly defaultDays: readonly number[];
  /** How many memory types were seen, most frequent first. */
  readonly memory: readonly { readonly type: string; readonly seen: number }[];
}

/** A device whose inside is asked for. */
export interface Query {
  readonly board?: string | null;
  /** A date text, such as `2021-05-17` or `2021-W20`: of the device or of its first battery. */
  readonly built?: string | null;
}

/** An answer, or why there is none. */
export type Answer<T> =
  | { readonly known: true; readonly value: T; readonly probability: number }
  | { readonly known: false; readonly because: Reason; readonly probability: number; readonly likeliest: T | null };

/** What is inside, as far as it can be known. */
export interface Prediction {
  /** Cells in series of the battery. */
  readonly cells: Answer<number>;
  /** The number group of the battery. */
  readonly numbers: Answer<NumberGroup>;
}

/** Learns every model that the observations name; models in the order of their first observation. */
export function learnFromObservations(observations: Iterable<Observation>): LearnedModel[] {
  const byModel = new Map<string, Observation[]>();
  for (const observation of observations) {
    const list = byModel.get(observation.model);
    if (list === undefined) byModel.set(observation.model, [observation]);
    else list.push(observation);
  }
  const generic = genericNames(byModel);
  return [...byModel].map(([model, list]) => learnModel(model, list, generic));
}

/** What to expect inside a device of a model. */
export function predict(model: LearnedModel, query: Query): Prediction {
  return {
    cells: answer(expect(cellsView(model), query, model), CELLS_THRESHOLD),
    numbers: answer(expect(groupsView(model), query, model), NUMBERS_THRESHOLD),
  };
}

/** The pack of an observation in the units that learning uses, or `null` for a device without one. */
export function packOf({ battery }: Observation): PackSeen | null {
  if (!battery) return null;
  const volts = battery.designVoltage_mV ? battery.designVoltage_mV / 1000 : null;
  const energy = battery.designCapacity_mWh ? battery.designCapacity_mWh / 1000 : null;
  const cells = volts === null ? null : seriesCells(volts);
  return {
    name: battery.name ?? null,
    cells,
    volts: cells === null ? null : volts,
    energy_Wh: energy !== null && energy > 0 ? energy : null,
  };
}

/** The day in the middle of a date text; `null` for none, an unreadable, implausible or too wide one. */
export function dayOf(text: string | null | undefined): number | null {
  const interval = text ? intervalOfDateText(text) : null;
  if (interval === null || interval.from === null || interval.to === null) return null;
  if (interval.to - interval.from > WIDEST_DATE || interval.from < EARLIEST) return null;
  return Math.floor((interval.from + interval.to) / 2);
}

/** The board's canonical number; `null` for none and for placeholders. */
function boardKey(board: string | null | undefined): string | null {
  if (!board || isPlaceholder(board)) return null;
  const key = canonicalNumber(board);
  return key === "" ? null : key;
}

// Learning one model

function learnModel(model: string, list: readonly Observation[], generic: ReadonlySet<string>): LearnedModel {
  const packs = list.map((observation) => withoutGeneric(packOf(observation), generic));
  const groups = groupNumbers(packs.filter((pack) => pack !== null));
  const days = list.map((observation) => dayOf(observation.built ?? observation.battery?.built));
  const defaultDays = findDefaultDays(days);
  const devices = list.map((observation, i): SeenDevice => {
    const day = days[i] ?? null;
    const pack = packs[i] ?? null;
    const group = pack === null ? null : groupOf(pack, groups);
    return {
      board: boardKey(observation.board),
      day: day !== null && defaultDays.includes(day) ? null : day,
      pack,
      cells: pack?.cells ?? null,
      group: group === -1 ? null : group,
    };
  });
  return {
    model,
    maker: list.map(({ maker }) => maker).find((maker) => maker && !isPlaceholder(maker)) ?? null,
    boards: boardsOf(list),
    groups,
    devices,
    defaultDays,
    memory: memoryOf(list),
  };
}

/** A name that packs of different cell counts bear in several models is the gauge's or the firmware's, not the pack's. */
function genericNames(byModel: ReadonlyMap<string, readonly Observation[]>): Set<string> {
  const uses = new Map<string, { models: Set<string>; cells: Set<number> }>();
  for (const [model, list] of byModel) {
    for (const observation of list) {
      const pack = packOf(observation);
      const key = pack === null ? null : numberKey(pack.name);
      if (pack === null || key === null) continue;
      const use = uses.get(key) ?? { models: new Set(), cells: new Set() };
      use.models.add(model);
      if (pack.cells !== null) use.cells.add(pack.cells);
      uses.set(key, use);
    }
  }
  return new Set([...uses].filter(([, { models, cells }]) => models.size >= 3 && cells.size >= 2).map(([key]) => key));
}

function withoutGeneric(pack: PackSeen | null, generic: ReadonlySet<string>): PackSeen | null {
  const key = pack === null ? null : numberKey(pack.name);
  return pack !== null && key !== null && generic.has(key) ? { ...pack, name: null } : pack;
}

/** Days that stand in for an unknown date: in a third of the machines at once, or 1 January again and again. */
function findDefaultDays(days: readonly (number | null)[]): number[] {
  const counts = new Map<number, number>();
  let dated = 0;
  for (const day of days) {
    if (day === null) continue;
    dated++;
    counts.set(day, (counts.get(day) ?? 0) + 1);
  }
  const isDefault = (day: number, count: number): boolean => {
    const { month, day: ofMonth } = calendarDate(day);
    return (count >= 8 && count * 10 >= dated * 3) || (count >= 3 && month === 1 && ofMonth === 1);
  };
  return [...counts].filter(([day, count]) => isDefault(day, count)).map(([day]) => day);
}

function boardsOf(list: readonly Observation[]): LearnedModel["boards"] {
  const boards = new Map<string, { number: string; key: string; seen: number }>();
  for (const { board } of list) {
    const key = boardKey(board);
    if (!board || key === null) continue;
    const known = boards.get(key);
    if (known === undefined) boards.set(key, { number: board.trim(), key, seen: 1 });
    else known.seen++;
  }
  return [...boards.values()].sort((a, b) => b.seen - a.seen);
}

function memoryOf(list: readonly Observation[]): LearnedModel["memory"] {
  const counts = new Map<string, number>();
  for (const { memory } of list) {
    for (const type of new Set(memory ?? [])) {
      if (!isPlaceholder(type)) counts.set(type, (counts.get(type) ?? 0) + 1);
    }
  }
  return [...counts].map(([type, seen]) => ({ type, seen })).sort((a, b) => b.seen - a.seen);
}

// Expecting

/** A way to look at the devices: which class each belongs to. The last share is that of a class never seen. */
export interface View<T> {
  readonly values: readonly T[];
  readonly draws: readonly (Draw & { readonly board: string | null })[];
}

/** Devices by cells in series. */
export function cellsView({ devices }: LearnedModel): View<number> {
  const values = [...new Set(devices.flatMap(({ cells }) => (cells === null ? [] : [cells])))].sort((a, b) => a - b);
  const draws = devices.flatMap(({ cells, day, board }) =>
    cells === null ? [] : [{ kind: values.indexOf(cells), day, board }],
  );
  return { values, draws };
}

/** Devices by number group of the battery. */
export function groupsView({ devices, groups }: LearnedModel): View<NumberGroup> {
  const draws = devices.flatMap(({ group, day, board }) => (group === null ? [] : [{ kind: group, day, board }]));
  return { values: groups, draws };
}

/** What is expected: a share for each value, and one for "something never seen". */
interface Expectation<T> {
  readonly values: readonly T[];
  readonly shares: readonly number[];
  /** How many devices of the same board it rests on. */
  readonly onBoard: number;
  /** How many devices at all. */
  readonly seen: number;
}

/** The posterior of a model's devices: shares and their possible change in time. */
function modelPosterior<T>(view: View<T>, draws: readonly Draw[]): ChangePosterior {
  const classes = view.values.length + 1;
  const even = new Array<number>(classes).fill(1 / classes);
  return changePosterior(draws, { shares: even, weight: MODEL_PRIOR, changeProbability: CHANGE_PRIOR });
}

/** Shares expected of a device of the model with this board and date. */
function expect<T>(view: View<T>, query: Query, model: LearnedModel): Expectation<T> {
  const asked = dayOf(query.built);
  const day = asked !== null && model.defaultDays.includes(asked) ? null : asked;
  const board = boardKey(query.board);
  const same = board === null ? [] : view.draws.filter((draw) => draw.board === board);
  const others = same.length === 0 ? view.draws : view.draws.filter((draw) => draw.board !== board);
  const elsewhere = sharesOn(modelPosterior(view, others), day);
  const shares =
    same.length === 0
      ? elsewhere
      : sharesOn(
          changePosterior(same, { shares: elsewhere, weight: BOARD_PRIOR, changeProbability: CHANGE_PRIOR }),
          day,
        );
  return { values: view.values, shares, onBoard: same.length, seen: view.draws.length };
}

function answer<T>({ values, shares, onBoard, seen }: Expectation<T>, threshold: number): Answer<T> {
  let best = -1;
  for (let k = 0; k < values.length; k++) if (best < 0 || (shares[k] ?? 0) > (shares[best] ?? 0)) best = k;
  const value = values[best];
  const probability = shares[best] ?? 0;
  if (value !== undefined && seen > 0 && probability >= threshold) return { known: true, value, probability };
  const likely = shares.filter((share, k) => k < values.length && share > 1 - threshold).length;
  const because =
    seen === 0
      ? reasonOf("learn-nothing-seen", {})
      : likely > 1
        ? reasonOf("learn-mixed", { count: onBoard > 0 ? onBoard : seen })
        : reasonOf("learn-not-enough", { count: onBoard > 0 ? onBoard : seen });
  return { known: false, because, probability, likeliest: value ?? null };
}

function reasonOf(code: string, values: Readonly<Record<string, SentenceValue>>): Reason {
  return { code, values, spans: [] };
}
