/**
 * What a person sees of an element. Two ways: a browser's own computed styles, and, where nothing is rendered
 * (a saved page in jsdom), attributes, inline styles, the page's own style sheets and well-known class names.
 */

/** Answers about visibility; each answer is for one page reading and may be remembered. */
export interface Sight {
  /** Certainly not rendered, told cheaply: nothing inside is walked. */
  isOut(element: Element): boolean;
  /** Rendered at all, ancestors included. */
  isRendered(element: Element): boolean;
  /** There for screen readers only (or for nobody): not seen, though rendered. */
  isUnseen(element: Element): boolean;
  /** The element's own text is struck through. */
  isStruck(element: Element): boolean;
  /** Stands as a block of its own although its tag is an inline one. */
  isBlock(element: Element): boolean;
}

/** Class names by which texts are kept for screen readers only. */
const UNSEEN_CLASS =
  /(?:^|[\s_-])(?:sr-only|screen-reader(?:-text|-only)?|visually-?hidden|visuallyhidden|a11y-hidden|u-hidden-visually|offscreen|clipped|hidden-visually|assistive-text|screenreader|sronly|vh)(?:$|[\s_-])/i;
/** Class names by which elements are not shown at all, in common style sheets. */
const OUT_CLASS =
  /(?:^|\s)(?:hidden|hide|d-none|is-hidden|u-hidden|display-none|js-template|invisible|uk-hidden|dn|uhidden)(?:$|\s)/i;
/** Class names by which prices are struck through. */
const STRUCK_CLASS =
  /(?:^|[\s_-])(?:line-through|strike|strikethrough|strike-through|striked|struck|crossed|crossed-out|text-decoration-line-through|durchgestrichen|barre|barré|tachado)(?:$|[\s_-])/i;
const OUT_STYLE = /(?:^|[;\s])(?:display\s*:\s*none|visibility\s*:\s*(?:hidden|collapse))/i;
const STRUCK_STYLE = /line-through/i;
const STRUCK_TAGS = new Set(["del", "s", "strike"]);

/** The sight of a document: computed styles where a browser renders it, clues where nothing does. */
export function sightOf(document: Document): Sight {
  const view = document.defaultView;
  const isRendering = view !== null && typeof document.documentElement.checkVisibility === "function";
  return isRendering ? renderedSight(view) : savedSight(document);
}

function isOutByAttributes(element: Element): boolean {
  if (!element.hasAttributes()) return false;
  if (element.hasAttribute("hidden") && element.getAttribute("hidden") !== "until-found") return true;
  const style = element.getAttribute("style");
  if (style !== null && OUT_STYLE.test(style)) return true;
  return element.localName === "dialog" && !element.hasAttribute("open");
}

function renderedSight(view: Window & typeof globalThis): Sight {
  const struck = new WeakMap<Element, boolean>();
  return {
    isOut: (element) => element.hasAttribute("hidden") && element.getAttribute("hidden") !== "until-found",
    isRendered: (element) => element.checkVisibility({ visibilityProperty: true }),
    isUnseen: (element) => isSmallOrAway(element) && isClipped(view.getComputedStyle(element)),
    isStruck: (element) =>
      STRUCK_TAGS.has(element.localName) ||
      remembered(struck, element, () => view.getComputedStyle(element).textDecorationLine.includes("line-through")),
    isBlock: (element) => !/^(?:inline|contents|none|ruby)/.test(view.getComputedStyle(element).display),
  };
}

/** A cheap look before the style is asked: almost no box, or one far off to the side. */
function isSmallOrAway(element: Element): boolean {
  const { width, height, right, bottom } = element.getBoundingClientRect();
  return width <= 1 || height <= 1 || right < -900 || bottom < -900;
}

