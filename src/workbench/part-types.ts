/** The kinds of parts as their rule files describe them. */
import rules from "falsefit:rules";

/** The kinds of parts that have a rule file. */
export const partTypes: readonly string[] = rules.partTypes.map(({ id }) => id);

/** The quantities that matter for a kind of part, as its rule file lists them. */
export function quantitiesOf(type: string): readonly string[] {
  return rules.partTypes.find(({ id }) => id === type)?.quantities.map(({ name }) => name) ?? [];
}

/** Names a kind of part; one without a rule file is called by its own word. */
export function partTypeName(type: string, language: string): string {
  const names = rules.partTypes.find(({ id }) => id === type)?.names;
  return names?.[language] ?? names?.["en"] ?? type.replaceAll("-", " ");
}
