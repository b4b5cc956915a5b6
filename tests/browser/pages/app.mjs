// @ts-check
/**
 * A small shop as an app, for whichever framework hands in its element function and its state.
 *
 * @template T
 * @param {{
 *   h: (tag: string, props: Record<string, unknown> | null, ...children: unknown[]) => T,
 *   useState: <V>(start: V) => [V, (next: V) => void],
 *   count: number,
 * }} props
 */
export function App({ h, useState, count }) {
  const [shown, setShown] = useState(count);
  const [sorted, setSorted] = useState(false);
  const titles = [
    "Battery for Pellworm Lark 20 PL-20, PB-1840, new",
    "Lark 20 battery PB-2240 for late board",
    "Battery for PL-20 handheld",
  ];
  const prices = ["36.00", "54.00", "29.90"];
  const cards = Array.from({ length: shown }, (_, i) => i);
  if (sorted) cards.reverse();
  const card = (/** @type {number} */ i) =>
    h(
      "article",
      { key: i, className: "card" },
      h("a", { href: `/item/${i}` }, h("img", { alt: "", width: 200, height: 140 })),
      h("h3", null, h("a", { href: `/item/${i}` }, `${titles[i % 3]} (${i})`)),
      h("p", { className: "price" }, `$${prices[i % 3]}`),
    );
  return h(
    "div",
    { id: "shop" },
    h("button", { id: "more", onClick: () => setShown(shown + 3) }, "More"),
    h("button", { id: "sort", onClick: () => setSorted(!sorted) }, "Turn round"),
    h("main", { className: "grid" }, cards.map(card)),
  );
}
