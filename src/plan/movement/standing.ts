import type { Shell, ShellPoint } from '../../../geometry/hull/shell.ts';
import { type LugFrame, toShip } from '../../../geometry/lug/frame.ts';
import { dot, type Vec3 } from '../../../geometry/math/vec.ts';
import type { Fitting, Job } from '../../job/types.ts';
import { pieceDistance } from '../../rigging/solids.ts';
import { calledToe } from '../footroom.ts';
import { behindAt, movedBehind, type Place, type Trace, tracesOn } from '../structure.ts';
import { offsetTo } from '../structurechecks.ts';

/** How much room a foot has, and what takes it. */
export interface Room {
  /** mm beyond what is asked for; negative where there is too little. */
  readonly room: number;
  /** What leaves the least; empty where nothing is near. */
  readonly what: string;
}

/** mm. More room than this is as good as any. */
const ENOUGH = 60;

const ALL_CLEAR: Room = { room: ENOUGH, what: '' };

/**
 * Room that a foot has on the shell between keep-clear zones and seams, and over the member it is to stand over, for a search: the
 * foot is taken as the flat piece of the tangent plane that it covers. The joint as planned has the last word (`structureChecks`).
 * `reach`: how far from where the fitting stands the search goes, mm.
 */
export function standingRoom(
  job: Job,
  fitting: Fitting,
  shell: Shell,
  stands: ShellPoint,
  reach: number,
): (frame: LugFrame, place: ShellPoint) => Room {
  const { lug, over } = fitting;
  const most = reach + lug.foot + 6 * fitting.weld.leg + ENOUGH;
  const middle = Float64Array.from([...stands.position, ...stands.position]);
  const near = tracesOn(shell, job.ship.structure).traces.flatMap((trace) => {
    const wide = trace.kind === 'seam' ? (job.limits.seamClear ?? 0) : trace.radius;
    const pieces: number[] = [];
    for (let i = 0; i < trace.pieces.length; i += 6) {
      if (pieceDistance(middle, 0, trace.pieces, i) < most + wide) pieces.push(...trace.pieces.subarray(i, i + 6));
    }
    return pieces.length === 0 ? [] : [{ trace, wide, pieces: Float64Array.from(pieces) }];
  });
  if (near.length === 0 && over === undefined) return () => ALL_CLEAR;
  const edge = new Float64Array(15);
  const origin = new Float64Array(6);
  return (frame, place) => {
    const flat = flatFoot(frame, place.normal, lug, edge);
    const [widest, sharpest] = [Math.PI / 2 + flat.bevel, Math.PI / 2 - flat.bevel];
    const { leg } = fitting.weld;
    const toe = Math.max(calledToe(widest, widest, leg, job.display), calledToe(sharpest, sharpest, leg, job.display));
    origin.set(frame.origin, 0);
    origin.set(frame.origin, 3);
    let room = ENOUGH;
    let what = '';
    for (const { trace, wide, pieces } of near) {
      for (let i = 0; i < pieces.length; i += 6) {
        const need = wide + toe + room;
        if (pieceDistance(origin, 0, pieces, i) - flat.reach > need) continue;
        const left = (under(frame, flat, lug, pieces, i) ? 0 : edgeDistance(edge, pieces, i)) - wide - toe;
        if (left < room) [room, what] = [left, nameOf(trace)];
      }
    }
    if (over !== undefined) {
      const left = memberRoom(job, fitting, stands, place, over, edge);
      if (left < room) [room, what] = [left, `the ${over} it stands over`];
    }
    return { room, what };
  };
}

const nameOf = ({ kind, name }: Trace): string => (kind === 'seam' ? `the seam “${name}”` : `the zone “${name}”`);

/** The four corners of the foot on the tangent plane, round and back to the first, into `edge`; slopes of that plane along a and c. */
function flatFoot(frame: LugFrame, normal: Vec3, { foot, thickness }: Fitting['lug'], edge: Float64Array) {
  const up = dot(normal, frame.stem);
  const alongA = -dot(normal, frame.foot) / up;
  const alongC = -dot(normal, frame.face) / up;
  let reach = 0;
  for (let k = 0; k < 5; k++) {
    const a = (k % 4 === 1 || k % 4 === 2 ? 1 : -1) * (foot / 2);
    const c = (k % 4 >= 2 ? 1 : -1) * (thickness / 2);
    const b = a * alongA + c * alongC;
    edge.set(toShip(frame, a, b, c), 3 * k);
    reach = Math.max(reach, Math.hypot(a, b, c));
  }
  return { alongA, alongC, reach, bevel: Math.max(Math.abs(Math.atan(alongA)), Math.abs(Math.atan(alongC))) };
}

function edgeDistance(edge: Float64Array, pieces: Float64Array, i: number): number {
  let least = Number.POSITIVE_INFINITY;
  for (let k = 0; k < 12; k += 3) least = Math.min(least, pieceDistance(edge, k, pieces, i));
  return least;
}

/** True where an end of a piece lies under the foot. */
function under(
  { origin, foot, stem, face }: LugFrame,
  flat: { readonly alongA: number; readonly alongC: number },
  lug: Fitting['lug'],
  pieces: Float64Array,
  i: number,
): boolean {
  for (let end = i; end <= i + 3; end += 3) {
    const p: Vec3 = [
      (pieces[end] as number) - origin[0],
      (pieces[end + 1] as number) - origin[1],
      (pieces[end + 2] as number) - origin[2],
    ];
    const a = dot(p, foot);
    const c = dot(p, face);
    if (Math.abs(a) > lug.foot / 2 || Math.abs(c) > lug.thickness / 2) continue;
    // Of the same piece of shell: a foot's own shell bends away from its plane by much less than this.
    if (Math.abs(dot(p, stem) - a * flat.alongA - c * flat.alongC) < lug.foot / 4) return true;
  }
  return false;
}

/** How far the foot reaches beyond the nearest member, mm; less than nothing where it does not get to it, or where none is known. */
function memberRoom(
  job: Job,
  fitting: Fitting,
  from: Place,
  place: ShellPoint,
  over: 'frame' | 'longitudinal',
  edge: Float64Array,
): number {
  const offset = offsetTo(over, behindAt(job, movedBehind(job, fitting, from, place), place));
  if (offset === undefined) return Number.NEGATIVE_INFINITY;
  const axis: Vec3 = over === 'frame' ? [1, 0, 0] : place.tGirth;
  const at = dot(place.position, axis);
  let reach = 0;
  for (let k = 0; k < 12; k += 3) {
    const out =
      (edge[k] as number) * axis[0] + (edge[k + 1] as number) * axis[1] + (edge[k + 2] as number) * axis[2] - at;
    reach = Math.max(reach, offset < 0 ? -out : out);
  }
  return reach - Math.abs(offset);
}
