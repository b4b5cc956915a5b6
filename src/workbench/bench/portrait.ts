/**
 * A device drawn in a few strokes. Which one is told by the types of its parts: what has a keyboard and a display
 * panel looks like a notebook. A device of which nothing is known is a bare board.
 */
import { type Drawn, drawn } from "../../ui/drawn.ts";

/** What a device can be drawn as. */
export type DeviceKind = "notebook" | "printer" | "appliance" | "tool" | "handheld" | "box" | "board";

/** A kind is told when the device has a part of every group; the first that fits is taken. */
const KINDS: readonly { kind: DeviceKind; groups: readonly (readonly string[])[] }[] = [
  { kind: "printer", groups: [["print-head", "roller", "platen", "print-drum"]] },
  { kind: "notebook", groups: [["keyboard"]] },
  { kind: "appliance", groups: [["pump", "belt", "drum", "heating-element", "door-lock", "valve", "control-board"]] },
  { kind: "tool", groups: [["battery"], ["motor", "fan", "switch", "brush"]] },
  { kind: "handheld", groups: [["battery", "display-panel", "touch-panel"]] },
  { kind: "box", groups: [["memory-module", "storage-module", "fan", "power-supply", "charger"]] },
];

/** What a device with parts of these types is drawn as. */
export function kindOf(partTypes: readonly string[]): DeviceKind {
  const found = KINDS.find(({ groups }) => groups.every((group) => group.some((type) => partTypes.includes(type))));
  return found?.kind ?? "board";
}

/** Outlines (filled with the sunken ground) and strokes on a field of 48 by 48. */
const SHAPES: Readonly<Record<DeviceKind, { body: string; strokes: string }>> = {
  notebook: {
    body: "M11 9h26a2 2 0 0 1 2 2v20H9V11a2 2 0 0 1 2-2zM9 31h30l5 7a1.5 1.5 0 0 1-1.3 2H5.3A1.5 1.5 0 0 1 4 38z",
    strokes: "M13 13h22v14H13zM12.5 34.5h23M20 37.5h8",
  },
  printer: {
    body: "M8 19h32a2 2 0 0 1 2 2v14a2 2 0 0 1-2 2H8a2 2 0 0 1-2-2V21a2 2 0 0 1 2-2z",
    strokes: "M13 19V7h22v12M13 30h22M13 37v5h22v-5M17 11.5h14M17 15h9",
  },
  appliance: {
    body: "M10 4h28a2 2 0 0 1 2 2v36a2 2 0 0 1-2 2H10a2 2 0 0 1-2-2V6a2 2 0 0 1 2-2z",
    strokes: "M8 13h32M13 8.5h8M34 8.5h1M24 18.5a10 10 0 1 1 0 20a10 10 0 1 1 0-20M17 30c3-2.5 5 1.5 8 0s4-1 6-.5",
  },
  tool: {
    body: "M6 9h26a3 3 0 0 1 3 3v7a3 3 0 0 1-3 3H23l2.5 14H28v7H8v-7h3.5L10 22H6a2 2 0 0 1-2-2v-9a2 2 0 0 1 2-2z",
    strokes: "M35 12.5h5v6h-5M40 15.5h4M11.5 36h14M9 13v5M13 13v5",
  },
  handheld: {
    body: "M15 4h18a3 3 0 0 1 3 3v34a3 3 0 0 1-3 3H15a3 3 0 0 1-3-3V7a3 3 0 0 1 3-3z",
    strokes: "M16 9h16v20H16zM17.5 34h3M17.5 38.5h3M27.5 34h3M27.5 38.5h3",
  },
  box: {
    body: "M13 4h22a2 2 0 0 1 2 2v36a2 2 0 0 1-2 2H13a2 2 0 0 1-2-2V6a2 2 0 0 1 2-2z",
    strokes: "M16 10h16M16 14.5h16M24 25a4 4 0 1 1 0 8a4 4 0 1 1 0-8M16 39h16",
  },
  board: {
    body: "M8 10h32a2 2 0 0 1 2 2v24a2 2 0 0 1-2 2H8a2 2 0 0 1-2-2V12a2 2 0 0 1 2-2z",
    strokes:
      "M16 17h12v12H16zM16 20.5h-3M16 25.5h-3M28 20.5h3M28 25.5h3M34 16v4M38 16v4M14 38v-4M19 38v-4M24 38v-4M29 38v-4",
  },
};

/**
 * The drawing. It says nothing by itself: name and words stand beside it.
 *
 * @param size edge length in CSS pixels
 */
export function portraitOf(partTypes: readonly string[], size: number): Drawn {
  const kind = kindOf(partTypes);
  const { body, strokes } = SHAPES[kind];
  return drawn(
    "svg",
    {
      viewBox: "0 0 48 48",
      width: String(size),
      height: String(size),
      fill: "none",
      stroke: "currentColor",
      "stroke-width": size > 60 ? "1.2" : "1.6",
      "stroke-linejoin": "round",
      "stroke-linecap": "round",
      "aria-hidden": "true",
      focusable: "false",
      class: "wb-portrait",
      "data-kind": kind,
    },
    drawn("path", { d: body, class: "wb-portrait-body" }),
    drawn("path", { d: strokes }),
  );
}
