import { spawnSync } from 'node:child_process';
import { closeSync, mkdtempSync, openSync, readFileSync, rmSync, writeFileSync, writeSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { readJob } from '../../src/job/read.ts';
import { planJob } from '../../src/plan/plan.ts';
import type { Plan } from '../../src/plan/types.ts';
import { sampleFigures } from '../../src/plan/uncertainty.ts';
import { cylinderAt, meshSpec, normalNumbers, triangleList } from '../hull/meshes.ts';
import { jobOn } from '../plan/jobs.ts';
import { firstSampleFile } from './jobs.ts';
import { median } from './race.ts';
import type { Row } from './table.ts';
import { DRAFT, halfBreadth, LENGTH } from './wigley.ts';

const ROUNDS = 5;

/** Scans of a million and five million triangles through the whole command, against reading all of it with the usual parts. */
export function scans(): Row[] {
  const folder = mkdtempSync(join(tmpdir(), 'bench-'));
  try {
    const hook = join(folder, 'peak.cjs');
    writeFileSync(
      hook,
      "process.on('exit', () => require('node:fs').writeFileSync(process.env.PEAK, String(process.resourceUsage().maxRSS)));",
    );
    const peak = join(folder, 'peak');
    const run = (args: readonly string[]) => {
      const start = performance.now();
      const { status, stderr } = spawnSync(process.execPath, ['--require', hook, ...args], {
        encoding: 'utf8',
        env: { ...process.env, PEAK: peak },
      });
      const took = performance.now() - start;
      if (status !== 0 && status !== 1) throw new Error(`${args.join(' ')} ended with ${status}: ${stderr}`);
      return { took, MB: Number(readFileSync(peak, 'utf8')) / 1024 };
    };
    const rows: Row[] = [];
    for (const [name, along, up, rounds, most] of [
      ['1,000,000 triangles', 1250, 400, ROUNDS, 1000],
      ['5,000,000 triangles', 2500, 1000, 3, 5000],
    ] as const) {
      const group = `Binary STL of ${name}, process start to plan`;
      const file = join(folder, `${along}.stl`);
      writeScan(file, along, up);
      const job = join(folder, `${along}.json`);
      writeFileSync(job, JSON.stringify(scanJob(`${along}.stl`)));
      const all = { plan: [] as ReturnType<typeof run>[], whole: [] as ReturnType<typeof run>[] };
      for (let k = 0; k < rounds; k++) {
        all.plan.push(run(['dist/cli/plan.mjs', job]));
        all.whole.push(run(['tests/bench/wholeMesh.mjs', file]));
      }
      const time = (list: ReturnType<typeof run>[]) => median(list.map((r) => r.took));
      rows.push(
        { group, what: 'plan', value: time(all.plan), unit: 'ms', wanted: { most } },
        {
          group,
          what: 'plan, peak memory',
          value: Math.max(...all.plan.map((r) => r.MB)),
          unit: 'MB',
          ...(along === 1250 ? { wanted: { most: 300 } } : {}),
        },
        { group, what: 'loader + tree over all + the casts', value: time(all.whole), unit: 'ms' },
        { group, what: 'the same, peak memory', value: Math.max(...all.whole.map((r) => r.MB)), unit: 'MB' },
        {
          group,
          what: 'plan against it',
          value: median(all.plan.map((r, k) => r.took / (all.whole[k]?.took ?? 1))),
          unit: 'x',
          wanted: { most: 1 },
        },
      );
      rmSync(file);
    }
    return rows;
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** 10,000 samples of a job's ±, in one thread; the command shares them out over all there are. */
export function sampling(): Row[] {
  const group = '10,000 samples of what the readings allow, one thread, time of the processor';
  const raw = () => JSON.parse(readFileSync(firstSampleFile(), 'utf8'));
  const segments = raw();
  segments.ship.heel = '0.4 deg ± 0.3 deg';
  segments.fittings[0].at.girth = '2.40 m ± 20 mm';
  segments.ship.hull.path[1].radius = '7 m ± 300 mm';
  const readings = raw();
  readings.ship.hull = {
    kind: 'readings',
    start: { y: '2 m', z: '0.4 m' },
    girth: [0, 250, 500, 750].map((at) => ({ at: `${at} mm`, slope: `${15 + at / 45} deg ± 0.5 deg` })),
    fore: { gaps: ['-500 mm', '500 mm'].map((at) => ({ at, gap: '2 mm ± 1 mm' })) },
  };
  readings.fittings[0].at = { station: '6.3 m', side: 'port', girth: '400 mm ± 10 mm' };
  const loft = raw();
  loft.ship.hull = {
    kind: 'sections',
    sections: Array.from({ length: 11 }, (_, i) => ({
      station: `${i} m`,
      points: Array.from({ length: 9 }, (_, j) => ({
        y: `${2.5 * (1 - ((i - 8) / 20) ** 2) * (1 - (1 - j / 8) ** 2)} m`,
        z: `${(4 * j) / 8} m`,
      })),
    })),
  };
  loft.ship.heel = '0.4 deg ± 0.3 deg';
  loft.fittings[0].at = { station: '6.3 m ± 20 mm', side: 'port', height: '0.8 m ± 20 mm' };
  const points = structuredClone(loft);
  for (const section of points.ship.hull.sections.slice(4, 9))
    for (const point of section.points.slice(1)) point.y += ' ± 4 mm';
  const planned = (job: unknown): Plan => {
    const reading = readJob(JSON.stringify(job), () => undefined);
    if (!reading.ok) throw new Error(JSON.stringify(reading.faults));
    return planJob(reading.job);
  };
  return [
    ['lines and arcs', planned(segments), 4000],
    ["a diver's readings", planned(readings), 4000],
    ['a loft', planned(loft), 20_000],
    ['a loft whose points carry a ±', planned(points), 20_000],
    ['a scan, its own scatter', roughScan(), 20_000],
  ].map(([what, on, most]): Row => {
    const plan = on as Plan;
    sampleFigures(plan, 1, 0, 500);
    const before = process.cpuUsage();
    sampleFigures(plan, 1, 0, 10_000);
    const { user, system } = process.cpuUsage(before);
    // Wanted on two cores: 2 s, and 10 s for a loft.
    return {
      group,
      what: what as string,
      value: (user + system) / 1000,
      unit: 'ms',
      wanted: { most: most as number },
    };
  });
}

/** A scan of a circular cylinder with a millimetre of noise, a point every 10 mm. */
function roughScan(): Plan {
  const g = normalNumbers(1);
  const list = triangleList({
    at: cylinderAt(1500),
    x: [9600, 10_400],
    s: [400, 1400],
    step: [10, 10],
    ripple: () => g(),
  });
  return planJob(jobOn(meshSpec(list, { station: 10_000, girth: 500 }), { at: { value: 500 } }));
}

function scanJob(file: string) {
  const raw = JSON.parse(readFileSync(firstSampleFile(), 'utf8'));
  raw.ship = {
    ...raw.ship,
    lpp: `${LENGTH} mm`,
    hull: {
      kind: 'mesh',
      file,
      unit: 'mm',
      axes: { forward: 'x', port: 'y', up: 'z' },
      origin: ['0 m', '0 m', '0 m'],
      half: true,
    },
  };
  raw.fittings = [
    {
      ...raw.fittings[0],
      at: { station: `${0.45 * LENGTH} mm`, side: 'port', height: `${0.2 * DRAFT} mm` },
      load: { direction: [0.05, -0.02, -1], force: '100 kN' },
    },
  ];
  return raw;
}

function writeScan(file: string, along: number, up: number): void {
  const out = openSync(file, 'w');
  const head = Buffer.alloc(84);
  head.writeUInt32LE(2 * along * up, 80);
  writeSync(out, head);
  const row = Buffer.alloc(100 * up);
  const point = (i: number, j: number) => {
    const x = (LENGTH * i) / along;
    const z = (DRAFT * j) / up;
    return [x, halfBreadth(x, z), z] as const;
  };
  for (let i = 0; i < along; i++) {
    let at = 0;
    for (let j = 0; j < up; j++) {
      const [a, b, c, d] = [point(i, j), point(i + 1, j), point(i + 1, j + 1), point(i, j + 1)];
      for (const triangle of [
        [a, c, b],
        [a, d, c],
      ]) {
        at += 12;
        for (const p of triangle) for (const v of p) at = row.writeFloatLE(v, at);
        at += 2;
      }
    }
    writeSync(out, row);
  }
  closeSync(out);
}
