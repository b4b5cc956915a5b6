/** How a device stands in one line: which revisions it may be, and what tells. Plain data, worked out in the worker. */
import type { CatalogIndex } from "../../catalog/index.ts";
import { allQuestions, type Effort, type Question } from "../../catalog/question.ts";
import { type EvidenceKind, type ResolvedRevisions, resolveRevisions, revisionName } from "../../catalog/resolve.ts";
import type { Device } from "../../formats/bench.ts";

/**
 * `pinned`: one revision is left and nothing contradicts it; `open`: several are; `contradicted`: evidence excludes
 * evidence; `unknown`: no catalog tells the family.
 */
export type StandingWord = "pinned" | "open" | "contradicted" | "unknown";

/** How a device stands. */
export interface Standing {
  /** Id of the device. */
  readonly id: string;
  readonly word: StandingWord;
  readonly family: string | null;
  readonly maker: string | null;
  /** Names of the revisions that are left. */
  readonly possible: readonly string[];
  /** The strongest evidence that tells anything, or null. */
  readonly by: EvidenceKind | null;
  /** Part types of the family's catalogued parts. */
  readonly partTypes: readonly string[];
  /** The cheapest look that would narrow it down: what it costs, and the sentence that asks. */
  readonly next: { readonly effort: Effort; readonly ask: Question["ask"] } | null;
}

/** Sums up what the resolver found, and the questions that are left, best first. */
export function standingFrom(
  device: Device,
  resolved: ResolvedRevisions,
  index: CatalogIndex,
  [question]: readonly Question[],
): Standing {
  const { family, revisions, evidence } = resolved;
  const parts = (family?.revisions ?? []).flatMap((revision) => [...revision.parts, ...revision.disputed]);
  const types = parts.flatMap((id) => index.part(id)?.type ?? []);
  return {
    id: device.id,
    word: standingWord(resolved),
    family: family === null ? null : (family.name ?? family.id),
    maker: family?.maker ?? null,
    possible: revisions.map(revisionName),
    by: evidence.find(({ leaves }) => leaves !== null && leaves.length > 0)?.kind ?? null,
    partTypes: [...new Set(types)].sort(),
    next: question === undefined ? null : { effort: question.effort, ask: question.ask },
  };
}

/** The one word for it. */
function standingWord({ family, pinned, contradictions }: ResolvedRevisions): StandingWord {
  if (family === null) return "unknown";
  if (contradictions.length > 0) return "contradicted";
  return pinned ? "pinned" : "open";
}

/**
 * How a device stands by these catalogs.
 *
 * @param partName what a kind of part is called in the person's language
 */
export function standingOf(device: Device, index: CatalogIndex, partName: (type: string) => string): Standing {
  const resolved = resolveRevisions(device, index);
  return standingFrom(device, resolved, index, allQuestions(device, resolved, index, { partName }));
}
