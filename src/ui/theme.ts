/**
 * Colours and measures, once. Neutral greys and three tier colours that colour-blind eyes tell apart by lightness
 * as well as by hue: blue for go, amber for check, vermilion for stop (after the palette of Okabe and Ito, darkened
 * or lightened until text on it reaches the contrast that WCAG 2.2 AA asks for; a test computes each pair).
 *
 * The tokens become custom properties (`--ff-ink`, …) of a scope: `:root` of our pages, the layers of the overlay.
 */

/** The colours of one scheme. Faces are grounds for their ink; edges are outlines on a surface. */
export interface Scheme {
  readonly surface: string;
  /** A surface that lies above the others: panels, dialogs, toasts. */
  readonly raised: string;
  /** A surface that lies below: fields, wells. */
  readonly sunken: string;
  readonly ink: string;
  /** Secondary text. */
  readonly soft: string;
  /** Hairlines that only divide. */
  readonly line: string;
  /** Outlines of controls. */
  readonly edge: string;
  readonly accent: string;
  readonly accentInk: string;
  readonly accentWash: string;
  readonly goFace: string;
  readonly goInk: string;
  readonly goEdge: string;
  readonly checkFace: string;
  readonly checkInk: string;
  readonly checkEdge: string;
  readonly stopFace: string;
  readonly stopInk: string;
  readonly stopEdge: string;
}

/** Light grounds. */
export const light: Scheme = {
  surface: "#ffffff",
  raised: "#ffffff",
  sunken: "#f3f4f5",
  ink: "#1c2024",
  soft: "#535a62",
  line: "#dcdfe2",
  edge: "#79818a",
  accent: "#0b5c9e",
  accentInk: "#ffffff",
  accentWash: "#e7f0f8",
  goFace: "#e7f0f8",
  goInk: "#0a4f89",
  goEdge: "#0b5c9e",
  checkFace: "#fbe6b4",
  checkInk: "#4a3200",
  checkEdge: "#8a5a00",
  stopFace: "#b23c00",
  stopInk: "#ffffff",
  stopEdge: "#b23c00",
};

/** Dark grounds. */
export const dark: Scheme = {
  surface: "#1a1d20",
  raised: "#23272b",
  sunken: "#131517",
  ink: "#eceef0",
  soft: "#adb5bd",
  line: "#363c42",
  edge: "#848d96",
  accent: "#8cc4f2",
  accentInk: "#06233b",
  accentWash: "#1c3040",
  goFace: "#14304a",
  goInk: "#b4daf9",
  goEdge: "#6fb3ea",
  checkFace: "#46340a",
  checkInk: "#ffdf9e",
  checkEdge: "#d9a441",
  stopFace: "#ff9a66",
  stopInk: "#2b0f00",
  stopEdge: "#ff9a66",
};

/** The scheme's custom properties as declarations. */
function declarations(scheme: Scheme): string {
  return Object.entries(scheme)
    .map(([name, value]) => `--ff-${name.replace(/[A-Z]/g, (letter) => `-${letter.toLowerCase()}`)}:${value};`)
    .join("");
}

/**
 * The tokens of a scope. `data-scheme="light|dark"` on the scope overrules the system, `data-contrast="more"`
 * strengthens lines.
 *
 * @param scope `:root` of our pages, or a class inside of a shadow root, where no page can set the tokens
 */
export function themeCss(scope: string): string {
  const more = "--ff-soft:var(--ff-ink);--ff-line:var(--ff-ink);--ff-edge:var(--ff-ink);";
  return `
${scope}{color-scheme:light;${declarations(light)}
--ff-font:system-ui,-apple-system,"Segoe UI",Roboto,"Helvetica Neue",Arial,sans-serif;
--ff-radius:5px;--ff-ring:0 0 0 2px var(--ff-surface),0 0 0 4px var(--ff-ink);
--ff-shadow:0 1px 2px rgb(0 0 0/.16),0 6px 24px rgb(0 0 0/.16);}
@media (prefers-color-scheme:dark){${scope}:not([data-scheme="light"]){color-scheme:dark;${declarations(dark)}}}
${scope}[data-scheme="dark"]{color-scheme:dark;${declarations(dark)}}
${scope}[data-contrast="more"]{${more}}
@media (prefers-contrast:more){${scope}{${more}}}
`;
}
