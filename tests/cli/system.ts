import type { Deliverable, System } from '../../src/cli/files.ts';
import { main, type Status } from '../../src/cli/main.ts';
import { sourceOf } from '../../src/job/meshfile/bytes.ts';

export interface Outcome {
  readonly status: Status;
  readonly out: string;
  readonly err: string;
  readonly written: readonly Deliverable[];
}

/** Runs the command on files that only exist here: file names and their texts. */
export async function runOn(files: Readonly<Record<string, string>>, args: readonly string[]): Promise<Outcome> {
  let out = '';
  let err = '';
  let written: readonly Deliverable[] = [];
  const system: System = {
    out: (text) => {
      out += text;
    },
    err: (text) => {
      err += text;
    },
    read: (file) => {
      const text = files[file];
      return text === undefined ? { ok: false, why: 'no such file' } : { ok: true, text };
    },
    readBeside: (_, name) => files[name],
    bytesBeside: (_, name) => (files[name] === undefined ? undefined : sourceOf(new TextEncoder().encode(files[name]))),
    writeAll: (_, list) => {
      written = list;
      return undefined;
    },
  };
  const status = await main(args, system);
  return { status, out, err, written };
}

/** Runs it on one job. */
export function runJob(job: unknown, args: readonly string[] = [], files: Readonly<Record<string, string>> = {}) {
  return runOn({ ...files, 'job.json': typeof job === 'string' ? job : JSON.stringify(job) }, ['job.json', ...args]);
}
