/** Makes a photo small enough to be kept with its device. */

/** Longest edge of a kept picture in CSS pixels. */
const LONGEST_PX = 640;
/** Longest data address that a bench file may hold, in UTF-16 code units. */
const MOST_CHARS = 256 * 1024;
const QUALITIES = [0.82, 0.6, 0.4];

/**
 * A photo as a data address.
 *
 * @throws Error when the file is no picture that the browser can read
 */
export async function shrinkPicture(file: Blob): Promise<string> {
  const bitmap = await createImageBitmap(file);
  const scale = Math.min(1, LONGEST_PX / Math.max(bitmap.width, bitmap.height));
  const canvas = document.createElement("canvas");
  canvas.width = Math.max(1, Math.round(bitmap.width * scale));
  canvas.height = Math.max(1, Math.round(bitmap.height * scale));
  const context = canvas.getContext("2d");
  if (context === null) throw new Error("No drawing surface.");
  context.fillStyle = "#fff";
  context.fillRect(0, 0, canvas.width, canvas.height);
  context.drawImage(bitmap, 0, 0, canvas.width, canvas.height);
  bitmap.close();
  for (const quality of QUALITIES) {
    const address = canvas.toDataURL("image/jpeg", quality);
    if (address.length <= MOST_CHARS) return address;
  }
  throw new Error("The picture stays too large.");
}
