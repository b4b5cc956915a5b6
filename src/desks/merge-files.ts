/**
 * Several catalog files as one. The stricter reading wins, as when they are loaded side by side: what they disagree
 * on is left out of the merged file and named, so that it can never support a `fits`.
 */
import { connectorsDiffer, type KnownPart, type KnownRevision, mergeCatalogs } from "../catalog/merge.ts";
import { CATALOG_FORMAT, type Catalog, type Connector, type Part, type Revision } from "../formats/catalog.ts";
import { intervalOfDateText } from "../text/dates.ts";
import { canonicalNumber } from "../text/part-number.ts";

/** Something that the catalogs do not agree on, and where. */
export interface Disagreement {
  /** What is left out or widened: `quantity`, `connector`, `place` (a part in a revision) or `built`. */
  readonly kind: "quantity" | "connector" | "place" | "built";
  /** Id of the part, or `family/revision`. */
  readonly at: string;
  /** Name of the quantity, or id of the part whose place is disputed; `""` otherwise. */
  readonly what: string;
}

/** Merges catalogs into one file's worth. */
export function mergeCatalogFiles(catalogs: readonly Catalog[]): { catalog: Catalog; disagreements: Disagreement[] } {
  const { parts, families } = mergeCatalogs(catalogs);
  const disagreements: Disagreement[] = [];
  const titles = catalogs.flatMap(({ title }) => title ?? []);
  const licenses = [...new Set(catalogs.flatMap(({ license }) => license ?? []))];
  const catalog: Catalog = {
    format: CATALOG_FORMAT,
    ...(titles.length > 0 ? { title: titles.join(" + ").slice(0, MAX_TEXT) } : {}),
    ...(licenses.length > 0 ? { license: licenses.join(", ").slice(0, MAX_TEXT) } : {}),
    families: families.map(({ id, maker, name, modelNumbers, revisions }) => ({
      id,
      ...(maker === undefined ? {} : { maker }),
      ...(name === undefined ? {} : { name }),
      modelNumbers: [...modelNumbers],
      revisions: revisions.map((revision) => mergedRevision(id, revision, disagreements)),
    })),
    parts: parts.map((part) => mergedPart(part, disagreements)),
    interchange: distinct(
      catalogs.flatMap(({ interchange }) => interchange),
      ({ numbers }) => numbersKey(numbers),
    ),
    supersession: distinct(
      catalogs.flatMap(({ supersession }) => supersession),
      (entry) => `${canonicalNumber(entry.old)} ${canonicalNumber(entry.new)}`,
    ),
  };
  return { catalog, disagreements };
}

const MAX_TEXT = 2_000;

function mergedRevision(family: string, revision: KnownRevision, disagreements: Disagreement[]): Revision {
  const { id, name, tellBy, boardNumbers, years, parts, disputed } = revision;
  const at = `${family}/${id}`;
  for (const what of disputed) disagreements.push({ kind: "place", at, what });
  const built = widestSpan(revision);
  if (revision.built.length > 1 && revision.built.some((span) => span.from !== built?.from || span.to !== built?.to)) {
    disagreements.push({ kind: "built", at, what: "" });
  }
  return {
    id,
    ...(name === undefined ? {} : { name }),
    boardNumbers: [...boardNumbers],
    ...(built === null ? {} : { built }),
    ...(years.length === 0 ? {} : { years: [...years] }),
    ...(tellBy === undefined ? {} : { tellBy }),
    parts: [...parts],
  };
}

/** The span that holds every catalog's span; an end that any of them leaves open is open. */
function widestSpan({ built }: KnownRevision): { from?: string; to?: string } | null {
  if (built.length === 0) return null;
  const from = outermost(
    built.map((span) => span.from),
    (text) => -(intervalOfDateText(text)?.from ?? 0),
  );
  const to = outermost(
    built.map((span) => span.to),
    (text) => intervalOfDateText(text)?.to ?? 0,
  );
  return { ...(from === null ? {} : { from }), ...(to === null ? {} : { to }) };
}

function outermost(texts: readonly (string | undefined)[], rank: (text: string) => number): string | null {
  let best: string | null = null;
  for (const text of texts) {
    if (text === undefined || intervalOfDateText(text) === null) return null;
    if (best === null || rank(text) > rank(best)) best = text;
  }
  return best;
}

function mergedPart({ id, type, name, numbers, readings }: KnownPart, disagreements: Disagreement[]): Part {
  const quantities = new Map<string, string | number | boolean>();
  const disputed = new Set<string>();
  for (const { part } of readings) {
    for (const [what, value] of Object.entries(part.quantities ?? {})) {
      if (quantities.has(what) && quantities.get(what) !== value) disputed.add(what);
      quantities.set(what, value);
    }
  }
  for (const what of disputed) {
    quantities.delete(what);
    disagreements.push({ kind: "quantity", at: id, what });
  }
  const connectors = readings.flatMap(({ part }) => part.connector ?? []);
  const agree = connectors.every((one) => connectors.every((other) => !connectorsDiffer(one, other)));
  if (!agree) disagreements.push({ kind: "connector", at: id, what: "" });
  const connector = agree ? fullestConnector(connectors) : null;
  return {
    id,
    type,
    ...(name === undefined ? {} : { name }),
    numbers: [...numbers],
    ...(quantities.size === 0 ? {} : { quantities: Object.fromEntries(quantities) }),
    ...(connector === null ? {} : { connector }),
  };
}

/** Of connectors that agree, everything that any of them states. */
function fullestConnector(connectors: readonly Connector[]): Connector | null {
  if (connectors.length === 0) return null;
  const pins = connectors.flatMap((each) => (each.pins ? [each.pins] : [])).sort((a, b) => b.length - a.length)[0];
  const positions = connectors.find((each) => each.positions !== undefined)?.positions;
  const family = connectors.find((each) => each.family !== undefined)?.family;
  return {
    ...(family === undefined ? {} : { family }),
    ...(positions === undefined ? {} : { positions }),
    ...(pins === undefined ? {} : { pins: [...pins] }),
  };
}

function numbersKey(numbers: readonly string[]): string {
  return numbers.map(canonicalNumber).sort().join(" ");
}

function distinct<T>(entries: readonly T[], keyOf: (entry: T) => string): T[] {
  const seen = new Set<string>();
  return entries.filter((entry) => {
    const key = keyOf(entry);
    if (seen.has(key)) return false;
    seen.add(key);
    return true;
  });
}
