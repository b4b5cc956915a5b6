/** Fetching a catalog from an address that the person typed: https or this machine, bounded, followed nowhere else. */
import { MAX_FILE_CHARS } from "../../formats/common.ts";

/** Why an address is not fetched. */
export type AddressFault = "not-an-address" | "not-secure" | "with-password";

/** An address that may be fetched, and the match pattern of the permission that it needs. */
export interface CatalogAddress {
  readonly href: string;
  readonly pattern: string;
}

/** Names of this machine: nothing leaves it. */
const LOOPBACK = new Set(["localhost", "127.0.0.1", "[::1]"]);

/** Checks a typed address. */
export function readAddress(typed: string): CatalogAddress | AddressFault {
  const text = typed.trim();
  if (!URL.canParse(text)) return "not-an-address";
  const url = new URL(text);
  if (url.protocol !== "https:" && url.protocol !== "http:") return "not-an-address";
  if (url.protocol === "http:" && !LOOPBACK.has(url.hostname)) return "not-secure";
  if (url.username !== "" || url.password !== "") return "with-password";
  url.hash = "";
  return { href: url.href, pattern: `${url.protocol}//${url.hostname}/*` };
}

/** A fetched text with its SHA-256, or why there is none. */
export type Fetched =
  | { readonly kind: "text"; readonly text: string; readonly hash: string }
  | { readonly kind: "answered"; readonly status: number }
  | { readonly kind: "too-large" }
  | { readonly kind: "not-text" }
  | { readonly kind: "unreachable"; readonly detail: string };

/** Longest answer that is read, in bytes. */
const MOST_BYTES = MAX_FILE_CHARS;

/**
 * Fetches a catalog: no cookies, no referrer, no cache, no redirect.
 *
 * @param onProgress how much has come, in bytes, and how much is announced (0 where nothing is)
 */
export async function fetchCatalog(
  address: string,
  {
    fetch,
    signal,
    onProgress,
  }: { fetch: typeof globalThis.fetch; signal: AbortSignal; onProgress: (bytes: number, all: number) => void },
): Promise<Fetched> {
  let response: Response;
  try {
    response = await fetch(address, {
      signal,
      cache: "no-store",
      credentials: "omit",
      redirect: "error",
      referrerPolicy: "no-referrer",
    });
  } catch (error) {
    signal.throwIfAborted();
    return { kind: "unreachable", detail: error instanceof Error ? error.message : String(error) };
  }
  if (!response.ok) return { kind: "answered", status: response.status };
  const bytes = await readBounded(response, signal, onProgress);
  if (bytes === null) return { kind: "too-large" };
  const hash = await sha256(bytes);
  try {
    return { kind: "text", text: new TextDecoder("utf-8", { fatal: true }).decode(bytes), hash };
  } catch {
    // TextDecoder has only one thing to say: these bytes are no UTF-8.
    return { kind: "not-text" };
  }
}

/** The body, or null where it is longer than {@link MOST_BYTES}; the rest is then not fetched. */
async function readBounded(
  response: Response,
  signal: AbortSignal,
  onProgress: (bytes: number, all: number) => void,
): Promise<Uint8Array<ArrayBuffer> | null> {
  const announced = Number(response.headers.get("content-length") ?? 0) || 0;
  if (announced > MOST_BYTES) {
    await response.body?.cancel();
    return null;
  }
  const reader = response.body?.getReader();
  const pieces: Uint8Array[] = [];
  let length = 0;
  while (reader) {
    const { done, value } = await reader.read();
    signal.throwIfAborted();
    if (done) break;
    length += value.length;
    if (length > MOST_BYTES) {
      await reader.cancel();
      return null;
    }
    pieces.push(value);
    onProgress(length, announced);
  }
  const whole = new Uint8Array(length);
  let at = 0;
  for (const piece of pieces) {
    whole.set(piece, at);
    at += piece.length;
  }
  return whole;
}

/** SHA-256 in hexadecimal. */
async function sha256(bytes: Uint8Array<ArrayBuffer>): Promise<string> {
  const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", bytes));
  return Array.from(digest, (byte) => byte.toString(16).padStart(2, "0")).join("");
}
