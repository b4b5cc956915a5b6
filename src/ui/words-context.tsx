/** Hands the sentences of the user's language down to every part of a page. */
import { type ComponentChildren, createContext } from "preact";
import { useContext } from "preact/hooks";
import { makeWords, type Words } from "../text/words.ts";

const WordsContext = createContext<Words>(makeWords("en", {}));

/** Gives the page below it its sentences, its language and its direction. */
export function WordsProvider({ words, children }: { words: Words; children: ComponentChildren }) {
  return <WordsContext.Provider value={words}>{children}</WordsContext.Provider>;
}

/** The sentences of the page. */
export function useWords(): Words {
  return useContext(WordsContext);
}
