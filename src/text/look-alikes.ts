/**
 * Letters of other scripts whose glyph is that of a Latin letter or digit.
 *
 * A subset of the table that Unicode Technical Standard 39 publishes as `confusables.txt`: Cyrillic, Greek and
 * Armenian letters that common typefaces draw exactly like the Latin one. Capital letters with a bare stem, which
 * the standard folds to `l`, are folded to `I` here (the index treats I, l and 1 alike anyway).
 */

const PAIRS =
  // Cyrillic
  "аaАAЬbВBсcСCԁdеeЕEҽeһhНHіiІIӀIӏlјjЈJКKМMоoОOрpРPԛqгrѕsЅSТTѵvѴVѡwԝwԜWхxХXуyУYүyҮYЗ3Ӡ3б6" +
  // Greek
  "αaΑAΒBϲcϹCϨ2ΕEϜFΗHιiΙIϳjͿJΚKΜMϺMΝNοoΟOσoρpΡPϱpΤTυuνvΧXγyΥYϒYΖZ" +
  // Armenian
  "օoՕOսuՍUհhոnցgՏS";

/** Code unit of the look-alike → code unit of the ASCII character that it is drawn like. */
export const LOOK_ALIKES: ReadonlyMap<number, number> = readPairs(PAIRS);

function readPairs(pairs: string): Map<number, number> {
  const table = new Map<number, number>();
  for (let i = 0; i + 1 < pairs.length; i += 2) table.set(pairs.charCodeAt(i), pairs.charCodeAt(i + 1));
  return table;
}
