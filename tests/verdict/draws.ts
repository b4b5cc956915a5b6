/**
 * What the properties are drawn from: listings of loose pieces, and drafts made of sentences, whose numbers can be put in,
 * taken out and spelled anew. `FALSEFIT_DRAWS=10000` draws more often, `FALSEFIT_SEED` draws others.
 */
import fc from "fast-check";
import { type Listing, listingSchema } from "../../src/formats/listing.ts";
import { canonicalNumber } from "../../src/text/part-number.ts";
import type { PreparedDevice } from "../../src/verdict/index.ts";
import { type StandingWord, standingOf } from "../../src/verdict/standing.ts";
import { everyDevice } from "./bench.ts";

const asked = Number(process.env["FALSEFIT_DRAWS"] ?? 0);

/** How often to draw: so many times in every run, FALSEFIT_DRAWS times where it is set. */
export function draws(usual: number): { numRuns: number } {
  return { numRuns: asked > 0 ? asked : usual };
}

/** Milliseconds that a property may take. */
export const PATIENCE = { timeout: asked > 0 ? 3_600_000 : 60_000 };

export type DeviceName = keyof typeof everyDevice;
const deviceNames = Object.keys(everyDevice) as DeviceName[];
export const someDevice: fc.Arbitrary<DeviceName> = fc.constantFrom(...deviceNames);

/** Devices of which less is known, beside those of which more is known. */
export const lessKnown: readonly (readonly [less: DeviceName, more: DeviceName])[] = [
  ["open", "early"],
  ["open", "late"],
  ["open", "changeover"],
  ["changeover", "early"],
  ["changeover", "late"],
  ["mixed", "early"],
  ["scrubOpen", "scrubA"],
  ["scrubOpen", "scrubB"],
  ["scrubOpen", "scrubBC"],
  ["scrubBC", "scrubB"],
];

// --- loose pieces --------------------------------------------------------------------------------------------------

/** Pieces that listings are made of, with and without meaning for the devices. */
export const pieces = [
  ..."PB-1840 PB1840-R PB-2240 PB-2240A QK-77A ZZ-9001 PC-0520 OF-B216 XR-7712 PB-1860 PL-20 PL-20E MV300".split(" "),
  ..."PW-4410-2 PW-4410-5 CB-5018 CB-5021 CB-5022 VQ-318 CM-79X CG-5 CT-2 CVB-200".split(" "),
  ..."battery Akku batterie batería batteria bateria charger cable cover handheld 2019 2021 2022".split(" "),
  ..."3.7V 17.1Wh 7.4V 21.6V 6-cell 5-pin".split(" "),
  ..."for für pour para per do fits passt replaces ersetzt remplace not nicht pas no non nie only nur or oder".split(
    " ",
  ),
  ..."and , . ( ) / - : ! ?".split(" "),
  ..."early board|late board|second series|not for|does not fit|replaced by|compatible with|all models".split("|"),
  ..."probably|like|same connector as|choose|defective|without|with|wanted|new|original|2 pcs".split("|"),
];

/** Titles of loose pieces. */
const title = fc.array(fc.constantFrom(...pieces), { minLength: 1, maxLength: 14 }).map((words) => words.join(" "));

/** Listings of loose pieces. */
export const looseListing: fc.Arbitrary<Listing> = fc.record(
  {
    title,
    description: title,
    condition: fc.constantFrom("New", "Used", "for parts", "defekt"),
    specifics: fc.dictionary(fc.constantFrom("MPN", "Part number", "Compatible with", "Modell", "SKU"), title, {
      maxKeys: 2,
    }),
  },
  { requiredKeys: ["title"] },
);

// --- drafts ----------------------------------------------------------------------------------------------------------

/** A listing for one device; part numbers stand between « and ». */
export interface Draft {
  readonly name: DeviceName;
  readonly listing: Listing;
}

/** What sentences are filled with: # a part number, @ a model, % a board, $ a quantity, ~ a type of part, ^ a year. */
const sentences = {
  en: [
    "~ # for @",
    "~ #",
    "# ~ @ %",
    "~ for @, # or #",
    "# replaces #",
    "# is the same as #",
    "~ for @, not #",
    "not for %",
    "only for %",
    "# ~ $",
    "~ for @, $",
    "~ # fits all @",
    "~ for @ built ^",
    "# only for ^",
    "probably #",
    "similar to #",
    "# and #",
    "choose # / #",
    "does not fit @",
    "# was replaced by #",
    "compatible with #, # and @",
    "~ @",
    "%",
    "used, # works well",
    "second series only",
    "not before ^",
    "$",
    "for parts",
  ],
  de: [
    "~ # für @",
    "~ für @, nicht #",
    "# ersetzt #",
    "passend für %",
    "nicht für %",
    "# oder #, bitte wählen",
    "nur für Baujahr ^",
    "# ~ $",
    "passt für alle @",
    "vermutlich #",
  ],
  fr: ["~ # pour @", "# remplace #", "pas pour %", "~ compatible avec # et #", "seulement %", "# ~ $"],
  es: ["~ # para @", "# sustituye a #", "no es #", "solo para %", "~ para todos los @"],
  it: ["~ # per @", "# sostituisce #", "non per %", "solo ^", "# ~ $"],
  pl: ["~ # do @", "# zastępuje #", "nie do %", "tylko ^", "# ~ $"],
} as const;
const typeWords: Readonly<Record<string, string>> = {
  battery: "battery",
  charger: "charger",
  motor: "motor",
  "display-panel": "display",
  keyboard: "keyboard",
  "memory-module": "memory",
  "control-board": "control board",
  pump: "pump",
};
const quantities = ["3.7V", "3.8 V", "7.4V", "21.6V", "25.2 V", "18V", "6 cells", "7-cell", "230V", "40 pin", "1.2V"];
const joints = [". ", ", ", " | ", " - ", " ", "; ", "\n"];

