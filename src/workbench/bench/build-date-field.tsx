/** The field for the build date: any way of writing it, any code; where it can mean several things, it asks which. */
import { useEffect } from "preact/hooks";
import { Choices, SelectField, TextField } from "../../ui/field.tsx";
import { useWords } from "../../ui/words-context.tsx";
import { dayWords } from "../day-words.ts";
import { useLoaded } from "../loaded.ts";
import { useTools } from "../tools.tsx";
import { type DateDraft, type DateOrigin, dateOrigins, readDateDraft, readingsToChoose } from "./build-date-draft.ts";
import { dateSetting } from "./date-setting.ts";

interface BuildDateFieldProps {
  draft: DateDraft;
  /** Model numbers of the device: a pattern that was used for one of them before is offered again. */
  models: readonly string[];
  onChange: (draft: DateDraft) => void;
  error?: string;
}

/** Most readings that are offered. */
const MOST_READINGS = 12;

/** The field. */
export function BuildDateField({ draft, models, onChange, error }: BuildDateFieldProps) {
  const words = useWords();
  const { now, store } = useTools();
  const { value: kept } = useLoaded(() => store.serialPatterns.find(models), [models.join("\n")]);
  const isSerial = draft.origin === "serial";
  // biome-ignore lint/correctness/useExhaustiveDependencies: offered once for a model; what a person clears stays empty.
  useEffect(() => {
    if (isSerial && draft.mask === "" && kept !== undefined) onChange({ ...draft, mask: kept, chosen: null });
  }, [isSerial, kept]);
  const setting = dateSetting(now());
  const outcome = readDateDraft(draft, setting);
  const readings = readingsToChoose(draft, setting).slice(0, MOST_READINGS);
  const origins = {
    made: words.say("bench_date_made"),
    bought: words.say("bench_date_bought"),
    serial: words.say("bench_date_serial"),
  };
  const labels = {
    made: words.say("bench_build_date"),
    bought: words.say("bench_purchase_date"),
    serial: words.say("bench_serial_number"),
  };
  const hints = {
    made: words.say("bench_build_date_hint"),
    bought: words.say("bench_purchase_date_hint"),
    serial: words.say("bench_serial_hint"),
  };
  return (
    <div class="wb-date">
      <div class="wb-two">
        <TextField
          label={labels[draft.origin]}
          hint={hints[draft.origin]}
          value={draft.text}
          onInput={(text) => onChange({ ...draft, text, chosen: null })}
          maxLength={80}
          {...(error === undefined ? {} : { error })}
        />
        <SelectField
          label={words.say("bench_date_origin")}
          value={draft.origin}
          options={dateOrigins.map((value) => ({ value, label: origins[value] }))}
          onChange={(origin) => onChange({ ...draft, origin: origin as DateOrigin, chosen: null })}
        />
      </div>
      {isSerial && (
        <TextField
          label={words.say("bench_serial_pattern")}
          hint={words.say(
            kept !== undefined && draft.mask === kept ? "bench_serial_pattern_kept" : "bench_serial_pattern_hint",
          )}
          placeholder="??YYWW*"
          value={draft.mask}
          onInput={(mask) => onChange({ ...draft, mask, chosen: null })}
          maxLength={80}
        />
      )}
      {readings.length > 0 ? (
        <Choices
          legend={words.say("bench_date_which")}
          value={draft.chosen === null ? null : String(draft.chosen)}
          options={readings.map(({ says }, i) => ({ value: String(i), label: words.say(says.key, says.values) }))}
          onChange={(chosen) => onChange({ ...draft, chosen: Number(chosen) })}
        />
      ) : (
        <p class="wb-soft" role="status">
          {outcome.kind === "date" && outcome.reading !== null && readAs(outcome.reading, words)}
          {outcome.kind === "unreadable" &&
            (outcome.because ? words.say(outcome.because.key, outcome.because.values) : words.say("bench_fault_date"))}
        </p>
      )}
    </div>
  );
}

function readAs(
  {
    says,
    interval,
    kind,
  }: {
    says: { key: string; values: Parameters<ReturnType<typeof useWords>["say"]>[1] };
    interval: { from: number | null; to: number | null };
    kind: string;
  },
  words: ReturnType<typeof useWords>,
): string {
  const plain = kind === "iso-week" || kind === "month" || kind === "day" || kind === "year";
  return plain ? words.say("bench_date_read", { days: dayWords(interval, words) }) : words.say(says.key, says.values);
}
