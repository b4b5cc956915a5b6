/** Titles put together for the part, each of which the matcher reads rightly for every buyer, and the warning block. */
import { useState } from "preact/hooks";
import type { ComposedTitle, Composition } from "../../desks/compose.ts";
import { Button } from "../../ui/button.tsx";
import { SelectField, TextField } from "../../ui/field.tsx";
import { languageNames } from "../../ui/load-words.ts";
import { Failure, Loading } from "../../ui/states.tsx";
import { useWords } from "../../ui/words-context.tsx";
import { useBench } from "../bench/bench-state.tsx";
import { useLoaded } from "../loaded.ts";
import { useTools } from "../tools.tsx";
import type { InputProps } from "./title-desk.tsx";
import { LIMITS, limitOf, type TitleInput } from "./title-input.ts";

/** The composed titles. */
export function Composed({ part, input, onInput }: InputProps & { part: string }) {
  const words = useWords();
  const { work } = useTools();
  const { catalogsSeen } = useBench();
  const language = input.language || words.language;
  const { limit } = input;
  const made = useLoaded(
    (signal) => work.titleCompose({ part, limit, language }, { signal }),
    [part, limit, language, catalogsSeen],
  );
  return (
    <section class="od-block td-composed" aria-labelledby="td-composed">
      <h3 id="td-composed">{words.say("title_desk_composed")}</h3>
      <p class="ff-hint">{words.say("title_desk_composed_hint")}</p>
      <Wishes input={input} onInput={onInput} />
      {made.error && (
        <Failure
          title={words.say("title_desk_failed")}
          faults={[{ field: "", message: made.error.message }]}
          onRetry={made.reload}
        />
      )}
      {made.value === undefined && !made.error && <Loading />}
      {made.value && <Titles made={made.value} input={input} onInput={onInput} language={language} />}
    </section>
  );
}

/** How long and in which language. */
function Wishes({ input, onInput }: InputProps) {
  const words = useWords();
  const [text, setText] = useState(String(input.limit));
  return (
    <div class="td-wishes">
      <TextField
        label={words.say("title_desk_limit")}
        hint={words.say("title_desk_limit_hint", LIMITS)}
        value={text}
        maxLength={3}
        onInput={(typed) => {
          setText(typed);
          onInput({ ...input, limit: limitOf(typed) });
        }}
      />
      <SelectField
        label={words.say("title_desk_language")}
        value={input.language || words.language}
        options={Object.entries(languageNames).map(([value, label]) => ({ value, label }))}
        onChange={(language) => onInput({ ...input, language })}
      />
    </div>
  );
}

function Titles({ made, input, onInput, language }: InputProps & { made: Composition; language: string }) {
  const words = useWords();
  const { titles, problem, shortest, warning } = made;
  const offered = titles.length > 0 ? titles : shortest === null ? [] : [shortest];
  return (
    <>
      {problem !== null && (
        <p class="wb-note">
          {words.say(`title_problem_${problem.replaceAll("-", "_")}`, {
            limit: input.limit,
            length: shortest?.length ?? 0,
          })}
        </p>
      )}
      <ol class="td-titles">
        {offered.map((title, i) => (
          <TitleOffer
            key={title.text}
            title={title}
            first={i === 0}
            input={input}
            onInput={onInput}
            language={language}
          />
        ))}
      </ol>
      {warning.length > 0 && <WarningBlock lines={warning} language={language} />}
    </>
  );
}

interface TitleOfferProps extends InputProps {
  title: ComposedTitle;
  /** The best of those offered. */
  first: boolean;
  language: string;
}

function TitleOffer({ title, first, input, onInput, language }: TitleOfferProps) {
  const words = useWords();
  const { text, length, leftOut } = title;
  return (
    <li>
      <p class="td-title" lang={language} dir="auto">
        {text}
      </p>
      <p class="od-soft">
        {words.say("title_desk_length", { count: length, limit: input.limit })}
        {leftOut.length > 0 && ` ${words.say("title_desk_left_out", { pieces: leftOut })}`}
      </p>
      <div class="ff-actions">
        <CopyButton text={text} label={words.say("title_desk_copy")} />
        <Button kind="quiet" onPress={() => onInput({ ...input, title: text })}>
          {words.say("title_desk_take")}
        </Button>
        {input.field !== null && <WriteBackButton text={text} field={input.field} strong={first} />}
      </div>
    </li>
  );
}

/** Puts a text into the clipboard, and says whether that worked. */
function CopyButton({ text, label }: { text: string; label: string }) {
  const words = useWords();
  const [done, setDone] = useState<"copied" | "not_copied" | null>(null);
  const copy = async () => {
    try {
      await navigator.clipboard.writeText(text);
      setDone("copied");
    } catch (error) {
      console.error("Falsefit:", error);
      setDone("not_copied");
    }
  };
  return (
    <>
      <Button onPress={copy}>{label}</Button>
      <span role="status" class="ff-hint">
        {done && words.say(`title_desk_${done}`)}
      </span>
    </>
  );
}

interface WriteBackProps {
  text: string;
  field: NonNullable<TitleInput["field"]>;
  strong: boolean;
}

/** Writes a title into the field that the text came from: only on this click. */
function WriteBackButton({ text, field, strong }: WriteBackProps) {
  const words = useWords();
  const { ask } = useTools();
  const [done, setDone] = useState<"written" | "not_written" | null>(null);
  const write = async () => {
    const reply = await ask({ kind: "write-back", ...field, text });
    setDone(reply.ok ? "written" : "not_written");
  };
  return (
    <>
      <Button kind={strong ? "strong" : "plain"} onPress={write}>
        {words.say("title_desk_write")}
      </Button>
      <span role="status" class="ff-hint">
        {done && words.say(`title_desk_${done}`)}
      </span>
    </>
  );
}

/** What the description should say, line by line. */
function WarningBlock({ lines, language }: { lines: readonly string[]; language: string }) {
  const words = useWords();
  return (
    <section class="td-warning" aria-labelledby="td-warning">
      <h4 id="td-warning">{words.say("title_desk_warning")}</h4>
      <div lang={language} dir="auto">
        {lines.map((line) => (
          <p key={line}>{line}</p>
        ))}
      </div>
      <div class="ff-actions">
        <CopyButton text={lines.join("\n")} label={words.say("title_desk_copy_warning")} />
      </div>
    </section>
  );
}
