/** Which device is in hand. Few devices are all in sight; many are found by typing. */
import { useState } from "preact/hooks";
import { dateWords } from "../catalog/resolve.ts";
import type { Device } from "../formats/bench.ts";
import { Button } from "../ui/button.tsx";
import { Choices, TextField } from "../ui/field.tsx";
import { deviceName } from "../ui/naming.ts";
import { useWords } from "../ui/words-context.tsx";
import type { PopupModel } from "./model.ts";

/** Devices in sight before one has to search. */
const IN_SIGHT = 5;

interface DeviceSectionProps {
  model: PopupModel;
  onTake: (id: string) => void;
  onAdd: () => void;
  onDropExample: () => void;
}

/** The devices, the one in hand chosen; arrow keys switch at once. */
export function DeviceSection({ model, onTake, onAdd, onDropExample }: DeviceSectionProps) {
  const words = useWords();
  const [search, setSearch] = useState<string | null>(null);
  const shown = search === null ? nearest(model) : found(model.devices, search);
  const isExample = model.inHand?.startsWith("demo-") ?? false;
  return (
    <section>
      <h2>{words.say("popup_in_hand")}</h2>
      {search !== null && (
        <TextField label={words.say("popup_search")} value={search} onInput={setSearch} search autoFocus />
      )}
      {shown.length === 0 ? (
        <p class="ff-hint">{words.say("popup_search_none")}</p>
      ) : (
        <Choices
          legend={words.say("popup_in_hand")}
          quietLegend
          value={model.inHand}
          onChange={onTake}
          options={shown.map((device) => ({
            value: device.id,
            label: deviceName(device, words),
            note: deviceNote(device),
          }))}
        />
      )}
      <div class="ff-actions">
        {search === null && model.devices.length > shown.length && (
          <Button kind="quiet" onPress={() => setSearch("")}>
            {words.say("popup_all_devices", { count: model.devices.length })}
          </Button>
        )}
        <Button kind="quiet" onPress={onAdd}>
          {words.say("popup_add_device")}
        </Button>
        {isExample && (
          <Button kind="quiet" onPress={onDropExample}>
            {words.say("popup_drop_example")}
          </Button>
        )}
      </div>
    </section>
  );
}

/** The devices last in hand, filled up with the others, in an order that does not jump when one is chosen. */
function nearest({ devices, recent, inHand }: PopupModel): Device[] {
  if (devices.length <= IN_SIGHT) return [...devices];
  const first = new Set(inHand === null ? recent : [inHand, ...recent]);
  const ids = new Set(
    [...devices.filter(({ id }) => first.has(id)), ...devices.filter(({ id }) => !first.has(id))]
      .slice(0, IN_SIGHT)
      .map(({ id }) => id),
  );
  return devices.filter(({ id }) => ids.has(id));
}

function found(devices: readonly Device[], search: string): Device[] {
  const wanted = search.trim().toLowerCase();
  const texts = ({ name = "", modelNumbers, boardNumber = "", job = "" }: Device) =>
    [name, ...modelNumbers, boardNumber, job].join(" ").toLowerCase();
  return devices.filter((device) => texts(device).includes(wanted)).slice(0, 2 * IN_SIGHT);
}

/** What tells devices of one name apart: model, board, build date. */
function deviceNote({ modelNumbers, boardNumber, buildDate }: Device): string {
  return [modelNumbers[0], boardNumber, buildDate === undefined ? undefined : dateWords(buildDate)]
    .filter((text) => text !== undefined)
    .join(" · ");
}
