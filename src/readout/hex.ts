/**
 * Bytes written down as text: hex dumps with or without offsets and text columns, lists with commas, base64,
 * decimal byte lists. One pass over the lines; nothing is backtracked.
 */

/** Bytes that stood together in a text. */
export interface ByteRun {
  readonly bytes: Uint8Array;
  /** One-based line where the run starts. */
  readonly line: number;
}

/** A run shorter than this is a word or a number, not a dump. */
const LEAST_RUN = 16;
/** A single unbroken word of hex digits at least this long is a dump by itself, whatever stands around it. */
const LEAST_WORD = 64;

const HEX_VALUE: ReadonlyMap<string, number> = new Map([..."0123456789abcdef"].map((digit, value) => [digit, value]));

/** All runs of bytes in a text, in order. */
export function findByteRuns(text: string): ByteRun[] {
  const runs: ByteRun[] = [];
  let open: number[] = [];
  let start = 1;
  const close = (next: number): void => {
    if (open.length >= LEAST_RUN) runs.push({ bytes: Uint8Array.from(open), line: start });
    open = [];
    start = next;
  };
  const lines = text.split("\n");
  for (const [i, line] of lines.entries()) {
    const bytes = bytesOfLine(line);
    if (bytes !== null) {
      if (open.length === 0) start = i + 1;
      for (const byte of bytes) open.push(byte);
      continue;
    }
    if (line.trim() === "" && open.length > 0 && open.length % 128 !== 0) continue;
    close(i + 2);
    const led = bytesAfterLabel(line);
    if (led !== null) {
      start = i + 1;
      open = led;
      continue;
    }
    for (const word of longWords(line)) runs.push({ bytes: word, line: i + 1 });
  }
  close(lines.length);
  return runs.map(inByteOrder);
}

/** The bytes of one line that holds nothing but a piece of a dump (offset and text column left out), or null. */
function bytesOfLine(line: string): number[] | null {
  if (!/^\s*[0-9a-fA-F]/.test(line)) return null;
  const body = cutTextColumn(line);
  const tokens = body.text.split(/[\s,;\\]/).filter((token) => token !== "");
  if (tokens.length === 0) return null;
  const bytes: number[] = [];
  for (const [i, token] of tokens.entries()) {
    if (i === 0 && isOffset(token, tokens.length, body.cut)) continue;
    const clean = token.startsWith("0x") || token.startsWith("0X") ? token.slice(2) : token;
    if (clean.length % 2 !== 0 || !isHex(clean)) return decimalBytes(tokens);
    if (!appendHex(clean, bytes)) return null;
  }
  return bytes.length === 0 ? null : bytes;
}

/** `"EDID"=hex:00,ff,…` and the like: bytes behind a label, going on over the next lines. */
function bytesAfterLabel(line: string): number[] | null {
  const at = Math.max(line.lastIndexOf(":"), line.lastIndexOf("="), line.lastIndexOf("<"));
  // Eight bytes with something between them take 23 characters.
  if (at < 0 || line.length - at > 4_000 || line.length - at < 24) return null;
  const bytes = bytesOfLine(line.slice(at + 1).replace(">", ""));
  return bytes !== null && bytes.length >= 8 ? bytes : null;
}

/** Leaves out what stands after `|`, ` >` or a wide gap: the same bytes again as characters. */
function cutTextColumn(line: string): { text: string; cut: boolean } {
  const text = line.trim();
  const bar = text.indexOf("|");
  if (bar > 0) return { text: text.slice(0, bar), cut: true };
  const angle = text.indexOf(" >");
  if (angle > 0) return { text: text.slice(0, angle), cut: true };
  const colon = text.indexOf(": ");
  if (colon > 0 && colon <= 16 && isHex(text.slice(0, colon))) {
    const gap = text.indexOf("  ", colon + 2);
    return { text: gap > 0 ? text.slice(0, gap) : text, cut: true };
  }
  const gap = text.indexOf("   ");
  return gap > 8 && isOffset(text.split(" ", 1)[0] ?? "", 3, false)
    ? { text: text.slice(0, gap), cut: true }
    : { text, cut: false };
}

/** A first word that counts bytes rather than being some: `00000010:`, `0x10:` or six to eight digits before shorter groups. */
function isOffset(token: string, tokens: number, hasColumn: boolean): boolean {
  const bare = token.endsWith(":") ? token.slice(0, -1) : token;
  const digits = bare.startsWith("0x") ? bare.slice(2) : bare;
  if (digits === "" || digits.length > 16 || !isHex(digits)) return false;
  if (token.endsWith(":")) return true;
  return (digits.length === 8 || digits.length === 7 || digits.length === 6) && (tokens > 2 || hasColumn);
}

