/**
 * The overlay's look. The host is out of reach of the page: inside a shadow tree `!important` wins over the page's
 * own `!important`, and every inherited property starts anew.
 */
import { connectorPairCss } from "../ui/connector-pair.ts";
import { explanationCss } from "../ui/explanation-view.ts";
import { themeCss } from "../ui/theme.ts";

const ground = `
:host{all:initial!important;display:block!important;position:absolute!important;inset:0 auto auto 0!important;inline-size:0!important;block-size:0!important;margin:0!important;z-index:2147483647!important;pointer-events:none!important;visibility:visible!important;opacity:1!important;transform:none!important;filter:none!important;clip-path:none!important}
*,*::before,*::after{box-sizing:border-box}
.sheet,.frame{font:13px/1.4 var(--ff-font);color:var(--ff-ink);text-align:start}
.sheet{position:absolute;inset:0 auto auto 0;inline-size:0;block-size:0}
.probe{position:absolute;inset:0 auto auto 0;inline-size:100px;block-size:100px;visibility:hidden;pointer-events:none}
p,h2,h4,ul,ol{margin:0;font-size:inherit}
:focus{outline:none}
:focus-visible{outline:2px solid transparent;box-shadow:var(--ff-ring)}
[hidden]{display:none!important}
.unseen{position:absolute;inline-size:1px;block-size:1px;overflow:hidden;clip-path:inset(50%);white-space:nowrap}
.ff-sign{flex:none;display:block}
@media print{:host{display:none!important}}
`;

const marks = `
.mark{all:unset;box-sizing:border-box;position:absolute;z-index:1;left:0;top:0;pointer-events:auto;cursor:pointer;display:flex;align-items:center;gap:5px;block-size:24px;min-inline-size:24px;padding:0 8px 0 5px;border:1px solid;border-radius:4px;font:600 12px/1 var(--ff-font);white-space:nowrap;box-shadow:0 1px 3px rgb(0 0 0/.28)}
[dir=rtl] .mark{padding:0 5px 0 8px}
.mark:focus-visible,.mark[aria-expanded=true]{box-shadow:var(--ff-ring)}
.mark[data-tier=go]{background:var(--ff-go-face);color:var(--ff-go-ink);border-color:var(--ff-go-edge)}
.mark[data-tier=check]{background:var(--ff-check-face);color:var(--ff-check-ink);border-color:var(--ff-check-edge)}
.mark[data-tier=stop]{background:var(--ff-stop-face);color:var(--ff-stop-ink);border-color:var(--ff-stop-edge)}
.mark .word{color:inherit}
.mark[data-form=sign]{padding:0;justify-content:center;inline-size:24px}
.mark[data-form=sign] .word{display:none}
.mark[data-away]{visibility:hidden}
.veil{position:absolute;left:0;top:0;background:var(--page,#fff);opacity:.72;pointer-events:none}
@media (forced-colors:active){.mark{border:2px solid;forced-color-adjust:auto}.veil{opacity:.6}}
`;

