import { readWant } from './held.ts';
import { findModelReader } from './modelreader.ts';
import type { FileRead, Want } from './wanted.ts';

/** To the thread: the file to read. From it: how many bytes it has come to, then what it read. Then it has done its work. */
export type FileTell =
  | { readonly kind: 'progress'; readonly bytes: number }
  | { readonly kind: 'read'; readonly read: FileRead };

interface Line {
  onmessage: ((event: { readonly data: Want }) => void) | null;
  postMessage(message: FileTell, transfer?: Transferable[]): void;
}

const line = self as unknown as Line;
findModelReader();

/** ms between two tellings. */
const TELL_EVERY = 80;

line.onmessage = async ({ data }) => {
  let last = 0;
  const read = await readWant(data, (bytes) => {
    if (performance.now() - last < TELL_EVERY) return;
    last = performance.now();
    line.postMessage({ kind: 'progress', bytes });
  });
  line.postMessage({ kind: 'read', read }, read.ok ? [read.tape.numbers.buffer] : []);
};
