/** A file of any size, read piece by piece: nothing of it is held that nobody asked for. */
export interface ByteSource {
  readonly size: number;
  /** The bytes from `offset` on, `length` of them or what there is. They are good until the next call. */
  read(offset: number, length: number): Uint8Array;
}

export const sourceOf = (bytes: Uint8Array): ByteSource => ({
  size: bytes.length,
  read: (offset, length) => bytes.subarray(offset, offset + length),
});

/** All of a file as a buffer of its own. */
export function wholeOf(source: ByteSource): Uint8Array<ArrayBuffer> {
  const out = new Uint8Array(source.size);
  const piece = 1 << 22;
  for (let at = 0; at < out.length; at += piece) out.set(source.read(at, piece), at);
  return out;
}
