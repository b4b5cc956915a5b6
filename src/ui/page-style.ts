/** The look of our own pages: one style sheet for popup and workbench, built on the theme's tokens. */
import { connectorPairCss } from "./connector-pair.ts";
import { dateBarCss } from "./date-bar.ts";
import { explanationCss } from "./explanation-view.ts";
import { themeCss } from "./theme.ts";

const base = `
*,*::before,*::after{box-sizing:border-box}
html{font:14px/1.45 var(--ff-font);background:var(--ff-surface);color:var(--ff-ink);-webkit-text-size-adjust:100%}
body{margin:0;font:inherit}
h1,h2,h3{font-weight:600;line-height:1.25;margin:0;text-wrap:balance}
h1{font-size:20px}h2{font-size:16px}h3{font-size:14px}
p{margin:0;text-wrap:pretty}
code,.ff-number{font:inherit;font-variant-numeric:tabular-nums slashed-zero;font-weight:600;overflow-wrap:anywhere}
a{color:var(--ff-accent)}
:focus{outline:none}
:focus-visible{outline:2px solid transparent;box-shadow:var(--ff-ring);border-radius:var(--ff-radius)}
.ff-unseen{position:absolute;inline-size:1px;block-size:1px;overflow:hidden;clip-path:inset(50%);white-space:nowrap}
.ff-sign{flex:none;vertical-align:-.18em}
@media (prefers-reduced-motion:no-preference){.ff-toast,.ff-dialog{animation:ff-in .14s ease-out}}
@keyframes ff-in{from{opacity:0;translate:0 6px}}
`;

const controls = `
.ff-button{font:inherit;font-weight:500;color:var(--ff-ink);background:var(--ff-surface);border:1px solid var(--ff-edge);border-radius:var(--ff-radius);min-block-size:32px;min-inline-size:32px;padding:4px 12px;display:inline-flex;gap:8px;align-items:center;justify-content:center;cursor:pointer;text-align:start;text-decoration:none}
.ff-button:hover:not(:disabled){background:var(--ff-sunken)}
.ff-button:active:not(:disabled){translate:0 1px}
.ff-button:disabled{color:var(--ff-soft);border-color:var(--ff-line);cursor:default}
.ff-strong{background:var(--ff-accent);border-color:var(--ff-accent);color:var(--ff-accent-ink)}
.ff-strong:hover:not(:disabled){background:var(--ff-accent);filter:brightness(1.12)}
.ff-strong:disabled{background:var(--ff-sunken);color:var(--ff-soft)}
.ff-quiet{border-color:transparent;background:transparent;color:var(--ff-accent);padding-inline:8px}
.ff-danger{color:var(--ff-ink);border-color:var(--ff-stop-edge)}
.ff-button[aria-pressed=true]{background:var(--ff-accent-wash);border-color:var(--ff-accent)}
.ff-actions{display:flex;flex-wrap:wrap;gap:8px;align-items:center}
.ff-field{display:grid;gap:4px}
.ff-field label,.ff-choices legend{font-weight:500;padding:0}
.ff-input{font:inherit;color:inherit;background:var(--ff-surface);border:1px solid var(--ff-edge);border-radius:var(--ff-radius);min-block-size:34px;padding:5px 9px;inline-size:100%;font-variant-numeric:slashed-zero;min-inline-size:0}
.ff-input::placeholder{color:var(--ff-soft);opacity:1}
textarea.ff-input{resize:vertical;line-height:1.4}
.ff-input[aria-invalid]{border-color:var(--ff-stop-edge);border-width:2px;padding:4px 8px}
.ff-hint{color:var(--ff-soft);font-size:.92em}
.ff-error{font-size:.92em;font-weight:500;border-inline-start:3px solid var(--ff-stop-edge);padding-inline-start:7px}
.ff-toggle{display:grid;grid-template-columns:auto 1fr;gap:2px 8px;align-items:start}
.ff-toggle .ff-hint{grid-column:2}
input[type=checkbox],input[type=radio]{inline-size:18px;block-size:18px;margin:3px;accent-color:var(--ff-accent);flex:none}
.ff-choices{border:0;margin:0;padding:0;display:grid;gap:2px;min-inline-size:0}
.ff-choices legend{margin-block-end:2px}
.ff-choice{display:flex;gap:6px;align-items:start;min-block-size:26px;padding:2px 6px 2px 2px;border-radius:var(--ff-radius);cursor:pointer;overflow-wrap:anywhere}
.ff-choice:hover{background:var(--ff-sunken)}
.ff-choice small{display:block;color:var(--ff-soft);font-size:.92em}
`;

const states = `
.ff-state{display:grid;gap:8px;justify-items:start;padding:20px 0;color:var(--ff-soft)}
.ff-state h2{color:var(--ff-ink)}
.ff-failure{border:1px solid var(--ff-stop-edge);border-inline-start-width:4px;border-radius:var(--ff-radius);padding:10px 12px;display:grid;gap:8px;justify-items:start;overflow-wrap:anywhere}
.ff-failure ul{margin:0;padding-inline-start:18px}
.ff-progress{display:flex;gap:12px;align-items:end}
.ff-progress label{flex:1;display:grid;gap:4px}
.ff-progress progress{inline-size:100%;block-size:8px;accent-color:var(--ff-accent)}
.ff-dialog{border:1px solid var(--ff-line);border-radius:8px;background:var(--ff-raised);color:var(--ff-ink);padding:20px;max-inline-size:min(560px,calc(100vw - 32px));box-shadow:var(--ff-shadow)}
.ff-dialog::backdrop{background:rgb(0 0 0/.45)}
.ff-dialog-body{margin-block:10px 18px;display:grid;gap:10px}
.ff-toasts{position:fixed;inset-block-end:16px;inset-inline:16px;display:grid;justify-items:center;pointer-events:none;z-index:10}
.ff-toast{pointer-events:auto;display:flex;flex-wrap:wrap;gap:8px 12px;align-items:center;background:var(--ff-raised);border:1px solid var(--ff-edge);border-radius:8px;padding:8px 8px 8px 14px;box-shadow:var(--ff-shadow);max-inline-size:100%}
.ff-long{box-sizing:content-box;overflow:auto;position:relative;border-block:1px solid var(--ff-line)}
.ff-long [role=list]{position:relative}
.ff-long-row{position:absolute;inset-inline:0;display:flex;align-items:center;gap:8px;border-block-end:1px solid var(--ff-line);padding-inline:4px;overflow:hidden}
.ff-long-row:focus-visible{box-shadow:inset 0 0 0 2px var(--ff-ink)}
`;

/** Everything that a page of ours needs before its own rules. */
const pageCss = [themeCss(":root"), base, controls, states, connectorPairCss, dateBarCss, explanationCss].join("");

/** Puts style sheets into a page of ours and makes it speak its language. */
export function dressPage(
  document: Document,
  look: { language: string; direction: string; scheme: string; contrast: string },
  ...css: readonly string[]
): void {
  const root = document.documentElement;
  root.lang = look.language;
  root.dir = look.direction;
  if (look.scheme === "system") delete root.dataset["scheme"];
  else root.dataset["scheme"] = look.scheme;
  if (look.contrast === "more") root.dataset["contrast"] = "more";
  else delete root.dataset["contrast"];
  const id = "ff-style";
  const style = document.getElementById(id) ?? document.head.appendChild(document.createElement("style"));
  style.id = id;
  const text = [pageCss, ...css].join("");
  if (style.textContent !== text) style.textContent = text;
}
