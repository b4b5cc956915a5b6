/** Restoring a bench file on the real bench: what it would do, and doing it so that it can be taken back. */
import type { Bench, Device } from "../../formats/bench.ts";
import type { Store } from "../../store/open.ts";
import { devicesToSave, planRestore, type RestoreChoice, type RestorePlan } from "./restore.ts";

/** What a file would do; pictures are compared only where the file holds one. */
export async function planFor(store: Store, devices: readonly Device[], bench: Bench): Promise<RestorePlan> {
  const pictures = new Map<string, string | undefined>();
  for (const { id, picture } of bench.devices) {
    if (picture !== undefined) pictures.set(id, await store.devices.picture(id));
  }
  const mine = devices.map((device) => {
    const picture = pictures.get(device.id);
    return picture === undefined ? device : { ...device, picture };
  });
  return planRestore(mine, bench);
}

/** Restores, and gives the way back. */
export async function applyPlan(
  store: Store,
  plan: RestorePlan,
  choiceOf: (id: string) => RestoreChoice,
  newId: () => string,
): Promise<{ saved: number; undo: () => Promise<void> }> {
  const toSave = devicesToSave(plan, choiceOf, newId);
  const shapes = await store.shapes.list();
  await store.devices.save(...toSave);
  await store.shapes.save(...plan.shapes);
  const before = new Map(plan.changed.map((each) => [each.before.id, each.before]));
  const replaced = toSave.flatMap(({ id }) => before.get(id) ?? []);
  const fresh = toSave.filter(({ id }) => !before.has(id)).map(({ id }) => id);
  const undo = async () => {
    await store.devices.remove(...fresh);
    await store.devices.save(...replaced);
    for (const shape of plan.shapes) await store.shapes.remove(shape);
    await store.shapes.save(...shapes);
  };
  return { saved: toSave.length, undo };
}
