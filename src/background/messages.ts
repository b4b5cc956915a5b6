/**
 * Everything that our own parts say to each other: one union of requests to the background, one of commands to a
 * page's overlay, and what each is answered with. Requests are checked by these schemas before anything else sees
 * them. The overlay imports types only, so that it carries no schema library.
 */
import * as z from "zod";
import { currencyCode, decimalAmount, identifier, printedNumber, shortText } from "../formats/common.ts";
import { listingSchema } from "../formats/listing.ts";
import { type PageShape, pageShapeSchema } from "../formats/page-shape.ts";
import type { PageWords } from "../formats/page-words.ts";
import { tierWords, type Verdict } from "../formats/verdict.ts";
import type { Settings } from "../store/settings.ts";
import type { OfferedNames } from "../text/money-names.ts";
import type { Messages } from "../text/words.ts";
import type { Explanation } from "../ui/explanation.ts";

/** Longest text that is taken over from a page or a paste, in UTF-16 code units. */
const MAX_TEXT_CHARS = 20_000;

/** Most listings that one message may carry. */
const MAX_LISTINGS = 250;

/** Scheme and host, as the store names sites. */
const site = z
  .string()
  .max(300)
  .regex(/^https?:\/\/[^/]+$/);
const count = z.number().int().min(0).max(1_000_000);
const tab = z.number().int().min(0);
const someText = z.string().max(MAX_TEXT_CHARS);

/** What an overlay tells about its page. */
const pageStateSchema = z.strictObject({
  /** `idle`: not asked to mark; `watching`: no listing yet; `marking`; `no-device`: nothing to judge for. */
  phase: z.enum(["idle", "watching", "marking", "no-device"]),
  device: z.string().max(2_000).nullable(),
  /** The tier that the page's sentence is about. */
  tone: z.enum(tierWords),
  /** Listings of each tier that are not unrelated. */
  tiers: z.partialRecord(z.enum(tierWords), count),
  /** The one sentence that matters, in the person's language. */
  sentence: shortText,
  /** Marks are there but hidden by the person. */
  hidden: z.boolean(),
});

/** Most sentences that are said at a time, and most entries of one that lists something. */
const MAX_SENTENCES = 12;
const MAX_LISTED = 1_000;
const sentenceKey = z.string().regex(/^[a-z0-9_]{1,80}$/);
const valueNames = z.string().regex(/^[A-Za-z][A-Za-z0-9]{0,40}$/);
const plainValue = z.union([z.string().max(2_000), z.number(), z.array(z.string().max(2_000)).max(MAX_LISTED)]);
const moneyValue = z.strictObject({ amount: decimalAmount, currency: currencyCode });
const sentenceSchema = z.union([
  z.strictObject({ key: sentenceKey, values: z.record(valueNames, z.union([plainValue, moneyValue])).optional() }),
  z.strictObject({
    hazard: z.strictObject({ code: z.string().regex(/^[a-z0-9-]{1,80}$/), values: z.record(valueNames, plainValue) }),
  }),
]);

/** Where the workbench opens. */
const workbenchPlaces = ["bench", "catalogs", "title-check", "order-check", "settings"] as const;

/** What may be asked of the background. */
export const requestSchema = z.discriminatedUnion("kind", [
  /** A page's overlay wants what it needs to read and draw; the page's language, where it says one, spares it the other words. */
  z.strictObject({ kind: z.literal("pack"), language: z.string().max(40).optional() }),
  /** A page's overlay found listings and wants its second script. */
  z.strictObject({ kind: z.literal("load-marks") }),
  /** A page's overlay tells how its page stands. */
  z.strictObject({ kind: z.literal("report"), state: pageStateSchema }),
  /** Listings of a page are judged for the device in hand; each is checked on its own, so that one never stops the others. */
  z.strictObject({
    kind: z.literal("judge-listings"),
    device: identifier,
    listings: z.array(z.unknown()).max(MAX_LISTINGS),
  }),
  /** One listing of a page is judged and put into words. */
  z.strictObject({ kind: z.literal("explain-listing"), device: identifier, listing: listingSchema }),
  /** Sentences of a page's strip are put into words. */
  z.strictObject({ kind: z.literal("say"), sentences: z.array(sentenceSchema).max(MAX_SENTENCES) }),
  /** A number is settled by hand for the device in hand. */
  z.strictObject({
    kind: z.literal("settle"),
    device: identifier,
    number: printedNumber,
    as: z.enum(["accept", "refuse", "forget"]),
  }),
  /** A shape that a person taught on a page is kept. */
  z.strictObject({ kind: z.literal("keep-shape"), shape: pageShapeSchema }),
  z.strictObject({ kind: z.literal("open-workbench"), place: z.enum(workbenchPlaces) }),
  /** One pasted title is judged for the device in hand. */
  z.strictObject({ kind: z.literal("judge-text"), text: someText }),
  /** The permission for a site is being asked for; should the popup close over it, the background finishes. */
  z.strictObject({ kind: z.literal("site-wanted"), site, tab }),
  /** A site is switched on (its permission is there) or off. */
  z.strictObject({ kind: z.literal("switch-site"), site, on: z.boolean(), tab: tab.nullable() }),
  /** Marks one page once, by the permission that a click on the toolbar gives. */
  z.strictObject({ kind: z.literal("mark-once"), tab }),
  /** The example device and its catalogs are put on the bench and taken in hand. */
  z.strictObject({ kind: z.literal("add-example") }),
  /** The example devices and their catalog are thrown away. */
  z.strictObject({ kind: z.literal("drop-example") }),
  /** The text that a menu handed over to the popup or the workbench; it is handed out once. */
  z.strictObject({ kind: z.literal("take-text") }),
  /** The workbench writes a title back into the field that it was read from. */
  z.strictObject({ kind: z.literal("write-back"), tab, frame: z.number().int().min(0), text: someText }),
]);

