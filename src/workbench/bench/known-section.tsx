/** What is known of a device, each with where it comes from and how sure it is; and what is still open. */
import { buildInterval, dateWords } from "../../catalog/resolve.ts";
import type { Device, DeviceFact, FittedPart } from "../../formats/bench.ts";
import type { Words } from "../../text/words.ts";
import { useWords } from "../../ui/words-context.tsx";
import { dayWords } from "../day-words.ts";
import { usePartNames } from "../part-names.ts";
import { quantityText } from "../quantity-words.ts";
import { hrefOf } from "../route.ts";
import { sourceText } from "./source-text.ts";

/** One line: what, which value, from where. */
interface KnownLine {
  readonly key: string;
  readonly label: string;
  /** Empty when it is not known yet. */
  readonly value: string;
  readonly under: string;
  readonly fact: DeviceFact | undefined;
  readonly otherwise: string;
}

/** The section. */
export function KnownSection({ device }: { device: Device }) {
  const words = useWords();
  const partName = usePartNames();
  const lines = [
    ...ownLines(device, words),
    ...device.fitted.map((part, i) => fittedLine(part, i, device, partName, words)),
  ];
  const rest = (device.facts ?? []).filter((fact) => !lines.some((line) => line.fact === fact));
  return (
    <section class="wb-section" aria-labelledby="known-heading">
      <h2 id="known-heading">{words.say("bench_known")}</h2>
      <dl class="wb-facts wb-known">
        {lines.map((line) => (
          <div key={line.key} data-open={line.value === ""}>
            <dt>{line.label}</dt>
            <dd>
              {line.value === "" ? (
                <a href={hrefOf("bench", { id: device.id }, { act: "edit" })}>{words.say("bench_still_open")}</a>
              ) : (
                <span class="ff-number">{line.value}</span>
              )}
              {line.under !== "" && <span class="wb-under">{line.under}</span>}
            </dd>
            <dd class="wb-source">
              {line.value !== "" && (line.fact ? sourceText(line.fact, words) : line.otherwise)}
            </dd>
          </div>
        ))}
      </dl>
      {rest.length > 0 && <OtherFacts facts={rest} />}
      {device.note && (
        <p class="wb-note-text" dir="auto">
          {device.note}
        </p>
      )}
    </section>
  );
}

function ownLines(device: Device, words: Words): KnownLine[] {
  const typed = words.say("bench_typed_in");
  const interval = buildInterval(device.buildDate);
  const line = (key: string, label: string, value: string, under = ""): KnownLine => ({
    key,
    label,
    value,
    under,
    fact: factFor(device, key, value),
    otherwise: typed,
  });
  const date = device.buildDate === undefined ? "" : dateWords(device.buildDate);
  const lines = [
    line("modelNumber", words.say("bench_model_numbers"), device.modelNumbers.join(", ")),
    line("boardNumber", words.say("bench_board_number"), device.boardNumber ?? ""),
    line("buildDate", words.say("bench_build_date"), date, interval === null ? "" : dayWords(interval, words)),
  ];
  if (device.revision !== undefined) lines.push(line("revision", words.say("bench_revision"), device.revision));
  return lines;
}

/** The fact that a value was taken from; a value typed over it is the person's own. */
function factFor({ facts = [] }: Device, field: string, value: string): DeviceFact | undefined {
  return facts.findLast((fact) => fact.field === field && fact.value === value);
}

function fittedLine(
  part: FittedPart,
  place: number,
  device: Device,
  partName: (type: string) => string,
  words: Words,
): KnownLine {
  const quantities = Object.entries(part.quantities ?? {}).map(([name, value]) => quantityText(name, value, words));
  const numbers = part.numbers.join(", ");
  const sources = {
    label: words.say("bench_source_label"),
    readout: words.say("bench_source_readout"),
    photo: words.say("bench_source_photo"),
    assumed: words.say("bench_source_assumed"),
  };
  const field = `fitted.${part.type}`;
  const fact = (device.facts ?? []).findLast(
    (each) =>
      each.field === field && part.source === "readout" && part.numbers.some((number) => each.value.includes(number)),
  );
  return {
    key: `${field} ${place}`,
    label: words.say("bench_fitted_part", { part: partName(part.type) }),
    value: numbers === "" ? quantities.join(", ") : numbers,
    under: [numbers === "" ? "" : quantities.join(", "), part.note ?? ""].filter((text) => text !== "").join(" · "),
    fact,
    otherwise: sources[part.source],
  };
}

/** Facts that fill no field: what contradicts one, and what is too rough. */
function OtherFacts({ facts }: { facts: readonly DeviceFact[] }) {
  const words = useWords();
  return (
    <details class="wb-more">
      <summary>{words.say("bench_other_facts", { count: facts.length })}</summary>
      <ul>
        {facts.map((fact, i) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: facts have no id and may be equal; they never move.
          <li key={i}>
            <span class="ff-number">{fact.value}</span>{" "}
            <span class="wb-soft">
              {sourceText(fact, words)}
              {fact.note && ` · ${fact.note}`}
            </span>
          </li>
        ))}
      </ul>
    </details>
  );
}
