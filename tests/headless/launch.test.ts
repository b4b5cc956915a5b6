import { spawn } from "node:child_process";
import { rmSync } from "node:fs";
import { dirname } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { BENCH, CATALOG, finished, run } from "./run-command.ts";

const STAMP = fileURLToPath(new URL("../../dist/command/sources.txt", import.meta.url));

describe("the launcher", () => {
  it("builds once when several start side by side, and says nothing about it", async () => {
    await run(["--version"]);
    rmSync(STAMP);
    const runs = await Promise.all(Array.from({ length: 4 }, () => run(["--version"])));
    for (const each of runs)
      expect(each).toMatchObject({ code: 0, out: expect.stringMatching(/^falsefit \d/), err: "" });
  });

  it("takes file names from where the person stands, not from the checkout", async () => {
    const npm = spawn("npm", ["run", "--silent", "falsefit", "--", "catalog", "validate", "demo.catalog.json"], {
      cwd: dirname(CATALOG),
    });
    expect(await finished(npm)).toMatchObject({
      code: 0,
      err: "",
      lines: [{ file: "demo.catalog.json", families: 4 }],
    });
  });

  it("hands on the exit code and both streams", async () => {
    const npm = spawn("npm", ["run", "--silent", "falsefit", "--", "check", "--bench", BENCH, "--device", "nope"]);
    const { code, out, err } = await finished(npm);
    expect([code, out]).toEqual([2, ""]);
    expect(err).toMatch(/^\S+demo\.bench\.json: There is no device "nope"/);
  });
});
