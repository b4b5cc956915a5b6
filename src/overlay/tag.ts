/** Name of the one element that the overlay puts into a page. */
export const OVERLAY_TAG = "falsefit-overlay";
