/** The connector drawn, pin by pin: choose a word, then the pins that carry it, by pointer or by keyboard. */
import { useRef, useState } from "preact/hooks";
import { Button } from "../../ui/button.tsx";
import { Drawing } from "../../ui/drawing.tsx";
import { TextField } from "../../ui/field.tsx";
import { useWords } from "../../ui/words-context.tsx";
import { pinText } from "../../verdict/hazard-words.ts";
import type { FieldFaults } from "./family-draft.ts";
import { type ConnectorDraft, pinsFor } from "./part-draft.ts";
import { pinGlyph, pinOf, pinWords } from "./pin-words.ts";

interface ConnectorFieldProps {
  draft: ConnectorDraft;
  faults: FieldFaults;
  onChange: (draft: ConnectorDraft) => void;
}

/** The field. */
export function ConnectorField({ draft, faults, onChange }: ConnectorFieldProps) {
  const words = useWords();
  const [word, setWord] = useState<string>("supply");
  const [name, setName] = useState("");
  const positions = Number(draft.positions.trim());
  const pins = Number.isInteger(positions) ? pinsFor(draft.pins, positions) : [];
  const error = (field: string) => {
    const key = faults.get(field);
    return key === undefined ? {} : { error: words.say(key) };
  };
  const setPins = (changed: readonly string[]) => onChange({ ...draft, pins: changed });
  const pinFault = faults.get("pins");
  return (
    <fieldset class="wb-group">
      <legend>{words.say("catalog_connector")}</legend>
      <div class="wb-two">
        <TextField
          label={words.say("catalog_connector_family")}
          hint={words.say("catalog_connector_family_hint")}
          value={draft.family}
          onInput={(family) => onChange({ ...draft, family })}
          maxLength={200}
        />
        <TextField
          label={words.say("catalog_connector_positions")}
          hint={words.say("catalog_connector_positions_hint")}
          value={draft.positions}
          onInput={(text) => onChange({ ...draft, positions: text.replace(/\D/g, "").slice(0, 3) })}
          maxLength={3}
          {...error("positions")}
        />
      </div>
      {pins.length > 0 && (
        <>
          <Palette word={word} name={name} onWord={setWord} onName={setName} />
          <Pins
            pins={pins}
            label={pinText(pinOf(word, name), words)}
            onSet={(at) => setPins(pins.map((pin, i) => (i === at ? nextPin(pin, pinOf(word, name)) : pin)))}
          />
          {pinFault !== undefined && (
            <p class="ff-error" role="alert">
              {words.say(pinFault)}
            </p>
          )}
          <div class="ff-actions">
            <Button onPress={() => setPins(pins.map((pin) => pin || pinOf(word, name)))}>
              {words.say("catalog_pins_fill", { word: pinText(pinOf(word, name), words) })}
            </Button>
            <Button kind="quiet" onPress={() => setPins(pins.map(() => ""))}>
              {words.say("catalog_pins_clear")}
            </Button>
          </div>
        </>
      )}
    </fieldset>
  );
}

/** Setting a word where it stands already takes it away. */
function nextPin(pin: string, word: string): string {
  return pin === word ? "" : word;
}

interface PaletteProps {
  word: string;
  name: string;
  onWord: (word: string) => void;
  onName: (name: string) => void;
}

/** The words to set. */
function Palette({ word, name, onWord, onName }: PaletteProps) {
  const words = useWords();
  return (
    <div class="wb-palette">
      <fieldset class="wb-palette-words">
        <legend>{words.say("catalog_pin_word")}</legend>
        {pinWords.map((each) => (
          <label key={each} class="wb-pin-word" data-chosen={each === word}>
            <input
              type="radio"
              name="pin-word"
              class="ff-unseen"
              value={each}
              checked={each === word}
              onChange={() => onWord(each)}
            />
            <Drawing tree={pinGlyph(each)} />
            {pinText(each, words)}
          </label>
        ))}
      </fieldset>
      <TextField
        label={words.say("catalog_pin_name")}
        hint={words.say("catalog_pin_name_hint")}
        value={name}
        onInput={onName}
        maxLength={60}
      />
    </div>
  );
}

interface PinsProps {
  pins: readonly string[];
  /** What pressing a pin would set. */
  label: string;
  onSet: (at: number) => void;
}

/** The housing with its pins; it is one stop of the Tab key, arrow keys move from pin to pin. */
function Pins({ pins, label, onSet }: PinsProps) {
  const words = useWords();
  const [stop, setStop] = useState(0);
  const housing = useRef<HTMLDivElement>(null);
  const current = Math.min(stop, pins.length - 1);
  const moveTo = (to: number) => {
    const next = Math.max(0, Math.min(pins.length - 1, to));
    setStop(next);
    housing.current?.querySelectorAll<HTMLElement>("button")[next]?.focus();
  };
  const forward = words.direction === "rtl" ? -1 : 1;
  return (
    <div>
      <p class="wb-soft" id="pins-how">
        {words.say("catalog_pins_how", { word: label })}
      </p>
      {/* biome-ignore lint/a11y/useSemanticElements: a fieldset cannot be drawn as a connector in every browser. */}
      <div
        class="wb-housing"
        role="group"
        aria-label={words.say("catalog_pins")}
        aria-describedby="pins-how"
        ref={housing}
      >
        {pins.map((pin, i) => (
          <button
            // biome-ignore lint/suspicious/noArrayIndexKey: a pin is its place.
            key={i}
            type="button"
            class="wb-pin"
            data-set={pin !== ""}
            tabIndex={i === current ? 0 : -1}
            onFocus={() => setStop(i)}
            onClick={() => onSet(i)}
            onKeyDown={(event) => {
              const steps: Record<string, number> = {
                ArrowRight: i + forward,
                ArrowLeft: i - forward,
                ArrowDown: i + 1,
                ArrowUp: i - 1,
                Home: 0,
                End: pins.length - 1,
              };
              const to = steps[event.key];
              if (to === undefined) return;
              event.preventDefault();
              moveTo(to);
            }}
          >
            <span class="ff-unseen">
              {words.say("catalog_pin_is", {
                pin: i + 1,
                word: pin === "" ? words.say("catalog_pin_open") : pinText(pin, words),
              })}
            </span>
            <span class="wb-pin-number" aria-hidden="true">
              {i + 1}
            </span>
            <Drawing tree={pinGlyph(pin)} />
            <span class="wb-pin-text" aria-hidden="true">
              {pin === "" ? "" : pinText(pin, words)}
            </span>
          </button>
        ))}
      </div>
    </div>
  );
}
