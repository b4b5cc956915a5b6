/** `falsefit readout`: what a machine prints about itself in, facts about the device out. */
import type { Bench, Device } from "../formats/bench.ts";
import { applyFacts, asDeviceFact } from "../readout/apply.ts";
import { readDump } from "../readout/dump.ts";
import type { ReadoutFact } from "../readout/facts.ts";
import type { Arguments } from "./arguments.ts";
import { unknownDevice } from "./check.ts";
import { exits, Stop } from "./exits.ts";
import { shownName } from "./input.ts";
import { loadBench, readWhole } from "./load.ts";
import type { Run, Shell } from "./shell.ts";

const DAY_MS = 24 * 60 * 60 * 1000;

/** Runs `readout`. */
export const readout: Run = async (given, shell) => {
  const target = targetOf(given, shell);
  const files = given.operands.length > 0 ? given.operands : ["-"];
  let bad = 0;
  let device = target?.device ?? null;
  for (const file of files) {
    const facts = readFacts(file, shell);
    if (facts === null || facts.length === 0) bad++;
    if (facts === null) continue;
    if (device !== null) device = applyFacts(device, facts, shell.words);
    else await shell.out.write(facts.map((fact) => `${JSON.stringify(factLine(file, fact, shell))}\n`).join(""));
  }
  if (target && device) await shell.out.write(`${JSON.stringify(withDevice(target.bench, device), null, 2)}\n`);
  return bad > 0 ? exits.someBad : exits.done;
};

interface Target {
  readonly bench: Bench;
  readonly device: Device;
}

/** The bench and the device to fill in, where they were named. */
function targetOf(given: Arguments, { words }: Shell): Target | null {
  const file = given.value("bench");
  const wanted = given.value("device");
  if (file === undefined && wanted === undefined) return null;
  if (file === undefined) throw new Stop(exits.usage, [words.say("command_needs_option", { option: "--bench FILE" })]);
  if (wanted === undefined) throw new Stop(exits.usage, [words.say("command_needs_option", { option: "--device ID" })]);
  const loaded = loadBench(file, words);
  if ("faults" in loaded) throw new Stop(exits.usage, loaded.faults);
  const device = loaded.value.devices.find(({ id }) => id === wanted);
  if (device === undefined) throw new Stop(exits.usage, [unknownDevice(wanted, file, loaded.value.devices, words)]);
  return { bench: loaded.value, device };
}

/** The facts of one dump; null where the file cannot be read. What it does not say is said on standard error. */
function readFacts(file: string, { words, complain }: Shell): readonly ReadoutFact[] | null {
  const loaded = readWhole(file, words);
  if ("faults" in loaded) {
    for (const fault of loaded.faults) complain(fault);
    return null;
  }
  const { facts, messages } = readDump(loaded.value, { today: Math.floor(Date.now() / DAY_MS) });
  for (const { key, values } of messages) complain(`${shownName(file)}: ${words.say(key, values)}`);
  return facts;
}

/** One fact as `falsefit readout` writes it: as the bench file keeps it, with the values of a fitted part. */
function factLine(file: string, fact: ReadoutFact, { words }: Shell): Record<string, unknown> {
  const line = { file: shownName(file), ...asDeviceFact(fact, words) };
  if (fact.field !== "fitted") return line;
  return { ...line, numbers: fact.numbers, quantities: fact.quantities, replaceable: fact.replaceable };
}

function withDevice(bench: Bench, device: Device): Bench {
  return { ...bench, devices: bench.devices.map((each) => (each.id === device.id ? device : each)) };
}
