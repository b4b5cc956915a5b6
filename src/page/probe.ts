/**
 * A first look at a page: may it hold listings at all? Most pages do not, and must be left alone within a
 * millisecond or two. It errs on the side of yes.
 *
 * Small on purpose and free of imports: a content script can carry it alone and fetch the reader when it says yes.
 */

/** Most texts that are looked at. */
const MAX_TEXTS = 20_000;
/** Longest text that may be a currency sign alone. */
const MAX_SIGN = 6;
/** Longest text that may be a price, a button or a label. */
const MAX_TEXT = 80;
/** A currency sign; letters of money of common languages beside a digit; "19,-"; a number with cents as in tables. */
const MONEY = [
  /[\p{Sc}円元圓원]/u,
  /\p{Nd}[\s.\u200e\u200f]{0,3}(?:[A-Z]{3}|kr|Kr|zł|zl|Kč|Ft|lei|leu|лв|руб|р\.|грн|TL|Rs|RM|Rp|Fr|kn|KM|din|дин|ден|[Ee]uro|EURO|eur|евро|ευρώ|dollar|บาท|[\u0600-\u06ff]{1,2}\.|ريال|درهم|جنيه|ש)/u,
  /(?:[A-Z]{3}|[Kk]r|lei|Rs|RM|Rp|Fr|R|Bs|S\/|[\u0600-\u06ff]\.)\.?[\s\u200e\u200f]{0,3}\p{Nd}/u,
  /\p{Nd}[.,:] ?[-–—]/u,
  /^\s{0,4}\p{Nd}{1,7}(?:[.,]\p{Nd}{3}){0,3}[.,]\p{Nd}{2}\s{0,4}$/u,
];
/** Any digit but nought: an empty basket is no offer. */
const SOMETHING = /[1-9\u0661-\u0669\u06f1-\u06f9\u0967-\u096f\u09e7-\u09ef\u0e51-\u0e59\uff11-\uff19]/;
const SIGN = /^\s{0,4}[A-Z]{0,3}\p{Sc}\s{0,4}$|^\s{0,4}[A-Z]{3}\s{0,4}$/u;
const DIGIT = /\p{Nd}/u;
/** Places whose amounts and words are the page's furniture. */
const FURNITURE =
  "nav,script,style,template,noscript,select,textarea,body>header,body>footer,body>div>header,body>div>footer";

/**
 * @param offers folded words that offer something without an amount ("add to cart", "price on request")
 * @returns false only when nothing on the page looks like something for sale
 */
export function mayHoldListings(document: Document, offers: ReadonlySet<string>): boolean {
  return describesProducts(document) || showsOffers(document, offers);
}

/** Structured data of any syntax speaks of products. */
function describesProducts(document: Document): boolean {
  const marked = document.querySelector(
    '[itemtype*="Product"],[typeof*="Product"],meta[property^="product:price"],meta[property="og:price:amount"]',
  );
  if (marked !== null) return true;
  const blocks = Array.from(document.querySelectorAll('script[type^="application/ld+json" i]'));
  return blocks.some((block) => /Product|Offer/.test(block.textContent ?? ""));
}

/** Some short text outside of the furniture holds an amount, or two offer something. */
function showsOffers(document: Document, offers: ReadonlySet<string>): boolean {
  const { body } = document;
  if (body === null) return false;
  const walker = document.createTreeWalker(body, SHOW_TEXT);
  let offering = 0;
  for (let seen = 0; seen < MAX_TEXTS; seen++) {
    const node = walker.nextNode();
    if (node === null) return false;
    const { data } = node as Text;
    if (data.length > MAX_TEXT || data.length < 2) {
      if (data.length === 1 && SIGN.test(data) && isMatter(node)) return true;
      continue;
    }
    const isAmount = DIGIT.test(data) ? holdsAmount(data) : data.length <= MAX_SIGN && SIGN.test(data);
    if (isAmount && isMatter(node)) return true;
    if (offers.has(data.replace(/\d+/g, "").trim().toLowerCase()) && isMatter(node) && ++offering > 1) return true;
  }
  return true;
}

function holdsAmount(text: string): boolean {
  return SOMETHING.test(text) && MONEY.some((pattern) => pattern.test(text));
}

const SHOW_TEXT = 4;

function isMatter(node: Node): boolean {
  return node.parentElement?.closest(FURNITURE) === null;
}
