/**
 * Two connectors of one family and size, pin by pin: what meets what when the wrong part is plugged in.
 *
 * Pin words are those of design section 3; what follows a colon is a free name (`signal:eDP lane 0`). The right part's
 * pin says what the device has there.
 */
import type { Connector } from "../formats/catalog.ts";
import type { Consequence, PartTypeRule } from "../formats/part-type-rule.ts";
import type { Effect, Hazard } from "../formats/verdict.ts";

/** One pin of both connectors; for a drawing as well as for the hazards. */
export interface PinDifference {
  /** One-based, pin 1 first. */
  readonly pin: number;
  /** What stands there on each part; `null` where the catalog says nothing. */
  readonly offered: string | null;
  readonly right: string | null;
  /** What the difference does; `null` where both are the same. */
  readonly effect: Effect | null;
  readonly harm: Consequence["harm"];
  /** Which sentence says it (`hazard_<code>`); `null` where both are the same. */
  readonly code: string | null;
  readonly caution: Hazard["caution"];
}

/** The parts whose pins are compared. */
interface PinnedPart {
  readonly connector?: Connector | undefined;
  readonly quantities?: Readonly<Record<string, number | string | boolean>> | undefined;
}

type PinClass = "supply" | "ground" | "mains" | "backlight" | "signal" | "open" | "other";
type What = Pick<PinDifference, "effect" | "harm" | "code" | "caution">;

const CLASS_OF: Readonly<Record<string, PinClass>> = {
  supply: "supply",
  ground: "ground",
  live: "mains",
  neutral: "mains",
  earth: "mains",
  phase: "mains",
  "backlight-supply": "backlight",
  data: "signal",
  clock: "signal",
  signal: "signal",
  enable: "signal",
  thermistor: "signal",
  identification: "signal",
  present: "signal",
  tachometer: "signal",
  "speed-control": "signal",
  "not-connected": "open",
};
/** Volts from which a conductor counts as mains: above what IEC 61140 calls extra-low voltage for alternating current. */
const MAINS_FROM_V = 50;
const SAME: What = { effect: null, harm: "none", code: null, caution: null };

/**
 * Every pin of both connectors, pin 1 first, with what the difference does.
 *
 * @returns empty where either part's pins are not known
 */
export function pinDifferences(
  offered: PinnedPart,
  right: PinnedPart,
  rule: PartTypeRule | undefined,
): PinDifference[] {
  const [theirs, ours] = [offered.connector?.pins, right.connector?.pins];
  if (theirs === undefined || ours === undefined) return [];
  const lowVoltage = [offered, right].every((part) => isExtraLow(part.quantities));
  return Array.from({ length: Math.max(theirs.length, ours.length) }, (_, i) => {
    const [o, r] = [theirs[i] ?? null, ours[i] ?? null];
    const what = o === null || r === null ? unclear() : whatHappens(o, r, rule?.pins ?? "electronics", lowVoltage);
    return { pin: i + 1, offered: o, right: r, ...what };
  });
}

function whatHappens(offered: string, right: string, kind: PartTypeRule["pins"], lowVoltage: boolean): What {
  const [o, r] = [split(offered), split(right)];
  if (o.word === r.word) {
    if (o.name === "" || r.name === "" || o.name === r.name) return SAME;
    return exchanged(classOf(o.word, lowVoltage));
  }
  const [a, b] = [classOf(o.word, lowVoltage), classOf(r.word, lowVoltage)];
  const meets = (first: PinClass, second: PinClass) => (a === first && b === second) || (a === second && b === first);
  if (a === "mains" || b === "mains") return { effect: "burns", harm: "serious", code: "pins-mains", caution: "mains" };
  if (a === "other" || b === "other") return unclear();
  if (a === "open" || b === "open") return a === "open" ? noFunction("pins-missing") : unclear();
  if (a === "backlight" || b === "backlight")
    return { effect: "destroys", harm: "property", code: "pins-backlight", caution: "backlight" };
  if (meets("supply", "ground")) return reversed(kind);
  if (meets("supply", "signal")) return breaks("pins-supply-on-signal");
  if (meets("ground", "signal")) return noFunction("pins-ground-on-signal");
  return exchanged(a);
}

function reversed(kind: PartTypeRule["pins"]): What {
  return kind === "lithium"
    ? { effect: "burns", harm: "serious", code: "pins-reversed-lithium", caution: "lithium" }
    : breaks("pins-reversed");
}

/** Two pins of one class that carry different things. */
function exchanged(of: PinClass): What {
  if (of === "mains") return { effect: "burns", harm: "serious", code: "pins-mains", caution: "mains" };
  if (of === "ground" || of === "open") return SAME;
  if (of === "other") return unclear();
  return of === "signal" ? noFunction("pins-signals") : breaks("pins-supplies");
}

function breaks(code: string): What {
  return { effect: "destroys", harm: "property", code, caution: null };
}

function noFunction(code: string): What {
  return { effect: "no-function", harm: "none", code, caution: null };
}

function unclear(): What {
  return { effect: "not-known", harm: "none", code: "pins-unclear", caution: null };
}

/** A motor's phase in a device that runs on a few volts is no mains conductor. */
function classOf(word: string, lowVoltage: boolean): PinClass {
  if (word === "phase" && lowVoltage) return "supply";
  return Object.hasOwn(CLASS_OF, word) ? (CLASS_OF[word] ?? "other") : "other";
}

function isExtraLow(quantities: PinnedPart["quantities"]): boolean {
  const volts = ["supplyVoltage_V", "nominalVoltage_V"].map((name) => quantities?.[name]);
  const known = volts.filter((value) => typeof value === "number");
  return known.length > 0 && known.every((value) => value < MAINS_FROM_V);
}

function split(pin: string): { word: string; name: string } {
  const colon = pin.indexOf(":");
  const word = (colon < 0 ? pin : pin.slice(0, colon)).trim().toLowerCase();
  return {
    word,
    name:
      colon < 0
        ? ""
        : pin
            .slice(colon + 1)
            .trim()
            .toLowerCase(),
  };
}
