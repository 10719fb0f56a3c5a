import { alignLoad } from '../../geometry/align/align.ts';
import { dot, scale, type Vec3 } from '../../geometry/math/vec.ts';
import { planJob } from '../../src/plan/plan.ts';
import { strengthInput } from '../../src/plan/strength.ts';
import type { FittingPlan } from '../../src/plan/types.ts';
import { weldInput } from '../../src/plan/weld.ts';
import { strengthChecks, strengthSweep } from '../../src/strength/strengthChecks.ts';
import { elasticWeldGroup, worstLineForce } from '../../src/strength/weldgroup.ts';
import { planWeld } from '../../src/weld/weldPlan.ts';
import { sampleJobs } from './jobs.ts';
import { race } from './race.ts';
import type { Row } from './table.ts';

const DIRECTIONS = 1000;

/** What strength and weld cost beside the geometry: one fitting, and a sweep of load directions. */
export function strength(): Row[] {
  const group = 'Strength and weld, first sample';
  const { job } = sampleJobs()[0] as ReturnType<typeof sampleJobs>[number];
  const plan = planJob(job);
  const f = plan.fittings[0] as FittingPlan;
  const input = strengthInput(job, f.input, f.anchor, f.frame, f.pin, f.root, f.load, plan.up);
  const { quadrature, position } = f.root;
  const holds = () => strengthChecks(input).checks.length;
  const takes = () => planWeld(weldInput(job, f.input, f.root, f.joint, f.sequence, plan.up)).totals.electrodes;
  const directions = cone(f.load.direction);
  const group1000 = () =>
    directions.reduce((sum, d) => {
      const group = elasticWeldGroup(quadrature.position, quadrature.weight, scale(d, f.load.force), f.pin);
      return sum + worstLineForce(group, position).force;
    }, 0);
  // What a sweep works out once is part of its time.
  const checks1000 = () => {
    const verdict = strengthSweep(input);
    return directions.reduce((sum, direction) => {
      const load = alignLoad(f.frame, f.input.lug.pinHeight, { direction }, f.load.force);
      if (!load) throw new Error('a direction without a load');
      const { checks } = verdict({
        load,
        inPlane: load.inPlane,
        offPlane: load.offPlane,
        fromPlumb: Math.acos(Math.min(1, Math.abs(dot(direction, plan.up)))),
      });
      return sum + checks.reduce((most, check) => Math.max(most, check.ratio), 0);
    }, 0);
  };
  const one = race([holds, takes, () => holds() + takes()]);
  const many = race([group1000, checks1000, () => group1000() + checks1000()], { rounds: 9 });
  const ms = (list: typeof one, i: number) => {
    const { median, least } = list[i] as (typeof one)[number];
    return { value: median, least, unit: 'ms' as const };
  };
  return [
    { group, what: 'strength checks', ...ms(one, 0) },
    { group, what: 'weld plan', ...ms(one, 1) },
    { group, what: 'both', ...ms(one, 2), wanted: { most: 2 } },
    { group, what: '1,000 directions: weld group, made anew each time', ...ms(many, 0) },
    { group, what: '1,000 directions: strength checks, as a sweep', ...ms(many, 1) },
    { group, what: '1,000 directions: both', ...ms(many, 2), wanted: { most: 200 } },
  ];
}

/** Directions up to 30 degrees off the given one, spread evenly on a spiral (golden angle). */
function cone(axis: Vec3): Vec3[] {
  const least = Math.abs(axis[0]) < 0.5 ? 0 : 1;
  const e: Vec3 = least === 0 ? [0, -axis[2], axis[1]] : [axis[2], 0, -axis[0]];
  const size = Math.hypot(...e);
  const u: Vec3 = [e[0] / size, e[1] / size, e[2] / size];
  const v: Vec3 = [axis[1] * u[2] - axis[2] * u[1], axis[2] * u[0] - axis[0] * u[2], axis[0] * u[1] - axis[1] * u[0]];
  return Array.from({ length: DIRECTIONS }, (_, k) => {
    const z = 1 - ((k + 0.5) / DIRECTIONS) * (1 - Math.cos(Math.PI / 6));
    const r = Math.sqrt(1 - z * z);
    const t = k * Math.PI * (3 - Math.sqrt(5));
    const [x, y] = [r * Math.cos(t), r * Math.sin(t)];
    return [0, 1, 2].map(
      (d) => z * (axis[d] as number) + x * (u[d] as number) + y * (v[d] as number),
    ) as unknown as Vec3;
  });
}
