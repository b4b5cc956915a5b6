/**
 * Which part of a page has to be read again after a change: the elements that came or changed, with a few known
 * cards beside them, so that a single new card is still recognised as one of a run.
 */
import type { FoundListing } from "./read.ts";
import type { Scope } from "./tree.ts";

/** How many known cards are read along with what is new. */
const SAMPLES = 3;
/** Most changed elements that are read one by one; more are read as a whole page. */
export const MAX_CHANGED = 400;

/**
 * The part of a page to walk.
 *
 * @param changed elements that were added or whose content changed
 * @param known listings found before, by card
 */
export function scopeOf(changed: readonly Element[], known: ReadonlyMap<Element, FoundListing>): Scope {
  const whole = new Set<Element>(changed);
  for (const element of changed) {
    for (const sample of samplesBeside(element, known)) whole.add(sample);
  }
  const passed = new Set<Element>();
  for (const element of whole) {
    for (let at = element.parentElement; at !== null && !passed.has(at); at = at.parentElement) passed.add(at);
  }
  return { whole, passed };
}

/** Known cards before the element among its siblings, and those of its parent's neighbours (rows of cards). */
function samplesBeside(element: Element, known: ReadonlyMap<Element, FoundListing>): Element[] {
  const samples: Element[] = [];
  let at: Element | null = element.previousElementSibling;
  for (let step = 0; at !== null && step < SAMPLES * 4 && samples.length < SAMPLES; step++) {
    if (known.has(at)) samples.push(at);
    at = at.previousElementSibling;
  }
  at = element.nextElementSibling;
  for (let step = 0; at !== null && step < SAMPLES * 4 && samples.length < SAMPLES; step++) {
    if (known.has(at)) samples.push(at);
    at = at.nextElementSibling;
  }
  if (samples.length > 0) return samples;
  const row = element.parentElement?.previousElementSibling ?? null;
  return row === null
    ? []
    : Array.from(row.children)
        .filter((child) => known.has(child))
        .slice(0, SAMPLES);
}

/** Of a set of elements, those that lie in no other of them. */
export function outermost(elements: ReadonlySet<Element>): Element[] {
  return [...elements].filter((element) => {
    for (let at = element.parentElement; at !== null; at = at.parentElement) if (elements.has(at)) return false;
    return true;
  });
}
