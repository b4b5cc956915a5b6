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
/** Letters that stand for money in the shops of common languages. */
const LETTERS =
  "[A-Z]{3}|kr|Kr|zł|zl|Kč|Ft|lei|leu|лв|руб|р\\.|грн|TL|Rs|RM|Rp|S?Fr|kn|KM|din|дин|ден|[Ee]uros?|EURO|eur|евро|ευρώ|dollars?|" +
  '円|元|圓|원|บาท|[\u0600-\u06ff]{1,2}\\.[\u0600-\u06ff]|ريال|درهم|جنيه|ש["״]ח';
const NUMBER = "[\\p{Nd}.,'’٫٬]*[1-9\u0661-\u0669\u06f1-\u06f9０-９][\\p{Nd}.,'’٫٬ \u00a0\u202f]*";
const GAP = "[\\s\u200e\u200f]{0,2}";
/** An amount that is not nothing, a sign without its number, "19,-", or a number with cents such as tables hold. */
const AMOUNT = new RegExp(
  `(?:\\p{Sc}|${LETTERS})${GAP}${NUMBER}|${NUMBER}(?:${GAP}(?:\\p{Sc}|${LETTERS})|[.,:] ?[-–—])|^\\s*\\p{Nd}[\\p{Nd}.,]*[.,]\\p{Nd}{2}\\s*$`,
  "u",
);
const SIGN = /^\s*(?:\p{Sc}|[A-Z]{1,3}\p{Sc}|[A-Z]{3})\s*$/u;
const DIGIT = /\p{Nd}/u;
/** Places whose amounts and words are the page's furniture. */
const FURNITURE = "nav,footer,header,script,style,template,noscript,select,textarea";

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
    const isAmount = DIGIT.test(data) ? AMOUNT.test(data) : data.length <= MAX_SIGN && SIGN.test(data);
    if (isAmount && isMatter(node)) return true;
    if (offers.has(data.replace(/\d+/g, "").trim().toLowerCase()) && isMatter(node) && ++offering > 1) return true;
  }
  return true;
}

const SHOW_TEXT = 4;

function isMatter(node: Node): boolean {
  return node.parentElement?.closest(FURNITURE) === null;
}
