import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { readJob } from '../../src/job/read.ts';
import { planJob } from '../../src/plan/plan.ts';
import type { Plan } from '../../src/plan/types.ts';
import { type Context, contextsOf } from '../../src/sheets/context.ts';
import type { FontBytes, SheetOptions } from '../../src/sheets/index.ts';

const project = new URL('../../', import.meta.url);

/** The faces that come with the sheets. */
export const fonts: FontBytes = {
  regular: readFileSync(new URL('src/sheets/fonts/DejaVuSans.ttf', project)),
  bold: readFileSync(new URL('src/sheets/fonts/DejaVuSans-Bold.ttf', project)),
};

/** The plan of a job given as the file says it. */
export function planOf(job: unknown, file: (name: string) => string | undefined = () => undefined): Plan {
  const reading = readJob(JSON.stringify(job), file);
  if (!reading.ok) throw new Error(JSON.stringify(reading.faults));
  return planJob(reading.job);
}

export async function contextOf(job: unknown, options: Partial<SheetOptions> = {}): Promise<Context> {
  return (await contextsOf(planOf(job), { fonts, ...options }))[0] as Context;
}

// biome-ignore lint/suspicious/noExplicitAny: a test takes files apart at will
type Loose = any;

/** Every sample and every independent example, as they stand in their files. */
export function sampleJobs(): { name: string; job: Loose; file: (name: string) => string | undefined }[] {
  const samples = new URL('samples/', project);
  const out = readdirSync(samples, { withFileTypes: true })
    .filter((entry) => entry.isDirectory())
    .map((entry) => {
      const folder = new URL(`${entry.name}/`, samples);
      const file = (name: string) => {
        const path = new URL(name, folder);
        return existsSync(path) ? readFileSync(path, 'utf8') : undefined;
      };
      return { name: entry.name, job: JSON.parse(readFileSync(new URL('job.json', folder), 'utf8')), file };
    });
  const examples = new URL('../shared/examples/', project);
  if (existsSync(examples)) {
    for (const name of ['heron', 'tern']) {
      const job = JSON.parse(readFileSync(new URL(`${name}.job.json`, examples), 'utf8'));
      out.push({ name, job, file: () => undefined });
    }
  }
  return out;
}

/** Text that breaks what takes it for more than text: quotes, ends of line, markup, codes, a formula, right-to-left, overrides. */
export const HOSTILE = '=2+3 "Aft";\n0\nSECTION\n<b>&amp; \\U+00B0 %%u (x) \\) שלום \u202Eabc ^J';

/** The same for an id, which is short. */
export const HOSTILE_ID = '=1+1,"A";<b>&\n0\n%%d \\U+0041 שלום \u202Ex';

/** A plain lug under a flat bottom that rises by `deadrise` (rad), fore and aft, plumb: every figure of its foot in closed form. */
export function wedgeJob(deadrise: number, more: { fitting?: Loose; job?: Loose } = {}): Loose {
  return {
    format: 'lugwright.job',
    version: 1,
    title: 'Grating off, lighter Plover',
    display: 'metric',
    ship: {
      lpp: '40 m',
      draftAft: '2.4 m',
      draftForward: '2.4 m',
      heel: '0 deg',
      hull: {
        kind: 'segments',
        start: { y: '0 m', z: '0 m' },
        path: [{ to: { y: '4 m', z: `${4 * Math.tan(deadrise)} m` } }],
      },
    },
    fittings: [
      {
        id: 'A',
        at: { station: '10 m', side: 'port', girth: '2 m' },
        lug: {
          foot: '300 mm',
          thickness: '30 mm',
          pinHeight: '200 mm',
          hole: '50 mm',
          topRadius: '90 mm',
          shoulder: '50 mm',
        },
        stem: 'plumb',
        heading: '0 deg',
        load: { direction: [0, 0, -1], force: '60 kN' },
        weld: { leg: '14 mm' },
        ...more.fitting,
      },
    ],
    ...more.job,
  };
}

/** A bottom that is one arc of radius R (mm) from the keel on: centre over the keel at z = R. */
export function arcJob(radius: number, side: 'port' | 'starboard', more: Loose = {}): Loose {
  const job = wedgeJob(0.1, { fitting: { at: { station: '10 m', side, girth: '1000 mm' }, ...more } });
  const angle = 1.2;
  job.ship.hull = {
    kind: 'segments',
    start: { y: '0 mm', z: '0 mm' },
    path: [
      {
        to: { y: `${radius * Math.sin(angle)} mm`, z: `${radius * (1 - Math.cos(angle))} mm` },
        radius: `${radius} mm`,
      },
    ],
  };
  return job;
}
