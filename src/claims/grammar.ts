/**
 * From items to claims: a light grammar that goes through each sentence once.
 *
 * A phrase of fit sets the *stance* in which the following things are named; the stance reaches over a list and
 * into brackets and ends with the sentence, at a contrast ("but") or where another thing begins to be described.
 * Some phrases look back instead ("PB-1840 not compatible"). Doubt ("probably") covers its whole sentence.
 */
import type { Claim, RevisionWord, Stance, UniversalClaim } from "./claims.ts";
import { type Field, spanOf, stopsBehind } from "./fields.ts";
import type { Item } from "./items.ts";
import { ORDINAL_KIND, TYPE_KIND } from "./vocabulary.ts";

/** What a field says, and what colours the whole of it. */
export interface FieldClaims {
  readonly claims: readonly Claim[];
  /** True where a doubt is said about fit without naming a thing. */
  readonly doubt: boolean;
  /** True where the buyer is asked to choose. */
  readonly choice: boolean;
  /** True where one thing is said to be for both of two. */
  readonly both: boolean;
}

/** How many items a phrase looks ahead for what it is about. */
const REACH = 7;
/** Kinds that steer the stance: what lies behind one of them is out of reach of the one before. */
const STEERING = new Set(
  "for replaces replacedBy against not only except but instead passing elsewhere sent with without".split(" "),
);

/** What a warning may pass over on the way to its target: "does not fit / not for", "nie pasuje zamiast". */
const AFTER_AGAINST: ReadonlySet<string> = new Set(["for", "replaces", "instead", "against", "not"]);
const AFTER_ONLY: ReadonlySet<string> = new Set(["for"]);
const NOTHING: ReadonlySet<string> = new Set();

type Break = "none" | "soft" | "hard";
type Phrase = Extract<Item, { type: "phrase" }>;
type Base = Omit<UniversalClaim, "kind">;

/** Revisions named in words, the tokens of each, and the item to go on from. */
interface NamedRevisions {
  readonly words: readonly { readonly word: RevisionWord; readonly first: number; readonly last: number }[];
  readonly next: number;
}

/** Reads one field's items. `start` is the stance that the field's name sets. */
export function readGrammar(field: Field, items: readonly Item[], start: Stance = "plain"): FieldClaims {
  return new Reader(field, items, start).read();
}

class Reader {
  readonly #field: Field;
  readonly #items: readonly Item[];
  readonly #start: Stance;
  readonly #claims: Claim[] = [];
  #stance: Stance;
  #only = false;
  #equal = false;
  #chosen = false;
  #choice = false;
  /** The clause begins with "also". */
  #also = false;
  #doubt = false;
  #both = false;
  /** "both" was said in this sentence: "as" and "like" then join its two things. */
  #bothHere = false;
  #cue: "number" | "model" | "stock" | null = null;
  /** The text begins with a part type. */
  #leadsWithType = false;
  /** "and" or "or" stands in the list. */
  #listJoined = false;
  /** Claims of the list that was named last, and whether only list words followed since. */
  #list: Claim[] = [];
  #adjacent = false;
  #lists = 0;
  /** A comma, dash or "and" stood since the last claim. */
  #restart = false;
  #joined = false;
  #sentenceStart = 0;
  /** How many claims stood before the condition of this sentence; -1 where it has none. */
  #condition = -1;
  #hedge = false;
  /** A list with a bullet a line was begun: "not for:". */
  #bulleted = false;
  /** The sentence opens as a question to the reader: "looking for …?". */
  #asks = false;
  /** Item at which the sentence and the clause begin. */
  #sentenceItem = 0;
  #clauseItem = 0;
  /** Whether ticks and crosses stand behind what they are about. */
  readonly #signsBehind: boolean;
  #fitSaid = false;
  /** Phrases that a "not" before them has used up. */
  readonly #skipped = new Set<number>();
  readonly #brackets: { stance: Stance; only: boolean }[] = [];

  constructor(field: Field, items: readonly Item[], start: Stance) {
    this.#field = field;
    this.#items = items;
    this.#start = start;
    this.#stance = start;
    this.#signsBehind = signsStandBehind(field);
  }

