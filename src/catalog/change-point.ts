/**
 * What to expect of the next device, from those seen before: shares of classes (a cell count, a number
 * group) that may have changed once in time.
 *
 * Method: Bayesian inference of at most one change in a sequence of independent draws from a few classes.
 * Every place between two distinct days is a possible change; a stretch on either side has its own shares
 * with a Dirichlet prior, so its marginal likelihood is a product of Pólya urn steps. The answer averages
 * over "no change" and over all places by their posterior weight, so a date near a change is answered with
 * both sides and a date inside the gap between two observations with a mixture: few observations, wide doubt.
 * Literature: Hinkley, "Inference about the change-point in a sequence of random variables", Biometrika 57
 * (1970); Smith, "A Bayesian approach to inference about a change-point", Biometrika 62 (1975); Barry &
 * Hartigan, "A Bayesian analysis for change point problems", JASA 88 (1993), whose product partition model
 * with two blocks this is.
 */

/** One draw: the class seen, and the day where known. */
export interface Draw {
  readonly kind: number;
  readonly day: number | null;
}

/** How strongly the prior speaks: its weight in draws, and how likely a change is before looking. */
export interface Prior {
  /** Share of each class before looking; sums to 1. */
  readonly shares: readonly number[];
  readonly weight: number;
  readonly changeProbability: number;
}

/** One possible change and how much it explains. */
export interface Change {
  /** Last day before and first day after it on which a device was seen. */
  readonly after: number;
  readonly before: number;
  /** Posterior probability that the shares changed in this gap. */
  readonly probability: number;
  /** Expected shares on either side. */
  readonly earlier: readonly number[];
  readonly later: readonly number[];
}

/** The posterior over "no change" and every possible place of one. */
export interface ChangePosterior {
  readonly steady: readonly number[];
  readonly steadyProbability: number;
  readonly changes: readonly Change[];
}

/** Fewest dated draws for which a change is considered at all. */
const LEAST_DATED = 4;

/** Works out the posterior; linear in the draws after sorting them by day. */
export function changePosterior(draws: readonly Draw[], prior: Prior): ChangePosterior {
  const counts = countsOf(draws, prior.shares.length);
  const steady = expectedShares(counts, prior);
  const dated = draws
    .filter((draw): draw is { kind: number; day: number } => draw.day !== null)
    .sort((a, b) => a.day - b.day);
  const gaps = gapsOf(dated);
  if (dated.length < LEAST_DATED || gaps.length === 0 || counts.filter((count) => count > 0).length < 2) {
    return { steady, steadyProbability: 1, changes: [] };
  }
  const ahead = urnLogs(dated, prior);
  const behind = urnLogs([...dated].reverse(), prior);
  const logSteady = (ahead[dated.length] ?? 0) + Math.log(1 - prior.changeProbability);
  const logGap = Math.log(prior.changeProbability / gaps.length);
  const logs = gaps.map((at) => (ahead[at] ?? 0) + (behind[dated.length - at] ?? 0) + logGap);
  const top = Math.max(logSteady, largest(logs));
  const total = Math.exp(logSteady - top) + logs.reduce((sum, log) => sum + Math.exp(log - top), 0);
  return {
    steady,
    steadyProbability: Math.exp(logSteady - top) / total,
    changes: changesAt(dated, gaps, logs, top, total, counts, prior),
  };
}

/** Expected shares of the next draw on a day; without a day, those of no change. */
export function sharesOn(posterior: ChangePosterior, day: number | null): readonly number[] {
  if (day === null || posterior.changes.length === 0) return posterior.steady;
  const shares = posterior.steady.map((share) => share * posterior.steadyProbability);
  for (const change of posterior.changes) {
    const past = Math.min(1, Math.max(0, (day - change.after) / (change.before - change.after)));
    for (let k = 0; k < shares.length; k++) {
      const mixed = (change.earlier[k] ?? 0) * (1 - past) + (change.later[k] ?? 0) * past;
      shares[k] = (shares[k] ?? 0) + mixed * change.probability;
    }
  }
  return shares;
}

/** Shares expected after `counts` draws: the Dirichlet posterior mean. */
function expectedShares(counts: readonly number[], prior: Prior): number[] {
  const seen = counts.reduce((sum, count) => sum + count, 0);
  return prior.shares.map((share, k) => ((counts[k] ?? 0) + prior.weight * share) / (seen + prior.weight));
}

function changesAt(
  dated: readonly { kind: number; day: number }[],
  gaps: readonly number[],
  logs: readonly number[],
  top: number,
  total: number,
  counts: readonly number[],
  prior: Prior,
): Change[] {
  const all = countsOf(dated, counts.length);
  const left = new Array<number>(counts.length).fill(0);
  const changes: Change[] = [];
  let done = 0;
  for (const [i, at] of gaps.entries()) {
    for (; done < at; done++) {
      const kind = dated[done]?.kind ?? 0;
      left[kind] = (left[kind] ?? 0) + 1;
    }
    const right = all.map((count, k) => count - (left[k] ?? 0));
    changes.push({
      after: dated[at - 1]?.day ?? 0,
      before: dated[at]?.day ?? 0,
      probability: Math.exp((logs[i] ?? 0) - top) / total,
      earlier: expectedShares(left, prior),
      later: expectedShares(right, prior),
    });
  }
  return changes;
}

/** How many draws lie before each gap between two distinct days. */
function gapsOf(dated: readonly { day: number }[]): number[] {
  const gaps: number[] = [];
  for (let i = 1; i < dated.length; i++) if ((dated[i]?.day ?? 0) > (dated[i - 1]?.day ?? 0)) gaps.push(i);
  return gaps;
}

/** Log marginal likelihood of the first n draws, for every n: each draw is one step of a Pólya urn. */
function urnLogs(draws: readonly Draw[], prior: Prior): number[] {
  const counts = new Array<number>(prior.shares.length).fill(0);
  const logs = [0];
  let sum = 0;
  for (const [n, { kind }] of draws.entries()) {
    const seen = counts[kind] ?? 0;
    sum += Math.log((seen + prior.weight * (prior.shares[kind] ?? 0)) / (n + prior.weight));
    counts[kind] = seen + 1;
    logs.push(sum);
  }
  return logs;
}

function countsOf(draws: readonly Draw[], classes: number): number[] {
  const counts = new Array<number>(classes).fill(0);
  for (const { kind } of draws) counts[kind] = (counts[kind] ?? 0) + 1;
  return counts;
}

function largest(values: readonly number[]): number {
  return values.reduce((most, value) => Math.max(most, value), Number.NEGATIVE_INFINITY);
}
