/** What restoring a bench file would do to the bench, worked out before anything is done. */
import type { Bench, Device } from "../../formats/bench.ts";

/** A device that is on the bench and in the file, but not the same. */
export interface ChangedDevice {
  readonly before: Device;
  readonly after: Device;
  /** Fields of the device that differ. */
  readonly fields: readonly (keyof Device)[];
}

/** What a file would do. */
export interface RestorePlan {
  /** Devices that are not on the bench. */
  readonly added: readonly Device[];
  readonly changed: readonly ChangedDevice[];
  readonly same: readonly Device[];
  /** How many devices of the bench the file does not name; they stay as they are. */
  readonly untouched: number;
  readonly shapes: NonNullable<Bench["pageShapes"]>;
}

/** What becomes of a changed device. */
export const restoreChoices = ["mine", "file", "both"] as const;
/** What becomes of a changed device: it stays, the file's takes its place, or the file's is added beside it. */
export type RestoreChoice = (typeof restoreChoices)[number];

/** Compares a file with the bench; devices without a picture in the file keep the one that they have. */
export function planRestore(bench: readonly Device[], file: Bench): RestorePlan {
  const mine = new Map(bench.map((device) => [device.id, device]));
  const added: Device[] = [];
  const changed: ChangedDevice[] = [];
  const same: Device[] = [];
  for (const after of file.devices) {
    const before = mine.get(after.id);
    if (before === undefined) {
      added.push(after);
      continue;
    }
    const fields = differingFields(before, after);
    if (fields.length > 0) changed.push({ before, after, fields });
    else same.push(after);
  }
  const named = new Set(file.devices.map(({ id }) => id));
  const untouched = bench.filter(({ id }) => !named.has(id)).length;
  return { added, changed, same, untouched, shapes: file.pageShapes ?? [] };
}

/** The devices to be saved for these choices. */
export function devicesToSave(
  { added, changed }: RestorePlan,
  choiceOf: (id: string) => RestoreChoice,
  newId: () => string,
): Device[] {
  const fromChanged = changed.flatMap(({ after }) => {
    const choice = choiceOf(after.id);
    if (choice === "mine") return [];
    return [choice === "file" ? after : { ...after, id: newId() }];
  });
  return [...added, ...fromChanged];
}

function differingFields(before: Device, after: Device): (keyof Device)[] {
  const names = [...new Set([...Object.keys(before), ...Object.keys(after)])] as (keyof Device)[];
  return names.filter((name) => {
    if (name === "picture" && after.picture === undefined) return false;
    return canonicalText(before[name]) !== canonicalText(after[name]);
  });
}

/** JSON with sorted keys: the order in which a file names its fields makes no difference. */
function canonicalText(value: unknown): string {
  return (
    JSON.stringify(value, (_key, each: unknown) =>
      typeof each === "object" && each !== null && !Array.isArray(each)
        ? Object.fromEntries(Object.entries(each).sort(([a], [b]) => (a < b ? -1 : a > b ? 1 : 0)))
        : each,
    ) ?? ""
  );
}
