/** Buyers in the mind of a seller: one imagined device for every revision, and others like it that know less or more. */
import type { CatalogIndex, KnownFamily, KnownRevision } from "../catalog/index.ts";
import type { Device } from "../formats/bench.ts";
import { intersects, intervalOfDateText } from "../text/dates.ts";

/** An owner of one revision. */
export interface Buyer {
  readonly family: KnownFamily;
  readonly revision: KnownRevision;
  readonly device: Device;
}

/** Revisions that a part is for: its own, and those of parts in whose place one of its numbers serves. */
export function revisionsServedBy(partId: string, index: CatalogIndex): ReadonlySet<KnownRevision> {
  const numbers = index.part(partId)?.numbers ?? [];
  const candidates = numbers.flatMap((number) => index.resolveNumber(number).candidates);
  const served = candidates
    .filter(({ own }) => own?.id === partId)
    .flatMap(({ serves }) => serves.map(({ part }) => part.id));
  return new Set([partId, ...served].flatMap((id) => index.revisionsOf(id).map(({ revision }) => revision)));
}

/** One buyer for each revision, who knows which one it is and has its board in hand. */
export function buyersOf(family: KnownFamily): Buyer[] {
  return family.revisions.map((revision) => ({ family, revision, device: imagined(family, revision) }));
}

/**
 * Buyers of one revision who know it by different means: by being told, by the board's number, by a build date
 * that lies in this revision's span alone.
 */
export function buyersLike({ family, revision, device }: Buyer): Buyer[] {
  const { revision: _stated, boardNumber: _board, ...bare } = device;
  const byBoard = revision.boardNumbers.map((boardNumber): Device => ({ ...bare, boardNumber }));
  const stated: Device = { ...bare, revision: revision.id };
  const day = certainDate(family, revision);
  const dated: Device[] = day === null ? [] : [{ ...bare, buildDate: day }];
  return [stated, ...byBoard, ...dated].map((each) => ({ family, revision, device: each }));
}

function imagined(family: KnownFamily, revision: KnownRevision): Device {
  const [boardNumber] = revision.boardNumbers;
  return {
    id: `${family.id}/${revision.id}`,
    modelNumbers: [...family.modelNumbers],
    ...(boardNumber === undefined ? {} : { boardNumber }),
    family: family.id,
    revision: revision.id,
    fitted: [],
    accept: [],
    refuse: [],
  };
}

/** An end of the revision's span that lies in no other revision's span. */
function certainDate(family: KnownFamily, revision: KnownRevision): string | null {
  const others = family.revisions.filter((other) => other !== revision);
  const ends = revision.built.flatMap(({ from, to }) => [from, to]).filter((text) => text !== undefined);
  for (const text of ends) {
    const interval = intervalOfDateText(text);
    if (interval === null) continue;
    const shared = others.some(
      (other) => other.built.length === 0 || other.built.some((span) => intersects(interval, spanInterval(span))),
    );
    if (!shared) return text;
  }
  return null;
}

function spanInterval({ from, to }: { from?: string | undefined; to?: string | undefined }): {
  from: number | null;
  to: number | null;
} {
  return {
    from: from === undefined ? null : (intervalOfDateText(from)?.from ?? null),
    to: to === undefined ? null : (intervalOfDateText(to)?.to ?? null),
  };
}
