/**
 * Direction controls resolved (Unicode Standard Annex 9): text that a control forces from right to left is turned into
 * the order the eye reads; what is not that simple is doubted.
 */
import { Direction, type Glyphs, isDigit, Kind, tokenEnd, tokenStart } from "./glyphs.ts";

/** Brackets turn round where text runs from right to left (Unicode Standard Annex 9, rule L4). */
const MIRRORED: ReadonlyMap<number, number> = new Map(
  ["()", ")(", "[]", "][", "{}", "}{", "<>", "><"].map((pair) => [pair.charCodeAt(0), pair.charCodeAt(1)]),
);

/** Controls that set text from right to left, or may. */
const RIGHTWARD: ReadonlySet<number> = new Set([
  Direction.rightEmbedding,
  Direction.rightOverride,
  Direction.rightIsolate,
  Direction.firstStrongIsolate,
]);

/** A stretch of text under direction controls, up to where the outermost of them ends. */
interface Stretch {
  readonly start: number;
  /** The only control in it, or `null` where controls are nested. */
  readonly only: number | null;
  /** True where one of the controls sets text from right to left, or may do so. */
  readonly right: boolean;
}

/**
 * Puts forced right-to-left stretches into the order the eye reads; doubts what is not that simple.
 *
 * Embeddings and isolates are matched by rules X5 to X7 of the standard; only outermost stretches are looked at.
 */
export function resolveDirections(glyphs: Glyphs): void {
  const open = new OpenControls();
  let markedTo = -1;
  let stretch: Stretch | null = null;
  let drawn: Drawn | null = null;
  for (const { code, at } of glyphs.controls) {
    if (code === Direction.rightToLeftMark || code === Direction.arabicLetterMark) {
      if (at >= markedTo) markedTo = doubtAround(glyphs, at);
      continue;
    }
    if (!open.take(code)) {
      stretch = withControl(stretch, code, at);
    } else if (open.isEmpty && stretch !== null) {
      drawn = resolveStretch(glyphs, stretch, at, drawn);
      stretch = null;
    }
  }
  const end = glyphs.units.length;
  if (stretch !== null) drawn = resolveStretch(glyphs, stretch, end, drawn);
  if (drawn !== null) heldAgainst(glyphs, drawn, end);
}

/** A stretch that begins at a control, or goes on with one more. */
function withControl(stretch: Stretch | null, code: number, at: number): Stretch {
  const right = RIGHTWARD.has(code);
  return stretch === null
    ? { start: at, only: code, right }
    : { ...stretch, only: null, right: right || stretch.right };
}

/** The embeddings and isolates that are open at a point of the text. */
class OpenControls {
  /** For each whether it is an isolate, and how many are. */
  readonly #open: boolean[] = [];
  #isolates = 0;

  get isEmpty(): boolean {
    return this.#open.length === 0;
  }

