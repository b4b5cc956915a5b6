/** Numbers that the person has settled by hand for this device: they fit, or they do not, whatever a catalog says. */
import { useState } from "preact/hooks";
import type { Device } from "../../formats/bench.ts";
import { canonicalNumber } from "../../text/part-number.ts";
import { Button } from "../../ui/button.tsx";
import { TextField } from "../../ui/field.tsx";
import { deviceName } from "../../ui/naming.ts";
import { useUndo } from "../../ui/undo.tsx";
import { useWords } from "../../ui/words-context.tsx";
import { useTools } from "../tools.tsx";

type Settled = Device["accept"][number];

/** The section. */
export function SettledSection({ device }: { device: Device }) {
  const words = useWords();
  const { store } = useTools();
  const offerUndo = useUndo();
  const [number, setNumber] = useState("");
  const [missing, setMissing] = useState(false);
  const settle = async (as: "accept" | "refuse") => {
    const typed = number.trim();
    setMissing(canonicalNumber(typed) === "");
    if (canonicalNumber(typed) === "") return;
    await store.devices.settle(device.id, typed, as);
    setNumber("");
  };
  const forget = async ({ number: settled }: Settled) => {
    await store.devices.settle(device.id, settled, "forget");
    const values = { number: settled, device: deviceName(device, words) };
    offerUndo(words.say("bench_forgotten", values), () => store.devices.save(device));
  };
  return (
    <section class="wb-section" aria-labelledby="settled-heading">
      <h2 id="settled-heading">{words.say("bench_settled")}</h2>
      <p class="wb-soft">{words.say("bench_settled_why")}</p>
      <div class="wb-two wb-settled">
        <SettledList title={words.say("bench_accepted")} list={device.accept} onForget={forget} />
        <SettledList title={words.say("bench_refused")} list={device.refuse} onForget={forget} />
      </div>
      <form
        class="wb-inline"
        noValidate
        onSubmit={(event) => {
          event.preventDefault();
          void settle("accept");
        }}
      >
        <TextField
          label={words.say("bench_settle_number")}
          value={number}
          onInput={setNumber}
          maxLength={80}
          {...(missing ? { error: words.say("bench_settle_missing") } : {})}
        />
        <div class="ff-actions">
          <Button type="submit">{words.say("bench_settle_accept")}</Button>
          <Button onPress={() => settle("refuse")}>{words.say("bench_settle_refuse")}</Button>
        </div>
      </form>
    </section>
  );
}

interface SettledListProps {
  title: string;
  list: readonly Settled[];
  onForget: (settled: Settled) => void;
}

function SettledList({ title, list, onForget }: SettledListProps) {
  const words = useWords();
  return (
    <div>
      <h3>{title}</h3>
      {list.length === 0 && <p class="wb-soft">{words.say("bench_settled_none")}</p>}
      <ul class="wb-plain">
        {list.map((settled) => (
          <li key={settled.number} class="wb-settled-row">
            <span>
              <span class="ff-number">{settled.number}</span>
              {settled.note && <span class="wb-under">{settled.note}</span>}
            </span>
            <span class="wb-source">{settled.date}</span>
            <Button
              kind="quiet"
              label={words.say("workbench_act_on", { act: words.say("bench_forget"), on: settled.number })}
              onPress={() => onForget(settled)}
            >
              {words.say("bench_forget")}
            </Button>
          </li>
        ))}
      </ul>
    </div>
  );
}
