// @vitest-environment jsdom
import { type ComponentChild, render } from "preact";
import { useState } from "preact/hooks";
import { act } from "preact/test-utils";
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { Button } from "../../src/ui/button.tsx";
import { Dialog } from "../../src/ui/dialog.tsx";
import { Choices, SelectField, TextField, Toggle } from "../../src/ui/field.tsx";
import { LongList, rowsInSight } from "../../src/ui/long-list.tsx";
import { Empty, Failure, Loading, Progress } from "../../src/ui/states.tsx";
import { UNDO_STAYS_MS, UndoProvider, useUndo } from "../../src/ui/undo.tsx";
import { WordsProvider } from "../../src/ui/words-context.tsx";
import { wordsOf } from "./words.ts";

let root: HTMLElement;
beforeEach(() => {
  root = document.createElement("div");
  document.body.replaceChildren(root);
});
afterEach(() => {
  render(null, root);
  vi.useRealTimers();
});

const show = (child: ComponentChild) =>
  act(() => render(<WordsProvider words={wordsOf("en")}>{child}</WordsProvider>, root));
const find = <T extends Element = HTMLElement>(selector: string) => root.querySelector(selector) as T;

describe("a button", () => {
  it("acts once a click, and keeps its place and focus while it is at work", () => {
    const press = vi.fn();
    show(<Button onPress={press}>Save</Button>);
    find("button").click();
    expect(press).toHaveBeenCalledTimes(1);
    show(
      <Button onPress={press} busy>
        Save
      </Button>,
    );
    find("button").click();
    expect(press).toHaveBeenCalledTimes(1);
    expect(find<HTMLButtonElement>("button").disabled).toBe(false);
    expect(find("button").getAttribute("aria-busy")).toBe("true");
  });
});

describe("fields", () => {
  it("tie label, hint and error to their control", () => {
    show(<TextField label="Model" hint="As printed." error="Type one." value="" onInput={() => undefined} />);
    const input = find<HTMLInputElement>("input");
    expect(find<HTMLLabelElement>("label").htmlFor).toBe(input.id);
    const described = (input.getAttribute("aria-describedby") ?? "")
      .split(" ")
      .map((id) => document.getElementById(id)?.textContent);
    expect(described).toEqual(["As printed.", "Type one."]);
    expect(input.getAttribute("aria-invalid")).toBe("true");
  });

  it("give what is typed, chosen and switched", () => {
    const typed = vi.fn();
    show(<TextField label="Note" value="" rows={3} onInput={typed} />);
    find<HTMLTextAreaElement>("textarea").value = "late board";
    find("textarea").dispatchEvent(new Event("input", { bubbles: true }));
    expect(typed).toHaveBeenCalledWith("late board");

    const chosen = vi.fn();
    const options = [
      { value: "a", label: "A" },
      { value: "b", label: "B", note: "later" },
    ];
    show(<SelectField label="Which" value="a" options={options} onChange={chosen} />);
    find<HTMLSelectElement>("select").value = "b";
    find("select").dispatchEvent(new Event("change", { bubbles: true }));
    show(<Choices legend="Which" value="a" options={options} onChange={chosen} />);
    find<HTMLInputElement>('input[value="b"]').click();
    show(<Toggle label="On" checked={false} onChange={chosen} />);
    find<HTMLInputElement>("input").click();
    expect(chosen.mock.calls).toEqual([["b"], ["b"], [true]]);
  });
});

describe("a dialog", () => {
  it("opens as a modal, answers Escape and gives the focus back", () => {
    HTMLDialogElement.prototype.showModal = vi.fn(function (this: HTMLDialogElement) {
      this.open = true;
    });
    HTMLDialogElement.prototype.close = vi.fn();
    const before = document.createElement("button");
    document.body.append(before);
    before.focus();
    const close = vi.fn();
    show(
      <Dialog title="Delete?" onClose={close} actions={<Button>Keep</Button>}>
        <p>Nothing is lost.</p>
      </Dialog>,
    );
    expect(HTMLDialogElement.prototype.showModal).toHaveBeenCalledTimes(1);
    const heading = document.getElementById(find("dialog").getAttribute("aria-labelledby") ?? "");
    expect(heading?.textContent).toBe("Delete?");
    find("dialog").dispatchEvent(new Event("cancel", { cancelable: true }));
    expect(close).toHaveBeenCalledTimes(1);
    find("button").focus();
    show(null);
    expect(document.activeElement).toBe(before);
  });
});

