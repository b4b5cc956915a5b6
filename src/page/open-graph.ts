/** Open Graph tags of a product page: a title, a price in the shop's own money format, a condition. */
import { readMoney } from "../text/money.ts";
import { isCurrencyCode } from "../text/money-symbols.ts";
import type { Product } from "./product.ts";

/** The product that a page's Open Graph tags describe; null when they describe none. */
export function readOpenGraph(document: Document): Product | null {
  const tag = (name: string) =>
    document.querySelector(`meta[property="${name}"], meta[name="${name}"]`)?.getAttribute("content")?.trim() || null;
  const type = tag("og:type") ?? "";
  const amount = tag("product:price:amount") ?? tag("og:price:amount") ?? tag("product:sale_price:amount");
  const isProduct = /(?:^|:)product(?:\.item)?$/i.test(type);
  const name = tag("og:title");
  if (name === null || (!isProduct && amount === null)) return null;
  const code = (tag("product:price:currency") ?? tag("og:price:currency") ?? "").toUpperCase();
  const currency = isCurrencyCode(code) ? code : undefined;
  const [money] =
    amount === null ? [] : readMoney(amount, { currency, language: document.documentElement.lang, bare: true });
  const isPriced = money !== undefined && currency !== undefined && /[1-9]/.test(money.amount);
  return {
    name,
    url: tag("og:url"),
    price: isPriced ? { amount: money.amount, currency } : null,
    shipping: null,
    condition: tag("product:condition"),
    description: null,
    specifics: {},
    isListed: false,
    element: null,
  };
}
