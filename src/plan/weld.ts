import { type RootLine, SIDES, vecAt } from '../../geometry/fit/rootline.ts';
import { dot, type Vec3 } from '../../geometry/math/vec.ts';
import type { RootSequence } from '../../geometry/sequence/sequence.ts';
import type { Assumption, Fitting, Job } from '../job/types.ts';
import { DEPOSIT_DENSITY } from '../weld/deposit.ts';
import type { AwsFilletPosition } from '../weld/position.ts';
import { BOTTOM_TIME_DEFAULT, WELD_DEFAULTS, type WeldSettings } from '../weld/settings.ts';
import type { PlannedSide, WeldPlanInput } from '../weld/weldPlan.ts';
import type { Joint } from './types.ts';

/** What the weld plan of a fitting starts from. mm, N, MPa, rad, min. */
export function weldInput(
  job: Job,
  fitting: Fitting,
  root: RootLine,
  joint: Joint,
  sequence: RootSequence,
  up: Vec3,
): WeldPlanInput {
  const { steel, limits, electrode } = job;
  return {
    sides: SIDES.map((_, k) => sideOf(joint, root, k)),
    leg: fitting.weld.leg,
    fitGap: limits.fitGap,
    recutGap: limits.recutGap,
    rootRuns: sequence.runs,
    profile: { s: root.s, height: heightsOf(root, up) },
    runLength: job.welding.runLength,
    lug: { thickness: fitting.lug.thickness, yield: steel.lug.yield },
    shell: { thickness: steel.shell.thickness, yield: steel.shell.yield, carbon: steel.shell.carbon },
    electrode,
    positions: positionLengths(joint),
    practice: job.display,
    firstBead: 'shell',
    bottomTime: job.welding.bottomTime ?? BOTTOM_TIME_DEFAULT.value,
    settings: settingsOf(job),
  };
}

/** mm above the ship's origin, at each sample. */
function heightsOf({ count, position }: RootLine, up: Vec3): Float64Array {
  return Float64Array.from({ length: count }, (_, k) => dot(vecAt(position, k), up));
}

/** A side with its dihedral (mean by arc length) and its widest root opening. */
function sideOf(joint: Joint, root: RootLine, k: number): PlannedSide {
  const side = SIDES[k] as (typeof SIDES)[number];
  let sum = 0;
  let len = 0;
  let opening = 0;
  let dihedralMin = Number.POSITIVE_INFINITY;
  let dihedralMax = 0;
  let before: Joint['points'][number] | undefined;
  for (const p of joint.points) {
    if (p.side !== side) continue;
    opening = Math.max(opening, p.opening);
    dihedralMin = Math.min(dihedralMin, p.dihedral);
    dihedralMax = Math.max(dihedralMax, p.dihedral);
    if (before) {
      const ds = p.s - before.s;
      sum += (ds * (p.dihedral + before.dihedral)) / 2;
      len += ds;
    }
    before = p;
  }
  return {
    side,
    fromS: root.corners[k] as number,
    toS: root.corners[k + 1] as number,
    dihedral: sum / len,
    dihedralMin,
    dihedralMax,
    opening,
  };
}

function positionLengths(joint: Joint): { aws: AwsFilletPosition; length: number }[] {
  const lengths = new Map<AwsFilletPosition, number>();
  for (let k = 1; k < joint.points.length; k++) {
    const p = joint.points[k] as Joint['points'][number];
    const q = joint.points[k - 1] as Joint['points'][number];
    if (p.s > q.s) lengths.set(p.weldingPosition.aws, (lengths.get(p.weldingPosition.aws) ?? 0) + p.s - q.s);
  }
  return [...lengths].map(([aws, length]) => ({ aws, length }));
}

/** Settings that the job may set, by the name they have there. */
const IN_JOB = [
  'stub',
  'recovery',
  'burn',
  'travel',
  'change',
  'grindStop',
  'cleanMetre',
  'hold',
  'diveOverhead',
  'stagger',
  'cornerClear',
  'arcVolts',
  'leadDrop',
] as const satisfies readonly (keyof WeldSettings)[];

function settingsOf(job: Job): WeldSettings {
  const out: { -readonly [K in keyof WeldSettings]: number } = {} as never;
  for (const key of Object.keys(WELD_DEFAULTS) as (keyof WeldSettings)[]) out[key] = WELD_DEFAULTS[key].value;
  out.density = DEPOSIT_DENSITY[job.electrode.kind].value;
  for (const key of IN_JOB) {
    const given = job.welding[key];
    if (given !== undefined) out[key] = given;
  }
  if (job.welding.leadLength !== undefined) out.leadMetres = job.welding.leadLength / 1000;
  return out;
}

/** Defaults of the weld plan that a job leaves open, each with its reason. */
export function weldAssumptions(job: Job): Assumption[] {
  const out: Assumption[] = [];
  const unit: Partial<Record<keyof WeldSettings, string>> = {
    stub: ' mm',
    burn: ' min',
    travel: ' mm',
    change: ' min',
    grindStop: ' min',
    cleanMetre: ' min',
    hold: ' min',
    diveOverhead: ' min',
    stagger: ' mm',
    cornerClear: ' mm',
    arcVolts: ' V',
    leadDrop: ' V',
  };
  for (const key of IN_JOB) {
    if (job.welding[key] !== undefined) continue;
    const d = WELD_DEFAULTS[key];
    out.push({
      path: `welding.${key === 'travel' ? 'travelPerMinute' : key}`,
      value: `${d.value}${unit[key] ?? ''}`,
      reason: d.source,
      standing: d.standing,
    });
  }
  if (job.welding.leadLength === undefined) {
    const d = WELD_DEFAULTS.leadMetres;
    out.push({ path: 'welding.leadLength', value: `${d.value} m`, reason: d.source, standing: d.standing });
  }
  if (job.welding.bottomTime === undefined) {
    const d = BOTTOM_TIME_DEFAULT;
    out.push({ path: 'welding.bottomTime', value: `${d.value} min`, reason: d.source, standing: d.standing });
  }
  return out;
}
