/**
 * Places in the workbench, as the address after `#` names them: a desk, then steps. A step is the id of a thing
 * (percent-encoded, so that it never starts with a colon) or something to do (`:add`).
 */

/** The id of a thing, or something to do. */
export type Step = { readonly id: string } | { readonly act: string };

/** Where a person is. */
export interface Place {
  readonly desk: string;
  readonly steps: readonly Step[];
}

/** Names under which other parts of the program open a desk. */
const OTHER_NAMES: ReadonlyMap<string, string> = new Map([
  ["title-check", "title"],
  ["order-check", "order"],
]);

/** Reads an address such as `#bench/my%20device/:edit`; anything can be read, nothing throws. */
export function readPlace(hash: string): Place {
  const [desk = "", ...steps] = hash.replace(/^#/, "").split("/");
  return { desk: OTHER_NAMES.get(desk) ?? desk, steps: steps.filter((step) => step !== "").map(readStep) };
}

function readStep(step: string): Step {
  if (step.startsWith(":")) return { act: step.slice(1) };
  try {
    return { id: decodeURIComponent(step) };
  } catch {
    // A stray percent sign: no address of ours, but a name all the same.
    return { id: step };
  }
}

/** The address of a place. */
export function hrefOf(desk: string, ...steps: readonly Step[]): string {
  return `#${[desk, ...steps.map((step) => ("act" in step ? `:${step.act}` : encodeURIComponent(step.id)))].join("/")}`;
}

/** The id that a step names, if it names one. */
export function idOf(step: Step | undefined): string | undefined {
  return step !== undefined && "id" in step ? step.id : undefined;
}

/** What a step asks to do, if it does. */
export function actOf(step: Step | undefined): string | undefined {
  return step !== undefined && "act" in step ? step.act : undefined;
}