/** What may be asked of the background. */
export type Request = z.infer<typeof requestSchema>;
/** How a page stands. */
export type PageState = z.infer<typeof pageStateSchema>;
/** Where the workbench opens. */
export type WorkbenchPlace = (typeof workbenchPlaces)[number];

/** Requests that a page's overlay may make; all others are for our own pages. */
export const requestsOfPages: ReadonlySet<Request["kind"]> = new Set([
  "pack",
  "load-marks",
  "report",
  "judge-listings",
  "explain-listing",
  "say",
  "settle",
  "keep-shape",
  "open-workbench",
]);

/** What a page's overlay needs to read and draw; it gets nothing of the saved device but what it shows. */
export interface PagePack {
  /** Is this site switched on? If not, the overlay waits until it is asked. */
  readonly on: boolean;
  /** The device in hand: its id, what it is called, and the names of its family's revisions. */
  readonly device: {
    readonly id: string;
    readonly name: string;
    readonly revisionNames: Readonly<Record<string, string>>;
  } | null;
  /** Shapes of this host only, taught ones first. */
  readonly pageShapes: readonly PageShape[];
  /** Words of the page's language only. */
  readonly pageWords: readonly PageWords[];
  /** What the page's language calls currencies, where the page says its language. */
  readonly currencyNames: OfferedNames | undefined;
  readonly language: string;
  /** Sentences that an overlay says. */
  readonly messages: Messages;
  readonly settings: Settings;
}

/** A text that a menu handed over. */
export interface HandedText {
  readonly text: string;
  /** The field it was read from, where it may be written back to. */
  readonly field: { readonly tab: number; readonly frame: number } | null;
}

/** What each request is answered with. */
export interface Answers {
  pack: PagePack;
  "load-marks": null;
  report: null;
  "judge-listings": readonly (Verdict | null)[];
  "explain-listing": Explanation;
  say: readonly string[];
  settle: null;
  "keep-shape": null;
  "open-workbench": null;
  "judge-text": Explanation;
  "site-wanted": null;
  "switch-site": null;
  "mark-once": null;
  "add-example": { device: string };
  "drop-example": null;
  "take-text": HandedText | null;
  "write-back": null;
}

/** Why a request was not answered. */
export interface Failure {
  readonly code: "not-understood" | "not-allowed" | "no-device" | "page-closed-to-us" | "no-such-thing" | "failed";
  /** For the developers' console, not for the page. */
  readonly detail: string;
}

/** The answer to a request, or why there is none. */
export type Reply<K extends Request["kind"]> =
  | { readonly ok: true; readonly data: Answers[K] }
  | { readonly ok: false; readonly failure: Failure };

/** What the overlay of a page may be told. */
export type PageCommand =
  | { readonly kind: "state" }
  | { readonly kind: "start" }
  | { readonly kind: "stop" }
  /** Device, catalogs or settings changed: fetch the pack again. */
  | { readonly kind: "refresh" }
  /** The page went somewhere else without loading anew. */
  | { readonly kind: "look-again" }
  | { readonly kind: "move"; readonly to: "next" | "previous" }
  | { readonly kind: "toggle-marks" }
  | { readonly kind: "check-text"; readonly text: string }
  | { readonly kind: "teach" };

/** What each command is answered with. */
export interface CommandAnswers {
  state: PageState;
  start: PageState;
  stop: null;
  refresh: null;
  "look-again": null;
  move: null;
  "toggle-marks": null;
  "check-text": null;
  teach: null;
}
