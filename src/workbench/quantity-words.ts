/** Quantities as people say them: `nominalVoltage_V: 3.8` is `nominal voltage 3.8 V`. */
import type { Words } from "../text/words.ts";

/** Units that are written otherwise than in a quantity's name. */
const UNITS: Readonly<Record<string, string>> = { in: "″", ohm: "Ω", C: "°C", MTs: "MT/s" };

/** A quantity with its value. */
export function quantityText(name: string, value: string | number | boolean, words: Words): string {
  if (typeof value === "boolean")
    return words.say(value ? "bench_quantity_yes" : "bench_quantity_no", { name: quantityName(name, words) });
  const unit = unitOf(name);
  const shown = typeof value === "number" ? new Intl.NumberFormat(words.formatting).format(value) : value;
  return `${quantityName(name, words)} ${shown}${unit === "" ? "" : `\u00a0${unit}`}`;
}

/** What a quantity is called; one without words of its own is called by its name. */
export function quantityName(name: string, words: Words): string {
  const key = `quantity_${name}`;
  return words.has(key)
    ? words.say(key)
    : (name.split("_", 1)[0] ?? name).replace(/([a-z])([A-Z])/g, "$1 $2").toLowerCase();
}

/** The unit that a quantity's name ends with, as it is written; empty for counts and words. */
export function unitOf(name: string): string {
  const at = name.indexOf("_");
  const unit = at < 0 ? "" : name.slice(at + 1);
  return UNITS[unit] ?? unit;
}
