/** Where a fact was read and how far to trust it, in words. */
import type { DeviceFact } from "../../formats/bench.ts";
import { sourceSentence } from "../../readout/facts.ts";
import type { Words } from "../../text/words.ts";

/** `system table of the board · likely`; a source that has no words of its own is shown as it stands. */
export function sourceText({ source, confidence }: Pick<DeviceFact, "source" | "confidence">, words: Words): string {
  const { key, values } = sourceSentence(source as Parameters<typeof sourceSentence>[0]);
  const named = words.has(key) ? words.say(key, values) : source;
  const sure = {
    certain: words.say("bench_certain"),
    likely: words.say("bench_likely"),
    rough: words.say("bench_rough"),
  };
  return `${named} · ${sure[confidence]}`;
}
