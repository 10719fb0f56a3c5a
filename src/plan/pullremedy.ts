import { leanStem } from '../../geometry/align/stem.ts';
import { cross, dot, sub, type Vec3 } from '../../geometry/math/vec.ts';
import type { Phrase } from '../../geometry/phrase.ts';
import { type ShipWay, shipWay } from './shipway.ts';
import type { FittingPlan } from './types.ts';

/** What of a fitting the words need: where it stands, and how. */
export interface Stance {
  readonly anchor: FittingPlan['anchor'];
  readonly stem: Vec3;
  /** rad, see `headingDirection`. */
  readonly heading: number;
}

/** rad. A turn or lean below this reads as nothing: 0.05 degrees. */
const SHOWN = Math.PI / 3600;

/**
 * How to bring the pull into the lug's plane, in words: how far to turn the foot and which way round, how far to lean the stem and
 * which way its pin goes. Nothing where the pull lies in the plane but for what rounds to nothing.
 */
export function pullRemedy({ heading, lean }: FittingPlan['corrections'], stance: Stance): Phrase {
  if ((heading.found && Math.abs(heading.angle) < SHOWN) || (lean.found && Math.abs(lean.angle) < SHOWN)) return [];
  const turn: Phrase = heading.found
    ? ['turn the foot ', { rad: Math.abs(heading.angle) }, ` ${turnedWay(heading.angle, stance)}, seen from the water`]
    : [];
  const tilt: Phrase = lean.found
    ? ['lean the stem ', { rad: Math.abs(lean.angle) }, ` ${leantWay(lean.angle, stance)}`]
    : [];
  if (turn.length > 0 && tilt.length > 0) return ['To bring the pull into the plane, ', ...turn, ', or ', ...tilt, '.'];
  if (turn.length > 0 || tilt.length > 0) return ['To bring the pull into the plane, ', ...turn, ...tilt, '.'];
  return ['Neither turning nor leaning the lug brings this pull into its plane: move the lug or the load.'];
}

/** A heading grows from `tFore` to `tGirth`: against the clock for one who looks at the shell where their product points at him. */
export function turnedWay(angle: number, { anchor }: Pick<Stance, 'anchor'>): 'clockwise' | 'anticlockwise' {
  const towardsEye = dot(cross(anchor.tFore, anchor.tGirth), anchor.normal) > 0;
  return angle > 0 === towardsEye ? 'anticlockwise' : 'clockwise';
}

/** rad: small enough that the pin's way is a straight line. */
const SMALL = 1e-3;

/** The ship's direction that the pin follows most where the stem is leant. */
export function leantWay(angle: number, { anchor, stem, heading }: Stance): string {
  const way = sub(leanStem(anchor, heading, stem, Math.sign(angle) * SMALL), stem);
  return LEANT[shipWay(way, anchor.side)];
}

const LEANT: Readonly<Record<ShipWay, string>> = {
  forward: 'toward the bow',
  aft: 'toward the stern',
  outboard: 'outboard',
  inboard: 'inboard',
  up: 'upward',
  down: 'downward',
};
