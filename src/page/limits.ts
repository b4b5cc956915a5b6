/** How much of a page is read. Every bound of the reader stands here; past one, the rest is left unread. */

/** Most nodes (elements and texts) that are walked. */
export const MAX_NODES = 80_000;
/** Most listings that one page yields. */
export const MAX_LISTINGS = 5_000;
/** Most elements of one tag path that are compared. */
export const MAX_GROUP = 20_000;
/** Most levels that are climbed from an anchor to the record around it. */
export const MAX_CLIMB = 80;
/** Most candidate record classes that are weighed against each other. */
export const MAX_CLASSES = 40;
/** Most nodes of one record that are read. */
export const MAX_RECORD_NODES = 1_500;
/** Most text lines of one record that are read. */
export const MAX_LINES = 250;
/** Longest line that is searched for money; longer ones are prose. */
export const MAX_PRICE_LINE = 400;
/** Longest title, in UTF-16 code units. */
export const MAX_TITLE = 1_000;
/** Longest description, in UTF-16 code units. */
export const MAX_DESCRIPTION = 20_000;
/** Longest name and value of an item specific. */
export const MAX_SPECIFIC_NAME = 80;
export const MAX_SPECIFIC_VALUE = 600;
/** Most item specifics of one listing. */
export const MAX_SPECIFICS = 150;
/** Longest block of JSON-LD that is parsed, and all blocks together. */
export const MAX_JSON_LD_BLOCK = 1_500_000;
export const MAX_JSON_LD_TOTAL = 3_000_000;
/** Most structured items that are kept, and nodes of structured data that are visited. */
export const MAX_ITEMS = 5_000;
export const MAX_STRUCTURED_NODES = 100_000;
/** Most nodes of a record's tree that simple tree matching compares. */
export const MAX_MATCH_NODES = 60;
/** How many nodes the walk visits between two looks at the clock. */
export const NODES_A_STEP = 400;