  /** Opens or closes; true for a control that closes. */
  take(code: number): boolean {
    if (code === Direction.endOfEmbedding) {
      if (this.#open.at(-1) === false) this.#open.pop();
      return true;
    }
    if (code === Direction.endOfIsolate) {
      if (this.#isolates === 0) return true;
      while (this.#open.at(-1) === false) this.#open.pop();
      this.#open.pop();
      this.#isolates--;
      return true;
    }
    const isolate = code >= Direction.leftIsolate;
    this.#open.push(isolate);
    if (isolate) this.#isolates++;
    return false;
  }
}

/** A stretch under direction controls that what follows it may still be drawn into. */
interface Drawn {
  readonly start: number;
  readonly end: number;
  readonly right: boolean;
  /** True where it is doubted already, so that no range is doubted twice. */
  readonly doubted: boolean;
}

/**
 * Resolves one outermost stretch. Stretches with no left-to-right letter between them share a line of reversal: if one
 * of them runs from right to left, all are doubted.
 */
function resolveStretch(glyphs: Glyphs, { start, only, right }: Stretch, end: number, earlier: Drawn | null): Drawn {
  const before = earlier === null ? null : heldAgainst(glyphs, earlier, start);
  const runsRight = right && (only !== Direction.firstStrongIsolate || startsRightToLeft(glyphs, start, end));
  if (before !== null) {
    const doubted = before.right || runsRight;
    if (doubted) glyphs.doubt(before.doubted ? before.end : before.start, end);
    return { start: before.start, end, right: doubted, doubted };
  }
  if (!runsRight) return { start, end, right: false, doubted: false };
  if (only === Direction.rightOverride) reverse(glyphs, start, end);
  else glyphs.doubt(start, end);
  return { start, end, right: true, doubted: only !== Direction.rightOverride };
}

/**
 * Holds a stretch against what follows it up to `limit`. Digits that come before any left-to-right letter are drawn to
 * the left of a right-to-left stretch (rules W7 and I1), so both are doubted.
 *
 * @returns the stretch with what it reaches over, or `null` where a letter ends its reach
 */
function heldAgainst(glyphs: Glyphs, drawn: Drawn, limit: number): Drawn | null {
  let { doubted } = drawn;
  for (let i = drawn.end; i < limit; i++) {
    if (isLeftLetter(glyphs, i)) return null;
    if (!drawn.right || !isDigit(glyphs.units[i] ?? 0)) continue;
    glyphs.doubt(doubted ? i : drawn.start, i + 1);
    doubted = true;
  }
  return { ...drawn, end: limit, doubted };
}

function isLeftLetter(glyphs: Glyphs, at: number): boolean {
  const kind = glyphs.kinds[at] ?? Kind.other;
  return kind >= Kind.ascii && kind !== Kind.rightToLeft && !isDigit(glyphs.units[at] ?? 0);
}

/** A right-to-left mark moves what stands on both sides: its token and the neighbours are doubted. */
function doubtAround(glyphs: Glyphs, at: number): number {
  const end = tokenEnd(glyphs, at);
  glyphs.doubt(tokenStart(glyphs, tokenStart(glyphs, at) - 1), tokenEnd(glyphs, end + 1));
  return end;
}

/** True where the first letter of a stretch is of a right-to-left script. */
function startsRightToLeft(glyphs: Glyphs, start: number, end: number): boolean {
  for (let i = start; i < end; i++) {
    if (glyphs.kinds[i] === Kind.rightToLeft) return true;
    if (isLeftLetter(glyphs, i)) return false;
  }
  return false;
}

/** Reverses the characters of a stretch (a character that folded to several units stays as it is) and turns brackets. */
function reverse(glyphs: Glyphs, start: number, end: number): void {
  const order: number[] = [];
  for (let i = end; i > start; ) {
    let first = i - 1;
    while (first > start && glyphs.at[first - 1] === glyphs.at[i - 1]) first--;
    for (let j = first; j < i; j++) order.push(j);
    i = first;
  }
  const take = <T>(list: T[]) => {
    const old = list.slice(start, end);
    for (const [i, from] of order.entries()) {
      const value = old[from - start];
      if (value !== undefined) list[start + i] = value;
    }
  };
  take(glyphs.units);
  take(glyphs.kinds);
  take(glyphs.at);
  take(glyphs.until);
  take(glyphs.doubts);
  for (let i = start; i < end; i++) {
    const unit = glyphs.units[i] ?? 0;
    glyphs.units[i] = MIRRORED.get(unit) ?? unit;
    if (unit === 0x0a) glyphs.doubt(start, end);
  }
}

/** A number that starts after a word of a right-to-left script is moved by the page: its token is doubted. */
export function doubtNumbersAfterRightToLeft(glyphs: Glyphs): void {
  let afterRightToLeft = false;
  for (let i = 0; i < glyphs.units.length; i++) {
    const kind = glyphs.kinds[i] ?? Kind.other;
    if (kind === Kind.rightToLeft) afterRightToLeft = true;
    else if (kind === Kind.ascii && isDigit(glyphs.units[i] ?? 0)) {
      if (!afterRightToLeft) continue;
      const end = tokenEnd(glyphs, i);
      glyphs.doubt(tokenStart(glyphs, i), end);
      i = end - 1;
    } else if (kind >= Kind.ascii) afterRightToLeft = false;
  }
}
