/** What the bench adds to the look of the workbench. */
export const benchCss = `
.wb-portrait{flex:none;color:var(--ff-soft)}
.wb-portrait-body{fill:var(--ff-sunken)}
.wb-standing{display:flex;gap:6px;align-items:center;font-size:13px;font-weight:500}
.wb-standing span{overflow:hidden;text-overflow:ellipsis}
[data-standing=pinned] .ff-sign{color:var(--ff-go-edge)}
[data-standing=open] .ff-sign{color:var(--ff-check-edge)}
[data-standing=contradicted] .ff-sign{color:var(--ff-stop-edge)}
[data-standing=unknown] .ff-sign{color:var(--ff-edge)}
.wb-device-head{display:grid;grid-template-columns:auto 1fr;gap:14px 18px;align-items:center}
.wb-picture{inline-size:96px;block-size:96px;object-fit:cover;border-radius:8px;background:var(--ff-sunken);display:grid;place-items:center}
.wb-picture .wb-portrait-body{fill:var(--ff-surface)}
.wb-device-names{display:grid;gap:4px;min-inline-size:0}
.wb-device-names h1{font-size:24px}
.wb-device-actions{grid-column:1/-1}
.wb-held{font-weight:600;padding-inline-end:8px}
.wb-section{display:grid;gap:12px;border-block-start:1px solid var(--ff-line);padding-block-start:18px;min-inline-size:0}
.wb-answer{display:grid;grid-template-columns:auto 1fr;gap:14px;align-items:start}
.wb-answer h2{font-size:19px}
.wb-contradictions{list-style:none;margin:0;padding:10px 14px;background:var(--ff-check-face);color:var(--ff-check-ink);border:1px solid var(--ff-check-edge);border-radius:var(--ff-radius);display:grid;gap:4px}
.wb-facts{margin:0;display:grid}
.wb-facts>div{display:grid;grid-template-columns:minmax(110px,1fr) 3.4fr;gap:2px 16px;padding-block:7px;border-block-end:1px solid var(--ff-line)}
.wb-facts>div:last-child{border:0}
.wb-facts dt{color:var(--ff-soft)}
.wb-facts dd{margin:0;grid-column:2;min-inline-size:0}
.wb-facts [data-tells=false] dd{color:var(--ff-soft)}
.wb-known>div{grid-template-columns:minmax(110px,1fr) 2fr 1.4fr}
.wb-known .wb-source{grid-column:3}
.wb-source{color:var(--ff-soft);font-size:13px}
.wb-under{display:block;color:var(--ff-soft);font-size:13px}
.wb-part-only{color:var(--ff-soft);font-size:13px;margin-inline-start:10px}
.wb-settled h3{margin-block-end:6px}
.wb-known [data-open=true] dd{font-style:italic}
.wb-more>summary{cursor:pointer;color:var(--ff-accent);padding-block:4px;inline-size:fit-content}
.wb-more[open]>summary{margin-block-end:8px}
.wb-note-text{white-space:pre-wrap;background:var(--ff-sunken);border-radius:var(--ff-radius);padding:10px 12px}
.wb-ask{display:grid;grid-template-columns:auto 1fr;gap:4px 14px;align-items:start}
.wb-ask+.wb-ask,.wb-more .wb-ask{margin-block-start:14px}
.wb-ask-text{font-size:16px;font-weight:500}
.wb-effort{color:var(--ff-accent)}
.wb-answers{list-style:none;margin:8px 0;padding:0;display:flex;flex-wrap:wrap;gap:8px}
.wb-answers .ff-button{flex-direction:column;gap:0;align-items:start;padding-block:6px;text-align:start}
.wb-answer-line{display:inline-flex;flex-direction:column;padding:6px 12px;background:var(--ff-sunken);border-radius:var(--ff-radius)}
.wb-question{background:var(--ff-accent-wash);border:0;border-radius:8px;padding:16px 18px}
.wb-settled-row{display:grid;grid-template-columns:1fr auto auto;gap:8px;align-items:center}
.wb-inline{display:grid;grid-template-columns:minmax(0,280px) auto;gap:10px;align-items:start;justify-content:start}
.wb-inline>.ff-button,.wb-inline>.ff-actions{margin-block-start:24px}
.wb-drop{display:grid;gap:12px;border:1px dashed var(--ff-edge);border-radius:8px;padding:14px}
.wb-drop[data-over=true]{border-style:solid;border-color:var(--ff-accent);background:var(--ff-accent-wash)}
.wb-file{position:relative;cursor:pointer}
.wb-file:focus-within{box-shadow:var(--ff-ring)}
.wb-preview{display:grid;gap:12px;background:var(--ff-sunken);border-radius:8px;padding:16px 18px;min-inline-size:0}
.wb-preview ul{margin:0;padding-inline-start:18px}
.wb-command{display:grid;gap:4px}
.wb-command-line{display:flex;gap:8px;align-items:start;background:var(--ff-sunken);border-radius:var(--ff-radius);padding:6px 6px 6px 10px}
.wb-command-line code{flex:1;font-family:ui-monospace,monospace;font-weight:400;font-size:13px;overflow-wrap:anywhere;padding-block:5px;text-align:left}
.wb-guide .wb-plain{margin-block-start:12px;gap:14px}
.wb-guide .ff-choices{grid-auto-flow:column;justify-content:start}
.wb-rows a.wb-look{grid-template-columns:auto minmax(0,1fr);gap:2px 14px;align-items:center}
.wb-row-picture{inline-size:44px;block-size:44px;object-fit:cover;border-radius:6px;flex:none}
.wb-overview{list-style:none;margin:0;padding:0;display:grid;gap:4px}
.wb-line-button{font:inherit;color:inherit;background:none;border:0;border-radius:var(--ff-radius);padding:8px 10px;margin-inline-start:-10px;display:flex;gap:12px;align-items:center;cursor:pointer;text-align:start;inline-size:100%}
.wb-line-button:hover{background:var(--ff-sunken)}
@media (max-width:480px){
.wb-facts>div,.wb-known>div{grid-template-columns:1fr}
.wb-facts dd,.wb-known .wb-source{grid-column:1}
.wb-inline{grid-template-columns:1fr}
.wb-picture{inline-size:72px;block-size:72px}
.wb-picture .wb-portrait{inline-size:60px;block-size:60px}
.wb-guide .ff-choices{grid-auto-flow:row}
}
`;
