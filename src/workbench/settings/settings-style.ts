/** What the settings add to the look of the workbench. */
export const settingsCss = `
.wb-settings{margin-inline:auto;inline-size:100%}
.wb-setting-row{display:flex;flex-wrap:wrap;gap:4px 14px;align-items:center;justify-content:space-between;padding-block:4px}
.wb-mark-examples{display:flex;flex-wrap:wrap;gap:10px}
.wb-mark{display:inline-flex;gap:7px;align-items:center;border-radius:var(--ff-radius);padding:4px 10px;font-weight:600;font-size:13px}
.wb-mark[data-tier=go]{background:var(--ff-go-face);color:var(--ff-go-ink);box-shadow:inset 0 0 0 1px var(--ff-go-edge)}
.wb-mark[data-tier=check]{background:var(--ff-check-face);color:var(--ff-check-ink);box-shadow:inset 0 0 0 1px var(--ff-check-edge)}
.wb-mark[data-tier=stop]{background:var(--ff-stop-face);color:var(--ff-stop-ink)}
`;
