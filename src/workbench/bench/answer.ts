/** What an answer to a question adds to a device. */
import type { PossibleAnswer, Question } from "../../catalog/question.ts";
import type { Device, FittedPart } from "../../formats/bench.ts";

/**
 * The device with the answer entered, or `null` where the answer is a range (volts, dates) that only the exact value
 * fills in.
 */
export function answeredDevice(
  device: Device,
  question: Question,
  { value, revisions }: PossibleAnswer,
): Device | null {
  switch (question.check) {
    case "board-readout":
    case "board-inside":
      return { ...device, boardNumber: value };
    case "part-label":
    case "part-flap":
    case "part-inside":
      return withFitted(device, question.partType, value, "label");
    case "part-readout":
      return withFitted(device, question.partType, value, "readout");
    case "tell-by":
      return revisions.length === 1 && revisions[0] !== undefined ? { ...device, revision: revisions[0] } : null;
    default:
      return null;
  }
}

/** What was only assumed of this kind of part gives way. */
function withFitted(device: Device, type: string | null, number: string, source: FittedPart["source"]): Device | null {
  if (type === null) return null;
  const kept = device.fitted.filter((part) => part.type !== type || part.source !== "assumed");
  return { ...device, fitted: [...kept, { type, numbers: [number], source }] };
}
