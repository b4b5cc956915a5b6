/** Pages that a person has taught: where listings, titles and prices stand. */
import type { PageShape } from "../../formats/page-shape.ts";
import { Button } from "../../ui/button.tsx";
import { useUndo } from "../../ui/undo.tsx";
import { useWords } from "../../ui/words-context.tsx";
import { useLoaded } from "../loaded.ts";
import { useStoredTurn } from "../stored.ts";
import { useTools } from "../tools.tsx";

/** The section. */
export function ShapesSection() {
  const words = useWords();
  const { store } = useTools();
  const offerUndo = useUndo();
  const turn = useStoredTurn("shape/");
  const shapes = useLoaded(() => store.shapes.list(), [turn]);
  const remove = async (shape: PageShape) => {
    await store.shapes.remove(shape);
    offerUndo(words.say("settings_shape_removed", { host: shape.host }), () => store.shapes.save(shape));
  };
  return (
    <section class="wb-section" aria-labelledby="shapes-heading">
      <h2 id="shapes-heading">{words.say("settings_shapes")}</h2>
      <p class="wb-soft">{words.say("settings_shapes_why")}</p>
      {shapes.value?.length === 0 && <p>{words.say("settings_shapes_none")}</p>}
      <ul class="wb-rows">
        {shapes.value?.map((shape) => (
          <li key={`${shape.host} ${shape.id}`} class="wb-setting-row">
            <span>
              <span dir="ltr">{shape.host}</span>
              <span class="wb-under" dir="ltr">
                {shape.id}
              </span>
            </span>
            <Button
              kind="quiet"
              label={words.say("workbench_act_on", { act: words.say("settings_shape_remove"), on: shape.host })}
              onPress={() => remove(shape)}
            >
              {words.say("settings_shape_remove")}
            </Button>
          </li>
        ))}
      </ul>
    </section>
  );
}