function decimalBytes(tokens: readonly string[]): number[] | null {
  const bytes: number[] = [];
  for (const token of tokens) {
    if (token.length > 3) return null;
    const value = Number(token);
    if (!Number.isInteger(value) || value < 0 || value > 255) return null;
    bytes.push(value);
  }
  return bytes;
}

/** Long unbroken words inside a line of something else: hex in brackets or quotes, base64. */
function longWords(line: string): Uint8Array[] {
  if (line.length < LEAST_WORD) return [];
  const found: Uint8Array[] = [];
  for (const word of line.split(/[\s"'<>(){}[\],;:|]/)) {
    if (word.length < LEAST_WORD) continue;
    if (word.length % 2 === 0 && isHex(word)) {
      const bytes: number[] = [];
      appendHex(word, bytes);
      found.push(Uint8Array.from(bytes));
    }
  }
  return found;
}

/**
 * Some dump tools print 16-bit words, which swaps each pair of bytes on the usual machines. A display's block
 * starts with 00 FF FF, so FF 00 FF FF at its place gives the swap away.
 */
function inByteOrder(run: ByteRun): ByteRun {
  const [a, b, c, d] = run.bytes;
  if (a !== 0xff || b !== 0x00 || c !== 0xff || d !== 0xff) return run;
  const bytes = Uint8Array.from(run.bytes);
  for (let i = 0; i + 1 < bytes.length; i += 2) {
    bytes[i] = run.bytes[i + 1] ?? 0;
    bytes[i + 1] = run.bytes[i] ?? 0;
  }
  return { bytes, line: run.line };
}

function appendHex(digits: string, bytes: number[]): boolean {
  const lower = digits.toLowerCase();
  for (let i = 0; i < lower.length; i += 2) {
    const high = HEX_VALUE.get(lower.charAt(i));
    const low = HEX_VALUE.get(lower.charAt(i + 1));
    if (high === undefined || low === undefined) return false;
    bytes.push(high * 16 + low);
  }
  return true;
}

function isHex(text: string): boolean {
  return text !== "" && /^[0-9a-f]+$/i.test(text);
}

const BASE64 = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
const BASE64_VALUE: ReadonlyMap<string, number> = new Map([...BASE64].map((letter, value) => [letter, value]));

/** A base64 word at least this long is taken for a block (a display block takes 171 letters, a table more). */
const LEAST_BASE64 = 64;

/**
 * Base64 (RFC 4648, padding optional): long words, and words that go on over whole lines. Words that are hex
 * digits only are left to {@link findByteRuns}.
 */
export function findBase64(text: string): ByteRun[] {
  const runs: ByteRun[] = [];
  let open = "";
  let start = 1;
  const close = (): void => {
    if (open.length >= LEAST_BASE64 && !isHex(open)) runs.push({ bytes: decodeBase64(open), line: start });
    open = "";
  };
  for (const [i, line] of text.split("\n").entries()) {
    const whole = line.trim();
    if (whole.length >= 4 && isBase64(whole)) {
      // Padding ends a block, and so does the start of another display.
      if (open.endsWith("=") || whole.startsWith(DISPLAY_START)) close();
      if (open === "") start = i + 1;
      open += whole;
      continue;
    }
    close();
    if (line.length < LEAST_BASE64) continue;
    for (const word of line.split(/[\s"'<>(){}[\],;:|]/)) {
      if (word.length >= LEAST_BASE64 && isBase64(word) && !isHex(word))
        runs.push({ bytes: decodeBase64(word), line: i + 1 });
    }
  }
  close();
  return runs;
}

/** The header of a display block in base64. */
const DISPLAY_START = "AP///////wA";

function isBase64(text: string): boolean {
  return /^[A-Za-z0-9+/]+={0,2}$/.test(text);
}

function decodeBase64(text: string): Uint8Array {
  const bytes: number[] = [];
  let held = 0;
  let bits = 0;
  for (const letter of text) {
    const value = BASE64_VALUE.get(letter);
    if (value === undefined) break;
    held = ((held << 6) | value) & 0xfff;
    bits += 6;
    if (bits >= 8) {
      bits -= 8;
      bytes.push((held >> bits) & 0xff);
    }
  }
  return Uint8Array.from(bytes);
}
