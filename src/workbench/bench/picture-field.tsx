/** A photo of the device, kept small and only in this browser. */
import { useState } from "preact/hooks";
import type { Device } from "../../formats/bench.ts";
import { Button } from "../../ui/button.tsx";
import { useWords } from "../../ui/words-context.tsx";
import { FileDrop } from "../file-drop.tsx";
import { useLoaded } from "../loaded.ts";
import { useTools } from "../tools.tsx";
import { shrinkPicture } from "./shrink-picture.ts";

interface PictureFieldProps {
  device: Device | undefined;
  /** The new picture; `null`: none; `undefined`: as it was. */
  picture: string | null | undefined;
  onChange: (picture: string | null | undefined) => void;
}

/** The field. */
export function PictureField({ device, picture, onChange }: PictureFieldProps) {
  const words = useWords();
  const { store } = useTools();
  const [failed, setFailed] = useState(false);
  const id = device?.id;
  const saved = useLoaded(async () => (id === undefined ? undefined : store.devices.picture(id)), [id]);
  const shown = picture === undefined ? saved.value : (picture ?? undefined);
  const take = async ([file]: readonly File[]) => {
    if (file === undefined) return;
    try {
      onChange(await shrinkPicture(file));
      setFailed(false);
    } catch (error) {
      console.warn("Falsefit:", error);
      setFailed(true);
    }
  };
  return (
    <div class="wb-picture-field">
      {shown !== undefined && <img class="wb-picture" src={shown} alt={words.say("bench_picture")} />}
      <FileDrop
        label={words.say(shown === undefined ? "bench_picture_choose" : "bench_picture_change")}
        hint={words.say("bench_picture_hint")}
        accept="image/*"
        onFiles={take}
      >
        {shown !== undefined && (
          <div class="ff-actions">
            <Button kind="quiet" onPress={() => onChange(null)}>
              {words.say("bench_picture_remove")}
            </Button>
          </div>
        )}
        {failed && <p class="ff-error">{words.say("bench_picture_failed")}</p>}
      </FileDrop>
    </div>
  );
}
