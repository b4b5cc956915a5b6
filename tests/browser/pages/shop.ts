/**
 * A small shop of our own for the browser tests, on loopback. Every page is invented. A page is put together from
 * the address: `/grid?n=24&dir=rtl&dark=1&css=hostile`.
 */
import { createServer, type Server } from "node:http";
import type { AddressInfo } from "node:net";

/** Titles for the example device (late board): what each is, by its number. */
export const TITLES = [
  { title: "Battery for Pellworm Lark 20 PL-20, PB-1840, new", price: "36.00", tier: "stop" },
  { title: "Lark 20 battery PB-2240 for late board PW-4410-5", price: "54.00", tier: "go" },
  { title: "Battery for PL-20 handheld, high capacity", price: "29.90", tier: "check" },
  { title: "Garden hose, ten metres, green", price: "19.00", tier: "none" },
] as const;

const PICTURE = "data:image/svg+xml,%3Csvg xmlns='http://www.w3.org/2000/svg' width='200' height='140'/%3E";

/** Styles that try to break whatever is put into a page. */
const STYLES: Record<string, string> = {
  hostile: "* { all: unset !important } html, body, .card { display: block !important }",
  front: ".card { position: relative; z-index: 2147483647 } main { isolation: isolate }",
  turned:
    "main { transform: translate(40px, 30px) scale(.8); transform-origin: 0 0 } .card { transform: rotate(1deg) }",
  counted:
    ".card:nth-child(3n) { margin-inline-start: 24px } .card:last-child { background: #eee } body:last-child { outline: 3px solid #ccc }",
  bare: "falsefit-overlay, html > :not(head, body) { display: none !important; visibility: hidden !important; opacity: 0 !important }",
  sticky: "header { position: sticky; top: 0; z-index: 50; background: #fff; block-size: 220px }",
  inner: "html, body { height: 100%; margin: 0 } body { overflow: hidden } main { height: 420px; overflow: auto }",
};

/** Scripts that do what pages do. */
const SCRIPTS: Record<string, string> = {
  fights: `let removed = 0; new MutationObserver(() => { const own = document.querySelector("falsefit-overlay");
    if (own) { own.remove(); document.title = "removed " + ++removed; } }).observe(document, { childList: true, subtree: true });`,
  more: `window.more = (html) => document.querySelector("main").insertAdjacentHTML("beforeend", html);`,
};

export interface Shop {
  readonly origin: string;
  close(): Promise<void>;
  /** Serves a page of a test's own. */
  serve(path: string, body: string, type?: string): void;
}

export async function openShop(): Promise<Shop> {
  const own = new Map<string, { body: string; type: string }>();
  const server: Server = createServer((request, response) => {
    const url = new URL(request.url ?? "/", "http://shop");
    const served = own.get(url.pathname);
    const headers: Record<string, string> = { "content-type": served?.type ?? "text/html; charset=utf-8" };
    if (url.searchParams.get("policy") === "strict")
      headers["content-security-policy"] = "default-src 'none'; img-src data:";
    response.writeHead(200, headers);
    response.end(served?.body ?? page(url.pathname, url.searchParams));
  });
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  return {
    origin: `http://127.0.0.1:${(server.address() as AddressInfo).port}`,
    serve: (path, body, type = "text/html; charset=utf-8") => void own.set(path, { body, type }),
    close: () =>
      new Promise((resolve) => {
        server.closeAllConnections();
        server.close(() => resolve());
      }),
  };
}

/** One card of the grid or list. */
export function card(i: number): string {
  const { title, price } = TITLES[i % TITLES.length] ?? TITLES[0];
  return `<article class="card"><a href="/item/${i}"><img src="${PICTURE}" alt=""></a>
<h3><a href="/item/${i}">${title} (${i})</a></h3><p class="price">$${price}</p><p>Free shipping</p></article>`;
}

function row(i: number): string {
  const { title, price } = TITLES[i % TITLES.length] ?? TITLES[0];
  return `<tr class="card"><td><a href="/item/${i}">${title} (${i})</a></td><td>new</td><td class="price">$${price}</td></tr>`;
}

function page(path: string, options: URLSearchParams): string {
  const count = Number(options.get("n") ?? 12);
  const every = (make: (i: number) => string) => Array.from({ length: count }, (_, i) => make(i)).join("\n");
  const body =
    path === "/table"
      ? `<table><thead><tr><th>Part</th><th>State</th><th>Price</th></tr></thead><tbody>${every(row)}</tbody></table>`
      : path === "/empty"
        ? "<p>There is nothing for sale here.</p>"
        : every(card);
  const scripts = (options.get("js") ?? "").split(",").map((name) => SCRIPTS[name] ?? "");
  const styles = (options.get("css") ?? "").split(",").map((name) => STYLES[name] ?? "");
  const view = path === "/list" ? LIST : GRID;
  return `<!doctype html><html lang="en" dir="${options.get("dir") ?? "ltr"}"><head><meta charset="utf-8">
<meta name="viewport" content="width=device-width,initial-scale=1"><title>Invented shop</title>
<style>${BASE}${view}${options.get("dark") ? DARK : ""}${styles.join("")}</style></head>
<body><header><h1>Invented shop</h1></header><main>${body}</main><script>${scripts.join(";")}</script></body></html>`;
}

const BASE =
  "body{font:16px/1.4 sans-serif;margin:16px}h3{font-size:16px;margin:8px 0}img{width:100%;height:140px;background:#e8e8e8;display:block}.card{border:1px solid #ccc;padding:12px}td{padding:8px}";
const GRID = "main{display:grid;grid-template-columns:repeat(auto-fill,minmax(220px,1fr));gap:16px}";
const LIST = ".card{display:flex;gap:16px}.card img{width:80px;height:60px}.card h3{flex:1}";
const DARK = "body{background:#111;color:#eee}a{color:#9cf}";
