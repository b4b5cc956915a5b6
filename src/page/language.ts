/** The language of a page, and by which one its money is read. */

/** The language that the page says it is in. */
export function languageOf(document: Document): string | undefined {
  const stated =
    document.documentElement.getAttribute("lang") ||
    document.documentElement.getAttribute("xml:lang") ||
    document.body?.getAttribute("lang") ||
    document.querySelector('meta[http-equiv="content-language" i]')?.getAttribute("content") ||
    document.querySelector('meta[property="og:locale"]')?.getAttribute("content");
  const tag = (stated ?? "").trim().replaceAll("_", "-").split(",")[0] ?? "";
  return /^[A-Za-z]{2,3}(?:-[A-Za-z0-9]{2,8}){0,4}$/.test(tag) ? tag : undefined;
}

/** The language by which money is read: with the region that the page's address adds ("de" on a ".ch" host). */
export function moneyLanguage(language: string | undefined, address: string | undefined): string | undefined {
  if (language === undefined || language.includes("-")) return language;
  const host = address !== undefined && URL.canParse(address) ? new URL(address).hostname : "";
  const region = host.split(".").at(-1) ?? "";
  if (!/^[a-z]{2}$/.test(region) || region === "eu" || region === "io" || region === "co") return language;
  return `${language}-${region === "uk" ? "GB" : region.toUpperCase()}`;
}
