/** What jobs are called: the device's name and the job number beside it. */
import { useMemo } from "preact/hooks";
import type { Device } from "../../formats/bench.ts";
import type { Words } from "../../text/words.ts";
import { deviceName } from "../../ui/naming.ts";
import { useWords } from "../../ui/words-context.tsx";
import { useBench } from "../bench/bench-state.tsx";

/** Such as `Hall vacuum · 2026-118`. */
export function jobName(device: Device, words: Words): string {
  const name = deviceName(device, words);
  return device.job ? `${name} · ${device.job}` : name;
}

/** Names the jobs on the bench by their device's id; one that is gone is called by it. */
export function useJobNames(): (id: string) => string {
  const words = useWords();
  const { devices } = useBench();
  return useMemo(() => {
    const names = new Map(devices?.map(({ device }) => [device.id, jobName(device, words)]));
    return (id) => names.get(id) ?? id;
  }, [devices, words]);
}
