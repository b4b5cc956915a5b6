/** The page around the desks: where a person can go, which device is in hand, and what happens when a desk breaks. */
import { Component, type ComponentChildren } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";
import type { Words } from "../text/words.ts";
import { Button } from "../ui/button.tsx";
import { Sign } from "../ui/drawing.tsx";
import { deviceName } from "../ui/naming.ts";
import { Failure } from "../ui/states.tsx";
import { UndoProvider } from "../ui/undo.tsx";
import { useWords, WordsProvider } from "../ui/words-context.tsx";
import { BenchProvider, useBench } from "./bench/bench-state.tsx";
import { type Desk, desks } from "./desks.tsx";
import { DraftsProvider } from "./drafts.tsx";
import { hrefOf, type Place, readPlace } from "./route.ts";
import { type Tools, ToolsProvider } from "./tools.tsx";

/** The whole workbench. */
export function Workbench({ tools, words }: { tools: Tools; words: Words }) {
  return (
    <WordsProvider words={words}>
      <ToolsProvider tools={tools}>
        <UndoProvider>
          <BenchProvider>
            <DraftsProvider>
              <Shell />
            </DraftsProvider>
          </BenchProvider>
        </UndoProvider>
      </ToolsProvider>
    </WordsProvider>
  );
}

function Shell() {
  const words = useWords();
  const place = usePlace();
  const desk = desks.find(({ id }) => id === place.desk) ?? desks[0];
  const address = hrefOf(place.desk, ...place.steps);
  useHeadingFocus(address);
  useEffect(() => {
    if (desk) document.title = `${words.say(desk.label)} – ${words.say("extension_name")}`;
  }, [desk, words]);
  return (
    <div class="wb">
      <button type="button" class="wb-skip" onClick={() => document.getElementById("desk")?.focus()}>
        {words.say("workbench_skip")}
      </button>
      <Header current={desk} />
      <Trouble />
      <main id="desk" tabIndex={-1} class="wb-desk" data-desk={desk?.id}>
        {desk && (
          <Guard key={desk.id}>
            <desk.Component place={{ ...place, desk: desk.id }} />
          </Guard>
        )}
      </main>
    </div>
  );
}

function Header({ current }: { current: Desk | undefined }) {
  const words = useWords();
  return (
    <header class="wb-head">
      <span class="wb-name">
        <Sign pose="aligned" size={20} />
        {words.say("extension_name")}
      </span>
      <nav aria-label={words.say("workbench_desks")}>
        <ul class="wb-desks">
          {desks.map(({ id, label }) => (
            <li key={id}>
              <a href={hrefOf(id)} aria-current={id === current?.id ? "page" : undefined}>
                {words.say(label)}
              </a>
            </li>
          ))}
        </ul>
      </nav>
      <InHand />
    </header>
  );
}

/** The device in hand, and the way to it. */
function InHand() {
  const words = useWords();
  const { devices, inHand } = useBench();
  const saved = devices?.find(({ device }) => device.id === inHand);
  if (devices === undefined) return null;
  return (
    <p class="wb-in-hand">
      <span>{words.say("workbench_in_hand")}</span>{" "}
      {saved ? (
        <a href={hrefOf("bench", { id: saved.device.id })}>{deviceName(saved.device, words)}</a>
      ) : (
        <b>{words.say("workbench_in_hand_none")}</b>
      )}
    </p>
  );
}

/** Where a person is, as the address says it. */
function usePlace(): Place {
  const [hash, setHash] = useState(location.hash);
  useEffect(() => {
    const read = () => setHash(location.hash);
    const life = new AbortController();
    addEventListener("hashchange", read, { signal: life.signal });
    return () => life.abort();
  }, []);
  return readPlace(hash);
}

/** How long a heading may take to come after a step to another place, in milliseconds. */
const HEADING_WAIT_MS = 3_000;

/** After a step to another place, reading goes on at its heading; the first place keeps the browser's own start. */
function useHeadingFocus(address: string): void {
  const before = useRef(address);
  useEffect(() => {
    if (before.current === address) return undefined;
    before.current = address;
    const desk = document.getElementById("desk");
    desk?.focus();
    // What has to be fetched first brings its heading later; whoever has moved on meanwhile is left alone.
    const goOn = () => {
      const heading = document.querySelector<HTMLElement>("[data-start]");
      if (heading === null && document.activeElement === desk) return false;
      if (document.activeElement === desk) heading?.focus();
      return true;
    };
    if (goOn()) return undefined;
    const observer = new MutationObserver(() => goOn() && observer.disconnect());
    observer.observe(document.body, { childList: true, subtree: true });
    const timer = setTimeout(() => observer.disconnect(), HEADING_WAIT_MS);
    return () => {
      observer.disconnect();
      clearTimeout(timer);
    };
  }, [address]);
}

/** Says what could not be done: whatever failed without anybody at hand to say so in its own place. */
function Trouble() {
  const words = useWords();
  const [said, setSaid] = useState<string | null>(null);
  useEffect(() => {
    const hear = ({ reason }: PromiseRejectionEvent) =>
      setSaid(reason instanceof Error ? reason.message : String(reason));
    addEventListener("unhandledrejection", hear);
    return () => removeEventListener("unhandledrejection", hear);
  }, []);
  if (said === null) return null;
  return (
    <div class="wb-trouble">
      <Failure level={2} title={words.say("workbench_not_done")} faults={[{ field: "", message: said }]}>
        <Button kind="quiet" onPress={() => setSaid(null)}>
          {words.say("ui_dismiss")}
        </Button>
      </Failure>
    </div>
  );
}

/** Keeps a fault in one desk from taking the others along. */
class Guard extends Component<{ children: ComponentChildren }, { error: Error | null }> {
  override state: { error: Error | null } = { error: null };

  static override getDerivedStateFromError(error: unknown): { error: Error } {
    return { error: error instanceof Error ? error : new Error(String(error)) };
  }

  override componentDidCatch(error: unknown): void {
    console.error("Falsefit:", error);
  }

  override render({ children }: { children: ComponentChildren }, { error }: { error: Error | null }) {
    return error === null ? children : <Broken error={error} onRetry={() => this.setState({ error: null })} />;
  }
}

function Broken({ error, onRetry }: { error: Error; onRetry: () => void }) {
  const words = useWords();
  return (
    <div class="wb-page">
      <Failure
        level={2}
        title={words.say("workbench_broken")}
        faults={[{ field: "", message: error.message }]}
        onRetry={onRetry}
      />
    </div>
  );
}
