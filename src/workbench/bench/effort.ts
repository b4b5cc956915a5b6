/** What a look costs, drawn: a prompt, a label, a flap, a screw. */
import type { Effort } from "../../catalog/question.ts";
import { type Drawn, drawn } from "../../ui/drawn.ts";

const SHAPES: Readonly<Record<Effort, string>> = {
  command: "M3 6h26v20H3zM8 12l4 4l-4 4M15 20h8",
  label: "M5 6h22v20H5zM9 11h14M9 16h9M9 21h3M14 21h3M19 21h4",
  flap: "M4 13h24v13H4zM4 13L9 4h22L28 13M13 19h6",
  open: "M16 4a12 12 0 1 1 0 24a12 12 0 1 1 0-24M11 21L21 11M9 19L19 9M13 23L23 13",
};

/**
 * The drawing; the words beside it say the same.
 *
 * @param size edge length in CSS pixels
 */
export function effortOf(effort: Effort, size: number): Drawn {
  return drawn(
    "svg",
    {
      viewBox: "0 0 32 32",
      width: String(size),
      height: String(size),
      fill: "none",
      stroke: "currentColor",
      "stroke-width": "1.6",
      "stroke-linejoin": "round",
      "stroke-linecap": "round",
      "aria-hidden": "true",
      focusable: "false",
      class: "wb-effort",
    },
    drawn("path", { d: SHAPES[effort] }),
  );
}

/** Place of an effort among all, cheapest first. */
export function effortRank(effort: Effort): number {
  return (Object.keys(SHAPES) as Effort[]).indexOf(effort);
}
