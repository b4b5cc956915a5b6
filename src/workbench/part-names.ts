/** What kinds of parts are called in the person's language. */
import { useWords } from "../ui/words-context.tsx";
import { partTypeName } from "./part-types.ts";

/** Names kinds of parts in the page's language. */
export function usePartNames(): (type: string) => string {
  const { language } = useWords();
  return (type) => partTypeName(type, language);
}
