/** The look of the title desk; what it shares with the order desk (sentence, marks, blocks) stands there. */
export const titleDeskCss = `
.td{display:grid;gap:18px;align-content:start;max-inline-size:1240px;container-type:inline-size}
.td-split{display:grid;gap:24px 36px;grid-template-columns:minmax(0,1fr);align-items:start}
.td-form,.td-result{display:grid;gap:16px;align-content:start;min-inline-size:0}
.td-result{gap:22px}
.td-form textarea{font-variant-numeric:tabular-nums slashed-zero}
.td-part{display:grid;gap:4px;justify-items:start}
.td-part>.ff-field{inline-size:100%}
.td-search{display:grid;gap:8px;inline-size:100%}
.td-parts{list-style:none;margin:0;padding:0;display:grid}
.td-choice{font:inherit;color:inherit;background:none;border:0;border-block-end:1px solid var(--ff-line);inline-size:100%;text-align:start;padding:7px 8px;cursor:pointer;display:grid;gap:1px;font-variant-numeric:slashed-zero}
.td-choice:hover{background:var(--ff-sunken)}
.td-choice small,.td-buyers small{display:block;color:var(--ff-soft);font-size:.92em;font-weight:400}
.td-quoted{font-size:1.08em;margin:0;overflow-wrap:anywhere}
.td-no-fault{color:var(--ff-soft)}
.td-faults{margin:0;padding-inline-start:22px;display:grid;gap:12px}
.td-faults li::marker{color:var(--ff-soft);font-variant-numeric:tabular-nums}
.td-fault{font-weight:600}
.td-buyers{border-collapse:collapse;inline-size:100%}
.td-buyers th,.td-buyers td{text-align:start;vertical-align:top;padding:9px 14px 9px 0;border-block-end:1px solid var(--ff-line);overflow-wrap:anywhere}
[dir=rtl] .td-buyers th,[dir=rtl] .td-buyers td{padding:9px 0 9px 14px}
.td-buyers thead th{color:var(--ff-soft);font-weight:400;font-size:.92em}
.td-buyers tbody th[scope=row]{font-weight:500;min-inline-size:110px;inline-size:24%}
.td-buyers td:nth-child(2){min-inline-size:130px;inline-size:26%}
.td-buyers td p+p{margin-block-start:3px}
.td-buyers .ff-hazard{margin-block-start:8px}
.td-buyers .ff-hazard p{margin:0}
.td-family th{border:0;color:var(--ff-soft);padding-block:14px 2px;font-weight:600}
.td-wishes{display:grid;grid-template-columns:repeat(auto-fit,minmax(min(100%,200px),1fr));gap:12px;align-items:start}
.td-titles{list-style:none;margin:0;padding:0;display:grid;gap:14px}
.td-titles li{display:grid;gap:6px;border-inline-start:3px solid var(--ff-go-edge);padding-inline-start:12px}
.td-titles li+li{border-inline-start-color:var(--ff-line)}
.td-title{font-size:1.14em;font-weight:500;font-variant-numeric:slashed-zero;overflow-wrap:anywhere}
.td-warning{display:grid;gap:8px;background:var(--ff-sunken);border-radius:var(--ff-radius);padding:12px 14px;margin-block-start:6px;overflow-wrap:anywhere}
.td-warning h4{margin:0;font-size:1em}
.td-warning p+p{margin-block-start:4px}
.td-listed{display:grid;grid-template-columns:150px minmax(0,1fr);grid-template-rows:auto auto;gap:2px 14px;align-content:center;inline-size:100%;block-size:100%;padding-inline:8px;color:inherit;text-decoration:none;line-height:1.35}
.td-listed:hover{background:var(--ff-sunken)}
.td-listed .od-row-why{grid-column:2}
@container (min-width:900px){.td-split{grid-template-columns:minmax(300px,380px) minmax(0,1fr)}.td-form{position:sticky;inset-block-start:16px}}
@media (max-width:560px){
.td-buyers thead{position:absolute;inline-size:1px;block-size:1px;overflow:hidden;clip-path:inset(50%)}
.td-buyers tr{display:grid;padding-block:8px;border-block-end:1px solid var(--ff-line);gap:4px}
.td-buyers th,.td-buyers td,[dir=rtl] .td-buyers th,[dir=rtl] .td-buyers td{display:block;inline-size:auto!important;border:0;padding:0}
.td-listed{grid-template-columns:minmax(0,1fr)}.td-listed .od-row-mark{grid-row:auto;grid-auto-flow:column;gap:10px}.td-listed .od-row-why{grid-column:1;display:none}
}
`;
