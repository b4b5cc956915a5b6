/** From what a person types into the first form to a saved device, with every fault named at its field. */
import type { Device } from "../formats/bench.ts";
import { dateText } from "../formats/catalog.ts";

/** What was typed. */
export interface DeviceDraft {
  readonly name: string;
  readonly model: string;
  readonly board: string;
  readonly built: string;
}

/** Nothing typed yet. */
export const EMPTY_DRAFT: DeviceDraft = { name: "", model: "", board: "", built: "" };

/** A field with a fault, and the key of the sentence that says what to write instead. */
export type DraftFaults = { readonly [K in keyof DeviceDraft]?: "popup_model_missing" | "popup_built_wrong" };

/** The faults of a draft; none means that it can be saved. */
export function draftFaults({ model, built }: DeviceDraft): DraftFaults {
  return {
    ...(model.trim() === "" ? { model: "popup_model_missing" as const } : {}),
    ...(built.trim() === "" || dateText.safeParse(built.trim()).success ? {} : { built: "popup_built_wrong" as const }),
  };
}

/** The device that a draft without faults describes. */
export function deviceOf({ name, model, board, built }: DeviceDraft, id: string): Device {
  const models = model.split(/[,;/]/).map((each) => each.trim());
  return {
    id,
    ...(name.trim() === "" ? {} : { name: name.trim() }),
    modelNumbers: models.filter((each) => each !== ""),
    ...(board.trim() === "" ? {} : { boardNumber: board.trim() }),
    ...(built.trim() === "" ? {} : { buildDate: built.trim() }),
    fitted: [],
    accept: [],
    refuse: [],
  };
}
