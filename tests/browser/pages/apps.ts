/** Two frameworks that hydrate what the server wrote, with every warning on. */
import { join } from "node:path";
import { build } from "esbuild";
import { type ComponentType, h } from "preact";
import { useState as usePreactState } from "preact/hooks";
import { renderToString as renderPreact } from "preact-render-to-string";
import { createElement, type FunctionComponent, useState as useReactState } from "react";
import { renderToString as renderReact } from "react-dom/server";
import { App } from "./app.mjs";

const STYLE =
  ".grid{display:grid;grid-template-columns:repeat(4,1fr);gap:12px}.card{border:1px solid #ccc;padding:10px}img{width:100%;height:140px;display:block;background:#eee}";

/** React in its development form and strict mode; what it recovers from is collected in `window.recovered`. */
const REACT = `
import { StrictMode, createElement, useState } from "react";
import { hydrateRoot } from "react-dom/client";
import { App } from "./app.mjs";
window.recovered = [];
hydrateRoot(document.getElementById("root"),
  createElement(StrictMode, null, createElement(App, { h: createElement, useState, count: 6 })),
  { onRecoverableError: (error) => window.recovered.push(String(error)) });
window.hydrated = true;`;

/** React that owns the whole document, as some site frameworks have it. */
const REACT_WHOLE = `
import { createElement as h, useState } from "react";
import { hydrateRoot } from "react-dom/client";
import { App } from "./app.mjs";
window.recovered = [];
hydrateRoot(document,
  h("html", { lang: "en" },
    h("head", null, h("meta", { charSet: "utf-8" }), h("title", null, "Invented shop"), h("style", null, ${JSON.stringify(STYLE)})),
    h("body", null, h(App, { h, useState, count: 6 }), h("script", { src: "/react-whole.js", async: true }))),
  { onRecoverableError: (error) => window.recovered.push(String(error)) });
window.hydrated = true;`;

const PREACT = `
import "preact/debug";
import { h, hydrate } from "preact";
import { useState } from "preact/hooks";
import { App } from "./app.mjs";
window.recovered = [];
hydrate(h(App, { h, useState, count: 6 }), document.getElementById("root"));
window.hydrated = true;`;

async function bundle(source: string): Promise<string> {
  const built = await build({
    stdin: { contents: source, resolveDir: join(import.meta.dirname), loader: "js" },
    bundle: true,
    format: "iife",
    define: { "process.env.NODE_ENV": '"development"' },
    write: false,
  });
  return built.outputFiles[0]?.text ?? "";
}

/** Files of the apps by path, ready to be served. */
export async function buildApps(): Promise<Map<string, { body: string; type: string }>> {
  const reactProps = { h: createElement, useState: useReactState, count: 6 };
  const preactProps = { h, useState: usePreactState, count: 6 };
  const reactHtml = renderReact(createElement(App as unknown as FunctionComponent<typeof reactProps>, reactProps));
  const preactHtml = renderPreact(h(App as unknown as ComponentType<typeof preactProps>, preactProps));
  const [react, whole, preact] = await Promise.all([REACT, REACT_WHOLE, PREACT].map(bundle));
  const rooted = (name: string, content: string) =>
    `<!doctype html><html lang="en"><head><meta charset="utf-8"><title>Invented shop</title><style>${STYLE}</style></head><body><div id="root">${content}</div><script src="/${name}.js" defer></script></body></html>`;
  const owned = `<!DOCTYPE html><html lang="en"><head><meta charSet="utf-8"/><title>Invented shop</title><style>${STYLE}</style></head><body>${reactHtml}<script src="/react-whole.js" async=""></script></body></html>`;
  const script = "text/javascript; charset=utf-8";
  const page = "text/html; charset=utf-8";
  return new Map([
    ["/react", { body: rooted("react", reactHtml), type: page }],
    ["/react.js", { body: react ?? "", type: script }],
    ["/preact", { body: rooted("preact", preactHtml), type: page }],
    ["/preact.js", { body: preact ?? "", type: script }],
    ["/react-whole", { body: owned, type: page }],
    ["/react-whole.js", { body: whole ?? "", type: script }],
  ]);
}
