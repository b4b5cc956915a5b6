/**
 * The overlay's only way to the rest of the program. The browser's messaging is used bare, without a polyfill: its
 * promise form is the same in both browser families for what is needed here, and the overlay stays small.
 */
import type { Answers, Failure, PageCommand, Reply, Request } from "../background/messages.ts";

/** The part of the browser's `runtime` that a page's overlay uses. */
export interface Runtime {
  /** Gone once the extension was updated, reloaded or removed. */
  readonly id?: string;
  sendMessage(message: unknown): Promise<unknown>;
  readonly onMessage: {
    addListener(listener: MessageListener): void;
    removeListener(listener: MessageListener): void;
  };
}
type MessageListener = (
  message: unknown,
  sender: { id?: string },
  respond: (answer: unknown) => void,
) => true | undefined;

/** The runtime of the browser at hand, or `undefined` outside of an extension. */
export function browserRuntime(): Runtime | undefined {
  const scope = globalThis as { browser?: { runtime?: Runtime }; chrome?: { runtime?: Runtime } };
  return scope.browser?.runtime ?? scope.chrome?.runtime;
}

/** False once the extension behind this script is no longer there. */
export function isAlive(runtime: Runtime): boolean {
  return runtime.id !== undefined;
}

/** Asks the background; every way it can go wrong comes back as a failure. */
export async function ask<K extends Request["kind"]>(
  runtime: Runtime,
  request: Extract<Request, { kind: K }>,
): Promise<Reply<K>> {
  if (!isAlive(runtime)) return failed("failed", "The extension is no longer there.");
  try {
    const answer = await runtime.sendMessage(request);
    return isReply<K>(answer) ? answer : failed("failed", "The background gave no answer.");
  } catch (error) {
    return failed("failed", error instanceof Error ? error.message : String(error));
  }
}

function failed(code: Failure["code"], detail: string): { ok: false; failure: Failure } {
  return { ok: false, failure: { code, detail } };
}

function isReply<K extends keyof Answers>(answer: unknown): answer is Reply<K> {
  return typeof answer === "object" && answer !== null && "ok" in answer && ("data" in answer || "failure" in answer);
}

const COMMANDS: ReadonlySet<string> = new Set<PageCommand["kind"]>([
  "state",
  "start",
  "stop",
  "refresh",
  "look-again",
  "move",
  "toggle-marks",
  "check-text",
  "teach",
]);

/** A command from our own parts, checked; anything else is no command. */
export function commandOf(message: unknown): PageCommand | undefined {
  if (typeof message !== "object" || message === null) return undefined;
  const { kind, to, text } = message as { kind?: unknown; to?: unknown; text?: unknown };
  if (typeof kind !== "string" || !COMMANDS.has(kind)) return undefined;
  if (kind === "move" && to !== "next" && to !== "previous") return undefined;
  if (kind === "check-text" && typeof text !== "string") return undefined;
  return message as PageCommand;
}

/** Answers commands until the signal is raised. Only our own extension is listened to. */
export function answerCommands(
  runtime: Runtime,
  signal: AbortSignal,
  answer: (command: PageCommand) => unknown | Promise<unknown>,
): void {
  const listener: MessageListener = (message, sender, respond) => {
    const command = sender.id === runtime.id ? commandOf(message) : undefined;
    if (command === undefined) return undefined;
    Promise.resolve(answer(command)).then(respond, (error: unknown) => {
      console.warn("Falsefit:", error);
      respond(null);
    });
    return true;
  };
  runtime.onMessage.addListener(listener);
  signal.addEventListener("abort", () => runtime.onMessage.removeListener(listener));
}
