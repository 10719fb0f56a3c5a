import { frameAt, leanStem } from '../../../geometry/align/stem.ts';
import { bevelSchedule, footField } from '../../../geometry/fit/footfield.ts';
import { rootLine } from '../../../geometry/fit/rootline.ts';
import type { Shell, ShellPoint } from '../../../geometry/hull/shell.ts';
import { headingDirection, type LugFrame, lugFrame, toShip } from '../../../geometry/lug/frame.ts';
import { clampUnit, dot, type Vec3 } from '../../../geometry/math/vec.ts';
import type { Phrase } from '../../../geometry/phrase.ts';
import { unlessRefused } from '../../../geometry/refusal.ts';
import type { Fitting, Job } from '../../job/types.ts';
import { behindAt, movedBehind, placeOfFitting } from '../structure.ts';
import { offsetTo, structureChecks } from '../structurechecks.ts';
import { pointsNear } from './nearshell.ts';
import { type PullCase, pullAt, worstOf } from './pulls.ts';
import { chosenGap } from './quickfit.ts';
import { type Axis, globalLeast } from './search.ts';
import { clearOfSolids } from './solids.ts';
import type { Stance, StanceFreedom, StanceResult } from './stancetypes.ts';
import { type Room, standingRoom } from './standing.ts';

/** Steps of the first look: over half a turn of heading, over the lean, and each way along the shell. */
const HEADING_STEPS = 45;
const LEAN_STEPS = 22;
const PLACE_STEPS = 8;
const COARSE = { heading: 24, lean: 10 } as const;
/** Places that are closed in on, and so many of them that are tried in full. */
const SEEDS = 12;
/** A sideways share below this is none. */
const IN_PLANE = 1e-3;
/** Of stances that differ by less than this share of the greatest pull, the one nearest to where the lug stands and flattest in its cut. */
const ALIKE = 2e-4;
const NEARER = 2e-5;
/** Cases within this of the worst hold the stance where it is. */
const HOLDS = 0.995;

/** mm. A foot that has less room than this beyond what is asked for stands against what takes it. */
const AGAINST = 2;
/** rad, mm. How much more a stance may have taken when it is looked at again: whether it fits is then found out in full. */
const SLACK = { bevel: 1e-3, room: 0.5 } as const;
/** mm. More than this is not taken from a foot's room at once: a foot on a bent shell differs from a flat one by less. */
const MOST_SPARE = 10;

/** mm. Members are not nearer to one another than this. */
const LOOK = 50;

interface Candidate {
  readonly place: ShellPoint;
  readonly frame: LugFrame;
}

/**
 * The heading, lean and place of one lug that make the greatest sideways force over all its pulls least, within the limits of the job:
 * stem to shell, bevel, gap, keep-clear solids and zones, seams, the member it is to stand over, and the data of the hull. Looked for
 * everywhere within reach, not only downhill from where the lug stands. Pulls as in `PullCase`. N, mm, rad.
 */
