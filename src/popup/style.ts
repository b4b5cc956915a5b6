/** What the popup adds to the look of our pages. */
export const popupCss = `
body{inline-size:372px;max-inline-size:100vw;margin-inline:auto}
.popup{display:grid;padding:0 16px 12px}
.top{display:flex;align-items:center;gap:8px;padding:12px 0 4px;color:var(--ff-soft)}
.top .ff-sign{color:var(--ff-accent)}
.top h1{flex:1;color:var(--ff-ink);font-size:14px}
section{display:grid;gap:8px;padding:12px 0;border-block-end:1px solid var(--ff-line)}
section:last-of-type{border:0}
section h2{font-size:12px;font-weight:600;color:var(--ff-soft)}
section .ff-actions{gap:4px}
.ff-actions .ff-quiet:first-child{margin-inline-start:-8px}
.says{display:flex;gap:9px;line-height:1.45;align-items:start;overflow-wrap:anywhere;min-inline-size:0}
.says .ff-sign{margin-block-start:2px}
.says span{min-inline-size:0}
.first{display:grid;gap:12px;padding:16px}
.first .lead{color:var(--ff-soft)}
.pair{display:grid;grid-template-columns:1fr 1fr;gap:10px;align-items:start}
.verdict{display:grid;gap:10px;padding-block-start:6px}
.verdict h3{display:flex;gap:9px;align-items:start}
.verdict h3 small{display:block;font-weight:400;color:var(--ff-soft);font-size:13px}
[data-tone=go] .ff-sign{color:var(--ff-go-edge)}
[data-tone=check] .ff-sign{color:var(--ff-check-edge)}
[data-tone=stop] .ff-sign{color:var(--ff-stop-edge)}
.aside{border-inline-start:3px solid var(--ff-check-edge);padding-inline-start:8px;margin-block-start:8px}
@media (max-width:360px){.pair{grid-template-columns:1fr}}
`;
