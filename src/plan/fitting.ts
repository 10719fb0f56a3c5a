import { alignLoad, inclinometerReadings, smallestCorrection } from '../../geometry/align/align.ts';
import { frameAt } from '../../geometry/align/stem.ts';
import { facetedCut, scribedCut, squareCut, straightCut } from '../../geometry/fit/cuts.ts';
import { bevelSchedule, footField } from '../../geometry/fit/footfield.ts';
import { type RootLine, rootLine } from '../../geometry/fit/rootline.ts';
import { fitVerdict } from '../../geometry/fit/verdict.ts';
import type { Shell } from '../../geometry/hull/shell.ts';
import { lugBody } from '../../geometry/lug/body.ts';
import { toShip } from '../../geometry/lug/frame.ts';
import { outlineOf } from '../../geometry/lug/outline.ts';
import { angleBetween, scale, type Vec3 } from '../../geometry/math/vec.ts';
import { Refusal, unlessRefused } from '../../geometry/refusal.ts';
import { rootSequence } from '../../geometry/sequence/sequence.ts';
import type { Fitting, Job } from '../job/types.ts';
import { check } from '../strength/check.ts';
import { strengthChecks } from '../strength/strengthChecks.ts';
import { elasticWeldGroup, lineForceAt } from '../strength/weldgroup.ts';
import { planWeld } from '../weld/weldPlan.ts';
import { planAsBuilt } from './asbuilt.ts';
import { planJoint } from './joint.ts';
import { strengthInput } from './strength.ts';
import { structureChecks } from './structurechecks.ts';
import { tradeChecks } from './tradeChecks.ts';
import type { Fit, FittingPlan, Joint, WeldGroup } from './types.ts';
import { weldInput } from './weld.ts';

/** mm. Stations of the bevel schedule are not farther apart than this: a hand's breadth at the torch. */
const BEVEL_SPACING = 25;
/** rad. How far a correction of heading or lean is looked for, and in what steps. */
const CORRECTION_REACH = Math.PI / 2;
const CORRECTION_STEP = Math.PI / 36;

/**
 * Everything about one fitting. `up`: unit normal of the water plane, ship axes.
 * Throws `Refusal` with a field relative to the fitting where it cannot be computed on; a limit that is broken is a
 * failed check in what comes back.
 */
export function planFitting(job: Job, input: Fitting, shell: Shell, up: Vec3): FittingPlan {
  const { lug, at, heading, stem, load: loadSpec } = input;
  const outline = outlineOf(lug);
  const girth = at.by === 'girth' ? at.value : shell.girthAt(at.station, at.by, at.value, at.side);
  const anchor = shell.pointAt(at.station, girth, at.side);
  const frame = frameAt(anchor, heading, stem, loadSpec, up, job.limits.stemToShell);
  const pin = toShip(frame, 0, lug.pinHeight, 0);
  const load = alignLoad(frame, lug.pinHeight, loadSpec, loadSpec.force);
  if (!load) throw new Refusal('load-at-pin', 'load.toward', ['the pin centre itself'], ['a point away from it']);

  const field = footField(shell, frame, lug.foot, lug.thickness);
  const square = squareCut(field, shell);
  const straight = straightCut(field, shell);
  const faceted = facetedCut(field, shell, job.limits.fitGap, straight);
  const scribed = scribedCut(field, shell);
  const cuts = { square, straight, faceted, scribed };
  const verdict = fitVerdict(cuts, input.cut, job.limits.fitGap, job.limits.recutGap, lug.thickness / 2);
  const fit: Fit = { ...cuts, ...verdict, tolerance: job.limits.fitGap };
  const chosen = cuts[verdict.chosen];

  const root = rootLine(field);
  const joint = planJoint(field, root, shell, chosen, square, up, job.limits.level);
  const sequence = rootSequence(field, root, up, {
    runLength: job.welding.runLength,
    level: job.limits.level,
    labels: joint.points.map((p) => Number(p.weldingPosition.aws[0])),
    lowest: joint.lowest,
    highest: joint.highest,
    outboard: at.side === 'port' ? 1 : -1,
  });

  const offPlaneWith = (turn: number, tilt: number): number | undefined =>
    unlessRefused(() => {
      const turned = frameAt(anchor, heading + turn, stem, loadSpec, up, job.limits.stemToShell, tilt);
      return alignLoad(turned, lug.pinHeight, loadSpec, 1)?.sideways;
    });
  const corrections = {
    heading: smallestCorrection((x) => offPlaneWith(x, 0), CORRECTION_REACH, CORRECTION_STEP),
    lean: smallestCorrection((x) => offPlaneWith(0, x), CORRECTION_REACH, CORRECTION_STEP),
  };

  const strength = strengthChecks(strengthInput(job, input, anchor, frame, pin, root, load, up));
  const weld = planWeld(weldInput(job, input, root, joint, sequence, up));
  const asBuilt = input.asBuilt
    ? planAsBuilt(job, input, input.asBuilt, { frame, anchor, root, openingAt: (s) => openingAt(joint, s) }, up)
    : null;
  const checks = [
    ...tradeChecks(
      job.limits,
      chosen.maxGap,
      verdict,
      load,
      corrections,
      { anchor, stem: frame.stem, heading },
      sequence,
    ),
    ...structureChecks(job, shell, { fitting: input, anchor, frame, root, weld }),
    ...strength.checks,
    ...weld.checks.map(check),
    ...(asBuilt?.checks ?? []),
  ];
  return {
    id: input.id,
    input,
    anchor,
    frame,
    slope: angleBetween(frame.stem, anchor.normal),
    pin,
    field,
    bevel: bevelSchedule(field, BEVEL_SPACING),
    fit,
    root,
    joint,
    readings: inclinometerReadings(frame, up),
    load,
    corrections,
    sequence,
    body: lugBody(outline, chosen.surface),
    strength: {
      checks: strength.checks,
      weldGroup: weldGroupOf(root, joint, scale(load.direction, load.force), pin),
      get methods() {
        return strength.methods;
      },
      toes: strength.toes,
      shell: strength.shell,
      advice: strength.advice,
      use: strength.weld,
      factors: strength.basis.factors,
      load: strength.basis.load,
    },
    weld,
    asBuilt,
    checks,
    pass: checks.every((c) => c.pass),
  };
}

/** Root opening of the chosen cut at arc length s, between the points of the joint. */
function openingAt(joint: Joint, s: number): number {
  const { points } = joint;
  let k = 1;
  while (k < points.length - 1 && (points[k] as Joint['points'][number]).s < s) k++;
  const p = points[k - 1] as Joint['points'][number];
  const q = points[k] as Joint['points'][number];
  const w = q.s > p.s ? Math.min(1, Math.max(0, (s - p.s) / (q.s - p.s))) : 1;
  return (1 - w) * p.opening + w * q.opening;
}

function weldGroupOf(root: RootLine, joint: Joint, force: Vec3, at: Vec3): WeldGroup {
  const group = elasticWeldGroup(root.quadrature.position, root.quadrature.weight, force, at);
  const lineForce = joint.points.map((p) => lineForceAt(group, p.position));
  let worst = 0;
  let most = -1;
  lineForce.forEach((q, k) => {
    const size = Math.hypot(q[0], q[1], q[2]);
    if (size > most) {
      most = size;
      worst = k;
    }
  });
  const point = joint.points[worst] as Joint['points'][number];
  return {
    length: group.length,
    centroid: group.centroid,
    lineForce,
    worst: { s: point.s, side: point.side, force: most },
  };
}
