/** The message from Python, see `message.py` there: a word with the header's length, the header, the files. */

/** How a decor looks in one role; `texture` is its place among those of the message, `tile` what it covers in mm. */
export interface Look {
  readonly colour: string;
  readonly roughness: number;
  readonly metallic: number;
  readonly texture: number | null;
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

export interface Header {
  readonly key: string;
  readonly models: readonly string[];
  readonly names: readonly string[];
  readonly highlight: readonly string[];
  readonly offers: readonly Offer[];
  readonly theme: "light" | "dark" | null;
  /** In CSS pixels; null fills what the page has. */
  readonly height: number | null;
}

export interface Payload {
  readonly header: Header;
  readonly models: readonly Uint8Array[];
  readonly textures: readonly Uint8Array[];
}

const WORD = 4;

export function unpack(message: Uint8Array): Payload {
  const length = new DataView(message.buffer, message.byteOffset).getUint32(0, true);
  const text = new TextDecoder().decode(message.subarray(WORD, WORD + length));
  const header = JSON.parse(text) as Header & { readonly sizes: readonly number[] };
  let start = WORD + length;
  const files = header.sizes.map((size) => {
    const file = message.subarray(start, start + size);
    start += Math.ceil(size / WORD) * WORD;
    return file;
  });
  const count = header.models.length;
  return { header, models: files.slice(0, count), textures: files.slice(count) };
}
