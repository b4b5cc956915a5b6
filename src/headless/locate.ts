/** Where a field stands in a JSON text, so that a fault can be named by line. */

/**
 * The one-based line on which the value at each path such as `families[0].revisions[1].id` starts, or the nearest
 * enclosing value that exists. One pass over the text; the text must be valid JSON.
 *
 * @param paths as `pathText` of the formats writes them; a name with a dot in it is found while it is unambiguous
 */
export function linesOfFields(text: string, paths: readonly string[]): number[] {
  const best = paths.map(() => ({ at: 0, length: -1 }));
  walkValues(text, (at, here) => {
    let wanted = false;
    for (const [i, path] of paths.entries()) {
      const found = best[i];
      if (!found || !encloses(here, path)) continue;
      wanted = true;
      if (here.length > found.length) best[i] = { at, length: here.length };
    }
    return wanted;
  });
  return lineNumbers(
    text,
    best.map(({ at }) => at),
  );
}

function encloses(here: string, path: string): boolean {
  return here === "" || here === path || (path.startsWith(here) && /^[.[]/.test(path.slice(here.length)));
}

/** One-based lines of several positions. */
function lineNumbers(text: string, positions: readonly number[]): number[] {
  const order = positions.map((at, i) => ({ at, i })).sort((a, b) => a.at - b.at);
  const lines = positions.map(() => 1);
  let line = 1;
  let feed = text.indexOf("\n");
  for (const { at, i } of order) {
    while (feed >= 0 && feed < at) {
      line++;
      feed = text.indexOf("\n", feed + 1);
    }
    lines[i] = line;
  }
  return lines;
}

interface Level {
  readonly path: string;
  readonly wanted: boolean;
  readonly array: boolean;
  index: number;
}

/** Visits each value with its place and path; members of a value for which `visit` gives false are passed over. */
function walkValues(text: string, visit: (at: number, path: string) => boolean): void {
  const levels: Level[] = [];
  let key: string | null = null;
  const pathHere = (): string | null => {
    const level = levels.at(-1);
    if (!level) return "";
    if (!level.wanted) return null;
    if (level.array) return `${level.path}[${level.index}]`;
    return level.path === "" ? (key ?? "") : `${level.path}.${key ?? ""}`;
  };
  for (let i = 0; i < text.length; i++) {
    const character = text[i] ?? "";
    if (character === "]" || character === "}") levels.pop();
    else if (character === ",") {
      const level = levels.at(-1);
      if (level) level.index++;
      key = null;
    } else if (character === '"') {
      const end = stringEnd(text, i);
      const level = levels.at(-1);
      if (level && !level.array && key === null) key = level.wanted ? keyText(text.slice(i, end)) : "";
      else value(i);
      i = end - 1;
    } else if (character === "[" || character === "{") {
      const path = pathHere();
      const wanted = path !== null && visit(i, path);
      levels.push({ path: path ?? "", wanted, array: character === "[", index: 0 });
      key = null;
    } else if (/[-0-9tfn]/.test(character)) {
      value(i);
      while (/[-+.0-9a-zA-Z]/.test(text[i + 1] ?? "")) i++;
    }
  }
  function value(at: number): void {
    const path = pathHere();
    if (path !== null) visit(at, path);
  }
}

function keyText(quoted: string): string {
  return quoted.includes("\\") ? String(JSON.parse(quoted)) : quoted.slice(1, -1);
}

/** Index after the closing quote of the string that starts at `from`. */
function stringEnd(text: string, from: number): number {
  for (let i = from + 1; i < text.length; i++) {
    if (text[i] === "\\") i++;
    else if (text[i] === '"') return i + 1;
  }
  return text.length;
}
