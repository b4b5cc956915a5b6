/** A word as listings' words are compared: lower case, without accents. */
export function plainWord(text: string): string {
  const lower = text.toLowerCase();
  for (let i = 0; i < lower.length; i++) if (lower.charCodeAt(i) > 0x7e) return withoutAccents(lower);
  return lower;
}

const ACCENT = /\p{M}/gu;
const LETTERS: Readonly<Record<string, string>> = { ß: "ss", ł: "l", æ: "ae", œ: "oe", ø: "o", đ: "d", ı: "i" };

function withoutAccents(lower: string): string {
  let plain = "";
  for (const character of lower.normalize("NFKD").replace(ACCENT, "")) plain += LETTERS[character] ?? character;
  return plain;
}
