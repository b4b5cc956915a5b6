/**
 * Products read out of structured data, whatever its syntax: schema.org's Product, ProductGroup, Offer,
 * AggregateOffer and ItemList, with the wrong but common shapes that shops print.
 */
import type { ListPrice, Money } from "../formats/listing.ts";
import { readMoney } from "../text/money.ts";
import { isCurrencyCode, minorDigits } from "../text/money-symbols.ts";
import { MAX_ITEMS } from "./limits.ts";

/** A value of a property: text, or a thing of its own. */
export type ThingValue = string | Thing;

/** An item of structured data. */
export interface Thing {
  readonly types: readonly string[];
  readonly id: string | null;
  readonly properties: ReadonlyMap<string, readonly ThingValue[]>;
  /** True when it is not a property of another item. */
  readonly isTop: boolean;
  /** The element that carries it, where it is marked up in the page's own matter. */
  readonly element?: Element;
}

/** A product as the structured data states it. */
export interface Product {
  readonly name: string;
  readonly url: string | null;
  readonly price: ListPrice | null;
  readonly shipping: Money | null;
  readonly condition: string | null;
  readonly description: string | null;
  /** Names as a person reads them: Brand, MPN, Model … */
  readonly specifics: Readonly<Record<string, string>>;
  /** Stands in a list of several. */
  readonly isListed: boolean;
  readonly element: Element | null;
}

const PRODUCT_TYPES = new Set([
  "Product",
  "ProductGroup",
  "ProductModel",
  "IndividualProduct",
  "SomeProducts",
  "Vehicle",
  "Car",
]);
const LIST_TYPES = new Set(["ItemList", "OfferCatalog", "ListItem", "CollectionPage", "SearchResultsPage"]);
/** Properties that lead to other products than the one at hand. */
const ELSEWHERE = new Set([
  "isRelatedTo",
  "isSimilarTo",
  "isAccessoryOrSparePartFor",
  "isConsumableFor",
  "isVariantOf",
  "review",
  "hasVariant",
  "itemReviewed",
  "brand",
  "manufacturer",
  "seller",
]);

/** Finds every product among things and inside them. Products that others only refer to are left out. */
export function productsOf(things: readonly Thing[]): Product[] {
  const found: Product[] = [];
  const seen = new Set<Thing>();
  const queue: { thing: Thing; isListed: boolean; offer: Thing | null }[] = things
    .filter((thing) => thing.isTop)
    .map((thing) => ({ thing, isListed: false, offer: null }));
  for (let at = 0; at < queue.length && found.length < MAX_ITEMS; at++) {
    const { thing, isListed, offer } = queue[at] as (typeof queue)[number];
    if (seen.has(thing)) continue;
    seen.add(thing);
    if (thing.types.some((type) => PRODUCT_TYPES.has(type))) {
      const product = toProduct(thing, isListed, offer);
      if (product !== null) found.push(product);
      continue;
    }
    const isList = isListed || thing.types.some((type) => LIST_TYPES.has(type));
    const isOffer = thing.types.includes("Offer") ? thing : null;
    for (const [name, values] of thing.properties) {
      if (ELSEWHERE.has(name)) continue;
      for (const value of values) {
        if (typeof value !== "string") queue.push({ thing: value, isListed: isList, offer: isOffer });
      }
    }
  }
  return found;
}

function toProduct(thing: Thing, isListed: boolean, offer: Thing | null): Product | null {
  const name = text(thing, "name");
  if (name === null) return null;
  const offers = offer === null ? thingsOf(thing, "offers") : [offer];
  const variants = thingsOf(thing, "hasVariant");
  const all = [...offers, ...variants.flatMap((variant) => thingsOf(variant, "offers"))].flatMap(unfolded);
  return {
    name,
    url: text(thing, "url") ?? firstText(offers, "url"),
    price: priceOf(all) ?? priceOf([thing]),
    shipping: shippingOf(all),
    condition: conditionOf(thing, all),
    description: text(thing, "description"),
    specifics: specificsOf(thing, variants),
    isListed,
    element: thing.element ?? null,
  };
}