export function bestStance(
  job: Job,
  fitting: Fitting,
  shell: Shell,
  up: Vec3,
  cases: readonly PullCase[],
  freedom: StanceFreedom,
): StanceResult {
  const before = stanceNow(job, fitting, shell, up, cases);
  const { girth, station } = before;
  const stands = shell.pointAt(station, girth, fitting.at.side);
  const most = Math.min(job.limits.bevel, Math.PI / 2 - job.limits.stemToShell);
  const moves = (freedom.girth ?? 0) > 0 || (freedom.station ?? 0) > 0;
  const turned = freedom.heading ? (moves ? COARSE.heading : HEADING_STEPS) : 0;
  const leans = freedom.lean ? (moves ? COARSE.lean : LEAN_STEPS) : 0;
  const axes: Axis[] = [
    freedom.heading
      ? { from: -Math.PI / 2, to: Math.PI / 2, steps: turned, round: true }
      : { from: fitting.heading, to: fitting.heading, steps: 0, round: false },
    freedom.lean ? { from: -most, to: most, steps: leans, round: false } : { from: 0, to: 0, steps: 0, round: false },
    {
      ...around(girth, freedom.girth ?? 0),
      also: membersWithin(job, fitting, stands, 'longitudinal', freedom.girth ?? 0),
    },
    {
      ...around(station, freedom.station ?? 0),
      also: membersWithin(job, fitting, stands, 'frame', freedom.station ?? 0),
    },
  ];
  const { side } = fitting.at;
  const placeNear = pointsNear(shell, {
    station,
    girth,
    reachAlong: freedom.station ?? 0,
    reachRound: freedom.girth ?? 0,
    side,
  });
  const placeAt = (x: number, g: number): ShellPoint | undefined => unlessRefused(() => shell.pointAt(x, g, side));
  const roomOf = standingRoom(job, fitting, shell, stands, Math.hypot(freedom.girth ?? 0, freedom.station ?? 0));
  const candidate = (
    at: readonly number[],
    bevel: number,
    spare: number,
    placed: typeof placeNear,
  ): Candidate | undefined => {
    const [h, lean, g, x] = at as [number, number, number, number];
    const place = placed(x, g);
    if (place === undefined) return undefined;
    const frame = freedom.lean
      ? leant(place, h, lean)
      : unlessRefused(() => frameAt(place, h, fitting.stem, fitting.load, up, job.limits.stemToShell));
    if (frame === undefined) return undefined;
    return Math.abs(localBevel(frame, place)) <= bevel &&
      clearOfSolids(job, fitting, frame, spare) &&
      roomOf(frame, place).room >= spare
      ? { place, frame }
      : undefined;
  };
  /** How much of a change it is, each of its parts of the order of 1. */
  const changeOf = ([h, , g, x]: readonly number[], { place, frame }: Candidate): number => {
    const turn = Math.abs(Math.sin((h as number) - fitting.heading));
    const moved = Math.hypot((g as number) - girth, (x as number) - station) / fitting.lug.foot;
    return turn + moved + Math.abs(localBevel(frame, place));
  };
  const worst = worstOf(cases);
  // A first look without the foot's own shape; what comes out of it is then held against the foot as it would be cut.
  let bevel = most;
  let spare = 0;
  for (let tightened = 0; tightened < 6; tightened++) {
    const [limit, room] = [bevel, spare];
    const costOf = (at: readonly number[], found: Candidate | undefined): number => {
      if (found === undefined) return Number.POSITIVE_INFINITY;
      const { frame } = found;
      const { sideways, greatest } = worst(toShip(frame, 0, fitting.lug.pinHeight, 0), frame.face);
      return Math.max(sideways, ALIKE * greatest) + NEARER * greatest * changeOf(at, found);
    };
    // Looked at again on the shell itself: what stood just within a limit on the nodes' shell may not on that.
    const found = globalLeast(axes, (at) => costOf(at, candidate(at, limit, room, placeNear)), SEEDS)
      .map(({ at }) => ({ at, c: candidate(at, limit + SLACK.bevel, room - SLACK.room, placeAt) }))
      .map(({ at, c }) => ({ at, c, value: costOf(at, c) }))
      .sort((p, q) => p.value - q.value);
    let over = 0;
    let short = 0;
    for (const { at, c } of found) {
      if (c === undefined) continue;
      const moved = movedBehind(job, fitting, stands, c.place);
      const foot = footFits(job, moved, shell, c);
      if (foot.fits) {
        const left = roomOf(c.frame, c.place);
        return result(job, moved, before, standsWithin(job, fitting, shell, up), c, at, axes, freedom, cases, bevel, {
          ...left,
          room: left.room - spare,
        });
      }
      over = Math.max(over, foot.bevelOver);
      short = Math.max(short, foot.roomShort);
    }
    if (!(over > 0 || short > 0)) break;
    if (over > 0) bevel -= over + 1e-4;
    if (short > 0) spare += Math.min(short, MOST_SPARE) + 0.01;
  }
  return {
    found: false,
    reason: ['Nowhere within reach does the foot fit and the stem stand as the limits of the job ask.'],
  };
}

function around(middle: number, reach: number): Axis {
  return reach > 0
    ? { from: middle - reach, to: middle + reach, steps: PLACE_STEPS, round: false }
    : { from: middle, to: middle, steps: 0, round: false };
}

