/** Reading a device from what its own machine prints: paste it or drop the file, look at what it says, take it over. */
import { useState } from "preact/hooks";
import type { Device } from "../../formats/bench.ts";
import { applyFacts, asDeviceFact } from "../../readout/apply.ts";
import type { Readout, ReadoutFact } from "../../readout/facts.ts";
import { Button } from "../../ui/button.tsx";
import { TextField, Toggle } from "../../ui/field.tsx";
import { deviceName } from "../../ui/naming.ts";
import { Failure, Loading } from "../../ui/states.tsx";
import { useWords } from "../../ui/words-context.tsx";
import { FileDrop } from "../file-drop.tsx";
import { usePartNames } from "../part-names.ts";
import { useTools } from "../tools.tsx";
import { useDeviceActions } from "./device-actions.ts";
import { DumpGuide } from "./dump-guide.tsx";
import { effectOf, type FactEffect } from "./readout-preview.ts";
import { sourceText } from "./source-text.ts";

const DAY_MS = 86_400_000;

type State =
  | { step: "waiting" }
  | { step: "reading" }
  | { step: "read"; readout: Readout; taken: ReadonlySet<number> }
  | { step: "failed"; error: Error };

/** The section. */
export function ReadoutSection({ device }: { device: Device }) {
  const words = useWords();
  const { work, now } = useTools();
  const actions = useDeviceActions();
  const [text, setText] = useState("");
  const [state, setState] = useState<State>({ step: "waiting" });

  const read = async (inputs: () => Promise<(Uint8Array | string)[]>) => {
    setState({ step: "reading" });
    try {
      const today = Math.floor(now().getTime() / DAY_MS);
      const readout = await work.readDumps({ inputs: await inputs(), today });
      setState({ step: "read", readout, taken: new Set(readout.facts.map((_, i) => i)) });
    } catch (error) {
      setState({ step: "failed", error: error instanceof Error ? error : new Error(String(error)) });
    }
  };
  const readFiles = (files: readonly File[]) =>
    read(async () => Promise.all(files.map(async (file) => new Uint8Array(await file.arrayBuffer()))));
  const takeOver = async (facts: readonly ReadoutFact[]) => {
    const message = words.say("bench_readout_taken", { count: facts.length, device: deviceName(device, words) });
    await actions.change(device, applyFacts(device, facts, words), message);
    setText("");
    setState({ step: "waiting" });
  };
  return (
    <section class="wb-section" aria-labelledby="readout-heading">
      <h2 id="readout-heading" tabIndex={-1}>
        {words.say("bench_readout")}
      </h2>
      <p class="wb-soft">{words.say("bench_readout_why")}</p>
      <DumpGuide />
      <FileDrop
        label={words.say("bench_readout_file")}
        hint={words.say("bench_readout_drop")}
        multiple
        onFiles={readFiles}
      >
        <TextField
          label={words.say("bench_readout_paste")}
          rows={4}
          value={text}
          onInput={setText}
          maxLength={4_000_000}
        />
        <div class="ff-actions">
          <Button
            disabled={text.trim() === ""}
            busy={state.step === "reading"}
            onPress={() => read(async () => [text])}
          >
            {words.say("bench_readout_read")}
          </Button>
        </div>
      </FileDrop>
      {state.step === "reading" && <Loading />}
      {state.step === "failed" && (
        <Failure title={words.say("bench_readout_failed")} faults={[{ field: "", message: state.error.message }]} />
      )}
      {state.step === "read" && (
        <ReadoutPreview
          device={device}
          readout={state.readout}
          taken={state.taken}
          onTaken={(taken) => setState({ ...state, taken })}
          onAccept={takeOver}
          onDismiss={() => setState({ step: "waiting" })}
        />
      )}
    </section>
  );
}

interface PreviewProps {
  device: Device;
  readout: Readout;
  /** Places of the facts that are to be taken over. */
  taken: ReadonlySet<number>;
  onTaken: (taken: ReadonlySet<number>) => void;
  onAccept: (facts: readonly ReadoutFact[]) => void;
  onDismiss: () => void;
}

/** What the dump says, fact by fact, and what taking each over would change. */
function ReadoutPreview({ device, readout, taken, onTaken, onAccept, onDismiss }: PreviewProps) {
  const words = useWords();
  const { facts, messages } = readout;
  const switchFact = (place: number, on: boolean) => {
    const next = new Set(taken);
    if (on) next.add(place);
    else next.delete(place);
    onTaken(next);
  };
  const chosen = facts.filter((_, i) => taken.has(i));
  return (
    <div class="wb-preview" role="status">
      <h3>{words.say("bench_readout_found", { count: facts.length })}</h3>
      {facts.map((fact, i) => (
        <FactLine
          // biome-ignore lint/suspicious/noArrayIndexKey: the facts of one readout never change place.
          key={i}
          device={device}
          fact={fact}
          taken={taken.has(i)}
          onTaken={(on) => switchFact(i, on)}
        />
      ))}
      {messages.length > 0 && (
        <ul class="wb-soft">
          {messages.map(({ key, values }) => {
            const said = words.say(key, values);
            return <li key={said}>{said}</li>;
          })}
        </ul>
      )}
      <div class="ff-actions">
        {facts.length > 0 && (
          <Button kind="strong" disabled={chosen.length === 0} onPress={() => onAccept(chosen)}>
            {words.say("bench_readout_accept", { count: chosen.length })}
          </Button>
        )}
        <Button kind="quiet" onPress={onDismiss}>
          {words.say("ui_dismiss")}
        </Button>
      </div>
    </div>
  );
}

interface FactLineProps {
  device: Device;
  fact: ReadoutFact;
  taken: boolean;
  onTaken: (on: boolean) => void;
}

function FactLine({ device, fact, taken, onTaken }: FactLineProps) {
  const words = useWords();
  const partName = usePartNames();
  const { value } = asDeviceFact(fact, words);
  const fields = {
    modelNumber: words.say("bench_model_numbers"),
    boardNumber: words.say("bench_board_number"),
    boardVersion: words.say("bench_board_version"),
    buildDate: words.say("bench_build_date"),
  };
  const field =
    fact.field === "fitted" ? words.say("bench_fitted_part", { part: partName(fact.type) }) : fields[fact.field];
  const note = fact.note ? words.say(fact.note.key, fact.note.values) : "";
  const hint = [words.say(effectKeys[effectOf(device, fact)]), sourceText(fact, words), note];
  return (
    <Toggle
      label={`${field}: ${value}`}
      hint={hint.filter((text) => text !== "").join(" · ")}
      checked={taken}
      onChange={onTaken}
    />
  );
}

const effectKeys: Readonly<Record<FactEffect, string>> = {
  fills: "bench_effect_fills",
  adds: "bench_effect_adds",
  beside: "bench_effect_beside",
  known: "bench_effect_known",
  kept: "bench_effect_kept",
  "not-a-part": "bench_effect_not_a_part",
};