/** An aggregate of offers and the offers in it. */
function unfolded(offer: Thing): Thing[] {
  return [offer, ...thingsOf(offer, "offers")];
}

function thingsOf(thing: Thing, name: string): Thing[] {
  return (thing.properties.get(name) ?? []).filter((value): value is Thing => typeof value !== "string");
}

/** The first text of a property; of a thing its name. */
function text(thing: Thing, name: string): string | null {
  for (const value of thing.properties.get(name) ?? []) {
    const said = typeof value === "string" ? value : text(value, "name");
    if (said !== null && said.trim() !== "") return plainText(said);
  }
  return null;
}

function firstText(things: readonly Thing[], name: string): string | null {
  for (const thing of things) {
    const said = text(thing, name);
    if (said !== null) return said;
  }
  return null;
}

/** Structured text often carries escaped markup; it is read as text all the same. */
function plainText(said: string): string {
  return said
    .replace(/<[^<>]{0,500}>/g, " ")
    .replace(/&(?:amp|quot|lt|gt|nbsp|apos|#0?39|#x27);/gi, (entity) => ENTITIES[entity.toLowerCase()] ?? entity)
    .replace(/\s+/g, " ")
    .trim();
}

const ENTITIES: Readonly<Record<string, string>> = {
  "&amp;": "&",
  "&quot;": '"',
  "&lt;": "<",
  "&gt;": ">",
  "&nbsp;": " ",
  "&apos;": "'",
  "&#39;": "'",
  "&#039;": "'",
  "&#x27;": "'",
};

/** The price of offers: the lowest to the highest where they differ; list prices left aside. */
function priceOf(offers: readonly Thing[]): ListPrice | null {
  const prices = offers.flatMap(pricesOf);
  const [first] = prices;
  if (first === undefined) return null;
  const same = prices.filter((price) => price.currency === first.currency);
  const lows = same.map((price) => price.amount).sort(byValue);
  const highs = same.map((price) => price.max ?? price.amount).sort(byValue);
  const low = lows[0] ?? first.amount;
  const high = highs.at(-1) ?? first.amount;
  if (byValue(low, high) < 0) return { amount: low, max: high, currency: first.currency };
  return first.from === true && same.length === 1 ? first : { amount: low, currency: first.currency };
}

function byValue(a: string, b: string): number {
  return Number(a) - Number(b);
}

function pricesOf(offer: Thing): ListPrice[] {
  const currency = currencyOf(offer);
  const low = decimal(text(offer, "lowPrice"), currency);
  const high = decimal(text(offer, "highPrice"), currency);
  if (low !== null) {
    if (high !== null && byValue(low.amount, high.amount) < 0) return [{ ...low, max: high.amount }];
    return [high === null ? { ...low, from: true } : low];
  }
  const own = decimal(text(offer, "price"), currency);
  if (own !== null) return [own];
  const stated = thingsOf(offer, "priceSpecification").filter((specification) => !isOtherPrice(specification));
  const [best] = stated.flatMap((specification) => {
    const price = decimal(
      text(specification, "price") ?? text(specification, "minPrice"),
      currencyOf(specification) ?? currency,
    );
    return price === null ? [] : [price];
  });
  return best === undefined ? [] : [best];
}

/** A list, suggested or struck price, or a price a unit, is not the price now. */
function isOtherPrice(specification: Thing): boolean {
  const type = text(specification, "priceType") ?? "";
  if (/ListPrice|SRP|MSRP|StrikethroughPrice|InvoicePrice|RegularPrice/i.test(type)) return true;
  return specification.properties.has("referenceQuantity") || specification.properties.has("billingDuration");
}

function currencyOf(thing: Thing): string | null {
  const code = (text(thing, "priceCurrency") ?? text(thing, "currency") ?? "").trim().toUpperCase();
  if (isCurrencyCode(code)) return code;
  const [sign] = readMoney(`${code} 1`);
  return sign?.currency ?? null;
}

/** Price text as a decimal: "19.9", "1.299,00", "EUR 36", "36" with the offer's currency. */
function decimal(said: string | null, currency: string | null): ListPrice | null {
  if (said === null) return null;
  const [money] = readMoney(said, { currency: currency ?? undefined, language: "en", bare: true });
  const code = currency ?? money?.currency ?? null;
  if (money === undefined || code === null || money.negative) return null;
  if (!/[1-9]/.test(money.amount)) return null;
  return { amount: withMinor(money.amount, code), currency: code };
}

function withMinor(amount: string, currency: string): string {
  const digits = minorDigits(currency);
  const [whole = "0", decimals = ""] = amount.split(".");
  let kept = decimals.padEnd(digits, "0");
  while (kept.length > digits && kept.endsWith("0")) kept = kept.slice(0, -1);
  return kept === "" ? whole : `${whole}.${kept}`;
}

function shippingOf(offers: readonly Thing[]): Money | null {
  for (const offer of offers) {
    for (const details of thingsOf(offer, "shippingDetails")) {
      for (const rate of [...thingsOf(details, "shippingRate"), details]) {
        const said = text(rate, "value") ?? text(rate, "price");
        const currency = currencyOf(rate);
        const [money] =
          said === null ? [] : readMoney(said, { currency: currency ?? undefined, language: "en", bare: true });
        if (money !== undefined && currency !== null) return { amount: withMinor(money.amount, currency), currency };
      }
    }
  }
  return null;
}

/** schema.org's conditions in plain words; other text as it stands. */
function conditionOf(thing: Thing, offers: readonly Thing[]): string | null {
  const said = text(thing, "itemCondition") ?? firstText(offers, "itemCondition");
  if (said === null) return null;
  const name = /(New|Used|Refurbished|Damaged)Condition\/?$/.exec(said)?.[1];
  return name === undefined ? (/^https?:/.test(said) ? null : said) : name.toLowerCase();
}

/** Properties that name the item for a person, with the names they get. */
const NAMED: readonly (readonly [string, string])[] = [
  ["brand", "Brand"],
  ["manufacturer", "Manufacturer"],
  ["model", "Model"],
  ["color", "Color"],
  ["size", "Size"],
  ["material", "Material"],
];

function specificsOf(thing: Thing, variants: readonly Thing[]): Record<string, string> {
  const specifics: Record<string, string> = {};
  const put = (name: string, value: string | null) => {
    if (value !== null && value !== "" && specifics[name] === undefined) specifics[name] = value;
  };
  for (const [property, name] of NAMED) put(name, text(thing, property));
  put("MPN", partNumberOf(thing));
  for (const property of thingsOf(thing, "additionalProperty")) {
    const name = text(property, "name");
    if (name === null) continue;
    const unit = text(property, "unitText");
    const value = text(property, "value");
    put(name, value === null ? null : unit === null ? value : `${value} ${unit}`);
  }
  const devices = thingsOf(thing, "isAccessoryOrSparePartFor").map(
    (device) => text(device, "name") ?? text(device, "model"),
  );
  const named = devices.filter((device): device is string => device !== null);
  if (named.length > 0) put("Spare part for", named.join(", "));
  const choices = variants
    .map((variant) => text(variant, "name") ?? text(variant, "sku"))
    .filter((name) => name !== null);
  if (choices.length > 0) put("Variants", choices.join(", "));
  return specifics;
}

/**
 * The maker's part number. Shops fill `mpn` with their own reference or an identity number: one that equals the
 * `sku`, the product's id or is a short plain number is none.
 */
function partNumberOf(thing: Thing): string | null {
  const mpn = text(thing, "mpn");
  if (mpn === null || /^\d{1,5}$/.test(mpn)) return null;
  const own = [text(thing, "sku"), text(thing, "productID"), thing.id];
  return own.includes(mpn) ? null : mpn;
}
