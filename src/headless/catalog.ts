/** `falsefit catalog`: validate, merge, convert, learn. */
import rules from "falsefit:rules";
import { type Answer, type LearnedModel, learnFromObservations, predict } from "../catalog/learn.ts";
import { holdOut } from "../catalog/learn-check.ts";
import { draftCatalog } from "../catalog/learn-draft.ts";
import { listConverter } from "../desks/convert-list.ts";
import { mergeCatalogFiles } from "../desks/merge-files.ts";
import { checkCatalog } from "../formats/catalog.ts";
import { type Observation, readObservationLine } from "../formats/observation.ts";
import type { Reason } from "../formats/verdict.ts";
import type { Words } from "../text/words.ts";
import type { Arguments } from "./arguments.ts";
import { wholeNumber } from "./check.ts";
import { csvFaultText, openList } from "./csv.ts";
import { exits, Stop } from "./exits.ts";
import { shownName } from "./input.ts";
import { textLines } from "./lines.ts";
import { faultText, loadCatalog } from "./load.ts";
import type { Run, Shell } from "./shell.ts";

const actions: Readonly<Record<string, (files: readonly string[], given: Arguments, shell: Shell) => Promise<number>>> =
  {
    validate,
    merge,
    convert,
    learn,
  };

/** Runs `catalog`. */
export const catalog: Run = async (given, shell) => {
  const [name = "", ...files] = given.operands;
  const action = Object.hasOwn(actions, name) ? actions[name] : undefined;
  if (action === undefined) {
    throw new Stop(exits.usage, [
      shell.words.say("command_not_one_of", { option: "falsefit catalog", value: name, known: Object.keys(actions) }),
    ]);
  }
  return action(files, given, shell);
};

/** Names every fault of every file; good files are counted up on standard output, one JSON line each. */
async function validate(files: readonly string[], _given: Arguments, shell: Shell): Promise<number> {
  needFiles(files, "validate", shell.words);
  let bad = 0;
  for (const file of files) {
    const loaded = loadCatalog(file, shell.words);
    if ("faults" in loaded) {
      bad++;
      for (const fault of loaded.faults) shell.complain(fault);
      continue;
    }
    const { families, parts, interchange, supersession } = loaded.value;
    const revisions = families.reduce((sum, family) => sum + family.revisions.length, 0);
    await writeJson(shell, {
      file,
      families: families.length,
      revisions,
      parts: parts.length,
      interchange: interchange.length,
      supersession: supersession.length,
    });
  }
  return bad > 0 ? exits.usage : exits.done;
}

async function merge(files: readonly string[], _given: Arguments, shell: Shell): Promise<number> {
  needFiles(files, "merge", shell.words);
  const faults: string[] = [];
  const catalogs = files.flatMap((file) => {
    const loaded = loadCatalog(file, shell.words);
    if ("value" in loaded) return [loaded.value];
    faults.push(...loaded.faults);
    return [];
  });
  if (faults.length > 0) throw new Stop(exits.usage, faults);
  const merged = mergeCatalogFiles(catalogs);
  for (const { kind, at, what } of merged.disagreements) {
    shell.complain(`${at}: ${shell.words.say(`command_merge_${kind}`, { what })}`);
  }
  await writeChecked(merged.catalog, shell);
  return exits.done;
}

async function convert(files: readonly string[], given: Arguments, shell: Shell): Promise<number> {
  const file = files[0] ?? "-";
  if (files.length > 1) {
    throw new Stop(exits.usage, [shell.words.say("command_too_many_operands", { operand: files[1] ?? "", most: 1 })]);
  }
  const list = await openList(file, given, shell);
  const type = given.value("type");
  const model = given.value("family");
  const converter = listConverter({
    shape: list.shape,
    rules,
    ...(type === undefined ? {} : { partType: type }),
    ...(model === undefined ? {} : { model }),
    ...(file === "-" ? {} : { title: file.split("/").at(-1) ?? file }),
  });
  let bad = 0;
  for await (const { rows, faults } of list.rows) {
    for (const fault of faults) shell.complain(csvFaultText(file, fault, shell));
    bad += faults.length;
    for (const { row, cells } of rows) {
      for (const fault of converter.take(cells, row)) {
        bad++;
        const key = `command_convert_${fault.kind.replaceAll("-", "_")}`;
        shell.complain(`${shownName(file)}:${row}: ${shell.words.say(key, { text: fault.text })}`);
      }
    }
  }
  await writeChecked(converter.catalog(), shell);
  return bad > 0 ? exits.someBad : exits.done;
}

