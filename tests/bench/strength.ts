import { alignLoad } from '../../geometry/align/align.ts';
import type { Vec3 } from '../../geometry/math/vec.ts';
import { planJob } from '../../src/plan/plan.ts';
import { strengthInput } from '../../src/plan/strength.ts';
import type { FittingPlan } from '../../src/plan/types.ts';
import { weldInput } from '../../src/plan/weld.ts';
import { strengthChecks } from '../../src/strength/strengthChecks.ts';
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
  const takes = () => planWeld(weldInput(job, f.input, f.root, f.joint, f.sequence)).totals.electrodes;
  const directions = cone(f.load.direction);
  const sweep = (each: (direction: Vec3) => number) => () => directions.reduce((sum, d) => sum + each(d), 0);
  const group1000 = (d: Vec3) => {
    const force: Vec3 = [d[0] * f.load.force, d[1] * f.load.force, d[2] * f.load.force];
    return worstLineForce(elasticWeldGroup(quadrature.position, quadrature.weight, force, f.pin), position).force;
  };
  const checks1000 = (d: Vec3) => {
    const load = alignLoad(f.frame, f.input.lug.pinHeight, { direction: d }, f.load.force);
    if (!load) throw new Error('a direction without a load');
    return strengthChecks(strengthInput(job, f.input, f.anchor, f.frame, f.pin, f.root, load, plan.up)).checks.length;
  };
  const one = race([holds, takes, () => holds() + takes()]);
  const many = race([sweep(group1000), sweep(checks1000), sweep((d) => group1000(d) + checks1000(d))], { rounds: 9 });
  const ms = (list: typeof one, i: number) => {
    const { median, least } = list[i] as (typeof one)[number];
    return { value: median, least, unit: 'ms' as const };
  };
  return [
    { group, what: 'strength checks', ...ms(one, 0) },
    { group, what: 'weld plan', ...ms(one, 1) },
    { group, what: 'both', ...ms(one, 2), wanted: { most: 2 } },
    { group, what: '1,000 directions: weld group', ...ms(many, 0) },
    { group, what: '1,000 directions: strength checks', ...ms(many, 1) },
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
