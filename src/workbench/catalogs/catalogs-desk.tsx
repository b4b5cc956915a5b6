/** The catalogs. */
import { useWords } from "../../ui/words-context.tsx";

/** The desk. */
export function CatalogsDesk() {
  const words = useWords();
  return (
    <div class="wb-page">
      <h1 tabIndex={-1} data-start="">
        {words.say("workbench_desk_catalogs")}
      </h1>
    </div>
  );
}
