/** Every subcommand: what it takes, and its code, loaded only when it is run. */
import type { CommandSpec, OptionSpec } from "./arguments.ts";
import type { Run } from "./shell.ts";

const catalog: OptionSpec = { value: "FILE", many: true, about: "catalog" };
const bench: OptionSpec = { value: "FILE", about: "bench" };
const device: OptionSpec = { value: "ID", about: "device" };
const workers: OptionSpec = { value: "N", about: "workers" };
const CATALOGS = "[--catalog FILE…]";
/** How to read a CSV list, where it does not say it itself. */
const list: Readonly<Record<string, OptionSpec>> = {
  columns: { value: "LIST", about: "columns" },
  delimiter: { value: "CHAR", about: "delimiter" },
  encoding: { value: "NAME", about: "encoding" },
};

/** One subcommand with its code. */
export interface Command extends CommandSpec {
  load(): Promise<Run>;
}

export const commands: readonly Command[] = [
  {
    name: "check",
    usage: [`${CATALOGS} --bench FILE [--device ID] [--first-line N] [--workers N] [FILE|-]`],
    options: {
      catalog,
      bench,
      device,
      "first-line": { value: "N", about: "first_line" },
      workers,
    },
    operands: 1,
    load: async () => (await import("./check.ts")).check,
  },
  {
    name: "read",
    usage: ["[--in chromium] [--browser PATH] [--url URL] PAGE.html…"],
    options: {
      in: { value: "chromium|jsdom", about: "in" },
      browser: { value: "PATH", about: "browser" },
      url: { value: "URL", about: "url" },
    },
    operands: 1_000,
    load: async () => (await import("./read.ts")).read,
  },
  {
    name: "title",
    usage: [
      `${CATALOGS} [--part ID] [--compose] [--limit N] [FILE|-]`,
      `${CATALOGS} --csv [--columns LIST] [--delimiter CHAR] [--encoding NAME] [FILE|-]`,
    ],
    options: {
      catalog,
      part: { value: "ID", about: "part" },
      compose: { about: "compose" },
      limit: { value: "N", about: "limit" },
      csv: { about: "csv" },
      ...list,
    },
    operands: 1,
    load: async () => (await import("./title.ts")).title,
  },
  {
    name: "order",
    usage: [`${CATALOGS} --bench FILE [--device ID] [--to FORM] [--columns LIST] [--workers N] [FILE|-]`],
    options: {
      catalog,
      bench,
      device,
      workers,
      ...list,
      to: { value: "ndjson|csv|summary", about: "order_to" },
    },
    operands: 1,
    load: async () => (await import("./order.ts")).order,
  },
  {
    name: "readout",
    usage: ["[--bench FILE --device ID] [DUMP…|-]"],
    options: { bench, device },
    operands: 1_000,
    load: async () => (await import("./readout.ts")).readout,
  },
  {
    name: "catalog",
    usage: [
      "validate FILE…",
      "merge FILE…",
      "convert [--family MODEL] [--type TYPE] [--columns LIST] FILE.csv|-",
      "learn [--predict FILE | --hold-out SEED] [FILE…|-]",
    ],
    options: {
      family: { value: "MODEL", about: "family" },
      type: { value: "TYPE", about: "type" },
      ...list,
      predict: { value: "FILE", about: "predict" },
      "hold-out": { value: "SEED", about: "hold_out" },
    },
    operands: 1_000,
    load: async () => (await import("./catalog.ts")).catalog,
  },
  {
    name: "schema",
    usage: ["[catalog|bench|listing|verdict]"],
    options: {},
    operands: 1,
    load: async () => (await import("./schema.ts")).schema,
  },
];
