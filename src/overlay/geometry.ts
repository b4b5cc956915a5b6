/**
 * Where a mark stands on a card, from rectangles alone. It covers no word of the card: it stands in the lower corner
 * of the picture, else behind the last word of the title, else in an empty corner of the card, else across its edge.
 */

/** A rectangle in CSS pixels of the window. */
export interface Box {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

/** What is known of a card. */
export interface CardBoxes {
  readonly card: Box;
  /** The picture, if it has one. */
  readonly picture: Box | null;
  /** The last line of the title's text, and the box that the title may spread in. */
  readonly lastLine: Box | null;
  readonly titleBlock: Box | null;
  /** Does the card's text run from right to left? */
  readonly rightToLeft: boolean;
}

/** Size of a mark. */
export interface Size {
  readonly width: number;
  readonly height: number;
}

/** Upper left corner of a mark. */
export interface Spot {
  readonly x: number;
  readonly y: number;
}

/** A spot, and what it is: in the picture, behind the title, in a lower or upper corner, on the card's edge. */
export interface NamedSpot extends Spot {
  readonly name: "picture" | "behind" | "lower" | "upper" | "edge";
}

/** Distance from the picture's edge and from the title's last word. */
const INSET_PX = 6;
const GAP_PX = 8;
/** Distance from the card's own corners. */
const CORNER_PX = 4;
/** Narrower pictures are thumbnails beside a text: all marks of such a list stand behind the titles. */
const THUMBNAIL_PX = 150;

/** The spots where a mark may stand, best first; the last one always can. */
export function spotsFor({ card, picture, lastLine, titleBlock, rightToLeft }: CardBoxes, size: Size): NamedSpot[] {
  const spots: NamedSpot[] = [];
  if (picture && roomIn(picture, size)) {
    spots.push({
      name: "picture",
      x: rightToLeft ? picture.right - INSET_PX - size.width : picture.left + INSET_PX,
      y: picture.bottom - INSET_PX - size.height,
    });
  }
  if (lastLine && titleBlock) {
    const x = rightToLeft ? lastLine.left - GAP_PX - size.width : lastLine.right + GAP_PX;
    const room = rightToLeft ? x >= titleBlock.left : x + size.width <= titleBlock.right;
    if (room) spots.push({ name: "behind", x, y: (lastLine.top + lastLine.bottom - size.height) / 2 });
  }
  const start = rightToLeft ? card.right - GAP_PX - size.width : card.left + GAP_PX;
  const end = rightToLeft ? card.left + CORNER_PX : card.right - CORNER_PX - size.width;
  spots.push({ name: "lower", x: end, y: card.bottom - CORNER_PX - size.height });
  spots.push({ name: "upper", x: end, y: card.top + CORNER_PX });
  spots.push({ name: "edge", x: start, y: card.top - size.height / 2 });
  return spots;
}

/** True when a mark at the spot would lie on none of the boxes. */
export function isClear({ x, y }: Spot, { width, height }: Size, boxes: readonly Box[]): boolean {
  return boxes.every(
    ({ left, top, right, bottom }) => x >= right || x + width <= left || y >= bottom || y + height <= top,
  );
}

function roomIn(box: Box, { width, height }: Size): boolean {
  const room = Math.max(width + 2 * INSET_PX, THUMBNAIL_PX);
  return box.right - box.left >= room && box.bottom - box.top >= 2 * height + 2 * INSET_PX;
}

/** Moves a spot so that the mark lies within the bounds; a mark larger than the bounds starts at their start. */
export function within({ x, y }: Spot, { width, height }: Size, bounds: Box): Spot {
  return {
    x: Math.max(bounds.left, Math.min(x, bounds.right - width)),
    y: Math.max(bounds.top, Math.min(y, bounds.bottom - height)),
  };
}

/**
 * Where an opened panel stands: below its mark, else above it, else beside it, always inside of the window. It covers
 * its mark only where the window leaves no other way.
 *
 * @param mark the mark that opened it
 * @param window the window's box
 */
export function panelSpot(mark: Box, panel: Size, window: Box, rightToLeft: boolean): Spot {
  const room = { left: window.left + 12, top: window.top + 12, right: window.right - 12, bottom: window.bottom - 12 };
  const along = rightToLeft ? mark.right - panel.width : mark.left;
  const below = mark.bottom + GAP_PX;
  const above = mark.top - GAP_PX - panel.height;
  if (below + panel.height <= room.bottom) return within({ x: along, y: below }, panel, room);
  if (above >= room.top) return within({ x: along, y: above }, panel, room);
  const right = mark.right + GAP_PX;
  const left = mark.left - GAP_PX - panel.width;
  const beside = (rightToLeft ? [left, right] : [right, left]).find(
    (x) => x >= room.left && x + panel.width <= room.right,
  );
  return within({ x: beside ?? along, y: beside === undefined ? below : mark.top }, panel, room);
}
