import { parseArgs } from 'node:util';
import { readJobFiles } from '../job/readfiles.ts';
import { showPhrase } from '../job/show.ts';
import { escaped, quoted } from '../job/shown.ts';
import type { Fault, Job } from '../job/types.ts';
import { withOffers } from '../plan/movement/offers.ts';
import { planJob } from '../plan/plan.ts';
import { planFile } from '../plan/planfile.ts';
import { PlanRefused } from '../plan/refused.ts';
import type { Plan } from '../plan/types.ts';
import { makeAll } from './deliverables.ts';
import type { System } from './files.ts';
import { report } from './report.ts';
import { withUncertainty } from './sampling.ts';

/** What the command ended with: see the help text. */
export type Status = 0 | 1 | 2 | 3;

const HELP = `npm run --silent plan -- JOB.json [--json] [--out DIR]
npm run --silent plan -- JOB.json --sheet DIGEST

Plans the lifting lugs of a job file and says whether every check passes.

  --json      print the plan file on standard output, and nothing else
  --out DIR   write every deliverable into DIR: complete files or none
  --sheet DIGEST
              say whether a sheet in hand, which bears this digest, belongs to
              the job as it now stands; nothing is planned
  --help      this text

Exit status
  0  planned, every check passes
  1  planned, some check fails
  2  the input is refused: one line on standard error for each fault
  3  a fault of the program
With --sheet: 0 it belongs to the job, 1 it does not, 2 that is no digest

A planning aid: every figure is to be checked by a competent engineer.
`;

/** One line on standard error, and status 2. */
class Refused extends Error {}

/**
 * The command: arguments in, exit status out. All contact with the outside goes through `system`, so that a test can be
 * the outside.
 */
export async function main(args: readonly string[], system: System): Promise<Status> {
  try {
    return await run(args, system);
  } catch (error) {
    if (error instanceof Refused) {
      system.err(`${error.message}\n`);
      return 2;
    }
    const text = error instanceof Error ? (error.stack ?? error.message) : String(error);
    system.err(`A fault of the program, not of the input: ${text}\n`);
    return 3;
  }
}

async function run(args: readonly string[], system: System): Promise<Status> {
  const { values, file } = parse(args);
  if (values.help === true) {
    system.out(HELP);
    return 0;
  }
  if (file === undefined)
    throw new Refused('no job file named: npm run --silent plan -- JOB.json [--json] [--out DIR]');
  if (values.sheet !== undefined && (values.json === true || values.out !== undefined)) {
    throw new Refused('--sheet: found --json or --out beside it, expected it alone');
  }
  const text = readText(file, system);
  const reading = await readJobFiles(text, {
    text: (name) => system.readBeside(file, name),
    bytes: (name) => system.bytesBeside(file, name),
  });
  if (!reading.ok) return refuse(file, reading.faults, system);
  if (values.sheet !== undefined) return sheetInHand(values.sheet, reading.job, system);
  const nominal = planned(reading.job);
  if ('faults' in nominal) return refuse(file, nominal.faults, system);
  const plan = withOffers(await withUncertainty(nominal, system.threads));

  if (values.out !== undefined) {
    if (values.out === '') throw new Refused('--out: found nothing, expected the name of a folder');
    const files = await makeAll(plan);
    const fault = system.writeAll(values.out, files);
    if (fault !== undefined)
      throw new Refused(`--out: found ${quoted(values.out)}, expected a folder that can be written to: ${fault}`);
  }
  system.out(values.json === true ? `${JSON.stringify(planFile(plan), null, 1)}\n` : report(plan));
  return plan.pass ? 0 : 1;
}

const units = (display: Job['display']): string => (display === 'us' ? 'US' : 'metric');

/** One line on whether a sheet that bears this digest is one of the job as it now stands. */
async function sheetInHand(typed: string, job: Job, system: System): Promise<Status> {
  const { digestIn, otherUnits, sheetOf } = await import('../sheets/digest.ts');
  const digest = digestIn(typed);
  if (digest === undefined) {
    throw new Refused(
      `--sheet: found ${quoted(typed)}, expected a digest as the sheets bear it, like "7f3a-91c2-04de"`,
    );
  }
  const of = await sheetOf(job, digest);
  const said = {
    now: 'belongs to the job as it now stands',
    'other-units': `belongs to the job as it now stands, printed in ${units(otherUnits(job))} units: not to be mixed with ${units(job.display)} sheets, sizes called up are rounded in each`,
    neither: 'of an older job or another one: do not use it',
  }[of];
  system.out(`${digest}: ${said}\n`);
  return of === 'neither' ? 1 : 0;
}

function parse(args: readonly string[]) {
  try {
    const { values, positionals } = parseArgs({
      args: [...args],
      options: {
        json: { type: 'boolean' },
        out: { type: 'string' },
        sheet: { type: 'string' },
        help: { type: 'boolean', short: 'h' },
      },
      allowPositionals: true,
      strict: true,
    });
    if (positionals.length > 1) {
      throw new Refused(`one job file at a time: found ${positionals.map(quoted).join(' and ')}`);
    }
    return { values, file: positionals[0] };
  } catch (error) {
    if (error instanceof Refused || !(error instanceof TypeError)) throw error;
    throw new Refused(escaped(error.message.split('\n')[0] ?? ''));
  }
}

function readText(file: string, system: System): string {
  const reading = system.read(file);
  if (!reading.ok) throw new Refused(`${escaped(file)}: found ${reading.why}, expected a job file`);
  return reading.text;
}

function planned(job: Job): Plan | { readonly faults: readonly Fault[] } {
  try {
    return planJob(job);
  } catch (error) {
    if (!(error instanceof PlanRefused)) throw error;
    const inWords = (phrase: Parameters<typeof showPhrase>[0]) => escaped(showPhrase(phrase, job.display));
    return {
      faults: error.faults.map((fault) => ({
        path: fault.path,
        found: inWords(fault.found),
        expected: inWords(fault.expected),
      })),
    };
  }
}

function refuse(file: string, faults: readonly Fault[], system: System): Status {
  const name = escaped(file);
  for (const { path, found, expected } of faults) {
    system.err(`${path === '' ? name : `${name}: ${path}`}: found ${found}, expected ${expected}\n`);
  }
  return 2;
}