interface Vocabulary {
  readonly numbers: readonly string[];
  readonly models: readonly string[];
  readonly boards: readonly string[];
  readonly types: readonly string[];
}

const vocabularies = new Map<DeviceName, Vocabulary>();

/** Numbers, models and boards of a device's family, and some of nobody's. */
export function vocabularyOf(name: DeviceName): Vocabulary {
  const known = vocabularies.get(name);
  if (known !== undefined) return known;
  const device: PreparedDevice = everyDevice[name];
  const listed = device.revisions.flatMap(({ parts }) => parts.flatMap((part) => part.numbers));
  const own = [...device.fitted.keys(), ...device.accepted, ...device.refused];
  const lists = [...device.index.numbers()].flatMap((number) => device.index.listedBeside(number));
  const made = {
    numbers: [...new Set([...listed, ...own, ...lists, "XR-7712", "OF-B216"])],
    models: [...device.device.modelNumbers, ...(device.family?.modelNumbers ?? []), "MV300", "CT-2"],
    boards: [...device.revisions.flatMap(({ revision }) => revision.boardNumbers), "ZB-99-1"],
    types: [...new Set([...device.types].map((type) => typeWords[type] ?? type))],
  };
  vocabularies.set(name, made);
  return made;
}

function filled(sentence: string, vocabulary: Vocabulary): fc.Arbitrary<string> {
  const { numbers, models, boards, types } = vocabulary;
  const of = (sign: string): fc.Arbitrary<string> => {
    if (sign === "#") return fc.constantFrom(...numbers).map((number) => `«${number}»`);
    if (sign === "@") return fc.constantFrom(...models);
    if (sign === "%") return fc.constantFrom(...boards);
    if (sign === "$") return fc.constantFrom(...quantities);
    if (sign === "~") return fc.constantFrom(...types);
    return sign === "^" ? fc.integer({ min: 2016, max: 2023 }).map(String) : fc.constant(sign);
  };
  return fc.tuple(...sentence.split(/([#@%$~^])/).map(of)).map((parts) => parts.join(""));
}

/** Every language, English twice: most rules have their plainest wording there. */
const LANGUAGES = ["en", "en", "de", "fr", "es", "it", "pl"] as const;

function textOf(vocabulary: Vocabulary, languages: readonly (keyof typeof sentences)[]): fc.Arbitrary<string> {
  return fc.constantFrom(...languages).chain((each) => {
    const sentence = fc.constantFrom(...sentences[each]).chain((text) => filled(text, vocabulary));
    return fc
      .tuple(fc.array(sentence, { minLength: 1, maxLength: 2 }), fc.constantFrom(...joints))
      .map(([all, joint]) => all.join(joint));
  });
}

/** Drafts for one device; each text of a draft is in one of the languages. */
export function draftFor(
  name: DeviceName,
  languages: readonly (keyof typeof sentences)[] = LANGUAGES,
): fc.Arbitrary<Draft> {
  const vocabulary = vocabularyOf(name);
  const some = (sign: string): fc.Arbitrary<string> => filled(sign, vocabulary);
  const specifics = fc.record(
    { MPN: some("#"), Model: some("@"), Board: some("%"), "Compatible with": some("#, #") },
    { requiredKeys: [] },
  );
  return fc
    .record(
      {
        title: textOf(vocabulary, languages),
        description: textOf(vocabulary, languages),
        condition: fc.constantFrom("Used", "New", "for parts"),
        specifics,
      },
      { requiredKeys: ["title"] },
    )
    .map((listing) => ({ name, listing }));
}

/** Drafts for any device. */
export const someDraft: fc.Arbitrary<Draft> = someDevice.chain(draftFor);

/** The draft as a listing, its numbers written in some way. */
export function written({ listing }: Draft, spell: (number: string) => string = (number) => number): Listing {
  const text = (from: string): string => from.replace(/«([^»]*)»/g, (_, number: string) => spell(number));
  return listingSchema.parse({
    ...listing,
    title: text(listing.title) || "-",
    ...(listing.description === undefined ? {} : { description: text(listing.description) }),
    ...(listing.specifics === undefined
      ? {}
      : { specifics: Object.fromEntries(Object.entries(listing.specifics).map(([key, value]) => [key, text(value)])) }),
  });
}

/** Numbers of the family that stand to the device in one of some ways, with the type of their part. */
export function numbersStanding(
  name: DeviceName,
  ...words: readonly StandingWord[]
): { number: string; types: readonly string[] }[] {
  return vocabularyOf(name).numbers.flatMap((number) => {
    const { word, types } = standingOf(canonicalNumber(number), everyDevice[name]);
    return words.includes(word) ? [{ number, types }] : [];
  });
}
