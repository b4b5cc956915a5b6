/** A place for files: chosen by a button, or dropped anywhere on it. */
import type { ComponentChildren } from "preact";
import { useId, useState } from "preact/hooks";

interface FileDropProps {
  /** What the button says. */
  label: string;
  hint?: string;
  /** Endings and types that the file dialog offers first, such as `.json,application/json`. */
  accept?: string;
  multiple?: boolean;
  onFiles: (files: readonly File[]) => void;
  children?: ComponentChildren;
}

/** The place; what stands in it besides (a field to paste into) is given as children. */
export function FileDrop({ label, hint, accept, multiple = false, onFiles, children }: FileDropProps) {
  const id = useId();
  const [over, setOver] = useState(false);
  const give = (list: FileList | null | undefined) => {
    const files = [...(list ?? [])];
    if (files.length > 0) onFiles(multiple ? files : files.slice(0, 1));
  };
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: dropping is a second way; the button inside is the first.
    <div
      class="wb-drop"
      data-over={over}
      onDragOver={(event) => {
        if (!event.dataTransfer?.types.includes("Files")) return;
        event.preventDefault();
        setOver(true);
      }}
      onDragLeave={() => setOver(false)}
      onDrop={(event) => {
        setOver(false);
        if (!event.dataTransfer?.files.length) return;
        event.preventDefault();
        give(event.dataTransfer.files);
      }}
    >
      <div class="ff-actions">
        <label class="ff-button ff-plain wb-file" for={id}>
          {label}
          <input
            id={id}
            type="file"
            class="ff-unseen"
            accept={accept}
            multiple={multiple}
            aria-describedby={hint ? `${id}-hint` : undefined}
            onChange={({ currentTarget }) => {
              give(currentTarget.files);
              // The same file can be chosen again after it was mended.
              currentTarget.value = "";
            }}
          />
        </label>
        {hint && (
          <span id={`${id}-hint`} class="ff-hint">
            {hint}
          </span>
        )}
      </div>
      {children}
    </div>
  );
}
