/**
 * How deeply a page's elements are nested, from its text alone. A parser that keeps every level takes time in the
 * square of the depth (browsers stop at some hundreds), so a page of absurd depth is told apart before parsing.
 */

/** Elements without an end tag, or whose end tag may be left out (HTML, "Optional tags"): they say nothing of depth. */
const NOT_COUNTED = new Set(
  (
    "area base br col embed hr img input link meta param source track wbr html head body p li dt dd rt rp option " +
    "optgroup colgroup caption thead tbody tfoot tr td th"
  ).split(" "),
);
/** Elements whose content is no markup. */
const RAW = new Set(["script", "style", "textarea", "title", "noscript", "xmp", "iframe"]);
const NAME = /[a-z][a-z0-9-]{0,30}/y;

/** True when more than `most` elements are open at once somewhere. One pass. */
export function isNestedDeeper(page: string, most: number): boolean {
  const html = page.toLowerCase();
  let depth = 0;
  for (let at = html.indexOf("<"); at >= 0; at = html.indexOf("<", at)) {
    if (html.startsWith("<!--", at)) {
      const end = html.indexOf("-->", at);
      if (end < 0) return false;
      at = end;
      continue;
    }
    const closing = html[at + 1] === "/";
    const name = nameAt(html, at + (closing ? 2 : 1));
    at++;
    if (name === "" || NOT_COUNTED.has(name)) continue;
    if (closing) depth = Math.max(0, depth - 1);
    else if (RAW.has(name)) {
      const end = html.indexOf(`</${name}`, at);
      if (end < 0) return false;
      at = end + 1;
    } else if (++depth > most) return true;
  }
  return false;
}

function nameAt(html: string, at: number): string {
  NAME.lastIndex = at;
  return NAME.exec(html)?.[0] ?? "";
}
