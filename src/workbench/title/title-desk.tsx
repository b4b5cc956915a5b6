/** The title desk: a seller's text as every buyer would read it, and titles that nobody can misread. */
import { useEffect, useState } from "preact/hooks";
import { Empty, Failure, Loading } from "../../ui/states.tsx";
import { useWords } from "../../ui/words-context.tsx";
import { useBench } from "../bench/bench-state.tsx";
import { useDraft } from "../drafts.tsx";
import { useLoaded } from "../loaded.ts";
import { hrefOf, idOf, type Place } from "../route.ts";
import { useTools } from "../tools.tsx";
import { useSettled } from "../use-settled.ts";
import { Composed } from "./composed.tsx";
import { TitleForm } from "./title-form.tsx";
import { EMPTY_INPUT, inputOfText, listingOf, type TitleInput } from "./title-input.ts";
import { TitleList } from "./title-list.tsx";
import { TitleReadingView } from "./title-reading.tsx";

/** The desk. Addresses: `#title` for one listing, `#title/list` for many. */
export function TitleDesk({ place }: { place: Place }) {
  const words = useWords();
  const draft = useDraft<TitleInput>("title", EMPTY_INPUT);
  const many = idOf(place.steps[0]) === "list";
  return (
    <div class="wb-page td">
      <header class="od-head">
        <h1 tabIndex={-1} data-start="">
          {words.say("workbench_desk_title")}
        </h1>
        <WayLinks many={many} />
      </header>
      {many ? (
        <TitleList input={draft.value} onInput={draft.set} />
      ) : (
        <OneTitle input={draft.value} onInput={draft.set} />
      )}
    </div>
  );
}

function WayLinks({ many }: { many: boolean }) {
  const words = useWords();
  const ways = [
    { href: hrefOf("title"), label: words.say("title_desk_single"), current: !many },
    { href: hrefOf("title", { id: "list" }), label: words.say("title_desk_several"), current: many },
  ];
  return (
    <nav aria-label={words.say("title_desk_ways")}>
      <ul class="od-slots">
        {ways.map(({ href, label, current }) => (
          <li key={href}>
            <a href={href} aria-current={current ? "page" : undefined}>
              {label}
            </a>
          </li>
        ))}
      </ul>
    </nav>
  );
}

/** What parts of the desk hand up when something is typed. */
export interface InputProps {
  input: TitleInput;
  onInput: (input: TitleInput) => void;
}

/** One text, read as it is typed. */
function OneTitle({ input, onInput }: InputProps) {
  const words = useWords();
  const { work } = useTools();
  const { catalogsSeen } = useBench();
  const [partChosen, setPartChosen] = useState(0);
  useHandedText(input, onInput);
  const settled = useSettled(input);
  const { language } = words;
  const listing = listingOf(settled);
  const empty = listing.title.trim() === "" && listing.description === undefined && listing.specifics === undefined;
  const reading = useLoaded(
    (signal) =>
      empty && settled.part === null
        ? Promise.resolve(null)
        : work.titleCheck({ listing, part: settled.part, language }, { signal }),
    [settled.title, settled.description, settled.specifics, settled.part, language, catalogsSeen, partChosen],
  );
  const said = reading.value ?? null;
  const part = settled.part ?? said?.part?.id ?? null;
  return (
    <div class="td-split">
      <TitleForm
        input={input}
        said={said}
        onInput={(next) => {
          if (next.part !== input.part) setPartChosen((count) => count + 1);
          onInput(next);
        }}
      />
      <div class="td-result" aria-busy={reading.loading}>
        {reading.error && (
          <Failure
            title={words.say("title_desk_failed")}
            faults={[{ field: "", message: reading.error.message }]}
            onRetry={reading.reload}
          />
        )}
        {said === null && !reading.error && (reading.loading && !empty ? <Loading /> : <Start />)}
        {said !== null && said.unreadable.length > 0 && (
          <p class="wb-note">{words.say("bench_unreadable_catalogs", { titles: said.unreadable })}</p>
        )}
        {said !== null && <TitleReadingView said={said} />}
        {part !== null && said !== null && <Composed key={part} part={part} input={settled} onInput={onInput} />}
      </div>
    </div>
  );
}

function Start() {
  const words = useWords();
  return (
    <Empty title={words.say("title_desk_start")}>
      <p>{words.say("title_desk_start_hint")}</p>
    </Empty>
  );
}

/** Takes over the text that a menu on a page has handed to us; it is handed out once. */
function useHandedText(input: TitleInput, onInput: (input: TitleInput) => void): void {
  const { ask } = useTools();
  // biome-ignore lint/correctness/useExhaustiveDependencies: asked once, when the desk is opened.
  useEffect(() => {
    let here = true;
    ask({ kind: "take-text" })
      .then((reply) => {
        if (!here || !reply.ok || reply.data === null) return;
        onInput({ ...inputOfText(reply.data.text, input), field: reply.data.field });
      })
      .catch((error: unknown) => console.error("Falsefit:", error));
    return () => {
      here = false;
    };
  }, [ask]);
}