/** The usual ways to keep text for screen readers only: a box of one pixel, clipped away, or moved off the page. */
function isClipped(style: CSSStyleDeclaration): boolean {
  if (style.fontSize === "0px") return true;
  if (style.position !== "absolute" && style.position !== "fixed") return false;
  if (style.clip !== "auto" && style.clip !== "") return true;
  if (style.clipPath !== "none" && style.clipPath !== "" && /inset\((?:50%|100%)/.test(style.clipPath)) return true;
  if (Number.parseFloat(style.width) <= 1 && Number.parseFloat(style.height) <= 1) return true;
  return Number.parseFloat(style.left) < -900 || Number.parseFloat(style.top) < -900;
}

function savedSight(document: Document): Sight {
  const sheets = readSheets(document);
  const out = new WeakMap<Element, boolean>();
  const isOut = (element: Element): boolean =>
    isOutByAttributes(element) ||
    sheets.display.get(element) === "none" ||
    sheets.visibility.get(element) === "hidden" ||
    (!sheets.display.has(element) && OUT_CLASS.test(classOf(element)));
  const rendered = new WeakMap<Element, boolean>();
  /** Answers for all elements on the way up at once, so that deep pages are climbed only once. */
  const isRendered = (element: Element): boolean => {
    const climbed: Element[] = [];
    let at: Element | null = element;
    while (at !== null && !rendered.has(at)) {
      climbed.push(at);
      at = at.parentElement;
    }
    let answer = at === null || rendered.get(at) === true;
    for (const one of climbed.reverse()) {
      answer = answer && !remembered(out, one, isOut);
      rendered.set(one, answer);
    }
    return answer;
  };
  return {
    isOut: (element) => remembered(out, element, isOut),
    isRendered,
    isUnseen: (element) => UNSEEN_CLASS.test(classOf(element)) || sheets.clipped.has(element),
    isStruck: (element) =>
      STRUCK_TAGS.has(element.localName) ||
      STRUCK_STYLE.test(element.getAttribute("style") ?? "") ||
      sheets.struck.get(element) === "struck" ||
      STRUCK_CLASS.test(classOf(element)),
    isBlock: (element) => /^(?:block|flex|grid|table|list-item|inline-block)/.test(sheets.display.get(element) ?? ""),
  };
}

function remembered(memory: WeakMap<Element, boolean>, element: Element, ask: (element: Element) => boolean): boolean {
  const known = memory.get(element);
  if (known !== undefined) return known;
  const answer = ask(element);
  memory.set(element, answer);
  return answer;
}

function classOf(element: Element): string {
  return element.getAttribute("class") ?? "";
}

/** What the page's own style sheets say where nobody computes styles; the most specific rule wins, then the later. */
interface SheetFindings {
  readonly display: Cascade;
  readonly visibility: Cascade;
  readonly struck: Cascade;
  readonly clipped: Set<Element>;
}

/** One property's value by element, as CSS cascades it (important declarations apart). */
class Cascade {
  readonly #kept = new Map<Element, { value: string; weight: number }>();

  get(element: Element): string | undefined {
    return this.#kept.get(element)?.value;
  }

  has(element: Element): boolean {
    return this.#kept.has(element);
  }

  /** Sets the value unless a more specific rule has spoken. */
  set(element: Element, value: string, weight: number): void {
    const before = this.#kept.get(element);
    if (before === undefined || before.weight <= weight) this.#kept.set(element, { value, weight });
  }
}

/** Most style rules that are looked at. */
const MAX_STYLE_RULES = 5_000;
/** Most rules whose selector is matched against the page. */
const MAX_MATCHED_RULES = 400;

function readSheets(document: Document): SheetFindings {
  const findings: SheetFindings = {
    display: new Cascade(),
    visibility: new Cascade(),
    struck: new Cascade(),
    clipped: new Set(),
  };
  let seen = 0;
  let matched = 0;
  for (const sheet of Array.from(document.styleSheets)) {
    for (const rule of rulesOf(sheet)) {
      if (++seen > MAX_STYLE_RULES || matched > MAX_MATCHED_RULES) return findings;
      if (applyRule(document, rule, findings)) matched++;
    }
  }
  return findings;
}

function rulesOf(sheet: CSSStyleSheet): CSSRule[] {
  try {
    return Array.from(sheet.cssRules).flatMap((rule) => ("selectorText" in rule ? [rule] : screenRules(rule)));
  } catch (error) {
    if (error instanceof Error && error.name === "SecurityError") return []; // a sheet of another origin stays closed
    throw error;
  }
}

/** The rules of a media block that a desk-sized screen applies. */
function screenRules(rule: CSSRule): CSSRule[] {
  if (!("cssRules" in rule) || !("media" in rule)) return [];
  const condition = (rule as CSSMediaRule).media.mediaText;
  if (/print|max-width:\s*(?:[0-9]|[1-9][0-9]{1,2}|1[01][0-9]{2})px/.test(condition)) return [];
  if (/prefers-|hover:\s*none|pointer:\s*coarse/.test(condition)) return [];
  return Array.from((rule as CSSMediaRule).cssRules).filter((inner) => "selectorText" in inner);
}

function applyRule(document: Document, rule: CSSRule, findings: SheetFindings): boolean {
  const { selectorText, style } = rule as CSSStyleRule;
  const display = style.getPropertyValue("display");
  const visibility = style.getPropertyValue("visibility");
  const decoration = style.getPropertyValue("text-decoration") || style.getPropertyValue("text-decoration-line");
  const isClip = style.getPropertyValue("position") === "absolute" && isClippedRule(style);
  if (display === "" && visibility === "" && decoration === "" && !isClip) return false;
  for (const selector of splitSelectors(selectorText)) {
    const weight = specificity(selector);
    for (const element of selectAll(document, selector)) {
      if (display !== "") findings.display.set(element, display, weight);
      if (visibility !== "") findings.visibility.set(element, visibility, weight);
      if (decoration !== "") findings.struck.set(element, STRUCK_STYLE.test(decoration) ? "struck" : "plain", weight);
      if (isClip) findings.clipped.add(element);
    }
  }
  return true;
}

/** The selectors of a list; a comma inside brackets does not split. */
function splitSelectors(list: string): string[] {
  const selectors: string[] = [];
  let depth = 0;
  let start = 0;
  for (let at = 0; at < list.length; at++) {
    const character = list.charAt(at);
    if (character === "(" || character === "[") depth++;
    else if (character === ")" || character === "]") depth--;
    else if (character === "," && depth === 0) {
      selectors.push(list.slice(start, at));
      start = at + 1;
    }
  }
  selectors.push(list.slice(start));
  return selectors.map((selector) => selector.trim()).filter((selector) => selector !== "");
}

/** Weight of a selector: ids, then classes, attributes and states, then tags (CSS Selectors Level 4, roughly). */
function specificity(selector: string): number {
  const count = (pattern: RegExp) => selector.match(pattern)?.length ?? 0;
  return count(/#/g) * 10_000 + count(/[.[]|:(?!:)/g) * 100 + count(/(?:^|[\s>+~])[a-z]/gi);
}

function isClippedRule(style: CSSStyleDeclaration): boolean {
  if (style.getPropertyValue("clip") !== "" || style.getPropertyValue("clip-path") !== "") return true;
  if (style.getPropertyValue("width") === "1px" && style.getPropertyValue("height") === "1px") return true;
  return /^-\d{3,}/.test(style.getPropertyValue("left")) || /^-\d{3,}/.test(style.getPropertyValue("top"));
}

function selectAll(document: Document, selector: string): Element[] {
  // States that only a pointer or a click brings about are not what the page shows.
  if (selector.length > 500 || /:(?:hover|focus|active|before|after|checked|target|has)|::/.test(selector)) return [];
  try {
    return Array.from(document.querySelectorAll(selector));
  } catch (error) {
    if (error instanceof Error && error.name === "SyntaxError") return []; // a selector that only browsers know
    throw error;
  }
}
