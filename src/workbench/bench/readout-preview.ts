/** What accepting a fact of a readout would change about a device. */
import type { Device } from "../../formats/bench.ts";
import { applyFacts, intervalText } from "../../readout/apply.ts";
import type { ReadoutFact } from "../../readout/facts.ts";
import { canonicalNumber } from "../../text/part-number.ts";

/**
 * `fills`: an empty field or a new part; `adds`: something to a part that is there; `beside`: it is kept as a fact, for
 * the field holds something else; `known`: nothing changes; `kept`: kept as a fact, too vague to fill anything;
 * `not-a-part`: kept as a fact, for it is nothing that one buys for this device.
 */
export type FactEffect = "fills" | "adds" | "beside" | "known" | "kept" | "not-a-part";

/** The effect of one fact on the device as it is. */
export function effectOf(device: Device, fact: ReadoutFact): FactEffect {
  const { facts: _before, ...before } = device;
  const { facts: _after, ...after } = applyFacts(device, [fact]);
  if (JSON.stringify(before) !== JSON.stringify(after)) {
    return after.fitted.length === before.fitted.length && fact.field === "fitted" ? "adds" : "fills";
  }
  if (fact.confidence === "rough" || fact.field === "boardVersion") return "kept";
  if (fact.field === "fitted") return fact.replaceable ? "known" : "not-a-part";
  return holds(device, fact) ? "known" : "beside";
}

function holds(device: Device, fact: ReadoutFact): boolean {
  if (fact.field === "boardNumber") return canonicalNumber(device.boardNumber ?? "") === canonicalNumber(fact.value);
  if (fact.field === "buildDate")
    return JSON.stringify(device.buildDate) === JSON.stringify(intervalText(fact.interval));
  return true;
}
