/** Form fields: a label that stays visible, a hint, an error that is tied to its field. */
import type { ComponentChildren } from "preact";
import { useId } from "preact/hooks";

interface FieldProps {
  label: string;
  /** One short sentence under the field. */
  hint?: string;
  /** What is wrong and what to write instead; read out with the field. */
  error?: string;
}

/** What a field hands to its control. */
interface ControlIds {
  id: string;
  "aria-describedby": string | undefined;
  "aria-invalid": true | undefined;
}

/** Label, control, hint and error in their order. */
function Field({ label, hint, error, control }: FieldProps & { control: (ids: ControlIds) => ComponentChildren }) {
  const id = useId();
  const describedBy = [hint && `${id}-hint`, error && `${id}-error`].filter(Boolean).join(" ");
  return (
    <div class="ff-field">
      <label for={id}>{label}</label>
      {control({ id, "aria-describedby": describedBy || undefined, "aria-invalid": error ? true : undefined })}
      {hint && (
        <p id={`${id}-hint`} class="ff-hint">
          {hint}
        </p>
      )}
      {error && (
        <p id={`${id}-error`} class="ff-error">
          {error}
        </p>
      )}
    </div>
  );
}

interface TextFieldProps extends FieldProps {
  value: string;
  onInput: (value: string) => void;
  /** More than one line. */
  rows?: number;
  required?: boolean;
  /** An example, not a label: it vanishes when something is typed. */
  placeholder?: string;
  maxLength?: number;
  autoFocus?: boolean;
  search?: boolean;
}

/** A field for text. Numbers on parts are no words: no spelling help, no capitals of the keyboard's own. */
export function TextField({ label, hint, error, value, onInput, rows, search = false, ...rest }: TextFieldProps) {
  const { required = false, placeholder = "", maxLength = 10_000, autoFocus = false } = rest;
  const own = { value, required, placeholder, maxLength, autofocus: autoFocus, spellcheck: false, autocomplete: "off" };
  return (
    <Field
      label={label}
      {...optional({ hint, error })}
      control={(ids) =>
        rows === undefined ? (
          <input
            {...ids}
            {...own}
            {...(search ? { type: "search" as const } : { type: "text" as const })}
            class="ff-input"
            onInput={({ currentTarget }) => onInput(currentTarget.value)}
          />
        ) : (
          <textarea
            {...ids}
            {...own}
            rows={rows}
            class="ff-input"
            onInput={({ currentTarget }) => onInput(currentTarget.value)}
          />
        )
      }
    />
  );
}

interface SelectFieldProps extends FieldProps {
  value: string;
  options: readonly { value: string; label: string }[];
  onChange: (value: string) => void;
}

/** A choice among many. */
export function SelectField({ label, hint, error, value, options, onChange }: SelectFieldProps) {
  return (
    <Field
      label={label}
      {...optional({ hint, error })}
      control={(ids) => (
        <select {...ids} class="ff-input" value={value} onChange={({ currentTarget }) => onChange(currentTarget.value)}>
          {options.map((option) => (
            <option key={option.value} value={option.value}>
              {option.label}
            </option>
          ))}
        </select>
      )}
    />
  );
}

interface ToggleProps {
  label: string;
  hint?: string;
  checked: boolean;
  onChange: (checked: boolean) => void;
}

/** Something that is on or off and takes effect at once. */
export function Toggle({ label, hint, checked, onChange }: ToggleProps) {
  const id = useId();
  return (
    <div class="ff-toggle">
      <input
        id={id}
        type="checkbox"
        checked={checked}
        aria-describedby={hint ? `${id}-hint` : undefined}
        onChange={({ currentTarget }) => onChange(currentTarget.checked)}
      />
      <label for={id}>{label}</label>
      {hint && (
        <p id={`${id}-hint`} class="ff-hint">
          {hint}
        </p>
      )}
    </div>
  );
}

interface ChoicesProps<T extends string> {
  legend: string;
  value: T | null;
  options: readonly { value: T; label: string; note?: string }[];
  onChange: (value: T) => void;
  /** Hides the legend from sight where the place says it already. */
  quietLegend?: boolean;
}

/** A choice among few, all in sight; arrow keys move it. */
export function Choices<T extends string>({ legend, value, options, onChange, quietLegend = false }: ChoicesProps<T>) {
  const name = useId();
  return (
    <fieldset class="ff-choices">
      <legend class={quietLegend ? "ff-unseen" : undefined}>{legend}</legend>
      {options.map((option) => (
        <label key={option.value} class="ff-choice">
          <input
            type="radio"
            name={name}
            value={option.value}
            checked={option.value === value}
            onChange={() => onChange(option.value)}
          />
          <span>
            {option.label}
            {option.note && <small>{option.note}</small>}
          </span>
        </label>
      ))}
    </fieldset>
  );
}

/** Leaves out what is undefined, as exact optional properties ask for. */
function optional<T extends object>(values: T): { [K in keyof T]?: Exclude<T[K], undefined> } {
  return Object.fromEntries(Object.entries(values).filter(([, value]) => value !== undefined)) as {
    [K in keyof T]?: Exclude<T[K], undefined>;
  };
}
