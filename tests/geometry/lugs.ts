import { inclinometerReadings, type Pull } from '../../geometry/align/align.ts';
import { frameAt, type StemRule } from '../../geometry/align/stem.ts';
import { facetedCut, scribedCut, squareCut, straightCut } from '../../geometry/fit/cuts.ts';
import { bevelSchedule, footField } from '../../geometry/fit/footfield.ts';
import { rootLine } from '../../geometry/fit/rootline.ts';
import { shellFrom } from '../../geometry/hull/from.ts';
import type { HullSide, Shell } from '../../geometry/hull/shell.ts';
import type { HullSpec } from '../../geometry/hull/spec.ts';
import { angleBetween, normalize, type Vec3 } from '../../geometry/math/vec.ts';
import { rootSequence } from '../../geometry/sequence/sequence.ts';
import { planJoint } from '../../src/plan/joint.ts';

/* A lug on a shell with all its geometry, for tests: mm, rad, ship axes. What a test does not name is as `LUG` says. */

export const RAD = Math.PI / 180;
export const deg = (rad: number): number => rad / RAD;

export const LUG = { foot: 300, thickness: 38, pinHeight: 220, hole: 60, topRadius: 100, shoulder: 60 } as const;

export interface Stand {
  readonly station?: number;
  readonly girth?: number;
  readonly side?: HullSide;
  readonly foot?: number;
  readonly thickness?: number;
  readonly heading?: number;
  readonly stem?: StemRule;
  readonly pull?: Pull;
  /** Any vector that points up. */
  readonly up?: Vec3;
  readonly tolerance?: number;
  readonly runLength?: number;
}

const shells = new WeakMap<HullSpec, Shell>();

export function shellOf(hull: HullSpec): Shell {
  const shell = shells.get(hull) ?? shellFrom(hull);
  shells.set(hull, shell);
  return shell;
}

/** At station 10 m, 1 m of girth to port, stem along the normal, foot fore and aft, ship level, fit within 1.6 mm. */
export function standLug(hull: HullSpec, change: Stand = {}) {
  const shell = shellOf(hull);
  const { station = 10_000, girth = 1000, side = 'port', heading = 0, tolerance = 1.6 } = change;
  const { foot = LUG.foot, thickness = LUG.thickness, stem = { kind: 'normal' }, runLength = 150 } = change;
  const up = normalize(change.up ?? [0, 0, 1]);
  const anchor = shell.pointAt(station, girth, side);
  const frame = frameAt(anchor, heading, stem, change.pull ?? { direction: [0, 0, -1] }, up, 10 * RAD);
  const field = footField(shell, frame, foot, thickness);
  const square = squareCut(field, shell);
  const straight = straightCut(field, shell);
  const faceted = facetedCut(field, shell, tolerance, straight);
  const scribed = scribedCut(field, shell);
  const root = rootLine(field);
  const joint = planJoint(field, root, shell, straight, square, up, 1);
  const sequence = rootSequence(field, root, up, {
    runLength,
    level: 1,
    labels: joint.points.map((p) => Number(p.weldingPosition.aws[0])),
    lowest: joint.lowest,
    highest: joint.highest,
    outboard: side === 'port' ? 1 : -1,
  });
  return {
    shell,
    up,
    anchor,
    frame,
    slope: angleBetween(frame.stem, anchor.normal),
    field,
    cuts: { square, straight, faceted, scribed },
    bevel: bevelSchedule(field, 25),
    root,
    joint,
    sequence,
    readings: inclinometerReadings(frame, up),
  };
}

export type Standing = ReturnType<typeof standLug>;
