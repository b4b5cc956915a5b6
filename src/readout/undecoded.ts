/**
 * SMBIOS structures that a decoder printed undecoded: for each structure its formatted bytes as hex, then each
 * string as hex and once more as text. Put together again, they are a bare table.
 */

const HEX_LINE = /^(?:[0-9A-Fa-f]{2} ){0,15}[0-9A-Fa-f]{2}$/;

/** The bare table that the lines spell, or `null` where they are no such listing. */
export function tableOfUndecoded(lines: readonly string[]): Uint8Array | null {
  const table: number[] = [];
  let part: "none" | "data" | "strings" = "none";
  let strings = 0;
  let skip = false;
  const close = (): void => {
    if (part === "none") return;
    table.push(0);
    if (strings === 0) table.push(0);
    part = "none";
    strings = 0;
  };
  for (const line of lines) {
    const text = line.trim();
    if (text === "Header and Data:") {
      close();
      part = "data";
    } else if (part !== "none" && text === "Strings:") part = "strings";
    else if (text === "") close();
    else if (skip) skip = false;
    else if (part !== "none" && HEX_LINE.test(text)) {
      const bytes = text.split(" ").map((pair) => Number.parseInt(pair, 16));
      table.push(...bytes);
      // A string ends with a zero; the line after it is the same string as text.
      skip = part === "strings" && bytes.at(-1) === 0;
      if (skip) strings++;
    }
  }
  close();
  return table.length > 0 ? Uint8Array.from(table) : null;
}
