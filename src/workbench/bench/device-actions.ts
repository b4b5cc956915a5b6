/** What can be done to a device as a whole. Each takes effect at once and can be taken back. */
import type { Device } from "../../formats/bench.ts";
import { deviceName } from "../../ui/naming.ts";
import { useUndo } from "../../ui/undo.tsx";
import { useWords } from "../../ui/words-context.tsx";
import { hrefOf } from "../route.ts";
import { useTools } from "../tools.tsx";
import { useBench } from "./bench-state.tsx";

/** What can be done to a device. */
export interface DeviceActions {
  takeInHand(device: Device): Promise<void>;
  /** Puts a new device on the bench; the first one is taken in hand. */
  add(device: Device): Promise<void>;
  /** Makes a copy with its picture and opens it. */
  duplicate(device: Device): Promise<void>;
  archive(device: Device): Promise<void>;
  fetchBack(device: Device): Promise<void>;
  /** Takes it off the bench and leaves its page. */
  remove(device: Device): Promise<void>;
  /** Writes a changed device; `message` says what changed, for undo. */
  change(before: Device, after: Device, message: string): Promise<void>;
}

/** The actions of this bench. */
export function useDeviceActions(): DeviceActions {
  const { store, newId } = useTools();
  const { inHand } = useBench();
  const offerUndo = useUndo();
  const words = useWords();
  const say = (key: string, device: Device) => words.say(key, { device: deviceName(device, words) });
  return {
    takeInHand: ({ id }) => store.devices.takeInHand(id),
    async add(device) {
      await store.devices.save(device);
      if (inHand === null) await store.devices.takeInHand(device.id);
      offerUndo(say("bench_added", device), async () => {
        await store.devices.remove(device.id);
      });
    },
    async duplicate(device) {
      const { archived: _archived, ...kept } = device;
      const picture = await store.devices.picture(device.id);
      const copy: Device = {
        ...kept,
        id: newId(),
        name: say("bench_copy_name", device).slice(0, 2_000),
        ...(picture === undefined ? {} : { picture }),
      };
      await store.devices.save(copy);
      offerUndo(say("bench_duplicated", device), async () => {
        await store.devices.remove(copy.id);
      });
      location.hash = hrefOf("bench", { id: copy.id });
    },
    async archive(device) {
      await store.devices.save({ ...device, archived: true });
      offerUndo(say("bench_archived", device), () => store.devices.save(device));
    },
    async fetchBack(device) {
      const { archived: _archived, ...kept } = device;
      await store.devices.save(kept);
      offerUndo(say("bench_fetched_back", device), () => store.devices.save(device));
    },
    async remove(device) {
      const removed = await store.devices.remove(device.id);
      offerUndo(say("bench_removed", device), async () => {
        await store.devices.save(...removed);
        if (inHand === device.id) await store.devices.takeInHand(device.id);
      });
      location.hash = hrefOf("bench");
    },
    async change(before, after, message) {
      await store.devices.save(after);
      offerUndo(message, () => store.devices.save(before));
    },
  };
}
