/** What a job is called: the device's name and the job number beside it. */
import type { Device } from "../../formats/bench.ts";
import type { Words } from "../../text/words.ts";
import { deviceName } from "../../ui/explanation.ts";

/** Such as `Hall vacuum · 2026-118`. */
export function jobName(device: Device, words: Words): string {
  const name = deviceName(device, words);
  return device.job ? `${name} · ${device.job}` : name;
}
