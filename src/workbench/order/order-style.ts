/** The look of the order desk; needs the theme's tokens and the page's controls. */

const intake = `
.od{display:grid;gap:18px;align-content:start;max-inline-size:1240px;container-type:inline-size}
.od-head{display:flex;flex-wrap:wrap;gap:6px 20px;align-items:baseline}
.od-slots{display:flex;gap:4px;list-style:none;margin:0;padding:0}
.od-slots a{display:block;padding:4px 10px;border-radius:var(--ff-radius);text-decoration:none;color:var(--ff-soft)}
.od-slots a:hover{background:var(--ff-sunken)}
.od-slots a[aria-current]{color:var(--ff-ink);font-weight:600;background:var(--ff-sunken);box-shadow:inset 0 -2px 0 var(--ff-accent)}
.od-intake,.od-preview,.od-running{display:grid;gap:14px;max-inline-size:760px;justify-items:stretch}
.od-preview{max-inline-size:none}
.od-lead{font-size:1.08em;max-inline-size:60ch}
.od-paste{min-block-size:9em;font-variant-numeric:tabular-nums slashed-zero;white-space:pre;overflow-x:auto}
.od-jobs,.od-soft{color:var(--ff-soft)}
.od-read-as summary{cursor:pointer;color:var(--ff-soft);padding-block:4px}
.od-read-fields{display:grid;grid-template-columns:repeat(auto-fill,minmax(min(100%,210px),1fr));gap:12px 16px;padding-block:10px;align-items:start}
.od-table{border-collapse:collapse;inline-size:100%;font-variant-numeric:tabular-nums slashed-zero}
.od-table th,.od-table td{text-align:start;vertical-align:top;padding:6px 10px;border-block-end:1px solid var(--ff-line);overflow-wrap:anywhere}
`;

const marks = `
.od-mark{display:inline-flex;gap:6px;align-items:center;white-space:nowrap;font-weight:500;border:1px solid transparent}
.od-mark[data-tier=stop]{background:var(--ff-stop-face);color:var(--ff-stop-ink);border-radius:3px;padding-inline:4px 6px}
.od-mark[data-tier=check]{background:var(--ff-check-face);color:var(--ff-check-ink);border-radius:3px;padding-inline:4px 6px}
.od-mark[data-tier=go]{color:var(--ff-go-ink)}
.od-mark[data-tier=none]{color:var(--ff-soft)}
.od-counts{list-style:none;margin:0;padding:0;display:flex;flex-wrap:wrap;gap:10px 22px}
.od-counts b{font-variant-numeric:tabular-nums;margin-inline-start:4px}
`;

const results = `
.od-verdict{display:grid;gap:10px}
.od-sentence{display:flex;gap:12px;align-items:start;font-size:20px;line-height:1.3;max-inline-size:52ch}
.od-sentence .ff-sign{margin-block-start:1px}
.od-verdict[data-tier=stop] .ff-sign{color:var(--ff-stop-edge)}
.od-verdict[data-tier=check] .ff-sign{color:var(--ff-check-edge)}
.od-verdict[data-tier=go] .ff-sign{color:var(--ff-go-edge)}
.od-sentence+.od-of{margin-block-start:-6px;margin-inline-start:40px;color:var(--ff-soft);overflow-wrap:anywhere}
.od-verdict .ff-progress{inline-size:200px}
.od-notice{display:flex;flex-wrap:wrap;gap:8px 14px;align-items:center;justify-content:space-between;border-inline-start:3px solid var(--ff-check-edge);background:var(--ff-sunken);padding:8px 12px;border-radius:0 var(--ff-radius) var(--ff-radius) 0;margin:0}
details.od-notice{display:block}
.od-notice summary{cursor:pointer}
.od-notice ul{margin:6px 0 0;padding-inline-start:18px;max-block-size:12em;overflow:auto}
.od-cautions{border:1px solid var(--ff-check-edge);border-radius:var(--ff-radius);padding:10px 14px;display:grid;gap:6px;max-inline-size:90ch}
.od-cautions>h2,.od-cautions>h3{margin:0;font-size:1em}
.od-overview{display:grid;grid-template-columns:repeat(auto-fit,minmax(min(100%,360px),1fr));gap:18px 32px;align-items:start}
.od-block{display:grid;gap:8px;align-content:start;min-inline-size:0}
.od-block>h3{border-block-end:1px solid var(--ff-line);padding-block-end:4px;display:flex;justify-content:space-between;gap:10px}
.od-count{color:var(--ff-soft);font-weight:400;font-variant-numeric:tabular-nums}
.od-sums{border-collapse:collapse;inline-size:100%;font-variant-numeric:tabular-nums}
.od-sums th,.od-sums td{text-align:start;padding:4px 10px 4px 0;overflow-wrap:normal;font-weight:400;vertical-align:middle}
.od-sums thead th{color:var(--ff-soft);font-size:.92em}
.od-sums .od-figure{text-align:end;padding:4px 0 4px 10px;white-space:nowrap}
[dir=rtl] .od-sums .od-figure{padding:4px 10px 4px 0}
.od-sums .od-mark{white-space:normal;text-align:start}
.od-sums th[scope=row]{min-inline-size:8em}
.od-sums tbody tr{border-block-start:1px solid var(--ff-line)}
.od-facts{margin:0;padding:0;list-style:none;display:grid;max-block-size:260px;overflow:auto}
.od-facts li{padding-block:5px;border-block-end:1px solid var(--ff-line);overflow-wrap:anywhere}
.od-facts li:last-child{border:0}
.od-have{font-weight:500}
`;

