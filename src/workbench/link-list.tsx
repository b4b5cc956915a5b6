/**
 * A long list of places to go: each row is one link, only the rows in sight are in the document, the whole list is
 * one stop of the Tab key, and arrow keys, Home, End and the page keys move through it.
 */
import type { ComponentChildren } from "preact";
import { useEffect, useLayoutEffect, useRef, useState } from "preact/hooks";
import { rowsInSight } from "../ui/long-list.tsx";

interface LinkListProps<T> {
  label: string;
  items: readonly T[];
  keyOf: (item: T) => string;
  hrefOf: (item: T) => string;
  /** Key of the item that is open beside the list. */
  currentKey: string | undefined;
  /** Height of every row in CSS pixels. */
  rowHeight_px: number;
  row: (item: T) => ComponentChildren;
}

/** Used until the window onto the list has been measured. */
const FIRST_HEIGHT_PX = 800;

/** The list; it fills the height that its surroundings leave it. */
export function LinkList<T>({ label, items, keyOf, hrefOf, currentKey, rowHeight_px, row }: LinkListProps<T>) {
  const frame = useRef<HTMLDivElement>(null);
  const height = useHeight(frame);
  const [scrolled, setScrolled] = useState(0);
  const [stop, setStop] = useState<string | undefined>(currentKey);
  /** The row that focus is to move to once it is drawn; an effect of an earlier drawing must not take it elsewhere. */
  const focusNext = useRef<number | null>(null);
  const at = Math.max(
    0,
    items.findIndex((item) => keyOf(item) === stop),
  );
  const [first, last] = rowsInSight(scrolled, height, rowHeight_px, items.length);

  const reveal = (index: number) => {
    const box = frame.current;
    if (box === null || index < 0) return;
    const top = index * rowHeight_px;
    if (top >= box.scrollTop && top + rowHeight_px <= box.scrollTop + height) return;
    box.scrollTop = Math.max(0, top - height / 2);
    setScrolled(box.scrollTop);
  };
  // biome-ignore lint/correctness/useExhaustiveDependencies: only when another item is opened; scrolling by hand must not be undone.
  useEffect(() => {
    if (currentKey === undefined) return;
    setStop(currentKey);
    reveal(items.findIndex((item) => keyOf(item) === currentKey));
  }, [currentKey]);
  useEffect(() => {
    if (focusNext.current === null) return;
    const wanted = frame.current?.querySelector<HTMLElement>(`[data-row="${focusNext.current}"]`);
    if (!wanted) return;
    focusNext.current = null;
    wanted.focus();
  });
  const moveTo = (to: number) => {
    const next = Math.max(0, Math.min(items.length - 1, to));
    const item = items[next];
    if (item === undefined) return;
    reveal(next);
    focusNext.current = next;
    setStop(keyOf(item));
  };
  const page = Math.max(1, Math.floor(height / rowHeight_px) - 1);
  const steps: Record<string, number> = {
    ArrowDown: at + 1,
    ArrowUp: at - 1,
    Home: 0,
    End: items.length - 1,
    PageDown: at + page,
    PageUp: at - page,
  };
  return (
    <div ref={frame} class="wb-links" onScroll={({ currentTarget }) => setScrolled(currentTarget.scrollTop)}>
      <ul aria-label={label} style={{ blockSize: `${items.length * rowHeight_px}px` }}>
        {items.slice(first, last).map((item, i) => (
          <li
            key={keyOf(item)}
            aria-setsize={items.length}
            aria-posinset={first + i + 1}
            style={{ insetBlockStart: `${(first + i) * rowHeight_px}px`, blockSize: `${rowHeight_px}px` }}
          >
            <a
              href={hrefOf(item)}
              data-row={first + i}
              tabIndex={first + i === at ? 0 : -1}
              aria-current={keyOf(item) === currentKey ? "page" : undefined}
              onFocus={() => setStop(keyOf(item))}
              onKeyDown={(event) => {
                const to = steps[event.key];
                if (to === undefined || event.altKey || event.ctrlKey || event.metaKey) return;
                event.preventDefault();
                moveTo(to);
              }}
            >
              {row(item)}
            </a>
          </li>
        ))}
      </ul>
    </div>
  );
}

/** The height of an element as it is now, in CSS pixels. */
function useHeight(element: { current: HTMLElement | null }): number {
  const [height, setHeight] = useState(FIRST_HEIGHT_PX);
  // biome-ignore lint/correctness/useExhaustiveDependencies: a reference never changes, what it refers to is there by now.
  useLayoutEffect(() => {
    const box = element.current;
    if (box === null || typeof ResizeObserver === "undefined") return undefined;
    const observer = new ResizeObserver(() => setHeight(box.clientHeight || FIRST_HEIGHT_PX));
    observer.observe(box);
    return () => observer.disconnect();
  }, []);
  return height;
}
