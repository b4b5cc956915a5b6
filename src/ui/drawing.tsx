/** Shows a {@link Drawn} tree, and our sign as the most frequent one. */
import { h, type VNode } from "preact";
import type { Drawn } from "./drawn.ts";
import { type SignPose, signOf } from "./sign.ts";

/** A tree of elements as Preact nodes. */
export function Drawing({ tree }: { tree: Drawn }): VNode {
  return nodeOf(tree);
}

function nodeOf({ tag, attributes, children }: Drawn): VNode {
  return h(tag, attributes, ...children.map((child) => (typeof child === "string" ? child : nodeOf(child))));
}

/** The sign; the words beside it must say what it means. */
export function Sign({ pose, size = 16 }: { pose: SignPose; size?: number }) {
  return <Drawing tree={signOf(pose, size)} />;
}