describe("states", () => {
  it("say what is missing, what is going on, what went wrong and where", () => {
    const retry = vi.fn();
    show(
      <>
        <Empty title="No device yet">
          <p>Add one.</p>
        </Empty>
        <Loading />
        <Failure
          title="This is no catalog."
          faults={[{ field: "parts[0].id", message: "Expected text.", line: 4 }]}
          onRetry={retry}
        />
      </>,
    );
    expect(find("h2").textContent).toBe("No device yet");
    expect(find('[role="status"]').textContent).toBe("One moment …");
    expect(find('[role="alert"] li').textContent).toBe("Line 4: parts[0].id Expected text.");
    find('[role="alert"] button').click();
    expect(retry).toHaveBeenCalledTimes(1);
  });

  it("show how far long work is, and a way out", () => {
    const cancel = vi.fn();
    show(<Progress label="Checking" done={0.25} onCancel={cancel} />);
    expect(find<HTMLProgressElement>("progress").value).toBe(0.25);
    find("button").click();
    expect(cancel).toHaveBeenCalledTimes(1);
    show(<Progress label="Checking" done={null} />);
    expect(find("progress").hasAttribute("value")).toBe(false);
  });
});

/** Two things, one of which can be deleted. */
function Bench({ undone }: { undone: () => void }) {
  const offer = useUndo();
  const [count, setCount] = useState(2);
  return (
    <Button
      onPress={() => {
        setCount(count - 1);
        offer(`Deleted. ${count - 1} left.`, () => {
          setCount(count);
          undone();
        });
      }}
    >
      {count}
    </Button>
  );
}

describe("undo", () => {
  const shown = () => find(".ff-toast")?.querySelector("span")?.textContent;

  it("is offered after a deletion, can be taken once, and a later offer replaces it", async () => {
    const undone = vi.fn();
    show(
      <UndoProvider>
        <Bench undone={undone} />
      </UndoProvider>,
    );
    act(() => find("button").click());
    expect(shown()).toBe("Deleted. 1 left.");
    act(() => find("button").click());
    expect(shown()).toBe("Deleted. 0 left.");
    await act(async () => find(".ff-toast button").click());
    expect(undone).toHaveBeenCalledTimes(1);
    expect(find("button").textContent).toBe("1");
    expect(shown()).toBeUndefined();
  });

  it("fades, but not under the pointer or the focus", () => {
    vi.useFakeTimers();
    show(
      <UndoProvider>
        <Bench undone={() => undefined} />
      </UndoProvider>,
    );
    act(() => find("button").click());
    act(() => void find(".ff-toast").dispatchEvent(new MouseEvent("mouseenter")));
    act(() => void vi.advanceTimersByTime(UNDO_STAYS_MS * 2));
    expect(shown()).toBe("Deleted. 1 left.");
    act(() => void find(".ff-toast").dispatchEvent(new MouseEvent("mouseleave")));
    act(() => void vi.advanceTimersByTime(UNDO_STAYS_MS + 1));
    expect(shown()).toBeUndefined();
  });
});

describe("a long list", () => {
  const items = Array.from({ length: 100_000 }, (_, i) => ({ id: `d${i}`, name: `Device ${i}` }));
  const list = (
    <LongList
      label="Devices"
      items={items}
      keyOf={({ id }) => id}
      rowHeight_px={32}
      height_px={320}
      row={({ name }) => name}
    />
  );
  const rows = () => [...root.querySelectorAll<HTMLElement>('[role="listitem"]')];

  it("keeps only what is in sight in the page, and says each row's place", () => {
    show(list);
    expect(rows()).toHaveLength(18);
    expect(rows()[3]?.getAttribute("aria-posinset")).toBe("4");
    expect(rows()[3]?.getAttribute("aria-setsize")).toBe("100000");
    const frame = find(".ff-long");
    act(() => {
      frame.scrollTop = 32 * 5_000;
      frame.dispatchEvent(new Event("scroll"));
    });
    expect(rows().map(({ textContent }) => textContent)).toContain("Device 5000");
    expect(rows().length).toBeLessThan(40);
  });

  it("is walked by keys, to its very end", () => {
    show(list);
    const press = (key: string) =>
      act(() => {
        const on = rows().find(({ tabIndex }) => tabIndex === 0);
        on?.focus();
        on?.dispatchEvent(new KeyboardEvent("keydown", { key, bubbles: true, cancelable: true }));
      });
    press("ArrowDown");
    expect(document.activeElement?.textContent).toBe("Device 1");
    press("End");
    expect(document.activeElement?.textContent).toBe("Device 99999");
    press("ArrowDown");
    expect(document.activeElement?.textContent).toBe("Device 99999");
    press("Home");
    expect(document.activeElement?.textContent).toBe("Device 0");
  });

  it("computes its window for short, empty and over-scrolled lists", () => {
    expect(rowsInSight(0, 320, 32, 0)).toEqual([0, 0]);
    expect(rowsInSight(0, 320, 32, 3)).toEqual([0, 3]);
    expect(rowsInSight(99_999, 320, 32, 3)).toEqual([3, 3]);
    expect(rowsInSight(3_200, 320, 32, 1_000)).toEqual([92, 118]);
  });
});
