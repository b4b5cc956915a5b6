/** What a quantity is about, by the cue words beside it: "Output: 19 V", "0.5 mm pitch". */
import type { StatedQuantity } from "./quantities.ts";
import type { QuantityRules } from "./quantity-units.ts";
import type { Token } from "./tokens.ts";

/** Cue words that hold for what follows ("Output: 19 V 3.42 A"); others only for their neighbour ("0.5 mm pitch"). */
const REACHING_ROLES: ReadonlySet<string> = new Set(["input", "output", "charge"]);
/** How many tokens back they reach. */
const ROLE_REACH = 6;
/** Sets the role and the name that goes with it, where a cue word stands before the quantity or directly after it. */
export function withRole(
  quantity: StatedQuantity,
  rules: QuantityRules,
  tokens: readonly Token[],
  i: number,
): StatedQuantity {
  const names = rules.roleNames.get(quantity.name);
  if (names === undefined) return quantity;
  const role = roleBefore(rules, tokens, i) ?? roleAfter(rules, tokens, quantity.span[1], i);
  const name = role === null ? undefined : names[role];
  return role === null || name === undefined ? quantity : { ...quantity, name, role };
}

function roleBefore(rules: QuantityRules, tokens: readonly Token[], i: number): string | null {
  for (let back = i - 1; back >= Math.max(0, i - ROLE_REACH); back--) {
    const role = roleAt(rules, tokens, back);
    if (role !== null && (REACHING_ROLES.has(role) || back === i - 1) && !followsQuantity(tokens, back, role))
      return role;
    if (/[;\n]|\. /.test(tokens[back]?.gap ?? "")) return null;
  }
  return null;
}

/** "0.5mm pitch 30 cm": the cue belongs to what stands before it. */
function followsQuantity(tokens: readonly Token[], cue: number, role: string): boolean {
  return !REACHING_ROLES.has(role) && /\d\p{L}+$/u.test(tokens[cue - 1]?.text ?? "") && tokens[cue]?.gap === " ";
}

function roleAfter(rules: QuantityRules, tokens: readonly Token[], end: number, i: number): string | null {
  for (let next = i + 1; next <= i + 4; next++) {
    const token = tokens[next];
    if (token === undefined) return null;
    if (token.start >= end) return token.start - end <= 2 ? roleAt(rules, tokens, next) : null;
  }
  return null;
}

function roleAt(rules: QuantityRules, tokens: readonly Token[], i: number): string | null {
  const word = tokens[i]?.text.toLowerCase() ?? "";
  const two = `${word} ${tokens[i + 1]?.text.toLowerCase() ?? ""}`;
  return rules.roles.get(two) ?? rules.roles.get(word) ?? null;
}
