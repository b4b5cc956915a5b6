/** What the catalogs desk adds to the look of the workbench. */
export const catalogsCss = `
.wb-page-wide{max-inline-size:1100px}
.wb-back[data-always=true]{display:block}
.wb-catalog-head{display:grid;gap:10px}
.wb-ways{list-style:none;margin:0;padding:0;display:grid;grid-template-columns:repeat(auto-fill,minmax(min(240px,100%),1fr));gap:10px}
.wb-way{font:inherit;color:inherit;text-align:start;text-decoration:none;display:grid;gap:3px;align-content:start;block-size:100%;inline-size:100%;background:none;border:1px solid var(--ff-line);border-radius:8px;padding:14px 16px;cursor:pointer}
.wb-way:hover{border-color:var(--ff-accent);background:var(--ff-accent-wash)}
.wb-way b{color:var(--ff-accent)}
.wb-way span{color:var(--ff-soft)}
.wb-section-head{display:flex;flex-wrap:wrap;justify-content:space-between;align-items:center;gap:8px}
.wb-rows{list-style:none;margin:0;padding:0}
.wb-rows>li{border-block-end:1px solid var(--ff-line)}
.wb-rows>li:last-child{border:0}
.wb-rows a{display:grid;grid-template-columns:minmax(0,1.5fr) minmax(0,1fr) minmax(0,1.3fr);gap:2px 14px;padding:8px 6px;margin-inline:-6px;color:inherit;text-decoration:none;border-radius:var(--ff-radius)}
.wb-rows a:hover{background:var(--ff-sunken)}
.wb-rows b,.wb-rows a>:first-child{color:var(--ff-accent)}
.wb-link-row{display:grid;grid-template-columns:minmax(0,1.6fr) minmax(0,1fr) auto;gap:8px 14px;align-items:center;padding-block:4px}
.wb-link-form{display:grid;grid-template-columns:repeat(auto-fit,minmax(min(170px,100%),1fr));gap:10px;align-items:start}
.wb-link-form .ff-button{margin-block-start:24px;justify-self:start}
.wb-palette{display:grid;gap:12px}
.wb-palette-words{border:0;margin:0;padding:0;display:flex;flex-wrap:wrap;gap:6px;min-inline-size:0}
.wb-palette-words legend{font-weight:500;padding:0;margin-block-end:4px}
.wb-pin-word{position:relative;display:inline-flex;gap:6px;align-items:center;border:1px solid var(--ff-line);border-radius:var(--ff-radius);padding:4px 9px 4px 6px;cursor:pointer;min-block-size:30px}
.wb-pin-word:hover{background:var(--ff-sunken)}
.wb-pin-word[data-chosen=true]{border-color:var(--ff-accent);background:var(--ff-accent-wash);box-shadow:inset 0 0 0 1px var(--ff-accent)}
.wb-pin-word:focus-within{box-shadow:var(--ff-ring)}
.wb-housing{display:flex;flex-wrap:wrap;gap:0 4px;border:2px solid var(--ff-edge);border-block-start-width:9px;border-radius:4px 4px 9px 9px;padding:0 8px 8px;margin-block-start:6px;inline-size:fit-content;max-inline-size:100%}
.wb-pin{font:inherit;color:inherit;background:none;border:0;border-radius:0 0 var(--ff-radius) var(--ff-radius);padding:6px 2px 8px;display:grid;gap:3px;justify-items:center;align-content:start;cursor:pointer;inline-size:76px;min-block-size:76px}
.wb-pin:hover{background:var(--ff-accent-wash)}
.wb-pin-number{font-size:11px;color:var(--ff-soft);font-variant-numeric:tabular-nums}
.wb-pin[data-set=false]{color:var(--ff-soft)}
.wb-pin[data-set=true] svg{color:var(--ff-accent)}
.wb-pin-text{font-size:11.5px;line-height:1.2;text-align:center;overflow-wrap:anywhere}
.wb-places{border:0;margin:0;padding:0;display:flex;flex-wrap:wrap;gap:2px 18px;align-items:center;min-inline-size:0}
.wb-places legend{padding:0;color:var(--ff-soft)}
.wb-picker{display:grid;gap:8px}
.wb-picker-title{font-weight:500}
.wb-chips{list-style:none;margin:0;padding:0;display:flex;flex-wrap:wrap;gap:6px}
.wb-chips li{display:inline-flex;align-items:center;background:var(--ff-sunken);border-radius:var(--ff-radius);padding-inline-start:10px}
.wb-summary{display:grid;gap:2px}
.wb-summary b{font-size:16px}
.wb-diff{display:grid;gap:8px}
.wb-diff summary{cursor:pointer;font-weight:600}
.wb-diff ul{margin:4px 0;padding-inline-start:18px}
.wb-diff del{text-decoration-thickness:1px;color:var(--ff-soft)}
.wb-diff ins{text-decoration:none;border-block-end:2px solid var(--ff-accent)}
.wb-inline-wide{grid-template-columns:minmax(0,1fr) auto;align-items:start}
.wb-inline-wide .ff-button{margin-block-start:24px}
.wb-proposal{display:grid;gap:8px;background:var(--ff-surface);border-radius:8px;padding:12px 14px}
.wb-proposal[data-taken=false]>:not(.ff-toggle){display:none}
@media (max-width:480px){
.wb-rows a,.wb-link-row{grid-template-columns:1fr}
.wb-inline-wide{grid-template-columns:1fr}
.wb-inline-wide .ff-button,.wb-link-form .ff-button{margin-block-start:0}
.wb-pin{inline-size:68px}
}
`;
