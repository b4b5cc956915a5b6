/**
 * Our sign: the two halves of a connector and the two lines between them. Aligned: the lines go straight through.
 * Apart: they do not meet. Crossed: each ends on the other's place. One colour, five strokes, legible at 12 px.
 */
import type { Tier } from "../formats/verdict.ts";
import { type Drawn, drawn } from "./drawn.ts";

/** How the halves stand. */
export type SignPose = "aligned" | "apart" | "crossed";

/** The pose that stands for a tier; a listing of no tier is shown apart. */
export const poseOfTier: Readonly<Record<Tier, SignPose>> = {
  go: "aligned",
  check: "apart",
  stop: "crossed",
  none: "apart",
};

const LINES: Readonly<Record<SignPose, string>> = {
  aligned: "M4 5.4H12M4 10.6H12",
  apart: "M4 5.4H6.2M4 10.6H6.2M9.8 5.4H12M9.8 10.6H12",
  crossed: "M4 4.6L12 11.4M4 11.4L12 4.6",
};
const HALVES = "M2.2 2.4V13.6M13.8 2.4V13.6";

/**
 * The sign as a picture that says nothing by itself: the words beside it carry the meaning.
 *
 * @param size edge length in CSS pixels
 */
export function signOf(pose: SignPose, size = 16): Drawn {
  return drawn(
    "svg",
    {
      viewBox: "0 0 16 16",
      width: String(size),
      height: String(size),
      fill: "none",
      stroke: "currentColor",
      "aria-hidden": "true",
      focusable: "false",
      class: "ff-sign",
      "data-pose": pose,
    },
    drawn("path", { d: HALVES, "stroke-width": "3", "stroke-linecap": "round" }),
    drawn("path", { d: LINES[pose], "stroke-width": "1.9" }),
  );
}
