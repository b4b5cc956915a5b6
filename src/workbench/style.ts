/** What the workbench adds to the look of our pages: the frame, the lists, the sections; each desk adds its own. */
import { benchCss } from "./bench/bench-style.ts";
import { catalogsCss } from "./catalogs/catalogs-style.ts";
import { orderDeskCss } from "./order/order-style.ts";
import { settingsCss } from "./settings/settings-style.ts";
import { titleDeskCss } from "./title/title-style.ts";

const frame = `
html,body,#root{block-size:100%}
.wb{min-block-size:100%;display:grid;grid-template-rows:auto auto 1fr}
.wb>.wb-desk{grid-row:3}
.wb-trouble{padding:12px 24px 0;grid-row:2}
.wb-skip{position:absolute;inset-inline-start:8px;inset-block-start:-60px;background:var(--ff-raised);padding:8px 12px;z-index:20}
.wb-skip:focus{inset-block-start:8px}
.wb-head{display:flex;flex-wrap:wrap;gap:4px 28px;align-items:center;padding:0 24px;border-block-end:1px solid var(--ff-line)}
.wb-name{display:flex;gap:9px;align-items:center;font-weight:600;font-size:15px}
.wb-name .ff-sign{color:var(--ff-accent)}
.wb-desks{display:flex;flex-wrap:wrap;gap:0 6px;list-style:none;margin:0;padding:0}
.wb-desks a{display:block;padding:13px 10px 8px;color:var(--ff-soft);text-decoration:none;border-block-end:6px double transparent}
.wb-desks a:hover{color:var(--ff-ink);border-block-end-color:var(--ff-line)}
.wb-desks a[aria-current]{color:var(--ff-ink);font-weight:600;border-block-end-color:var(--ff-accent)}
.wb-in-hand{margin-inline-start:auto;color:var(--ff-soft);overflow:hidden;text-overflow:ellipsis;white-space:nowrap;max-inline-size:min(40ch,100%);padding-block:6px}
.wb-in-hand a,.wb-in-hand b{font-weight:600;color:var(--ff-ink)}
.wb-desk{min-inline-size:0;min-block-size:0}
.wb-desk:focus-visible{box-shadow:none}
.wb-page{max-inline-size:800px;padding:24px 28px 64px;display:grid;gap:18px;align-content:start;min-inline-size:0;overflow-wrap:anywhere}
.wb-page>*{min-inline-size:0}
.wb-middle{margin-inline:auto;max-inline-size:560px;padding-block-start:9vh}
.wb-soft{color:var(--ff-soft)}
.ff-failure h2{font-size:14px}
.wb-note{border-inline-start:3px solid var(--ff-check-edge);padding-inline-start:10px}
.wb-two{display:grid;grid-template-columns:repeat(auto-fit,minmax(min(220px,100%),1fr));gap:12px;align-items:start}
.wb-three{display:grid;grid-template-columns:repeat(auto-fit,minmax(min(170px,100%),1fr));gap:12px;align-items:start}
.wb-plain{list-style:none;margin:0;padding:0;display:grid;gap:8px}
.wb-tag{display:inline-block;font-size:12px;line-height:1.5;padding:0 7px;border:1px solid var(--ff-edge);border-radius:20px;white-space:nowrap;justify-self:start}
`;

