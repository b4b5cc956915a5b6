/**
 * Likeness of two records' trees by simple tree matching (Yang, "Identifying syntactic differences between two
 * programs", 1991), as record mining uses it: MDR (Liu, Grossman and Zhai, KDD 2003) compares sibling subtrees,
 * DEPTA (Zhai and Liu, WWW 2005) aligns the fields of the records found.
 */
import { MAX_MATCH_NODES } from "./limits.ts";
import type { PageTree } from "./tree.ts";

/** An element with its element children, cut to a bounded size. */
interface Shape {
  readonly tag: string;
  readonly children: Shape[];
  size: number;
}

/** The tags of an element's tree, nearest levels first, at most {@link MAX_MATCH_NODES} of them. */
function shapeOf(tree: PageTree, root: number): Shape {
  const top: Shape = { tag: tree.tag[root] ?? "", children: [], size: 1 };
  const queue: [number, Shape][] = [[root, top]];
  let count = 1;
  for (let at = 0; at < queue.length && count < MAX_MATCH_NODES; at++) {
    const [index, shape] = queue[at] as [number, Shape];
    const end = tree.end[index] ?? index;
    for (let child = index + 1; child < end && count < MAX_MATCH_NODES; child = tree.end[child] ?? end) {
      const tag = tree.tag[child] ?? "";
      if (tag === "#") continue;
      const inner: Shape = { tag, children: [], size: 1 };
      shape.children.push(inner);
      queue.push([child, inner]);
      count++;
    }
  }
  top.size = count;
  return top;
}

/** Size of the largest common top-down tree that keeps the order of children. */
function matchingNodes(a: Shape, b: Shape): number {
  if (a.tag !== b.tag) return 0;
  const rows = a.children.length;
  const columns = b.children.length;
  let before: number[] = new Array<number>(columns + 1).fill(0);
  for (let row = 1; row <= rows; row++) {
    const now: number[] = [0];
    for (let column = 1; column <= columns; column++) {
      const both = matchingNodes(a.children[row - 1] as Shape, b.children[column - 1] as Shape);
      now.push(Math.max(before[column] ?? 0, now[column - 1] ?? 0, (before[column - 1] ?? 0) + both));
    }
    before = now;
  }
  return (before[columns] ?? 0) + 1;
}

/** Likeness of two elements' trees, 0 to 1: common nodes over the mean size. */
export function likeness(tree: PageTree, a: number, b: number): number {
  const first = shapeOf(tree, a);
  const second = shapeOf(tree, b);
  return (2 * matchingNodes(first, second)) / (first.size + second.size);
}
