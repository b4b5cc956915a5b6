/**
 * How well learning works on a set of observations: a part of each model is hidden, the rest learnt from, the
 * hidden part predicted. Beside it the two baselines that a person would use: what the model mostly has, and
 * what was seen last.
 */
import type { Observation } from "../formats/observation.ts";
import { type Answer, dayOf, type LearnedModel, learnFromObservations, packOf, predict } from "./learn.ts";
import { groupOf, mostFrequent } from "./learn-groups.ts";

/** Figures of one question, added up over all hidden devices. */
export interface Figures {
  /** Hidden devices whose truth is known. */
  readonly asked: number;
  readonly answered: number;
  /** Wrong among the answered. */
  readonly wrong: number;
  /** Wrong if the likeliest had to be said every time. */
  readonly wrongIfForced: number;
  readonly modelOnly: Baseline;
  readonly mostRecent: Baseline;
}

/** A baseline that always answers where anything was seen. */
export interface Baseline {
  readonly answered: number;
  readonly wrong: number;
  /** Wrong among those devices that the learner answered. */
  readonly wrongOnAnswered: number;
}

/** Figures for both questions. */
export interface HoldOut {
  readonly models: number;
  readonly hidden: number;
  readonly cells: Figures;
  readonly numbers: Figures;
}

/**
 * @param observations all of them
 * @param seed decides which third of each model is hidden
 * @param share how much of each model is hidden
 */
export function holdOut(observations: Iterable<Observation>, seed: number, share: number = 1 / 3): HoldOut {
  const { shown, hidden } = split(observations, seed, share);
  const learned = new Map(learnFromObservations(shown).map((model) => [model.model, model]));
  const recent = mostRecentOf(shown);
  const cells = new Count();
  const numbers = new Count();
  for (const observation of hidden) {
    const model = learned.get(observation.model);
    if (model) judge(observation, model, recent.get(observation.model), cells, numbers);
  }
  return { models: learned.size, hidden: hidden.length, cells, numbers };
}

function judge(
  hidden: Observation,
  model: LearnedModel,
  recent: readonly Observation[] | undefined,
  cells: Count,
  numbers: Count,
): void {
  const pack = packOf(hidden);
  if (pack === null) return;
  const told = predict(model, {
    board: hidden.board ?? null,
    built: hidden.built ?? hidden.battery?.built ?? null,
  });
  if (pack.cells !== null) {
    cells.add(told.cells, pack.cells, mostFrequent(model.devices.map((device) => device.cells)), lastCells(recent));
  }
  const truth = groupOf(pack, model.groups);
  if (truth === null) return;
  const usual = mostFrequent(model.devices.map((device) => device.group));
  const group = told.numbers.known ? told.numbers.value : told.numbers.likeliest;
  const place = group === null ? null : model.groups.indexOf(group);
  numbers.add(asPlace(told.numbers, place), truth, usual, lastGroup(recent, model));
}

function asPlace<T>(told: Answer<T>, place: number | null): Answer<number> {
  const { probability } = told;
  return told.known && place !== null
    ? { known: true, value: place, probability }
    : { known: false, because: { code: "learn-not-enough", values: {}, spans: [] }, probability, likeliest: place };
}

function lastCells(recent: readonly Observation[] | undefined): number | null {
  for (const observation of recent ?? []) {
    const cells = packOf(observation)?.cells ?? null;
    if (cells !== null) return cells;
  }
  return null;
}

function lastGroup(recent: readonly Observation[] | undefined, model: LearnedModel): number | null {
  for (const observation of recent ?? []) {
    const pack = packOf(observation);
    const group = pack === null ? null : groupOf(pack, model.groups);
    if (group !== null && group >= 0) return group;
  }
  return null;
}

/** Each model's observations, the latest first: by build date where stated, else by firmware date. */
function mostRecentOf(observations: readonly Observation[]): Map<string, Observation[]> {
  const dated = observations.map((observation) => ({
    observation,
    day: dayOf(observation.built ?? observation.battery?.built) ?? dayOf(observation.firmwareDate) ?? 0,
  }));
  dated.sort((a, b) => b.day - a.day);
  const byModel = new Map<string, Observation[]>();
  for (const { observation } of dated) {
    const list = byModel.get(observation.model);
    if (list === undefined) byModel.set(observation.model, [observation]);
    else list.push(observation);
  }
  return byModel;
}

class Count implements Figures {
  asked = 0;
  answered = 0;
  wrong = 0;
  wrongIfForced = 0;
  readonly modelOnly = { answered: 0, wrong: 0, wrongOnAnswered: 0 };
  readonly mostRecent = { answered: 0, wrong: 0, wrongOnAnswered: 0 };

  add(told: Answer<number>, truth: number, usual: number | null, recent: number | null): void {
    this.asked++;
    const value = told.known ? told.value : told.likeliest;
    if (value !== truth) this.wrongIfForced++;
    if (told.known) this.answered++;
    if (told.known && value !== truth) this.wrong++;
    this.#baseline(this.modelOnly, usual, truth, told.known);
    this.#baseline(this.mostRecent, recent, truth, told.known);
  }

  #baseline(
    into: { answered: number; wrong: number; wrongOnAnswered: number },
    value: number | null,
    truth: number,
    told: boolean,
  ): void {
    if (value === null) return;
    into.answered++;
    if (value === truth) return;
    into.wrong++;
    if (told) into.wrongOnAnswered++;
  }
}

/** Hides a share of each model, rounded down, chosen by a seeded shuffle. */
function split(
  observations: Iterable<Observation>,
  seed: number,
  share: number,
): { shown: Observation[]; hidden: Observation[] } {
  const byModel = new Map<string, Observation[]>();
  for (const observation of observations) {
    const list = byModel.get(observation.model);
    if (list === undefined) byModel.set(observation.model, [observation]);
    else list.push(observation);
  }
  const random = seeded(seed);
  const shown: Observation[] = [];
  const hidden: Observation[] = [];
  for (const list of byModel.values()) {
    for (let i = list.length - 1; i > 0; i--) {
      const j = Math.floor(random() * (i + 1));
      const [a, b] = [list[i], list[j]];
      if (a && b) [list[i], list[j]] = [b, a];
    }
    const cut = Math.floor(list.length * share);
    hidden.push(...list.slice(0, cut));
    shown.push(...list.slice(cut));
  }
  return { shown, hidden };
}

/** A small seeded generator of numbers in [0, 1): mulberry32. */
function seeded(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4_294_967_296;
  };
}