const boxes = `
.strip,.panel,.pill{pointer-events:auto;background:var(--ff-raised);color:var(--ff-ink);border:1px solid var(--ff-edge);border-radius:8px;box-shadow:var(--ff-shadow)}
.strip{position:fixed;z-index:2;inset-block-end:12px;inset-inline-start:12px;inline-size:min(620px,calc(100% - 24px));max-block-size:min(70vh,640px);display:flex;flex-direction:column}
.strip-top{display:flex;gap:10px;padding:11px 8px 4px 12px;align-items:start}
.strip-top>.ff-sign{margin-block-start:1px;color:var(--tone)}
[data-tone=go]{--tone:var(--ff-go-edge)}[data-tone=check]{--tone:var(--ff-check-edge)}[data-tone=stop]{--tone:var(--ff-stop-edge)}[data-tone=none]{--tone:var(--ff-edge)}
.sentence{flex:1;font-size:14px;min-inline-size:0;overflow-wrap:anywhere}
.sentence p+p{margin-block-start:3px}
.sentence .for{color:var(--ff-soft);font-size:12px}
.row{display:flex;flex-wrap:wrap;gap:2px;padding:0 6px 6px;align-items:center}
.act{all:unset;box-sizing:border-box;font:500 13px/1 var(--ff-font);color:var(--ff-accent);min-block-size:28px;min-inline-size:28px;padding:0 8px;display:inline-flex;align-items:center;justify-content:center;gap:6px;border-radius:var(--ff-radius);cursor:pointer}
.act:hover{background:var(--ff-sunken)}
.act:focus-visible{box-shadow:var(--ff-ring)}
.act[aria-pressed=true]{background:var(--ff-accent-wash)}
.act.first{background:var(--ff-accent);color:var(--ff-accent-ink)}
.act.plain{color:var(--ff-soft);padding:0}
.act[disabled]{color:var(--ff-soft);cursor:default}
.pill{position:fixed;z-index:2;inset-block-end:12px;inset-inline-start:12px;border-radius:16px}
.pill .act{color:var(--ff-ink);min-block-size:30px;border-radius:16px;padding-inline:10px 12px}
.pill .ff-sign{color:var(--tone)}
.listing{overflow:auto;border-block-start:1px solid var(--ff-line);padding:4px 6px;min-block-size:0}
.listing ol{list-style:none;padding:0}
.listing .act{inline-size:100%;color:var(--ff-ink);font-weight:400;line-height:1.3;justify-content:start;padding-block:3px;align-items:start}
.listing .ff-sign{margin-block-start:1px;color:var(--tone)}
.listing .name{flex:1;min-inline-size:0;overflow:hidden;text-overflow:ellipsis;white-space:nowrap}
.listing .price{font-variant-numeric:tabular-nums;white-space:nowrap}
.more{padding:4px 8px;color:var(--ff-soft)}
.panel{position:absolute;z-index:3;left:0;top:0;inline-size:400px;max-block-size:min(560px,calc(100vh - 24px));display:flex;flex-direction:column;overflow:hidden}
.panel.still{position:fixed;inset:auto auto 12px;inset-inline-start:12px;max-inline-size:calc(100% - 24px)}
.panel-top{display:flex;gap:9px;align-items:start;padding:10px 6px 8px 12px}
[dir=rtl] .panel-top{padding:10px 12px 8px 6px}
[dir=rtl] .strip-top{padding:11px 12px 4px 8px}
.panel-top>.ff-sign{margin-block-start:2px;color:var(--tone)}
.panel-top h2{flex:1;font-size:14px;font-weight:600;line-height:1.35;min-inline-size:0;overflow-wrap:anywhere}
.panel-top h2 small{display:block;font-size:12px;font-weight:400;color:var(--ff-soft)}
.panel-body{overflow:auto;padding:0 12px 10px;min-block-size:0}
.panel .row{border-block-start:1px solid var(--ff-line);padding-block:4px}
@media (max-width:480px){.panel{position:fixed;inset:auto 12px 12px!important;inline-size:auto;max-inline-size:none!important;transform:none!important;max-block-size:80vh}}
@media (prefers-reduced-motion:no-preference){.panel,.strip{animation:in .14s ease-out}}
@keyframes in{from{opacity:0}}
`;

const teaching = `
.outline{position:absolute;z-index:1;left:0;top:0;pointer-events:none;border:2px solid var(--ff-accent);border-radius:3px;background:color-mix(in srgb,var(--ff-accent) 14%,transparent)}
.outline[data-kind=sure]{border-style:dashed}
`;

/** The whole style sheet of the overlay. */
export const overlayCss = [themeCss(".ff-root"), ground, marks, boxes, teaching, connectorPairCss, explanationCss].join(
  "",
);