/** Places of members of a kind along their axis, within reach of where a fitting stands; none where it is not to stand over such a one. */
function membersWithin(
  job: Job,
  fitting: Fitting,
  stands: ShellPoint,
  member: 'frame' | 'longitudinal',
  reach: number,
): number[] {
  if (fitting.over !== member || !(reach > 0)) return [];
  const found = new Set<number>();
  const middle = member === 'frame' ? stands.station : stands.girth;
  const steps = Math.ceil((2 * reach) / LOOK);
  for (let k = 0; k <= steps; k++) {
    const x = middle - reach + (2 * reach * k) / steps;
    const place = { ...stands, ...(member === 'frame' ? { station: x } : { girth: x }) };
    const offset = offsetTo(member, behindAt(job, movedBehind(job, fitting, stands, place), place));
    if (offset === undefined) continue;
    // A member a foot's breadth beyond the reach may still be stood over from its end.
    found.add(Math.round(1e3 * Math.max(middle - reach, Math.min(middle + reach, x + offset))) / 1e3);
  }
  return [...found];
}

/** The lug with its stem leant from the normal: see `leanStem`. */
function leant(place: ShellPoint, heading: number, lean: number): LugFrame {
  return lugFrame(
    place.position,
    headingDirection(place.tFore, place.tGirth, heading),
    leanStem(place, heading, place.normal, lean),
  );
}

/** Bevel at the middle of the foot, rad: the slope of the tangent plane along C, atan(-(n . C)/(n . B)). */
const localBevel = (frame: LugFrame, place: ShellPoint): number =>
  Math.atan2(-dot(place.normal, frame.face), dot(place.normal, frame.stem));

/** The foot as it would be cut: within the hull's data, its bevel within the limit, its gap one that a weld makes up, room for its weld. */
function footFits(
  job: Job,
  fitting: Fitting,
  shell: Shell,
  { frame, place }: Candidate,
): { readonly fits: boolean; readonly bevelOver: number; readonly roomShort: number } {
  const field = unlessRefused(() => footField(shell, frame, fitting.lug.foot, fitting.lug.thickness));
  if (field === undefined) return { fits: false, bevelOver: 0, roomShort: 0 };
  const { min, max } = bevelSchedule(field, fitting.lug.foot);
  const bevelOver = Math.max(max, -min) - job.limits.bevel;
  const gap = chosenGap(field, shell, fitting.cut, job.limits.fitGap);
  let roomShort = clearOfSolids(job, fitting, frame) ? 0 : SLACK.room;
  if (job.ship.structure !== undefined || fitting.over !== undefined) {
    const checks = unlessRefused(() =>
      structureChecks(job, shell, { fitting, anchor: place, frame, root: rootLine(field) }),
    );
    if (checks === undefined) return { fits: false, bevelOver, roomShort: 0 };
    for (const { demand, limit, pass } of checks) if (!pass) roomShort = Math.max(roomShort, demand - limit);
  }
  return { fits: bevelOver <= 1e-9 && gap <= job.limits.recutGap && roomShort === 0, bevelOver, roomShort };
}

/** True where a lug as the job has it stands within the limits that a stance is looked for in. */
export function standsWithin(job: Job, fitting: Fitting, shell: Shell, up: Vec3): boolean {
  const { station, girth, side } = placeOfFitting(fitting, shell);
  const place = unlessRefused(() => shell.pointAt(station, girth, side));
  if (place === undefined) return false;
  const frame = unlessRefused(() =>
    frameAt(place, fitting.heading, fitting.stem, fitting.load, up, job.limits.stemToShell),
  );
  if (frame === undefined || !clearOfSolids(job, fitting, frame)) return false;
  return footFits(job, fitting, shell, { frame, place }).fits;
}

/** How a lug stands as the job has it. Throws `Refusal` as planning it would. */
export function stanceNow(job: Job, fitting: Fitting, shell: Shell, up: Vec3, cases: readonly PullCase[]): Stance {
  const { station, girth, side } = placeOfFitting(fitting, shell);
  const place = shell.pointAt(station, girth, side);
  const frame = frameAt(place, fitting.heading, fitting.stem, fitting.load, up, job.limits.stemToShell);
  return stanceOf(fitting, { place, frame }, cases);
}

