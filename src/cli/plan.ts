import { availableParallelism } from 'node:os';
import { isMainThread, parentPort, Worker, workerData } from 'node:worker_threads';
import { bytesBeside, readFileBeside, readTextFile, writeAllFiles } from './files.ts';
import { main } from './main.ts';
import { figuresOf, type SampleShare, type Threads } from './sampling.ts';
import { staleness } from './stale.ts';

/** Threads that run this same program for a share of the samples. */
const threads: Threads = {
  count: Math.min(7, availableParallelism() - 1),
  run: (share) =>
    new Promise((resolve, reject) => {
      const worker = new Worker(new URL(import.meta.url), { workerData: share });
      worker.once('message', resolve);
      worker.once('error', reject);
    }),
};

/** The command as a process: `main` joined to this machine. */
async function command(): Promise<void> {
  let closed = false;

  process.stdout.on('error', (error: NodeJS.ErrnoException) => {
    if (closed) return;
    closed = true;
    const why = error.code === 'EPIPE' ? 'it was closed before everything was written' : error.message;
    process.stderr.write(`standard output: ${why}\n`);
    process.exitCode = 2;
  });
  process.stderr.on('error', () => {
    // Nowhere left to say so.
  });

  // npm runs its scripts in the project's folder; names are meant from where the person stands.
  const { npm_lifecycle_event: script, INIT_CWD: stands } = process.env;
  if (script === 'plan' && stands !== undefined) {
    try {
      process.chdir(stands);
    } catch {
      // The folder is gone: names are then taken from here.
    }
  }

  const stale = staleness(import.meta.url);
  if (stale !== undefined) process.stderr.write(`${stale}\n`);

  const status = await main(process.argv.slice(2), {
    out: (text) => process.stdout.write(text),
    err: (text) => process.stderr.write(text),
    read: readTextFile,
    readBeside: readFileBeside,
    bytesBeside,
    threads,
    writeAll: writeAllFiles,
  });
  if (!closed) process.exitCode = status;
}

if (isMainThread) await command();
else {
  const figures = figuresOf(workerData as SampleShare);
  parentPort?.postMessage(figures, [figures.buffer as ArrayBuffer]);
}
