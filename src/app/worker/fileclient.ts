import { isModel } from '../../job/meshfile/load.ts';
import { useReading } from '../store/reading.ts';
import type { FileTell } from './file.worker.ts';
import type { FileRead, Want } from './wanted.ts';

/* Files are read in a thread of their own, which is done away with when it is no longer wanted: that stops anything at once. */

let stopUnder: (() => void) | undefined;

/** Reads a file; undefined where it was stopped. Only one at a time: the one before is stopped. */
export function readFileAside(want: Want): Promise<FileRead | undefined> {
  stopUnder?.();
  return new Promise((resolve, reject) => {
    const thread = new Worker(new URL('./file.worker.ts', import.meta.url), { type: 'module', name: 'a file' });
    const show = (bytes: number): void =>
      useReading.setState({
        now: {
          file: want.file,
          // Of a model the bytes are in at once; making triangles of its surfaces is what takes long.
          done: isModel(want.file) || want.held.size === 0 ? null : bytes / want.held.size,
          state: 'reading',
        },
      });
    const end = (): void => {
      thread.terminate();
      if (stopUnder === stop) stopUnder = undefined;
    };
    const stop = (): void => {
      end();
      useReading.setState({ now: { file: want.file, done: null, state: 'stopped' } });
      resolve(undefined);
    };
    stopUnder = stop;
    thread.addEventListener('message', ({ data }: MessageEvent<FileTell>) => {
      if (data.kind === 'progress') {
        show(data.bytes);
        return;
      }
      end();
      useReading.setState({ now: null });
      resolve(data.read);
    });
    thread.addEventListener('error', (e) => {
      end();
      useReading.setState({ now: null });
      reject(new Error(e.message === '' ? 'the part of the program that reads files could not be loaded' : e.message));
    });
    show(0);
    thread.postMessage(want);
  });
}

/** Stops the file that is being read, if any. */
export const stopReading = (): void => stopUnder?.();
