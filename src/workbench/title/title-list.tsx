/** Many listings at once: which of them mislead, the worst first; any of them can be opened and mended. */
import { useMemo, useState } from "preact/hooks";
import type { ListSource } from "../../store/lists.ts";
import { Button } from "../../ui/button.tsx";
import { TextField, Toggle } from "../../ui/field.tsx";
import { LongList } from "../../ui/long-list.tsx";
import { Failure, Progress } from "../../ui/states.tsx";
import { useWords } from "../../ui/words-context.tsx";
import { FileDrop } from "../file-drop.tsx";
import { draftOf, otherFileOf } from "../order/draft.ts";
import { hrefOf } from "../route.ts";
import { useTools } from "../tools.tsx";
import type { ListedTitle, ListedTitles } from "./title-calls.ts";
import type { InputProps } from "./title-desk.tsx";
import { inputOfListing } from "./title-input.ts";
import { TitleMark } from "./title-mark.tsx";
import { summaryText, tierOf } from "./title-reading.tsx";

/** Text that may be typed or pasted, in UTF-16 code units; longer lists are dropped as a file. */
const MAX_TEXT_CHARS = 500_000;
const ROW_PX = 64;
const LIST_PX = 640;

type Trouble = "spreadsheet" | "document" | "empty" | "unreadable" | "columns";

/** The desk for lists. */
export function TitleList({ input, onInput }: InputProps) {
  const words = useWords();
  const { work, store } = useTools();
  const [text, setText] = useState("");
  const [trouble, setTrouble] = useState<Trouble | null>(null);
  const [running, setRunning] = useState<{ done: number; stop: AbortController } | null>(null);
  const [listed, setListed] = useState<ListedTitles | null>(null);
  const read = async (source: ListSource) => {
    setTrouble(null);
    const stop = new AbortController();
    try {
      const other = source.content.size === 0 ? "empty" : await otherFileOf(source.content);
      if (other !== null) return setTrouble(other);
      const { look, shape } = await draftOf(source, work, { layouts: store.layouts });
      if (shape.columns.title === undefined) return setTrouble("columns");
      setRunning({ done: 0, stop });
      const { encoding, delimiter } = look;
      const found = await work.titleList(
        { content: source.content, reading: { encoding, delimiter }, shape, language: words.language },
        { signal: stop.signal, onProgress: (done) => setRunning({ done, stop }) },
      );
      setListed(found);
    } catch (error) {
      if (stop.signal.aborted) return;
      console.error("Falsefit:", error);
      setTrouble("unreadable");
    } finally {
      setRunning(null);
    }
  };
  const readText = () => read({ name: words.say("order_desk_pasted"), content: new Blob([text]) });
  if (running !== null) {
    const label = words.say("title_desk_list_running");
    return <Progress label={label} done={running.done} onCancel={() => running.stop.abort()} />;
  }
  if (listed !== null) {
    const open = ({ listing }: ListedTitle) => onInput(inputOfListing(listing, input));
    return <Listed listed={listed} onOpen={open} onOther={() => setListed(null)} />;
  }
  return (
    <section class="od-intake">
      <p class="od-lead">{words.say("title_desk_list_lead")}</p>
      {trouble && (
        <Failure
          title={words.say(trouble === "columns" ? "title_desk_list_columns" : `order_desk_trouble_${trouble}`)}
        />
      )}
      <FileDrop
        label={words.say("order_desk_choose_file")}
        hint={words.say("order_desk_drop_hint")}
        onFiles={([file]) => file && read({ name: file.name.slice(0, 300), content: file })}
      >
        <TextField
          label={words.say("title_desk_list_paste")}
          value={text}
          rows={7}
          maxLength={MAX_TEXT_CHARS}
          onInput={setText}
        />
      </FileDrop>
      <div class="ff-actions">
        <Button kind="strong" disabled={text.trim() === ""} onPress={readText}>
          {words.say("order_desk_read")}
        </Button>
      </div>
    </section>
  );
}

interface ListedProps {
  listed: ListedTitles;
  onOpen: (title: ListedTitle) => void;
  onOther: () => void;
}

function Listed({ listed: { titles, beyond }, onOpen, onOther }: ListedProps) {
  const words = useWords();
  const [onlyBad, setOnlyBad] = useState(true);
  const bad = useMemo(() => titles.filter(needsAnother), [titles]);
  const shown = useMemo(() => [...(onlyBad ? bad : titles)].sort(byHarm), [onlyBad, bad, titles]);
  return (
    <section class="od-lines" aria-labelledby="td-listed">
      <h2 id="td-listed">
        <span aria-live="polite">{words.say("title_desk_listed", { count: bad.length, all: titles.length })}</span>
      </h2>
      {beyond > 0 && <p class="wb-note">{words.say("order_desk_beyond", { count: beyond })}</p>}
      <div class="od-lines-head">
        <Toggle label={words.say("title_desk_only_bad")} checked={onlyBad} onChange={setOnlyBad} />
        <Button kind="quiet" onPress={onOther}>
          {words.say("title_desk_other_list")}
        </Button>
      </div>
      <LongList<ListedTitle>
        label={words.say("title_desk_listings")}
        items={shown}
        keyOf={({ row }) => String(row)}
        rowHeight_px={ROW_PX}
        height_px={LIST_PX}
        row={(title) => <ListedRow title={title} onOpen={onOpen} />}
      />
    </section>
  );
}

function needsAnother({ summary, known }: ListedTitle): boolean {
  const tier = tierOf(summary, known);
  return tier === "stop" || tier === "check";
}

function byHarm(a: ListedTitle, b: ListedTitle): number {
  return harm(b) - harm(a) || a.row - b.row;
}

function harm({ summary }: ListedTitle): number {
  return summary.misled * 1_000_000 + summary["turned-away"] * 1_000 + summary["left-guessing"];
}

function ListedRow({ title, onOpen }: { title: ListedTitle; onOpen: (title: ListedTitle) => void }) {
  const words = useWords();
  const { row, listing, summary, worst, known } = title;
  return (
    <a class="td-listed" href={hrefOf("title")} onClick={() => onOpen(title)}>
      <span class="od-row-mark">
        <TitleMark summary={summary} known={known} />
        <span class="od-row-no">{words.say("order_desk_row", { row })}</span>
      </span>
      <span class="od-row-what" dir="auto">
        {listing.title}
      </span>
      <span class="od-row-why">{worst || summaryText(summary, known, words)}</span>
    </a>
  );
}
