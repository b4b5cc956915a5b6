/**
 * A list that stays quick at 100,000 rows: only the rows in sight are in the document. Rows have one height.
 * It is a list to screen readers, with each row's place; arrow keys, Home and End move through it.
 */
import type { ComponentChildren } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";

interface LongListProps<T> {
  label: string;
  items: readonly T[];
  keyOf: (item: T) => string;
  /** Height of one row in CSS pixels. */
  rowHeight_px: number;
  /** Height of the window onto the list in CSS pixels. */
  height_px: number;
  row: (item: T, index: number) => ComponentChildren;
}

/** Rows kept above and below the window, so that fast scrolling shows no gaps. */
const SPARE_ROWS = 8;

/** The rows of a window onto a list: first and one past the last. */
export function rowsInSight(
  scrolled_px: number,
  height_px: number,
  rowHeight_px: number,
  count: number,
): [number, number] {
  const first = Math.max(0, Math.floor(scrolled_px / rowHeight_px) - SPARE_ROWS);
  const last = Math.min(count, Math.ceil((scrolled_px + height_px) / rowHeight_px) + SPARE_ROWS);
  return [Math.min(first, count), last];
}

/** The list; `items` may change at any time, the place stays where it is as far as it can. */
export function LongList<T>({ label, items, keyOf, rowHeight_px, height_px, row }: LongListProps<T>) {
  const [scrolled, setScrolled] = useState(0);
  const [current, setCurrent] = useState(0);
  const frame = useRef<HTMLDivElement>(null);
  /** The row that focus is to move to once it is drawn; an effect of an earlier drawing must not take it elsewhere. */
  const moved = useRef<number | null>(null);
  const place = Math.min(current, Math.max(0, items.length - 1));
  const [first, last] = rowsInSight(scrolled, height_px, rowHeight_px, items.length);

  useEffect(() => {
    if (moved.current === null) return;
    const wanted = frame.current?.querySelector<HTMLElement>(`[data-row="${moved.current}"]`);
    if (!wanted) return;
    moved.current = null;
    wanted.focus();
  });
  const moveTo = (to: number) => {
    const next = Math.max(0, Math.min(items.length - 1, to));
    const top = next * rowHeight_px;
    const box = frame.current;
    if (box && (top < box.scrollTop || top + rowHeight_px > box.scrollTop + height_px)) {
      box.scrollTop = Math.max(0, top - height_px / 2);
      setScrolled(box.scrollTop);
    }
    moved.current = next;
    setCurrent(next);
  };
  const steps: Record<string, number> = {
    ArrowDown: place + 1,
    ArrowUp: place - 1,
    Home: 0,
    End: items.length - 1,
    PageDown: place + Math.floor(height_px / rowHeight_px),
    PageUp: place - Math.floor(height_px / rowHeight_px),
  };
  return (
    <div
      ref={frame}
      class="ff-long"
      style={{ blockSize: `${Math.min(height_px, items.length * rowHeight_px)}px` }}
      onScroll={({ currentTarget }) => setScrolled(currentTarget.scrollTop)}
    >
      {/* biome-ignore lint/a11y/useSemanticElements: rows are placed by hand, which <ul> and <li> would fight. */}
      <div role="list" aria-label={label} style={{ blockSize: `${items.length * rowHeight_px}px` }}>
        {items.slice(first, last).map((item, i) => (
          // biome-ignore lint/a11y/useSemanticElements: see above.
          <div
            key={keyOf(item)}
            role="listitem"
            class="ff-long-row"
            data-row={first + i}
            aria-setsize={items.length}
            aria-posinset={first + i + 1}
            tabIndex={first + i === place ? 0 : -1}
            style={{ insetBlockStart: `${(first + i) * rowHeight_px}px`, blockSize: `${rowHeight_px}px` }}
            onFocus={() => setCurrent(first + i)}
            onKeyDown={(event) => {
              const to = event.target === event.currentTarget ? steps[event.key] : undefined;
              if (to === undefined) return;
              event.preventDefault();
              moveTo(to);
            }}
          >
            {row(item, first + i)}
          </div>
        ))}
      </div>
    </div>
  );
}