function stanceOf(fitting: Fitting, { place, frame }: Candidate, cases: readonly PullCase[]): Stance {
  const { sideways, worst, greatest } = worstOf(cases)(toShip(frame, 0, fitting.lug.pinHeight, 0), frame.face);
  return {
    fitting,
    heading: fitting.heading,
    lean: Math.acos(clampUnit(dot(frame.stem, place.normal))),
    station: place.station,
    girth: place.girth,
    sideways,
    share: greatest > 0 ? sideways / greatest : 0,
    worst: cases[worst] as PullCase,
  };
}

function result(
  job: Job,
  fitting: Fitting,
  before: Stance,
  stands: boolean,
  c: Candidate,
  at: readonly number[],
  axes: readonly Axis[],
  freedom: StanceFreedom,
  cases: readonly PullCase[],
  bevel: number,
  room: Room,
): StanceResult {
  const [heading, lean] = at as [number, number];
  const moved: Fitting = {
    ...fitting,
    heading,
    ...(freedom.lean ? { stem: { kind: 'lean' as const, angle: lean } } : {}),
    ...((freedom.girth ?? 0) > 0 || (freedom.station ?? 0) > 0
      ? { at: { side: fitting.at.side, station: c.place.station, by: 'girth' as const, value: c.place.girth } }
      : {}),
  };
  const found: Stance = { ...stanceOf(moved, c, cases), ...(freedom.lean ? { lean } : {}) };
  // What stands as it may already is not given up for something that is not better.
  const best = stands && found.sideways >= before.sideways ? before : found;
  const { stops, reason } = whyItStops(best === found ? c : undefined, best, at, axes, cases, bevel, room);
  return { found: true, before, best, stands, stops, reason, saves: best.share <= job.limits.sidewaysShare };
}

function whyItStops(
  c: Candidate | undefined,
  best: Stance,
  at: readonly number[],
  axes: readonly Axis[],
  cases: readonly PullCase[],
  bevel: number,
  room: Room,
): { readonly stops: 'in-plane' | 'balance' | 'limit'; readonly reason: Phrase } {
  if (best.share < IN_PLANE) return { stops: 'in-plane', reason: ['Every pull lies in the plane of the lug.'] };
  if (c === undefined) {
    return {
      stops: 'balance',
      reason: ['It stands as well as it can: nothing within the limits takes less sideways force.'],
    };
  }
  const limits: string[] = [];
  if (Math.abs(localBevel(c.frame, c.place)) > bevel - 0.01) limits.push('the steepest bevel that is cut');
  if (room.room < AGAINST) limits.push(room.what);
  axes.forEach((axis, i) => {
    if (i === 0 || axis.steps === 0 || axis.round) return;
    const room = Math.min((at[i] as number) - axis.from, axis.to - (at[i] as number));
    if (room > 1e-3 * (axis.to - axis.from)) return;
    if (i === 1) limits.push('the lean that the limits leave');
    else limits.push(i === 2 ? 'its reach along the girth' : 'its reach along the ship');
  });
  const pin = toShip(c.frame, 0, best.fitting.lug.pinHeight, 0);
  const sides = cases.map((one) => ({ one, side: dot(pullAt(one, pin), c.frame.face) }));
  const held = sides.filter(({ side }) => Math.abs(side) >= HOLDS * best.sideways);
  const plus = held.find(({ side }) => side > 0);
  const minus = held.find(({ side }) => side < 0);
  if (plus && minus) {
    const [first, second] = plus.one.state <= minus.one.state ? [plus.one, minus.one] : [minus.one, plus.one];
    return {
      stops: 'balance',
      reason: [
        `${capital(nameOf(first))} and ${nameOf(second)} pull to opposite sides with `,
        { newton: best.sideways },
        ' each: what eases one loads the other.',
      ],
    };
  }
  if (limits.length > 0) {
    return {
      stops: 'limit',
      reason: [`Held by ${limits.join(' and ')}; ${nameOf(best.worst)} decides.`],
    };
  }
  return {
    stops: 'balance',
    reason: [`${capital(nameOf(best.worst))} decides, and every change within the limits makes it or another worse.`],
  };
}

const nameOf = ({ state, push }: PullCase): string =>
  state < 0 ? 'the load' : `step ${state + 1}${push === null ? '' : ` under the push “${push}”`}`;

const capital = (words: string): string => `${words.charAt(0).toUpperCase()}${words.slice(1)}`;
