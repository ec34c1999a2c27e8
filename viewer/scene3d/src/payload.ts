/** The message from Python, see `message.py` there: a word with the header's length, the header, the files. */

import { isHeld, keep } from "./pieces";

/** How a decor looks in one role; `texture` is the name of its piece, `tile` what it covers in mm. */
export interface Look {
  readonly colour: string;
  readonly roughness: number;
  readonly metallic: number;
  readonly texture: string | null;
  readonly tile: readonly [number, number];
}

export interface Choice {
  readonly code: string;
  readonly name: string;
  readonly looks: Readonly<Record<string, Look>>;
}

export interface Offer {
  readonly role: string;
  readonly name: string;
  readonly worn: string;
  readonly choices: readonly Choice[];
}

/** A scene by its name, and the names of the pieces that are its buffers. */
export interface Source {
  readonly name: string;
  readonly pieces: readonly string[];
}

export interface Header {
  readonly key: string;
  readonly models: readonly Source[];
  readonly names: readonly string[];
  readonly highlight: readonly string[];
  readonly offers: readonly Offer[];
  readonly theme: "light" | "dark" | null;
  /** In CSS pixels; null fills what the page has. */
  readonly height: number | null;
}

export interface Payload {
  readonly header: Header;
  /** Of each model the JSON of its glTF. */
  readonly trees: readonly string[];
  /** True if pieces are wanted that came neither with this message nor before. */
  readonly lacking: boolean;
}

const WORD = 4;

/** Read a message; the pieces in it are kept. */
export function unpack(message: Uint8Array): Payload {
  const length = new DataView(message.buffer, message.byteOffset).getUint32(0, true);
  const header = JSON.parse(textOf(message.subarray(WORD, WORD + length))) as Header & Contents;
  let start = WORD + length;
  const files = header.sizes.map((size) => {
    const file = message.subarray(start, start + size);
    start += Math.ceil(size / WORD) * WORD;
    return file;
  });
  const count = header.models.length;
  header.pieces.forEach((name, index) => keep(name, files[count + index]!));
  return { header, trees: files.slice(0, count).map(textOf), lacking: !wanted(header).every(isHeld) };
}

interface Contents {
  readonly pieces: readonly string[];
  readonly sizes: readonly number[];
}

function wanted({ models, offers }: Header): string[] {
  const looks = offers.flatMap(({ choices }) => choices).flatMap(({ looks }) => Object.values(looks));
  return [...models.flatMap(({ pieces }) => pieces), ...looks.flatMap(({ texture }) => texture ?? [])];
}

function textOf(bytes: Uint8Array): string {
  return new TextDecoder().decode(bytes);
}
