/** The rule files of `rules/`, gathered by `manifest/rules-plugin.mjs`. Entry points only. */
declare module "falsefit:rules" {
  const rules: import("./formats/rules.ts").RawRules;
  export default rules;
}
