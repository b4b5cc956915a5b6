/** The rule files of `rules/`, gathered by `manifest/rules-plugin.mjs`. Entry points only. */
declare module "falsefit:rules" {
  const rules: import("./formats/rules.ts").RawRules;
  export default rules;
}
/** The files of `rules/column-names/`. Entry points only. */
declare module "falsefit:column-names" {
  const columnNames: readonly import("./formats/column-names.ts").ColumnNames[];
  export default columnNames;
}