const lines = `
.od-lines{display:grid;gap:10px}
.od-lines-head{display:flex;flex-wrap:wrap;gap:8px 24px;align-items:center}
.od-lines-head>:last-child:not(:first-child){margin-inline-start:auto}
.od-lines-head .ff-field{grid-auto-flow:column;align-items:center;gap:8px}
.od-lines-head label{white-space:nowrap;font-weight:400;color:var(--ff-soft)}
.od-filters{border:0;margin:0;padding:0;display:flex;flex-wrap:wrap;gap:6px;min-inline-size:0}
.od-filter{font:inherit;color:inherit;background:none;border:1px solid var(--ff-line);border-radius:var(--ff-radius);min-block-size:32px;padding:3px 10px;cursor:pointer;display:inline-flex;gap:8px;align-items:center}
.od-filter b{font-variant-numeric:tabular-nums}
.od-filter:hover{border-color:var(--ff-edge)}
.od-filter[aria-pressed=true]{border-color:var(--ff-ink);box-shadow:inset 0 0 0 1px var(--ff-ink)}
.od-split{display:grid;gap:24px;grid-template-columns:minmax(0,1fr);align-items:start}
.od-split .wb-links{flex:none;min-block-size:0;max-block-size:clamp(320px,72vh,760px);min-inline-size:0;border-block:1px solid var(--ff-line)}
.od-split .wb-links a{display:block;padding:0 10px}
.od-row{display:grid;grid-template-columns:150px minmax(0,1fr) auto;grid-template-rows:auto auto;gap:2px 14px;block-size:100%;align-content:center;line-height:1.35}
.od-row-mark{grid-row:1/3;display:grid;gap:2px;justify-items:start;align-content:center}
.od-row-no{color:var(--ff-soft);font-size:.88em;font-variant-numeric:tabular-nums}
.od-row-what,.od-row-why{overflow:hidden;text-overflow:ellipsis;white-space:nowrap;min-inline-size:0}
.od-row-what{grid-row:1;grid-column:2;text-align:match-parent}
.od-row-why{grid-row:2;grid-column:2/4;color:var(--ff-soft);font-size:.94em}
.od-row-money{grid-row:1;grid-column:3;font-variant-numeric:tabular-nums;white-space:nowrap}
.od-row-empty{color:var(--ff-soft)}
.od-detail{display:grid;gap:12px;align-content:start;min-inline-size:0;overflow-wrap:anywhere}
.od-detail h3{text-align:match-parent;font-size:16px;font-variant-numeric:slashed-zero}
.od-detail h4{margin:0;font-size:1em}
.od-close{margin:0}
.od-remedy{margin:0;padding:8px 12px;list-style:none;display:grid;gap:4px;background:var(--ff-accent-wash);border-radius:var(--ff-radius)}
.od-explained{display:grid;gap:10px}
.od-headline{display:flex;gap:8px;align-items:start}
.od-headline .ff-sign{margin-block-start:2px}
@container (min-width:860px){.od-split[data-open=true]{grid-template-columns:minmax(0,1fr) minmax(320px,420px)}.od-split[data-open=true] .od-detail{position:sticky;inset-block-start:12px;max-block-size:calc(100vh - 24px);overflow:auto}}
@container (max-width:859px){.od-split[data-open=true] .wb-links{display:none}}
@media (max-width:700px){.od-row{grid-template-columns:minmax(0,1fr) auto;grid-template-rows:auto auto auto;gap:2px 10px}.od-row-mark{grid-row:1;grid-column:1;grid-auto-flow:column;gap:10px;align-items:center;justify-content:start}.od-row-what{grid-row:2;grid-column:1/3}.od-row-why{grid-row:3;grid-column:1/3}.od-row-money{grid-row:1;grid-column:2}}
`;

const paper = `
.od-paper-actions{justify-content:space-between}
.od-sheet{display:grid;gap:18px;max-inline-size:980px}
.od-sheet header{display:grid;gap:6px}
.od-sheet h2{margin-block-end:6px}
@media print{
@page{margin:14mm}
html{font-size:10pt}
.wb-head,.wb-skip,.od-paper-actions,.ff-toasts{display:none!important}
.wb,.wb-desk,.wb-page,.od{display:block!important;block-size:auto!important;overflow:visible!important;padding:0!important;margin:0!important;max-inline-size:none!important;container-type:normal!important}
:root{--ff-surface:#fff;--ff-ink:#000;--ff-soft:#333;--ff-line:#999;--ff-edge:#555;color-scheme:light}
body{background:#fff;color:#000}
.od-sheet{display:block}
.od-sheet>*{margin-block-end:5mm}
.od-cautions{break-inside:avoid;border:1.5pt solid #000}
.od-sheet table{break-inside:auto}
.od-sheet tr{break-inside:avoid}
.od-sheet thead{display:table-header-group}
.od-verdict .ff-actions,.od-lines,.od-notice button{display:none}
}
`;

/** Everything. */
export const orderDeskCss = [intake, marks, results, lines, paper].join("");
