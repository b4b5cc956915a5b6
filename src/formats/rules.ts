/**
 * Knowledge as data: what the folders of `rules/` hold, gathered by the build into the module
 * `falsefit:rules`. Pure code is handed it as a parameter and never imports it.
 */
import type { NumberFormatRule } from "./number-format-rule.ts";
import type { PageShape } from "./page-shape.ts";
import type { PageWords } from "./page-words.ts";
import type { PartTypeRule } from "./part-type-rule.ts";
import type { WordingRule } from "./wording-rule.ts";

/** Every rule file, sorted by file name. */
export interface RawRules {
  readonly partTypes: readonly PartTypeRule[];
  readonly numberFormats: readonly NumberFormatRule[];
  readonly wording: readonly WordingRule[];
  readonly pageShapes: readonly PageShape[];
  readonly pageWords: readonly PageWords[];
}
