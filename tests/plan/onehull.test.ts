import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';
import { toShip } from '../../geometry/lug/frame.ts';
import { sourceOf } from '../../src/job/meshfile/bytes.ts';
import { readJobFiles } from '../../src/job/readfiles.ts';
import { planJob } from '../../src/plan/plan.ts';
import type { Plan } from '../../src/plan/types.ts';
import { uncertaintyOf } from '../../src/plan/uncertainty.ts';

/* One invented hull known four ways. Its shell is y = 3.7 m (1 - ((x - 19)/21)^2) (1 - (1 - z/4.2)^2), x and z in metres. */

const folder = fileURLToPath(new URL('../../samples/l-one-hull-four-ways/', import.meta.url));
const halfBreadth = (x: number, z: number) => 3700 * (1 - ((x - 19_000) / 21_000) ** 2) * (1 - (1 - z / 4200) ** 2);

async function planOf(name: string): Promise<Plan> {
  const reading = await readJobFiles(readFileSync(`${folder}${name}.json`, 'utf8'), {
    text: () => undefined,
    bytes: (file) => sourceOf(new Uint8Array(readFileSync(`${folder}${file}`))),
  });
  if (!reading.ok) throw new Error(JSON.stringify(reading.faults));
  return planJob(reading.job);
}

/** Bevel at the middle of the foot by the formula: where the two faces' lines meet the shell, found by bisection. rad */
function bevelByFormula(plan: Plan): number {
  const fitting = plan.fittings[0] as Plan['fittings'][number];
  const half = fitting.input.lug.thickness / 2;
  // The stem is plumb and the formula's own point stands for the anchor.
  const { position } = fitting.anchor;
  const frame = {
    ...fitting.frame,
    origin: [position[0], halfBreadth(position[0], position[2]), position[2]] as const,
  };
  const height = (c: number) => {
    const off = (b: number) => {
      const [x, y, z] = toShip(frame, 0, b, c);
      return y - halfBreadth(x, z);
    };
    let [lo, hi] = [-100, 100];
    for (let k = 0; k < 80; k++) {
      const mid = (lo + hi) / 2;
      if (off(lo) * off(mid) <= 0) hi = mid;
      else lo = mid;
    }
    return (lo + hi) / 2;
  };
  return Math.atan((height(half) - height(-half)) / (2 * half));
}

test('drawing, readings, scan and model give the same bevel within what each says of itself', async () => {
  const deg = (rad: number) => (rad * 180) / Math.PI;
  const found: Record<string, number> = {};
  for (const name of ['job', 'readings', 'scan', 'model']) {
    const plan = await planOf(name);
    const fitting = plan.fittings[0] as Plan['fittings'][number];
    const middle = fitting.bevel.schedule.reduce((p, q) => (Math.abs(q.a) < Math.abs(p.a) ? q : p)) as {
      bevel: number;
    };
    found[name] = deg(middle.bevel);
    const sure = uncertaintyOf(plan, { samples: 400 })?.fittings[0];
    expect(sure, name).toBeDefined();
    const own = deg(((sure?.bevel.high ?? 0) - (sure?.bevel.low ?? 0)) / 2);
    expect(Math.abs(deg(middle.bevel - bevelByFormula(plan))), name).toBeLessThan(own);
  }
  // Exact sources agree with each other to hundredths of a degree, measured ones within two or three tenths.
  const drawn = found.job ?? 0;
  expect(Math.abs((found.model ?? 0) - drawn)).toBeLessThan(0.02);
  expect(Math.abs((found.scan ?? 0) - drawn)).toBeLessThan(0.15);
  expect(Math.abs((found.readings ?? 0) - drawn)).toBeLessThan(0.3);
}, 60_000);
