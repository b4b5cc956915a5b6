/** A page that begins with a file: it is chosen or dropped, read, refused with its faults, or shown before it is used. */
import type { ComponentChildren } from "preact";
import { useState } from "preact/hooks";
import type { Fault, Outcome } from "../formats/common.ts";
import { Failure, Loading } from "../ui/states.tsx";
import { useWords } from "../ui/words-context.tsx";
import { FileDrop } from "./file-drop.tsx";

type State<T> =
  | { step: "choose" }
  | { step: "reading" }
  | { step: "refused"; name: string; faults: readonly Fault[] }
  | { step: "read"; name: string; value: T };

interface FilePageProps<T> {
  heading: string;
  why: string;
  /** The words of the button that opens a file. */
  choose: string;
  /** What stands above the heading. */
  above?: ComponentChildren;
  read: (file: File) => Promise<Outcome<T>>;
  /** What is shown of a file that was read; `onDone` goes back to choosing one. */
  show: (name: string, value: T, onDone: () => void) => ComponentChildren;
}

/** The page. */
export function FilePage<T>({ heading, why, choose, above, read, show }: FilePageProps<T>) {
  const words = useWords();
  const [state, setState] = useState<State<T>>({ step: "choose" });
  const take = async ([file]: readonly File[]) => {
    if (file === undefined) return;
    setState({ step: "reading" });
    const outcome = await read(file);
    if (outcome.ok) setState({ step: "read", name: file.name, value: outcome.value });
    else setState({ step: "refused", name: file.name, faults: outcome.faults });
  };
  return (
    <div class="wb-page">
      {above}
      <h1 tabIndex={-1} data-start="">
        {heading}
      </h1>
      <p class="wb-soft">{why}</p>
      {state.step !== "read" && (
        <FileDrop label={choose} hint={words.say("workbench_or_drop")} accept=".json,application/json" onFiles={take} />
      )}
      {state.step === "reading" && <Loading />}
      {state.step === "refused" && (
        <Failure level={2} title={words.say("workbench_file_refused", { file: state.name })} faults={state.faults} />
      )}
      {state.step === "read" && show(state.name, state.value, () => setState({ step: "choose" }))}
    </div>
  );
}
