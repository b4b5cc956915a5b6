/**
 * The part of the catalogs that one page needs for the saved devices: their families whole, with everything that
 * serves in the place of their parts; of all else only what tells that a number is another device's.
 */
import type { Device } from "../formats/bench.ts";
import type { Catalog, Family, Part } from "../formats/catalog.ts";
import { canonicalNumber } from "../text/part-number.ts";
import { buildIndex, type CatalogIndex, type KnownFamily } from "./index.ts";
import { resolveRevisions } from "./resolve.ts";

/** Most parts and families of other devices that a slice carries, numbers only. */
const MAX_FOREIGN = 2_000;

/**
 * Cuts catalogs down to some devices. Verdicts for these devices stay what they are with the whole catalogs, but that a
 * number of another device may be called unknown where there are more than {@link MAX_FOREIGN} of them.
 *
 * @returns one catalog for each given one, in the same order, plain data
 */
export function sliceFor(catalogs: readonly Catalog[], devices: readonly Device[]): Catalog[] {
  const index = buildIndex(catalogs);
  const families = new Set(devices.flatMap((device) => resolveRevisions(device, index).family ?? []));
  const numbers = numbersOf(families, devices, index);
  const ids = new Set([...families].flatMap(({ aliases }) => aliases));
  let room = MAX_FOREIGN;
  return catalogs.map((catalog) => {
    const [kept, otherFamilies] = divided(
      catalog.families,
      ({ id, modelNumbers }) => ids.has(id) && isOneOf(modelNumbers, id, families),
    );
    const listed = new Set(kept.flatMap(({ revisions }) => revisions.flatMap(({ parts }) => parts)));
    const [own, otherParts] = divided(catalog.parts, ({ id, numbers: all }) => listed.has(id) || touches(all, numbers));
    const others = otherParts.slice(0, room);
    room -= others.length;
    const known = new Set([...own, ...others].map(({ id }) => id));
    const foreign = otherFamilies.slice(0, room);
    room -= foreign.length;
    return {
      format: catalog.format,
      families: [...kept, ...foreign.map((family) => strippedFamily(family, known))],
      parts: [...own, ...others.map(strippedPart)],
      interchange: catalog.interchange.filter((entry) => touches(entry.numbers, numbers)),
      supersession: catalog.supersession.filter(({ old, new: later }) => touches([old, later], numbers)),
    };
  });
}

/** Every number that matters to the devices: of their parts, on them, and all that is tied to these. */
function numbersOf(
  families: ReadonlySet<KnownFamily>,
  devices: readonly Device[],
  index: CatalogIndex,
): ReadonlySet<string> {
  const printed = [...families].flatMap(({ revisions }) =>
    revisions.flatMap(({ parts, disputed }) => [...parts, ...disputed].flatMap((id) => index.part(id)?.numbers ?? [])),
  );
  for (const { fitted, accept, refuse } of devices) {
    printed.push(...fitted.flatMap(({ numbers }) => numbers), ...[...accept, ...refuse].map(({ number }) => number));
  }
  return new Set(printed.flatMap((number) => index.related(number)));
}

/** Those that pass and those that do not, each in their order. */
function divided<T>(things: readonly T[], passes: (thing: T) => boolean): [passing: T[], others: T[]] {
  const passing: T[] = [];
  const others: T[] = [];
  for (const thing of things) (passes(thing) ? passing : others).push(thing);
  return [passing, others];
}

function isOneOf(models: readonly string[], id: string, families: ReadonlySet<KnownFamily>): boolean {
  const own = new Set(models.map(canonicalNumber));
  return [...families].some(
    ({ aliases, modelNumbers }) =>
      aliases.includes(id) && (own.size === 0 || modelNumbers.some((model) => own.has(canonicalNumber(model)))),
  );
}

function touches(printed: readonly string[], numbers: ReadonlySet<string>): boolean {
  return printed.some((number) => numbers.has(canonicalNumber(number)));
}

/** Another device: its models and which parts it has, nothing more. */
function strippedFamily({ id, maker, name, modelNumbers, revisions }: Family, known: ReadonlySet<string>): Family {
  const parts = [...new Set(revisions.flatMap((revision) => revision.parts))].filter((part) => known.has(part));
  return {
    id,
    modelNumbers,
    revisions: parts.length === 0 ? [] : [{ id: "any", boardNumbers: [], parts }],
    ...(maker === undefined ? {} : { maker }),
    ...(name === undefined ? {} : { name }),
  };
}

function strippedPart({ id, type, numbers }: Part): Part {
  return { id, type, numbers };
}