  read(): FieldClaims {
    for (let k = 0; k < this.#items.length; ) {
      this.#punctuate(k);
      k = this.#take(k);
    }
    const tail = this.#field.tokens.at(-1)?.gap ?? "";
    if (this.#signsBehind) this.#signBehind(signIn(tail));
    this.#endSentence(tail.includes("?"));
    return { claims: this.#claims, doubt: this.#doubt, choice: this.#choice, both: this.#both };
  }

  #take(k: number): number {
    const item = this.#items[k];
    if (item === undefined) return k + 1;
    const revisions = this.#revisionsAt(k);
    if (revisions !== null) {
      this.#narrow(k);
      for (const { word, first, last } of revisions.words) this.#claimRevision(word, first, last);
      return revisions.next;
    }
    if (item.type === "phrase") return this.#phrase(k, item);
    if (item.type === "word") {
      this.#plainWord(k);
      return k + 1;
    }
    if (item.type === "date" || (item.type === "number" && item.named?.board === true)) this.#narrow(k);
    this.#claimItem(item);
    return k + 1;
  }

  /** "does not fit PL-20 with board X": what is denied is the board; the model is only named as its device. */
  #narrow(k: number): void {
    const model = this.#list.at(-1);
    if (!this.#adjacent || this.#restart || this.#joined || this.#stance !== "against") return;
    if (model?.kind !== "number" || model.named?.model !== true || model.named.part || model.stance !== "against")
      return;
    if (/[/&+]/.test(this.#gapBefore(k))) return;
    model.stance = "plain";
  }

  // --- punctuation -------------------------------------------------------------------------------------------

  #gapBefore(k: number): string {
    const first = this.#items[k]?.first ?? 0;
    if (k > 0 && this.#items[k - 1]?.last !== first) return "";
    return first === 0 ? "" : (this.#field.tokens[first - 1]?.gap ?? "");
  }

  #breakBefore(k: number): Break {
    const gap = this.#gapBefore(k);
    if (gap === " " || gap === "" || gap === "-") return "none";
    if (HEADING.test(gap)) return "none";
    if (this.#bulleted && BULLET.test(gap)) return "soft";
    if (/[!?;|\n]/.test(gap)) return "hard";
    if (this.#items[k - 1]?.type === "number" && /\.\s/.test(gap)) return "hard";
    // "PB-1840 no. For …": an answer, where no number follows that it could be the sign of.
    if (this.#has(k - 1, "not") && !this.#isNumber(k) && /\.\s/.test(gap)) return "hard";
    if (stopsBehind(this.#field, (this.#items[k]?.first ?? 1) - 1)) return "hard";
    return /,|\s[-·]|[-·]\s|--|·/.test(gap) ? "soft" : "none";
  }

  #punctuate(k: number): void {
    const gap = k === 0 ? leadOf(this.#field) : this.#gapBefore(k);
    if (gap === " " || gap === "") return;
    const sign = signIn(gap);
    if (sign !== null && this.#signsBehind) this.#signBehind(sign);
    for (const sign of gap) {
      if (sign === "(" || sign === "[") this.#brackets.push({ stance: this.#stance, only: this.#only });
      else if (sign === ")" || sign === "]") this.#closeBracket();
    }
    const kind = this.#breakBefore(k);
    if (HEADING.test(gap)) this.#bulleted = true;
    else if (kind === "hard") this.#bulleted = false;
    if (gap.includes(":") && this.#stance === "against" && this.#adjacent) this.#relax();
    if (kind !== "none") {
      this.#clauseItem = k;
      this.#also = false;
    }
    if (kind === "hard") {
      this.#endSentence(gap.includes("?") && !this.#offers());
      this.#sentenceItem = k;
    } else if (kind === "soft") this.#beginClause(k);
    if (gap.includes("=")) this.#equate();
    if (sign !== null && !this.#signsBehind) this.#set(sign);
  }

  #closeBracket(): void {
    const before = this.#brackets.pop();
    if (before === undefined) return;
    this.#stance = before.stance;
    this.#only = before.only;
  }

  /** "fits A, in B it does not": what begins with another word is no further item of the list. */
  #beginClause(k: number): void {
    this.#restart = true;
    if (["and", "or", "equal"].some((kind) => this.#has(k, kind))) return;
    if (!this.#isThing(k) && this.#isTransparent(k)) this.#list = [];
  }

  /** "VKM-001 ✔ VKM-020 ✘": a sign behind what it is about. */
  #signBehind(sign: Sign | null): void {
    if (sign === null || !this.#adjacent) return;
    if (sign === "against") this.#turn();
    else this.#unlink();
  }

  /** The text opens with a question to the reader that names no part: "looking for …? Here is …". */
  #offers(): boolean {
    const named = this.#claims.some((claim) => claim.kind === "number" && claim.named?.model !== true);
    return this.#asks && this.#sentenceItem === 0 && !named;
  }

  /** "A = B": the text calls both one thing. */
  #equate(): void {
    for (const claim of this.#list) claim.equal = true;
    this.#equal = true;
  }

  #endSentence(question: boolean): void {
    const said = this.#claims.slice(this.#sentenceStart);
    const title = this.#field.part === "title";
    const asked = question && this.#adjacent;
    if (this.#hedge || asked) {
      for (const claim of said) claim.hedged = true;
      if (said.length > 0 || this.#fitSaid || title) this.#doubt = true;
    }
    this.#sentenceStart = this.#claims.length;
    this.#condition = -1;
    this.#stance = this.#start;
    this.#only = this.#equal = this.#chosen = this.#hedge = this.#fitSaid = this.#bothHere = false;
    this.#restart = this.#joined = this.#adjacent = this.#asks = false;
    this.#cue = null;
    this.#list = [];
    this.#brackets.length = 0;
  }

  // --- things named ------------------------------------------------------------------------------------------

  #base(first: number, last: number): Base {
    const { tokens } = this.#field;
    const span = spanOf(this.#field, tokens[first]?.start ?? 0, tokens[last - 1]?.end ?? 0);
    const { part } = this.#field;
    return {
      stance: this.#stance,
      only: this.#only,
      hedged: false,
      equal: this.#equal,
      chosen: this.#chosen,
      field: part,
      span,
    };
  }

  #claimItem(item: Item): void {
    const base = this.#base(item.first, item.last);
    if (item.type === "number") {
      const { tokens, folded } = this.#field;
      const written = folded.text.slice(tokens[item.first]?.start ?? 0, tokens[item.last - 1]?.end ?? 0);
      const { number, named, certain, doubtful } = item;
      const cued = this.#cue === "number";
      const list = this.#adjacent ? this.#lists : this.#lists + 1;
      this.#name({
        ...base,
        kind: "number",
        number,
        written,
        named,
        certain,
        doubtful,
        stock: this.#cue === "stock" && !(named?.part === true && isTelling(number)),
        cued,
        list,
      });
    } else if (item.type === "quantity") {
      const of = this.#typesBeside(item);
      for (const quantity of item.quantities) this.#name({ ...base, kind: "quantity", quantity, of });
    } else if (item.type === "date") {
      this.#claimDate(item, base);
    }
  }

  /** The part types named directly before or behind a quantity, other quantities passed over. */
  #typesBeside(item: Item): string[] {
    const k = this.#items.indexOf(item);
    return [-1, 1].flatMap((step) => {
      let i = k;
      do {
        if (this.#breakBefore(step < 0 ? i : i + 1) !== "none") return [];
        i += step;
      } while (this.#items[i]?.type === "quantity" && Math.abs(i - k) < REACH);
      const beside = this.#items[i];
      const meanings = beside?.type === "phrase" ? beside.meanings : [];
      return meanings.flatMap(({ kind }) => (kind.startsWith(TYPE_KIND) ? [kind.slice(TYPE_KIND.length)] : []));
    });
  }

  #claimDate(item: Extract<Item, { type: "date" }>, base: Base): void {
    const { date } = item;
    this.#cue = null;
    if (
      (!date.told && this.#isOfWares(item)) ||
      this.#isNoise(item) ||
      (date.notTheDevice && !this.#isMadeOfDevice(item))
    )
      return;
    const told = date.told || this.#stance !== "plain" || this.#only || this.#nearKind(item, "dateCue");
    this.#name({ ...base, kind: "date", interval: date.interval, told });
  }

  /** "© 2021", "new 2024", or a lone year behind the shop's terms in a text that names no device. */
  #isOfWares(item: Item): boolean {
    const k = this.#items.indexOf(item);
    if (this.#isCopyright(item)) return true;
    if (this.#breakBefore(k) === "none" && this.#has(k - 1, "fresh")) return true;
    if (this.#breakBefore(k + 1) === "none" && this.#has(k + 1, "fresh")) return true;
    return this.#isLastOfTerms(k);
  }

  /** "© 2021": folding drops the sign, which the text still has. */
  #isCopyright({ first }: Item): boolean {
    const { original, folded, tokens } = this.#field;
    const from = folded.at[tokens[first - 1]?.end ?? 0] ?? 0;
    return original.slice(from, folded.at[tokens[first]?.start ?? 0] ?? from).includes("©");
  }

  #isLastOfTerms(k: number): boolean {
    if (k !== this.#items.length - 1 || this.#breakBefore(k) === "none") return false;
    if (this.#items.some((each) => each.type === "number" && each.named?.part !== true)) return false;
    const number = this.#items.findLastIndex((each) => each.type === "number");
    return this.#items.slice(number + 1, k).some((_, i) => this.#has(number + 1 + i, "dateNoise"));
  }

  /** A word such as "warranty" or "fresh cells" close by, and no word of fit in between. */
  #isNoise(item: Item): boolean {
    const k = this.#items.indexOf(item);
    if (this.#nearKind(item, "made") && !this.#nearKind(item, "dateCue") && !this.#isMadeOfDevice(item)) return true;
    for (let i = k - 1; i >= Math.max(0, k - 5); i--) {
      if (this.#breakBefore(i + 1) !== "none") break;
      if (this.#has(i, "dateNoise") && !this.#has(i, "dateCue")) return true;
      const before = this.#items[i];
      const isPart = before?.type === "number" && before.named?.model !== true;
      if (this.#has(i, "for") || this.#has(i, "dateCue") || isPart) break;
    }
    for (let i = k + 1; i <= k + 2; i++) {
      if (this.#breakBefore(i) !== "none") break;
      if (this.#has(i, "dateNoise")) return true;
    }
    return false;
  }

  /** "printers made in 2022", "for PL-20 made 2017": what is named last before the word is the device. */
  #isMadeOfDevice(item: Item): boolean {
    const k = this.#items.indexOf(item);
    for (let i = k - 1; i >= Math.max(0, k - 6); i--) {
      if (this.#breakBefore(i + 1) !== "none") return false;
      const before = this.#items[i];
      if (before?.type === "number") return before.named?.model === true && !before.named.part;
      if (this.#has(i, "unitNoun") || this.#has(i, "device"))
        return this.#has(i + 1, "made") || this.#has(i + 2, "made");
      if (before?.type === "phrase" && before.meanings.some(({ kind }) => kind.startsWith(TYPE_KIND))) return false;
    }
    return false;
  }

  #nearKind(item: Item, kind: string): boolean {
    const k = this.#items.indexOf(item);
    for (let i = k - 1; i >= Math.max(0, k - 3); i--) {
      if (this.#has(i, kind)) return true;
      if (this.#breakBefore(i) !== "none") return false;
    }
    return this.#breakBefore(k + 1) === "none" && this.#has(k + 1, kind);
  }

  #claimRevision(revision: RevisionWord, first: number, last: number): void {
    this.#name({ ...this.#base(first, last), kind: "revision", revision });
  }

  #name(claim: Claim): void {
    if (!this.#adjacent) {
      this.#list = [];
      this.#listJoined = false;
      this.#lists++;
    }
    this.#list.push(claim);
    this.#claims.push(claim);
    this.#adjacent = true;
    this.#restart = this.#joined = this.#chosen = false;
    this.#cue = null;
  }

  // --- words and phrases -------------------------------------------------------------------------------------

  #plainWord(k: number): void {
    if (this.#restart && !this.#joined && /^(?:passing|successor|elsewhere)$/.test(this.#stance)) this.#relax();
    if (this.#isShortCode(k)) return;
    this.#unlink();
  }

  /** A single letter or digit does not end a list. */
  #isShortCode(k: number): boolean {
    const item = this.#items[k];
    return item !== undefined && (this.#field.words[item.first]?.length ?? 0) <= 1;
  }

  #unlink(): void {
    this.#adjacent = false;
    this.#only = false;
    this.#equal = false;
    this.#cue = null;
  }

  /** Back to naming without wording of fit. */
  #relax(): void {
    this.#stance = this.#start;
    this.#only = false;
  }

  #has(k: number, kind: string): boolean {
    const item = this.#items[k];
    return item?.type === "phrase" && item.meanings.some((meaning) => meaning.kind === kind);
  }

  #phrase(k: number, item: Phrase): number {
    const is = (kind: string): boolean => item.meanings.some((meaning) => meaning.kind === kind);
    const next = k + 1;
    if (this.#skipped.has(k)) return next;
    if (k - this.#sentenceItem <= 2 && (is("asks") || is("wanted"))) this.#asks = true;
    if (is("unsureAfter") && this.#fitSaid) this.#hedge = true;
    if (is("stocked") && this.#also && this.#adjacent) {
      this.#moveElsewhere();
      return next;
    }
    if (is("harmless") || is("notDefective")) {
      this.#unlink();
      return next;
    }
    if (is("affirm")) return next;
    if (is("hedge")) {
      this.#hedge ||= !this.#isOfDelivery(k) && !this.#isOfCount(k + 1);
      return next;
    }
    if (this.#steer(k, is)) return next;
    if (is("and") || is("or")) return this.#conjunction(k, is);
    if (is("choice") || is("both")) return this.#choose(k, is);
    if (is("all") || is("allOf")) return this.#universal(k, item);
    this.#describe(k, item, is);
    return next;
  }

  /** "wysyłka prawdopodobnie jutro": the clause speaks of the parcel and names no part. */
  #isOfDelivery(k: number): boolean {
    let delivery = false;
    for (let i = this.#clauseItem; i <= k + REACH && i < this.#items.length; i++) {
      if (i > k && this.#breakBefore(i) !== "none") break;
      if (this.#isThing(i)) return false;
      delivery ||= this.#has(i, "delivery");
    }
    return delivery;
  }

  /** "maybe 40 hours": the doubt is about a bare number. */
  #isOfCount(k: number): boolean {
    const item = this.#items[k];
    return (
      item?.type === "word" && this.#breakBefore(k) === "none" && this.#field.tokens[item.first]?.kind === "digits"
    );
  }

  /** Phrases of fit. Returns true where the phrase was one. */
  #steer(k: number, is: (kind: string) => boolean): boolean {
    if (is("elsewhereAfter") && this.#isSetApart(k)) return this.#moveElsewhere();
    if (is("discontinued") && this.#isNotFirst()) return this.#turn();
    if (is("elsewhere")) return this.#set("elsewhere");
    if (is("sent")) return this.#set("plain");
    if (is("asserts") && this.#corrects(k)) return this.#set("plain");
    if (is("not") && this.#isNumberSign(k)) {
      this.#cue = "number";
      return true;
    }
    if (is("relative")) return this.#aside();
    if (is("warn")) return this.#warn(k);
    if (is("needs") || (is("order") && this.#isConditional())) return this.#needs(k);
    if (is("ifAfter") && this.#adjacent) {
      this.#condition = this.#claims.length - this.#list.length;
      return true;
    }
    if (is("if")) this.#condition = this.#claims.length;
    if (is("not") && !is("against")) return this.#negate(k);
    if (is("except") && this.#ahead(k, 0) >= 0) return this.#except(k, is);
    if (is("defective") && this.#ahead(k, 1) < 0) return false;
    if (is("against") || is("againstAfter")) return this.#against(k, is);
    if (is("except")) return this.#except(k, is);
    if (is("replacedBy")) return this.#set("successor");
    if (is("equal") && !is("passing")) return this.#same(k);
    const tied = !is("passing") || this.#gapBefore(k) === "-" || this.#ahead(k, 2) < 0;
    if (is("passingAfter") && tied && this.#adjacent && this.#lastIsNumber() && !this.#restart)
      return this.#passedBefore();
    if (is("passing")) return this.#compare(k);
    if (is("instead")) return this.#set(this.#takesPlace(k) || this.#fitsInstead(k) ? "replaces" : "against");
    if (is("replaces")) return this.#favour(k, "replaces");
    if (is("only")) return this.#onlyFor(k);
    if (is("for")) return this.#favour(k, "for");
    if (is("but")) return this.#contrast();
    if (is("without") && this.#ahead(k, 1) >= 0 && this.#isNumber(this.#ahead(k, 1))) return this.#set("against");
    return false;
  }

  /** The number just named is not the only part number of the text, nor the first. */
  #isNotFirst(): boolean {
    const parts = this.#claims.filter((claim) => claim.kind === "number" && claim.named?.part === true);
    return this.#adjacent && this.#lastIsNumber() && parts.length > 1;
  }

  /** "it is not PB-1840, it is PB-2240": behind what was denied, the clause begins anew and names a thing. */
  #corrects(k: number): boolean {
    if (this.#stance !== "against" || this.#breakBefore(k) === "none") return false;
    if (this.#claims.length === this.#sentenceStart) return false;
    // "è" is written with the accent, "e" joins a list.
    const written = this.#field.tokens[this.#items[k]?.first ?? 0]?.text ?? "";
    if (this.#has(k, "and") && !/[^\x20-\x7e]/.test(written)) return false;
    return this.#ahead(k, 2) >= 0;
  }

  /** "GLK-909 instead of PB-1840": a number of the seller's own stands right before. */
  #takesPlace(k: number): boolean {
    return this.#adjacent && this.#lastIsUnknown() && this.#isNumber(this.#ahead(k, 1));
  }

  /** "pasuje zamiast PB-1840": what is sold fits where that did. */
  #fitsInstead(k: number): boolean {
    return this.#stance !== "against" && this.#has(k - 1, "for") && this.#breakBefore(k) === "none";
  }

  /** "like PB-1840"; said of a quantity, or between the two things of "both … and …", it compares nothing. */
  #compare(k: number): true {
    if (this.#bothHere && this.#adjacent) return true;
    const target = this.#items[this.#ahead(k, 2)];
    return target?.type === "quantity" ? true : this.#set("passing");
  }

  #set(stance: Stance): true {
    this.#stance = stance;
    this.#unlink();
    this.#restart = false;
    return true;
  }

  /** "for" and the like; a word of this kind that nothing follows says nothing. */
  #favour(k: number, stance: "for" | "replaces"): true {
    this.#fitSaid = true;
    const only = this.#only && this.#has(k - 1, "only");
    if (this.#stance === "against" && this.#ahead(k, 1) < 0) return true;
    if (this.#stance === "elsewhere" && this.#has(k - 1, "relative")) return true;
    this.#set(stance);
    this.#only = only;
    return true;
  }

  /** "…, which is for the late board": told of the number that was just named against or in passing. */
  #aside(): true {
    const last = this.#claims.slice(this.#sentenceStart).at(-1);
    const other = last !== undefined && last.stance !== "plain" && last.stance !== "for" && last.stance !== "replaces";
    return other ? this.#set("elsewhere") : true;
  }

  /** "do not order if you have …", "if you have …, do not order". */
  #warn(k: number): true {
    if (this.#ahead(k, 3, AFTER_AGAINST) >= 0) return this.#set("against");
    if (this.#condition >= 0) for (const claim of this.#claims.slice(this.#condition)) claim.stance = "against";
    return true;
  }

  /** "The late board needs PB-2240": both are told of another thing than the one sold. */
  #needs(k: number): true {
    if (this.#ahead(k, 1) < 0) return true;
    for (const claim of this.#claims.slice(this.#sentenceStart))
      if (claim.kind !== "number" || claim.named?.part !== true) claim.stance = "elsewhere";
    return this.#set("elsewhere");
  }

  /** A condition, or a board or revision that the advice is for, was named in the sentence. */
  #isConditional(): boolean {
    if (this.#condition >= 0) return true;
    const said = this.#claims.slice(this.#sentenceStart);
    return said.some((claim) => claim.kind === "revision" || (claim.kind === "number" && claim.named?.board === true));
  }

  /** The clause does not begin the text, and the list just named stands in it: "…. PB-1840: see our other listing". */
  #isSetApart(k: number): boolean {
    return this.#adjacent && this.#clauseItem > 0 && this.#breakBefore(k) === "none";
  }

  #moveElsewhere(): true {
    for (const claim of this.#list) claim.stance = "elsewhere";
    this.#unlink();
    return true;
  }

  /** "No PB-1840" behind "battery", or "No." with a point, is a number sign. */
  #isNumberSign(k: number): boolean {
    const item = this.#items[k];
    const word = item === undefined ? "" : (this.#field.words[item.first] ?? "");
    if (item === undefined || item.last !== item.first + 1 || !/^n[or]?$/.test(word)) return false;
    const gap = this.#field.tokens[item.first]?.gap ?? "";
    if (this.#isOrdinalSign(item)) return true;
    if (/^[.:°#]/.test(gap)) return /\d/.test(this.#field.words[item.last] ?? "") || this.#isNumber(k + 1);
    const before = this.#items[k - 1];
    return (
      before?.type === "phrase" &&
      this.#breakBefore(k) === "none" &&
      !this.#gapBefore(k).includes("(") &&
      before.meanings.some(
        ({ kind, language }) =>
          language === "en" && (kind.startsWith(TYPE_KIND) || kind === "numberCue" || kind === "modelCue"),
      )
    );
  }

  /** "nº": the sign of a number, drawn with a raised letter. */
  #isOrdinalSign({ first }: Item): boolean {
    const token = this.#field.tokens[first];
    if (token === undefined) return false;
    const { at } = this.#field.folded;
    return /[ºª°]/.test(this.#field.original.slice(at[token.start] ?? 0, (at[token.end] ?? 0) + 1));
  }

  #against(k: number, is: (kind: string) => boolean): true {
    this.#fitSaid = true;
    const behind = this.#adjacent && this.#list.length > 0;
    const forNext = this.#has(k + 1, "for") && this.#breakBefore(k + 1) === "none";
    const after = is("againstAfter") && !is("against") && !forNext;
    if (after && behind) return this.#turn();
    const ahead = this.#ahead(k, 2, AFTER_AGAINST);
    if (ahead >= 0) {
      for (let i = k + 1; i < ahead; i++)
        if (this.#has(i, "for") || this.#has(i, "replaces") || this.#has(i, "not")) this.#skip(i);
      return this.#set(this.#negatedBefore(k) ? "for" : "against");
    }
    if (behind && !(is("against") && this.#saysOf(k))) return this.#turn();
    if (this.#field.part === "specifics" && this.#claims.length === 0) return this.#set("against");
    return true;
  }

  /** Something that is no claim follows in the clause: "does not fit ovens of other makers" says nothing of what stood before. */
  #saysOf(k: number): boolean {
    const behind = this.#items[k]?.last ?? 0;
    const gap = this.#field.tokens[behind - 1]?.gap ?? "";
    return gap === " " && /\p{L}/u.test(this.#field.tokens[behind]?.text ?? "");
  }

  #negatedBefore(k: number): boolean {
    return this.#has(k - 1, "not") && this.#breakBefore(k) === "none";
  }

  /** What stood before is named against. */
  #turn(): true {
    for (const claim of this.#turned()) claim.stance = "against";
    this.#unlink();
    return true;
  }

  /** All of the list, but not the number that is sold: of "battery PB-2240, PB-1840 sold out" the last one. */
  #turned(): readonly Claim[] {
    const [first] = this.#list;
    const last = this.#list.at(-1);
    if (first === undefined || last === undefined || first === last || !this.#leadsWithType) return this.#list;
    const numbers = this.#list.every((claim) => claim.kind === "number" && claim.named?.part === true);
    return numbers && !last.chosen && !this.#listJoined && this.#claims[0] === first ? [last] : this.#list;
  }

  #except(k: number, is: (kind: string) => boolean): true {
    const ahead = this.#ahead(k, 2);
    if (ahead >= 0) return this.#set("against");
    if (is("against") || is("againstAfter") || !this.#adjacent) return true;
    return this.#directAfter(k) ? this.#turn() : true;
  }

  /** Nothing but the end of the sentence or a comma follows. */
  #directAfter(k: number): boolean {
    return k + 1 >= this.#items.length || this.#breakBefore(k + 1) !== "none";
  }

  #same(k: number): true {
    if (this.#adjacent && this.#lastNamesPart() && this.#isNumber(this.#ahead(k, 0))) {
      this.#equate();
      this.#stance = "replaces";
      return true;
    }
    if (this.#isOfBoth(k)) {
      this.#equate();
      this.#unlink();
      return true;
    }
    this.#set("passing");
    this.#equal = true;
    return true;
  }

  /** "PB-1840 and PB-2240 (it is the same battery)": said of the numbers before, and of nothing behind. */
  #isOfBoth(k: number): boolean {
    if (!this.#adjacent || this.#ahead(k, 2) >= 0) return false;
    const next = this.#items[k + 1];
    const ends =
      this.#directAfter(k) || (next?.type === "phrase" && this.#isType(next)) || this.#gapBefore(k + 1) === ")";
    return (
      ends &&
      this.#list.length > 1 &&
      this.#list.every((claim) => claim.kind === "number" && claim.named?.part === true)
    );
  }

  #isType({ meanings }: Phrase): boolean {
    return meanings.some(({ kind }) => kind.startsWith(TYPE_KIND));
  }

  #passedBefore(): true {
    const last = this.#list.at(-1);
    if (last !== undefined && last.stance !== "against") last.stance = "passing";
    this.#unlink();
    return true;
  }

  #lastIsNumber(): boolean {
    const last = this.#list.at(-1);
    return last?.kind === "number" && last.named?.part === true;
  }

  /** A part number, be it one that nobody knows. */
  #lastNamesPart(): boolean {
    return this.#lastIsNumber() || this.#lastIsUnknown();
  }

  #lastIsUnknown(): boolean {
    const last = this.#list.at(-1);
    return last?.kind === "number" && last.named === null && !last.stock;
  }

  #isNumber(k: number): boolean {
    return this.#items[k]?.type === "number";
  }

  #onlyFor(k: number): true {
    const target = this.#ahead(k, 0, AFTER_ONLY);
    if (target >= 0) {
      // "not for A, only for B"
      if (this.#stance === "against" && this.#list.some(({ stance }) => stance === "against")) this.#set("for");
      if (this.#stance !== "against") this.#stance = this.#stance === "plain" ? "for" : this.#stance;
      this.#adjacent = false;
      this.#only = true;
      return true;
    }
    if (this.#adjacent && !this.#restart) for (const claim of this.#list) claim.only = true;
    return true;
  }

  /** A bare "not": only what follows at once, or a phrase of fit right behind it, is turned round. */
  #negate(k: number): true {
    for (let i = k + 1; i <= k + 3 && i < this.#items.length; i++) {
      if (this.#breakBefore(i) !== "none") break;
      if (this.#has(i, "against")) {
        this.#skip(i);
        return this.#set("for");
      }
      if (this.#has(i, "for") || this.#has(i, "replaces")) {
        this.#skip(i);
        this.#fitSaid = true;
        const looksBack = this.#ahead(i, 2) < 0 && this.#adjacent && !this.#saysOf(i);
        return looksBack ? this.#turn() : this.#set("against");
      }
      if (this.#has(i, "all") || this.#has(i, "allOf")) {
        this.#hedge = this.#fitSaid = true;
        this.#skip(i);
        return true;
      }
      if (this.#isThing(i)) return this.#set("against");
      if (!this.#isTransparent(i) && !this.#isShortWord(i)) break;
    }
    if (this.#adjacent && this.#directAfter(k) && !this.#restart) return this.#turn();
    return true;
  }

  /** "per", "do", "z": a small word of a language that the text was not taken to speak. */
  #isShortWord(k: number): boolean {
    const item = this.#items[k];
    return item?.type === "word" && /^\p{L}{1,3}$/u.test(this.#field.words[item.first] ?? "");
  }

  #skip(k: number): void {
    this.#skipped.add(k);
  }

  #contrast(): true {
    this.#set(this.#stance === "against" ? "for" : this.#stance);
    return true;
  }

  #conjunction(k: number, is: (kind: string) => boolean): number {
    this.#joined = this.#listJoined = true;
    if (k === this.#clauseItem) this.#also = true;
    if (is("or") && !is("and")) {
      this.#chosen = true;
      if (this.#stance !== "against") for (const claim of this.#list) claim.chosen = true;
    }
    return k + 1;
  }

  #choose(k: number, is: (kind: string) => boolean): number {
    if (is("choice")) this.#choice = true;
    if (is("both") || is("one")) this.#bothHere ||= is("both");
    if (is("both") && this.#list.some(({ chosen }) => chosen)) this.#choice = true;
    else if (is("both")) {
      this.#both = true;
      for (let i = k + 1; i <= k + REACH; i++) {
        const item = this.#items[i];
        if (item === undefined || this.#breakBefore(i) !== "none") break;
        if (this.#has(i, "revisionNoun") || this.#has(i, "unitNoun")) {
          const word = this.#items[k];
          if (this.#field.part === "description" && this.#stance === "plain") this.#choice = true;
          else if (word !== undefined) this.#name({ ...this.#base(word.first, word.last), kind: "all" });
          return i === k + 1 || !this.#isThing(k + 1) ? i + 1 : k + 1;
        }
        if (item.type === "number" && item.named?.model !== true) break;
        if (
          item.type === "word"
            ? !/^\d+$/.test(this.#field.words[item.first] ?? "")
            : item.type === "phrase" && !this.#isTransparent(i)
        )
          break;
      }
    }
    return k + 1;
  }

  /** "fits all", "universal"; a bare "all" needs models or versions behind it. */
  #universal(k: number, item: Phrase): number {
    const bare = !item.meanings.some(({ kind }) => kind === "all");
    if (bare && !this.#allOfDevices(k)) {
      this.#unlink();
      return k + 1;
    }
    if (this.#stance === "passing" || this.#stance === "elsewhere") return k + 1;
    if (this.#stance === "against") {
      this.#hedge = this.#fitSaid = true;
      return k + 1;
    }
    this.#fitSaid = true;
    this.#name({ ...this.#base(item.first, item.last), kind: "all" });
    if (this.#stance === "plain") this.#stance = "for";
    return k + 1;
  }

  #allOfDevices(k: number): boolean {
    for (let i = k + 1; i <= k + 3; i++) {
      if (this.#breakBefore(i) !== "none") return false;
      const item = this.#items[i];
      if (item?.type === "number") return item.named !== null && (item.named.model || item.named.board);
      if (["revisionNoun", "unitNoun", "device", "dateCue"].some((kind) => this.#has(i, kind))) return true;
      if (item?.type === "date") return true;
      if (!this.#isTransparent(i) && item?.type !== "word") return false;
    }
    return false;
  }

  /** Any other phrase: cue words, part types, conditions. */
  #describe(k: number, item: Phrase, is: (kind: string) => boolean): void {
    if (is("stockCue")) this.#cue = "stock";
    else if (is("numberCue")) this.#cue = "number";
    else if (is("modelCue")) this.#cue = "model";
    const filler = is("filler") || is("numberCue") || is("modelCue") || is("boardCue") || is("stockCue") || is("grade");
    if (filler) return;
    const type = item.meanings.some(({ kind }) => kind.startsWith(TYPE_KIND));
    if (type && this.#claims.length === 0) this.#leadsWithType = true;
    const another =
      ((type && !is("revisionNoun")) || (is("with") && !this.#isBoard(this.#ahead(k, 1)))) &&
      this.#stance !== "for" &&
      this.#stance !== "replaces";
    if (another && this.#adjacent && !this.#joined) this.#relax();
    const cue = this.#cue;
    if (is("revisionNoun") || is("unitNoun") || is("dateCue") || is("trait")) return;
    this.#unlink();
    this.#cue = cue;
  }

  /** "not for PL-20 with board X": the board only says which PL-20. */
  #isBoard(k: number): boolean {
    const item = this.#items[k];
    return item?.type === "number" && item.named?.board === true && !item.named.part;
  }

  // --- looking ahead -----------------------------------------------------------------------------------------

  /** Index of the next thing named behind a phrase, or -1; at most `words` plain words may stand in between. */
  #ahead(k: number, words: number, through: ReadonlySet<string> = NOTHING): number {
    let left = words;
    for (let i = k + 1; i <= k + REACH && i < this.#items.length; i++) {
      const kind = this.#breakBefore(i);
      if (kind === "hard" || (kind === "soft" && !this.#has(i, "if"))) return -1;
      if (this.#gapBefore(i).includes(")")) return -1;
      if (this.#isThing(i)) return i;
      const item = this.#items[i];
      if (item?.type === "phrase") {
        if (item.meanings.some(({ kind }) => through.has(kind))) continue;
        if (!this.#isTransparent(i)) return -1;
      } else if (--left < 0) return -1;
    }
    return -1;
  }

  /** Something that can be named for or against. */
  #isThing(k: number): boolean {
    const item = this.#items[k];
    if (item === undefined) return false;
    if (item.type === "phrase" || item.type === "word") return this.#revisionsAt(k) !== null;
    return true;
  }

  #isTransparent(k: number): boolean {
    const item = this.#items[k];
    if (item?.type !== "phrase") return false;
    if (item.meanings.some(({ kind }) => kind === "filler")) return true;
    return !item.meanings.some(({ kind }) => STEERING.has(kind) || kind === "harmless" || kind === "hedge");
  }

  // --- revisions in words ------------------------------------------------------------------------------------

  #revisionsAt(k: number): NamedRevisions | null {
    const item = this.#items[k];
    const further = this.#furtherCode(k);
    if (further !== null) return further;
    if (item?.type === "word") return this.#numbered(item) === null ? null : this.#qualifiedNoun(k);
    if (item?.type !== "phrase") return null;
    const name = item.meanings.find(({ kind }) => kind.startsWith("revision:"));
    if (name !== undefined) {
      const word: RevisionWord = { how: "name", id: name.kind.slice("revision:".length) };
      return { words: [{ word, first: item.first, last: item.last }], next: k + 1 };
    }
    return this.#qualifiedNoun(k) ?? this.#nounWithCode(k);
  }

  /** "early board", "first and second series". */
  #qualifiedNoun(k: number): NamedRevisions | null {
    const words: { word: RevisionWord; first: number; last: number }[] = [];
    let loose = false;
    let i = k;
    for (; i < Math.min(this.#items.length, k + 8); i++) {
      const item = this.#items[i];
      if (item === undefined || (i > k && this.#breakBefore(i) === "hard")) return null;
      const word = this.#qualifier(i);
      if (word !== null) {
        loose ||= word.loose;
        words.push({ word: word.word, first: item.first, last: item.last });
      } else if (words.length === 0) return null;
      else if (this.#has(i, "revisionNoun")) return { words, next: i + 1 };
      else if (this.#has(i, "unitNoun")) return loose || this.#isOrdinal(words) ? null : { words, next: i + 1 };
      else if (!this.#has(i, "and") && !this.#has(i, "or") && !this.#has(i, "filler")) return null;
    }
    return null;
  }

  #isOrdinal(words: readonly { word: RevisionWord }[]): boolean {
    return words.some(({ word }) => word.how === "ordinal");
  }

  #qualifier(k: number): { word: RevisionWord; loose: boolean } | null {
    const item = this.#items[k];
    if (item?.type === "word") return this.#numbered(item);
    if (item?.type !== "phrase") return null;
    for (const { kind } of item.meanings) {
      if (kind === "early" || kind === "older") return { word: { how: "early" }, loose: kind === "older" };
      if (kind === "late" || kind === "newer") return { word: { how: "late" }, loose: kind === "newer" };
      if (kind.startsWith(ORDINAL_KIND)) {
        return { word: { how: "ordinal", ordinal: Number(kind.slice(ORDINAL_KIND.length)) }, loose: false };
      }
    }
    return null;
  }

  /** "3. series": a digit with a point. */
  #numbered({ first }: Item): { word: RevisionWord; loose: boolean } | null {
    const token = this.#field.tokens[first];
    if (token === undefined || !/^[1-9]$/.test(token.text) || !token.gap.startsWith(".")) return null;
    if (token.gap === "." && this.#field.tokens[first + 1]?.kind === "digits") return null;
    return { word: { how: "ordinal", ordinal: Number(token.text) }, loose: false };
  }

  /** "board A", "rev. 2", "placa antigua", "boards A, B and C". */
  #nounWithCode(k: number): NamedRevisions | null {
    if (!this.#has(k, "revisionNoun")) return null;
    const words: { word: RevisionWord; first: number; last: number }[] = [];
    let next = k + 1;
    for (let i = k + 1; i < Math.min(this.#items.length, k + 12); i++) {
      const item = this.#items[i];
      if (item === undefined || this.#breakBefore(i) === "hard") break;
      const word = this.#qualifier(i)?.word ?? this.#code(i);
      if (word !== null && (words.length > 0 || this.#breakBefore(i) === "none")) {
        words.push({ word, first: item.first, last: item.last });
        next = i + 1;
      } else if (words.length === 0 || !(this.#has(i, "and") || this.#has(i, "or") || this.#has(i, "revisionNoun")))
        break;
    }
    return words.length > 0 ? { words, next } : null;
  }

  /** "boards A and B, not for C": a capital that stands where another board's letter was named before. */
  #furtherCode(k: number): NamedRevisions | null {
    const item = this.#items[k];
    const last = this.#claims.slice(this.#sentenceStart).at(-1);
    if (item === undefined || last?.kind !== "revision" || last.revision.how !== "letter") return null;
    const before = this.#items[k - 1];
    const steers = before?.type === "phrase" && before.meanings.some(({ kind }) => STEERING.has(kind));
    const word = steers && this.#breakBefore(k) === "none" ? this.#code(k) : null;
    if (word?.how !== "letter" || this.#field.tokens[item.first]?.text !== word.letter) return null;
    return { words: [{ word, first: item.first, last: item.last }], next: k + 1 };
  }

  /** A single letter, a small number or both ("R2") behind a revision noun. */
  #code(k: number): RevisionWord | null {
    const item = this.#items[k];
    if (item === undefined || item.last !== item.first + 1 || item.type === "quantity" || item.type === "date")
      return null;
    const token = this.#field.tokens[item.first];
    if (token === undefined || token.text.length > 2) return null;
    if (/^\.\d/.test(this.#field.folded.text.slice(token.end, token.end + 2))) return null;
    if (/^[1-9]$/.test(token.text)) return { how: "ordinal", ordinal: Number(token.text) };
    if (/^[A-Z]\d$/.test(token.text)) return { how: "letter", letter: token.text };
    const roman = ["I", "II", "III", "IV"].indexOf(token.text);
    if (roman > 0) return { how: "ordinal", ordinal: roman + 1 };
    return /^[A-HJ-Z]$/.test(token.text) || /^[b-df-hj-np-t]$/.test(token.text)
      ? { how: "letter", letter: token.text.toUpperCase() }
      : null;
  }
}

/** A known part number that says enough by itself to be believed behind a word for article numbers. */
function isTelling(number: string): boolean {
  return number.length >= 5 && !/^\d+$/.test(number);
}

/** "not compatible with:" above a list, and the bullets of its lines. */
const HEADING = /:\s*\n/;
const BULLET = /\n[^\S\n]*[-*•·]/;

type Sign = "for" | "against";

const TICK = /[✔✅✓☑]/u;
const CROSS = /[❌❎✗✘✖✕🚫⛔]/u;

/** The tick or cross among the signs between two words. */
function signIn(gap: string): Sign | null {
  if (gap.length < 2 && !/[^\x20-\x7e]/.test(gap)) return null;
  return CROSS.test(gap) ? "against" : TICK.test(gap) ? "for" : null;
}

/** What stands before the first word. */
function leadOf({ folded, tokens }: Field): string {
  return folded.text.slice(0, tokens[0]?.start ?? 0);
}

/** "VKM-001 ✔ VKM-020 ✘": the text ends with a sign, and it is not the one that it began with ("❌ VKM-020 ❌"). */
function signsStandBehind(field: Field): boolean {
  const { tokens } = field;
  const last = signIn(tokens.at(-1)?.gap ?? "");
  if (last === null) return false;
  const first = signIn(leadOf(field)) ?? tokens.map(({ gap }) => signIn(gap)).find((sign) => sign !== null);
  const only = signIn(leadOf(field)) === null && tokens.filter(({ gap }) => signIn(gap) !== null).length === 1;
  return only || first !== last;
}