/** Observations to a catalog draft; with `--predict`, to what is expected inside other devices. */
async function learn(files: readonly string[], given: Arguments, shell: Shell): Promise<number> {
  let bad = 0;
  const observations: Observation[] = [];
  for (const file of files.length > 0 ? files : ["-"]) {
    bad += await readObservations(file, shell, (observation) => {
      observations.push(observation);
    });
  }
  const seed = wholeNumber(given, "hold-out", 0, Number.MAX_SAFE_INTEGER, shell.words);
  const asked = given.value("predict");
  if (seed !== null) await writeJson(shell, holdOut(observations, seed));
  else if (asked === undefined) {
    const { catalog: draft, notes } = draftCatalog(learnFromObservations(observations), shell.words);
    for (const { model, revision, says } of notes) {
      shell.complain(`${revision === null ? model : `${model}/${revision}`}: ${sentence(says, shell.words)}`);
    }
    await writeChecked(draft, shell);
  } else bad += await predictAll(asked, learnFromObservations(observations), shell);
  return bad > 0 ? exits.someBad : exits.done;
}

async function predictAll(file: string, models: readonly LearnedModel[], shell: Shell): Promise<number> {
  const byName = new Map(models.map((model) => [model.model, model]));
  return readObservations(file, shell, async (observation, line) => {
    const model = byName.get(observation.model);
    const query = { board: observation.board ?? null, built: observation.built ?? observation.battery?.built ?? null };
    const prediction = model === undefined ? null : predict(model, query);
    await writeJson(shell, {
      line,
      model: observation.model,
      known: prediction !== null,
      cells: prediction && shownAnswer(prediction.cells, shell.words, (cells) => cells),
      numbers: prediction && shownAnswer(prediction.numbers, shell.words, ({ numbers }) => numbers),
    });
  });
}

function shownAnswer<T, Shown>(answer: Answer<T>, words: Words, show: (value: T) => Shown): Record<string, unknown> {
  return answer.known
    ? { known: true, value: show(answer.value), probability: answer.probability }
    : { known: false, because: sentence(answer.because, words), probability: answer.probability };
}

/** Reads observation lines; returns how many were bad. */
async function readObservations(
  file: string,
  shell: Shell,
  take: (observation: Observation, line: number) => void | Promise<void>,
): Promise<number> {
  let bad = 0;
  for await (const { number, text, fault } of textLines(file, shell)) {
    const read = text === null ? null : readObservationLine(text);
    if (read?.ok) {
      await take(read.value, number);
      continue;
    }
    bad++;
    for (const each of read?.faults ?? [{ field: "", message: fault }]) {
      shell.complain(faultText(file, { ...each, line: number }));
    }
  }
  return bad;
}

function sentence(reason: Reason, words: Words): string {
  return words.say(`reason_${reason.code.replaceAll("-", "_")}`, reason.values);
}

function needFiles(files: readonly string[], action: string, words: Words): void {
  if (files.length > 0) return;
  throw new Stop(exits.usage, [words.say("command_needs_operand", { value: `falsefit catalog ${action} FILE…` })]);
}

/** Writes a catalog, unless what was made is none: that would be our own defect. */
async function writeChecked(made: unknown, shell: Shell): Promise<void> {
  const checked = checkCatalog(made);
  if (!checked.ok)
    throw new Stop(
      exits.someBad,
      checked.faults.map((fault) => faultText("catalog", fault)),
    );
  await shell.out.write(`${JSON.stringify(checked.value, null, 2)}\n`);
}

async function writeJson(shell: Shell, value: unknown): Promise<void> {
  await shell.out.write(`${JSON.stringify(value)}\n`);
}
