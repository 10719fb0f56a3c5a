import { addScaled, dot, type Vec3 } from '../../../geometry/math/vec.ts';
import type { Display } from '../../job/types.ts';
import type { Json } from '../store/jsontext.ts';
import type { ScreenFitting } from '../worker/protocol.ts';

/*
 * Parts of a job put in from nothing, so that there is something to set right: figures that make sense for the lug as it stands, and
 * are nobody's. While the name says so, the planner says so.
 */

/** Stands in the name of what was put in until a person has set its figures. */
export const TO_BE_SET = 'figures to be set';

const GRAVITY = 9.80665;
/** kg/m3, for the start only: common practice, no source; both can be changed in the job. */
const STEEL = 7850;
const SEA = 1025;
/** mm below the pin: where the line is fast to the load, and its centre. */
const FAST = 1200;
const CENTRE = 1500;

const length = (mm: number, display: Display): string =>
  display === 'us' ? `${Number((mm / 25.4).toFixed(1))} in` : `${(mm / 1000).toFixed(2)} m`;

const point = (p: Vec3, display: Display): Json[] => p.map((x) => length(x, display));

/** A load that hangs plumb under this lug's pin by one line, as heavy in the water as the pull that is given; taken up, then lowered. */
export function startLift(fitting: Pick<ScreenFitting, 'id' | 'pin' | 'load'>, up: Vec3, display: Display): Json {
  const below = (mm: number): Vec3 => addScaled(fitting.pin, up, -mm);
  const kg = fitting.load.force / (GRAVITY * (1 - SEA / STEEL));
  const mass = display === 'us' ? `${Math.round(kg / 0.45359237 / 10) * 10} lb` : `${Math.round(kg / 10) * 10} kg`;
  return {
    load: {
      name: `load (${TO_BE_SET})`,
      mass,
      density: `${STEEL} kg/m3`,
      centre: point(below(CENTRE), display),
    },
    lines: [{ id: fitting.id, fitting: fitting.id, to: point(below(FAST), display) }],
    steps: [
      { name: 'take the weight', to: point(below(CENTRE), display), with: [fitting.id] },
      { name: 'lower away', lower: length(500, display), parts: 3 },
    ],
    pushes: [{ name: "a diver's push", force: display === 'us' ? '90 lbf' : '400 N' }],
  };
}

/** Readings as they would be with the lug exactly as planned, a gap at each corner of the foot: each to be written over by what is read. */
export function startAsBuilt(
  fitting: Pick<ScreenFitting, 'frame' | 'readings' | 'root' | 'joint'>,
  up: Vec3,
  display: Display,
): Json {
  const { frame, readings, root, joint } = fitting;
  const deg = (rad: number): string => `${Math.abs((rad * 180) / Math.PI).toFixed(1)} deg`;
  const small = (mm: number): string =>
    display === 'us' ? `${Number((mm / 25.4).toFixed(3))} in` : `${mm.toFixed(1)} mm`;
  const opening = (s: number): number =>
    joint.points.reduce((p, q) => (Math.abs(q.s - s) < Math.abs(p.s - s) ? q : p)).opening;
  return {
    face: { fromPlumb: deg(readings.faceFromPlumb), looksUp: dot(frame.face, up) < 0 ? 'face-' : 'face+' },
    foot: { fromLevel: deg(readings.footFromLevel), higher: readings.higherEnd === 'end-' ? 'end-' : 'end+' },
    turned: '0 deg',
    gaps: root.corners.slice(0, 4).map((s) => ({ s: small(s), gap: small(Math.max(0, opening(s))) })),
  };
}

/** Whether a lift still has the name it was put in with. */
export const stillToSet = (name: string): boolean => name.includes(TO_BE_SET);
