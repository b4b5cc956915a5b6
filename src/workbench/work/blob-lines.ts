/** The lines of a file, read piece by piece so that a file of any length costs the same memory. */

/** Bytes that are read at once. */
const PIECE_BYTES = 256 * 1024;

/** A line with its one-based number; `cut` where it was longer than allowed and the rest of it left out. */
export interface BlobLine {
  readonly line: number;
  readonly text: string;
  readonly cut: boolean;
  /** How much of the file has been read, 0 to 1. */
  readonly done: number;
}

/**
 * The lines of a UTF-8 file without their ends, empty ones left out.
 *
 * @param most longest line in UTF-16 code units
 */
export async function* blobLines(content: Blob, most: number): AsyncGenerator<BlobLine> {
  const decoder = new TextDecoder();
  let line = 0;
  let waiting = "";
  let cut = false;
  for (let at = 0; at < content.size; at += PIECE_BYTES) {
    const bytes = await content.slice(at, at + PIECE_BYTES).arrayBuffer();
    const last = at + PIECE_BYTES >= content.size;
    const done = Math.min(1, (at + PIECE_BYTES) / content.size);
    const pieces = (waiting + decoder.decode(bytes, { stream: !last })).split(/\r?\n/);
    waiting = last ? "" : (pieces.pop() ?? "");
    for (const [i, piece] of pieces.entries()) {
      line++;
      const text = i === 0 && cut ? "" : piece.slice(0, most);
      const wasCut = piece.length > most || (i === 0 && cut);
      if (i === 0) cut = false;
      if (text.trim() !== "" || wasCut) yield { line, text, cut: wasCut, done };
    }
    // A line without an end must not fill the memory: its beginning is dropped and it counts as cut.
    if (waiting.length > most) {
      waiting = "";
      cut = true;
    }
  }
}
