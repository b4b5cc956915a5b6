/** Hazards and pins put into words. */
import type { Hazard, SentenceValue } from "../formats/verdict.ts";
import type { Words } from "../text/words.ts";

const WITH_UNIT = /^(-?\d{1,15}(?:\.\d{1,9})?) ([A-Za-z0-9%]{1,12})$/;

/** The whole sentence of a hazard, numbers and pin words in the language. */
export function hazardText(hazard: Pick<Hazard, "code" | "values">, words: Words): string {
  const values = Object.fromEntries(Object.entries(hazard.values).map(([name, value]) => [name, shown(value, words)]));
  return words.say(`hazard_${hazard.code.replaceAll("-", "_")}`, values);
}

/** A pin word in the language; the free name after a colon stays as the catalog writes it. */
export function pinText(pin: string, words: Words): string {
  const colon = pin.indexOf(":");
  const word = colon < 0 ? pin : pin.slice(0, colon);
  const name = colon < 0 ? "" : pin.slice(colon + 1).trim();
  const key = `ui_pin_${word.replaceAll("-", "_")}`;
  const said = words.has(key) ? words.say(key) : word;
  return name === "" ? said : `${said} (${name})`;
}

function shown(value: SentenceValue, words: Words): SentenceValue {
  if (typeof value !== "string") return value;
  const united = WITH_UNIT.exec(value);
  if (united !== null)
    return words.say("value_with_unit", { value: Number(united[1]), unit: unitText(united[2] ?? "") });
  return pinText(value, words);
}

/** Units as they are printed, where the name of a quantity cannot hold the sign. */
function unitText(unit: string): string {
  return unit === "in" ? "″" : unit === "ohm" ? "Ω" : unit === "MTs" ? "MT/s" : unit === "C" ? "°C" : unit;
}
