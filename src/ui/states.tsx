/** What stands where content is not there yet, not there at all, or could not be had. */
import type { ComponentChildren } from "preact";
import type { Fault } from "../formats/common.ts";
import { Button } from "./button.tsx";
import { Sign } from "./drawing.tsx";
import { useWords } from "./words-context.tsx";

/** Nothing here yet: says what would be here and the way to it. */
export function Empty({ title, children }: { title: string; children?: ComponentChildren }) {
  return (
    <section class="ff-state">
      <Sign pose="apart" size={32} />
      <h2>{title}</h2>
      {children}
    </section>
  );
}

/** Something is being fetched. Said to a screen reader once; nothing spins. */
export function Loading({ label }: { label?: string }) {
  const words = useWords();
  return (
    <p class="ff-state ff-loading" role="status">
      {label ?? words.say("ui_loading")}
    </p>
  );
}

interface FailureProps {
  title: string;
  /** Each fault names its field and says what to write instead. */
  faults?: readonly Fault[];
  /** Of its heading; 2 where it stands directly under the page's own. */
  level?: 2 | 3;
  onRetry?: () => void;
  children?: ComponentChildren;
}

/** Something went wrong: what, where, and what can be done. */
export function Failure({ title, faults = [], level = 3, onRetry, children }: FailureProps) {
  const words = useWords();
  const Heading = `h${level}` as const;
  return (
    <section class="ff-failure" role="alert">
      <Heading>{title}</Heading>
      {faults.length > 0 && (
        <ul>
          {faults.map(({ field, message, line }) => (
            <li key={`${field} ${line} ${message}`}>
              {line !== undefined && <b>{words.say("ui_line", { line })} </b>}
              {field !== "" && <code>{field}</code>} {message}
            </li>
          ))}
        </ul>
      )}
      {children}
      {onRetry && <Button onPress={onRetry}>{words.say("ui_retry")}</Button>}
    </section>
  );
}

interface ProgressProps {
  label: string;
  /** 0 to 1; `null` while the amount of work is not known. */
  done: number | null;
  onCancel?: () => void;
}

/** Long work: how far it is, and a way out. */
export function Progress({ label, done, onCancel }: ProgressProps) {
  const words = useWords();
  return (
    <div class="ff-progress">
      <label>
        <span>{label}</span>
        <progress {...(done === null ? {} : { value: done, max: 1 })} />
      </label>
      {onCancel && (
        <Button kind="quiet" onPress={onCancel}>
          {words.say("ui_cancel")}
        </Button>
      )}
    </div>
  );
}