const split = `
.wb-split{display:grid;grid-template-columns:minmax(320px,30%) 1fr;block-size:100%}
.wb-list{display:flex;flex-direction:column;gap:10px;min-inline-size:0;min-block-size:0;border-inline-end:1px solid var(--ff-line);padding:20px 0 0}
.wb-list>*:not(.wb-links){padding-inline:20px}
.wb-list-title{display:flex;justify-content:space-between;gap:8px 12px;align-items:center;flex-wrap:wrap}
.wb-list-head{display:grid;gap:10px}
.wb-list-head .wb-two{grid-template-columns:1fr 1fr}
.wb-count{color:var(--ff-soft);font-size:13px}
.wb-nothing{display:grid;gap:8px;justify-items:start}
.wb-side{min-inline-size:0;min-block-size:0;overflow:auto}
.wb-back{padding:14px 28px 0;display:none}
.wb-links{flex:1;min-block-size:240px;overflow:auto;border-block-start:1px solid var(--ff-line)}
.wb-links ul{position:relative;list-style:none;margin:0;padding:0}
.wb-links li{position:absolute;inset-inline:0;border-block-end:1px solid var(--ff-line)}
.wb-links a{display:flex;gap:12px;align-items:center;block-size:100%;padding:0 20px;color:inherit;text-decoration:none;overflow:hidden}
.wb-links a:hover{background:var(--ff-sunken)}
.wb-links a[aria-current]{background:var(--ff-accent-wash);box-shadow:inset 3px 0 var(--ff-accent)}
[dir=rtl] .wb-links a[aria-current]{box-shadow:inset -3px 0 var(--ff-accent)}
.wb-links a:focus-visible{box-shadow:inset 0 0 0 2px var(--ff-ink);border-radius:0}
.wb-row-text{flex:1;min-inline-size:0;display:grid;gap:1px}
.wb-row-text>*{overflow:hidden;text-overflow:ellipsis;white-space:nowrap}
.wb-row-name{display:flex;gap:8px;align-items:center}
.wb-row-name b{overflow:hidden;text-overflow:ellipsis}
.wb-row-under{color:var(--ff-soft);font-size:13px}
@media (min-width:901px){.wb:has(.wb-split){block-size:100dvh}}
@media (max-width:900px){
.wb-split{display:block;block-size:auto}
.wb-split[data-open=true] .wb-list{display:none}
.wb-split[data-open=false] .wb-side{border-block-start:1px solid var(--ff-line)}
.wb-list{border-inline-end:0}
.wb-links{flex:none;block-size:min(70dvh,560px);border-block-end:1px solid var(--ff-line)}
.wb-split[data-open=false] .wb-links{block-size:calc(100dvh - 330px);min-block-size:320px}
.wb-back{display:block}
}
@media (max-width:480px){
.wb-head{padding-inline:16px;gap:0 12px}
.wb-name{padding-block-start:10px}
.wb-in-hand{margin-inline-start:0;max-inline-size:100%}
.wb-desks{margin-inline:-8px}
.wb-desks a{padding:8px 8px 4px}
.wb-page{padding:18px 16px 64px}
.wb-back{padding-inline:16px}
.wb-list>*:not(.wb-links){padding-inline:16px}
.wb-links a{padding-inline:16px}
}
`;

/** Where the system lays down the colours, places and states are told by lines. */
const forced = `
@media (forced-colors:active){
.wb-desks a:not([aria-current]){border-block-end-color:Canvas}
.wb-links a[aria-current]{border-inline-start:5px solid Highlight}
.wb-preview,.wb-question,.wb-note-text,.wb-picture,.wb-chips li,.wb-answer-line,.wb-command-line{border:1px solid CanvasText}
.wb-pin-word[data-chosen=true]{outline:2px solid Highlight}
.wb-mark{border:1px solid CanvasText}
}
`;

const forms = `
.wb-form{gap:24px}
.wb-group{border:0;margin:0;padding:0;display:grid;gap:14px;min-inline-size:0}
.wb-group>legend{font-size:16px;font-weight:600;padding:0;margin-block-end:10px}
.wb-card{border:1px solid var(--ff-line);border-radius:8px;padding:14px;margin:0;display:grid;gap:10px;min-inline-size:0}
.wb-stack{display:grid;gap:10px}
.wb-date{display:grid;gap:10px}
.wb-quantities{display:grid;grid-template-columns:repeat(auto-fill,minmax(150px,1fr));gap:10px}
.wb-form-end{position:sticky;inset-block-end:0;background:var(--ff-surface);border-block-start:1px solid var(--ff-line);padding-block:12px;margin-block-end:-64px;padding-block-end:24px}
.wb-picture-field{display:grid;grid-template-columns:auto 1fr;gap:14px;align-items:start}
.wb-picture-field>.wb-drop:only-child{grid-column:1/-1}
.wb-short{inline-size:auto}
.wb-short-field{max-inline-size:260px}
.wb-table-frame{overflow:auto;border:1px solid var(--ff-line);border-radius:8px}
.wb-table{border-collapse:collapse;font-size:13px}
.wb-table th,.wb-table td{padding:6px 10px;text-align:start;vertical-align:top;border-inline-end:1px solid var(--ff-line);min-inline-size:150px;max-inline-size:260px}
.wb-table th{background:var(--ff-sunken);font-weight:500}
.wb-table th label{display:block;margin-block-end:4px;overflow-wrap:anywhere}
.wb-table tbody tr{border-block-start:1px solid var(--ff-line)}
.wb-table [data-read=false]{color:var(--ff-soft)}
.wb-table td[data-read=true]{box-shadow:inset 2px 0 0 var(--ff-accent)}
[dir=rtl] .wb-table td[data-read=true]{box-shadow:inset -2px 0 0 var(--ff-accent)}
`;

/** The whole sheet. */
export const workbenchCss = [
  frame,
  split,
  forms,
  benchCss,
  catalogsCss,
  orderDeskCss,
  titleDeskCss,
  settingsCss,
  forced,
].join("");
