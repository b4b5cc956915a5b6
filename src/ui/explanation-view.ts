/** An explanation as a tree of elements, the same on a listing page, in the popup and in the workbench. */
import type { Words } from "../text/words.ts";
import { connectorPair } from "./connector-pair.ts";
import { type Drawn, drawn } from "./drawn.ts";
import type { Explanation, Quote, SaidHazard } from "./explanation.ts";
import type { Piece } from "./highlight.ts";

/**
 * Everything below the headline. What is wrong for sure comes with its warning first; where something is only open,
 * what is open and how to find out come first, and what a wrong one would do after that.
 */
export function explanationBody(explanation: Explanation, words: Words): Drawn {
  const { tier, hazards, pins } = explanation;
  const harm = [...hazards.map(hazardBox), ...(pins ? [connectorPair(pins.offered, pins.yours, words)] : [])];
  const said = whatItSays(explanation, words);
  const ifWrong = harm.length > 0 ? [drawn("p", { class: "ff-label" }, words.say("ui_if_wrong")), ...harm] : [];
  return drawn("div", { class: "ff-explained" }, tier === "stop" ? [...harm, ...said] : [...said, ...ifWrong]);
}

/** The words of the listing, the reasons that rest on them, and what to look for. */
function whatItSays({ title, quotes, reasons, checks }: Explanation, words: Words): Drawn[] {
  const items = (all: readonly string[]) => all.map((each) => drawn("li", {}, each));
  return [
    drawn("p", { class: "ff-quoted", dir: "auto" }, ...title.map(piece)),
    ...quotes.map(quote),
    ...(reasons.length > 0 ? [drawn("ul", { class: "ff-reasons" }, items(reasons))] : []),
    ...(checks.length > 0
      ? [
          drawn("p", { class: "ff-label" }, words.say("ui_checks_heading")),
          drawn("ul", { class: "ff-checks" }, items(checks)),
        ]
      : []),
  ];
}

/** One box a signal word: the word, what it is about, the general cautions. */
export function hazardBox({ signal, signalText, sentences, cautions }: SaidHazard): Drawn {
  return drawn(
    "div",
    { class: "ff-hazard", "data-signal": signal?.toLowerCase() ?? "none" },
    signalText === "" ? null : drawn("strong", {}, signalText),
    ...sentences.map((sentence) => drawn("p", {}, sentence)),
    ...cautions.map((caution) => drawn("p", { class: "ff-caution" }, caution)),
  );
}

function piece({ text, marked }: Piece): Drawn | string {
  return marked ? drawn("mark", {}, text) : text;
}

function quote({ field, pieces }: Quote): Drawn {
  return drawn("p", { class: "ff-quoted", dir: "auto" }, drawn("b", {}, `${field}: `), ...pieces.map(piece));
}

/** The look of an explanation; needs the theme's tokens. */
export const explanationCss = `
.ff-explained{display:grid;gap:10px;overflow-wrap:anywhere}
.ff-explained p,.ff-explained ul{margin:0}
.ff-label{font-weight:600}
.ff-explained ul{padding-inline-start:16px;display:grid;gap:3px}
.ff-quoted{background:var(--ff-sunken);border-radius:var(--ff-radius);padding:6px 9px;font-variant-numeric:slashed-zero;line-height:1.5}
.ff-quoted mark{background:none;color:inherit;font-weight:600;border-block-end:2px solid var(--ff-accent);padding-block-end:1px}
.ff-hazard{border:1px solid var(--ff-edge);border-radius:var(--ff-radius);overflow:hidden}
.ff-hazard strong{display:block;padding:3px 9px;font-weight:700;letter-spacing:.03em;background:var(--ff-ink);color:var(--ff-surface);forced-color-adjust:none}
.ff-hazard p{padding:6px 9px 0}
.ff-hazard p:last-child{padding-block-end:7px}
.ff-hazard .ff-caution{color:var(--ff-soft);font-size:.92em}
.ff-hazard[data-signal=warning]{border-color:var(--ff-stop-edge)}
.ff-hazard[data-signal=warning] strong{background:var(--ff-stop-face);color:var(--ff-stop-ink)}
.ff-hazard[data-signal=caution]{border-color:var(--ff-check-edge)}
.ff-hazard[data-signal=caution] strong{background:var(--ff-check-face);color:var(--ff-check-ink)}
`;
