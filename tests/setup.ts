/**
 * Property tests draw the same cases in every run, so that a red run means a change, not a draw. Other draws:
 * `FALSEFIT_SEED=7 npx vitest run tests/verdict/properties.test.ts`.
 */
import fc from "fast-check";

fc.configureGlobal({ seed: Number(process.env["FALSEFIT_SEED"] ?? 20_261_125) });
