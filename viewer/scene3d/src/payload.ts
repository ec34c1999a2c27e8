/** The message from Python: a word with the header's length, the header as JSON, the glTF. See `_message` there. */

export interface Header {
  readonly key: string;
  readonly model: string;
  readonly highlight: readonly string[];
  readonly theme: "light" | "dark" | null;
  readonly height: number;
}

export interface Payload {
  readonly header: Header;
  readonly glb: Uint8Array;
}

const WORD = 4;

export function unpack(message: Uint8Array): Payload {
  const length = new DataView(message.buffer, message.byteOffset).getUint32(0, true);
  const text = new TextDecoder().decode(message.subarray(WORD, WORD + length));
  return { header: JSON.parse(text) as Header, glb: message.subarray(WORD + length) };
}
