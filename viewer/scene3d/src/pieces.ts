/** The pieces that came so far, by name. They outlive views and kitchens: what stays the same is not sent again. */

const MOST_BYTES = 64_000_000;

const held = new Map<string, Uint8Array>();
const pictures = new Map<string, Promise<ImageBitmap>>();

/** Keep a copy of a piece; the oldest go when there are too many, and are asked for again if they are missed. */
export function keep(name: string, bytes: Uint8Array): void {
  held.set(name, bytes.slice());
  let total = [...held.values()].reduce((sum, piece) => sum + piece.length, 0);
  for (const [oldest, piece] of held) {
    if (total <= MOST_BYTES) return;
    total -= piece.length;
    held.delete(oldest);
    pictures.delete(oldest);
  }
}

export function isHeld(name: string): boolean {
  return held.has(name);
}

/** A stretch of a piece, as a buffer of its own. Throws if the piece is not there. */
export function stretch(name: string, start: number, length: number): ArrayBuffer {
  return pieceOf(name).slice(start, start + length).buffer as ArrayBuffer;
}

/** The picture that a piece holds, decoded once. */
export function picture(name: string): Promise<ImageBitmap> {
  const known = pictures.get(name) ?? createImageBitmap(new Blob([pieceOf(name).slice()], { type: "image/jpeg" }));
  pictures.set(name, known);
  return known;
}

function pieceOf(name: string): Uint8Array {
  const found = held.get(name);
  if (!found) throw new Error(`no piece ${name}`);
  return found;
}
