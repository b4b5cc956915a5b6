/**
 * The closure of interchange and supersession against reachability in an independent graph library (npm `graphology`):
 * interchange is an edge both ways, supersession one from the later number to the earlier one.
 */
import fc from "fast-check";
import { DirectedGraph } from "graphology";
import { describe, expect, it } from "vitest";
import { buildIndex } from "../../src/catalog/index.ts";
import { checkCatalog } from "../../src/formats/catalog.ts";

const COUNT = 14;
const name = (i: number): string => `NR-${100 + i * 7}`;
const number = fc.nat(COUNT - 1);
const pair = fc.tuple(number, number).filter(([a, b]) => a !== b);

/** Every number that a walk along the edges reaches. */
function reachable(graph: DirectedGraph, start: string): Set<string> {
  const seen = new Set([start]);
  const open = [start];
  for (let at = open.pop(); at !== undefined; at = open.pop()) {
    for (const next of graph.outNeighbors(at)) {
      if (seen.has(next)) continue;
      seen.add(next);
      open.push(next);
    }
  }
  return seen;
}

describe("what serves where", () => {
  it("is what a graph library reaches, over any number of links, never backwards through a supersession", () => {
    fc.assert(
      fc.property(
        fc.array(fc.uniqueArray(number, { minLength: 2, maxLength: 4 }), { maxLength: 5 }),
        fc.array(pair, { maxLength: 6 }),
        (sets, pairs) => {
          // Later numbers are the greater ones here, so that no supersession runs in a circle by itself.
          const later = pairs.map(([a, b]) => [Math.min(a, b), Math.max(a, b)] as const);
          const graph = new DirectedGraph();
          for (let i = 0; i < COUNT; i++) graph.addNode(name(i));
          for (const set of sets)
            for (const a of set) for (const b of set) if (a !== b) graph.mergeEdge(name(a), name(b));
          const mutual = graph.copy();
          for (const [old, newer] of later) graph.mergeEdge(name(newer), name(old));
          // A circle through an interchange contradicts itself and is left out; such cases are another test's.
          fc.pre(
            later.every(
              ([old, newer]) =>
                !reachable(graph, name(old)).has(name(newer)) || reachable(mutual, name(old)).has(name(newer)),
            ),
          );
          const catalog = checkCatalog({
            format: "falsefit-catalog/1",
            interchange: sets.map((set) => ({ numbers: set.map(name) })),
            supersession: later.map(([old, newer]) => ({ old: name(old), new: name(newer) })),
          });
          if (!catalog.ok) throw new Error(JSON.stringify(catalog.faults));
          const index = buildIndex([catalog.value]);
          for (let a = 0; a < COUNT; a++) {
            const reached = reachable(graph, name(a));
            for (let b = 0; b < COUNT; b++) expect(index.serves(name(a), name(b))).toBe(reached.has(name(b)));
          }
        },
      ),
      { numRuns: 500 },
    );
  });
});
