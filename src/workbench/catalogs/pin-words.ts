/** What can stand on a pin: the words of the format, each with a small drawing of its class. */
import { type Drawn, drawn } from "../../ui/drawn.ts";

/** The words, in the order in which they are offered. */
export const pinWords = [
  "supply",
  "ground",
  "data",
  "clock",
  "signal",
  "enable",
  "thermistor",
  "identification",
  "present",
  "backlight-supply",
  "tachometer",
  "speed-control",
  "phase",
  "live",
  "neutral",
  "earth",
  "not-connected",
] as const;

const POWER = "M8 2.5v11M2.5 8h11";
const PULSE = "M1.5 11.5h3V4.5h4v7h3V4.5h3";
const WAVE = "M1.5 8c2-6 4.5-6 6.5 0s4.5 6 6.5 0";
const GLYPHS: Readonly<Record<string, string>> = {
  supply: POWER,
  ground: "M8 2v5M2.5 7h11M4.5 10h7M6.5 13h3",
  "backlight-supply": "M8 5.5a2.5 2.5 0 1 1 0 5a2.5 2.5 0 1 1 0-5M8 1.5v2M8 12.5v2M1.5 8h2M12.5 8h2",
  live: WAVE,
  neutral: WAVE,
  phase: WAVE,
  earth: "M8 2v5M2.5 7h11M4.5 10h7M6.5 13h3",
  thermistor: "M2.5 6h11v4h-11zM4 13.5L12 2.5",
  identification: "M3.5 3h9v10h-9zM6 6h4M6 9h4",
  present: "M3.5 3h9v10h-9zM6 8h4",
  "not-connected": "M8 1.5v4M8 10.5v4",
};

/** The word of a pin without its free name. */
export function wordOfPin(pin: string): string {
  const colon = pin.indexOf(":");
  return colon < 0 ? pin : pin.slice(0, colon);
}

/** A pin word with a free name after a colon, where one is given. */
export function pinOf(word: string, name: string): string {
  const plain = name.trim();
  return plain === "" ? word : `${word}:${plain}`.slice(0, 80);
}

/** The drawing of what stands on a pin; a pin that is not set is an empty ring. */
export function pinGlyph(pin: string): Drawn {
  const word = wordOfPin(pin);
  const path = word === "" ? "M8 4.5a3.5 3.5 0 1 1 0 7a3.5 3.5 0 1 1 0-7" : (GLYPHS[word] ?? PULSE);
  return drawn(
    "svg",
    {
      viewBox: "0 0 16 16",
      width: "18",
      height: "18",
      fill: "none",
      stroke: "currentColor",
      "stroke-width": "1.7",
      "stroke-linecap": "round",
      "stroke-linejoin": "round",
      "aria-hidden": "true",
      focusable: "false",
    },
    drawn("path", { d: path }),
  );
}
