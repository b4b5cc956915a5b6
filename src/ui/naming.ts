/** The few words that every surface needs: what a device is called, what a mark says, what a verdict means for a device. */
import type { Device } from "../formats/bench.ts";
import type { VerdictWord } from "../formats/verdict.ts";
import type { Words } from "../text/words.ts";

/** One sentence that says what a verdict means for the device. */
export function headlineOf(verdict: VerdictWord, device: string, words: Words): string {
  return words.say(headlineKey(verdict), { device });
}

/** The message of {@link headlineOf}. */
export function headlineKey(verdict: VerdictWord): string {
  return `ui_verdict_${verdict.replaceAll("-", "_")}`;
}

/** The short word on a mark. */
export function markWord(verdict: VerdictWord, words: Words): string {
  return words.say(`ui_mark_${verdict.replaceAll("-", "_")}`);
}

/** What a device is called: its name, else its first model number. */
export function deviceName(device: Pick<Device, "name" | "modelNumbers">, words: Words): string {
  return device.name || device.modelNumbers[0] || words.say("ui_device_unnamed");
}
