import { frameAt, leanStem } from '../../../geometry/align/stem.ts';
import { bevelSchedule, footField } from '../../../geometry/fit/footfield.ts';
import type { Shell, ShellPoint } from '../../../geometry/hull/shell.ts';
import { headingDirection, type LugFrame, lugFrame, toShip } from '../../../geometry/lug/frame.ts';
import { clampUnit, dot, type Vec3 } from '../../../geometry/math/vec.ts';
import type { Phrase } from '../../../geometry/phrase.ts';
import { Refusal } from '../../../geometry/refusal.ts';
import type { Fitting, Job } from '../../job/types.ts';
import { type PullCase, pullAt, worstOf } from './pulls.ts';
import { chosenGap } from './quickfit.ts';
import { type Axis, globalLeast } from './search.ts';
import { clearOfSolids } from './solids.ts';

/** What may be changed. Lengths mm either way from where the lug stands; 0 or absent leaves it there. */
export interface StanceFreedom {
  readonly heading: boolean;
  readonly lean: boolean;
  readonly girth?: number;
  readonly station?: number;
}

/** One way to stand, and what it comes to. */
export interface Stance {
  /** The fitting so placed and turned, ready to be planned. */
  readonly fitting: Fitting;
  /** rad */
  readonly heading: number;
  /** Stem against the shell's normal, rad, about the heading; for a stem that follows a rule, what the rule comes to. */
  readonly lean: number;
  readonly station: number;
  readonly girth: number;
  /** N: greatest sideways force over all pulls, and the pull and its case there. */
  readonly sideways: number;
  readonly share: number;
  readonly worst: PullCase;
}

export type StanceResult =
  | {
      readonly found: true;
      readonly before: Stance;
      readonly best: Stance;
      /** What keeps it from being better. */
      readonly stops: 'in-plane' | 'balance' | 'limit';
      readonly reason: Phrase;
      /** True where the best is within the share of sideways pull that the job allows. */
      readonly saves: boolean;
    }
  | { readonly found: false; readonly reason: Phrase };

/** Steps of the first look: over half a turn of heading, over the lean, and each way along the shell. */
const HEADING_STEPS = 45;
const LEAN_STEPS = 22;
const PLACE_STEPS = 4;
const COARSE = { heading: 24, lean: 12 } as const;
/** Places that are closed in on, and so many of them that are tried in full. */
const SEEDS = 10;
/** A sideways share below this is none. */
const IN_PLANE = 1e-3;
/** Of stances that differ by less than this share of the greatest pull, the one nearest to where the lug stands and flattest in its cut. */
const ALIKE = 2e-4;
const NEARER = 2e-5;
/** Cases within this of the worst hold the stance where it is. */
const HOLDS = 0.995;

interface Candidate {
  readonly place: ShellPoint;
  readonly frame: LugFrame;
}

/**
 * The heading, lean and place of one lug that make the greatest sideways force over all its pulls least, within the limits of the job:
 * stem to shell, bevel, gap, keep-clear solids, and the data of the hull. Looked for everywhere, not from where the lug stands. Pulls as
 * in `PullCase`. N, mm, rad.
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
  const most = Math.min(job.limits.bevel, Math.PI / 2 - job.limits.stemToShell);
  const moves = (freedom.girth ?? 0) > 0 || (freedom.station ?? 0) > 0;
  const turned = freedom.heading ? (moves ? COARSE.heading : HEADING_STEPS) : 0;
  const leans = freedom.lean ? (moves ? COARSE.lean : LEAN_STEPS) : 0;
  const axes: Axis[] = [
    freedom.heading
      ? { from: -Math.PI / 2, to: Math.PI / 2, steps: turned, round: true }
      : { from: fitting.heading, to: fitting.heading, steps: 0, round: false },
    freedom.lean ? { from: -most, to: most, steps: leans, round: false } : { from: 0, to: 0, steps: 0, round: false },
    around(girth, freedom.girth ?? 0),
    around(station, freedom.station ?? 0),
  ];
  const places = new Map<string, ShellPoint | undefined>();
  const placeAt = (x: number, g: number): ShellPoint | undefined => {
    const key = `${x} ${g}`;
    if (places.has(key)) return places.get(key);
    const place = attempt(() => shell.pointAt(x, g, fitting.at.side));
    places.set(key, place);
    return place;
  };
  const candidate = (at: readonly number[], bevel: number): Candidate | undefined => {
    const [h, lean, g, x] = at as [number, number, number, number];
    const place = placeAt(x, g);
    if (place === undefined) return undefined;
    const frame = freedom.lean
      ? leant(place, h, lean)
      : attempt(() => frameAt(place, h, fitting.stem, fitting.load, up, job.limits.stemToShell));
    if (frame === undefined) return undefined;
    return Math.abs(localBevel(frame, place)) <= bevel && clearOfSolids(job, fitting, frame)
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
  for (let tightened = 0; tightened < 4; tightened++) {
    const limit = bevel;
    const cost = (at: readonly number[]): number => {
      const found = candidate(at, limit);
      if (found === undefined) return Number.POSITIVE_INFINITY;
      const { frame } = found;
      const { sideways, greatest } = worst(toShip(frame, 0, fitting.lug.pinHeight, 0), frame.face);
      return Math.max(sideways, ALIKE * greatest) + NEARER * greatest * changeOf(at, found);
    };
    const found = globalLeast(axes, cost, SEEDS);
    let over = 0;
    for (const { at } of found) {
      const c = candidate(at, limit) as Candidate;
      const foot = footFits(job, fitting, shell, c.frame);
      if (foot.fits) return result(job, fitting, before, c, at, axes, freedom, cases, bevel);
      over = Math.max(over, foot.bevelOver);
    }
    if (!(over > 0)) break;
    bevel -= over + 1e-4;
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

function attempt<T>(make: () => T): T | undefined {
  try {
    return make();
  } catch (e) {
    if (e instanceof Refusal) return undefined;
    throw e;
  }
}

/** The foot as it would be cut: within the hull's data, its bevel within the limit, its gap one that a weld makes up. */
function footFits(
  job: Job,
  fitting: Fitting,
  shell: Shell,
  frame: LugFrame,
): { readonly fits: boolean; readonly bevelOver: number } {
  const field = attempt(() => footField(shell, frame, fitting.lug.foot, fitting.lug.thickness));
  if (field === undefined) return { fits: false, bevelOver: 0 };
  const { min, max } = bevelSchedule(field, fitting.lug.foot);
  const bevelOver = Math.max(max, -min) - job.limits.bevel;
  const gap = chosenGap(field, shell, fitting.cut, job.limits.fitGap);
  return { fits: bevelOver <= 1e-9 && gap <= job.limits.recutGap, bevelOver };
}

/** How a lug stands as the job has it. Throws `Refusal` as planning it would. */
export function stanceNow(job: Job, fitting: Fitting, shell: Shell, up: Vec3, cases: readonly PullCase[]): Stance {
  const { at } = fitting;
  const girth = at.by === 'girth' ? at.value : shell.girthAt(at.station, at.by, at.value);
  const place = shell.pointAt(at.station, girth, at.side);
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
  c: Candidate,
  at: readonly number[],
  axes: readonly Axis[],
  freedom: StanceFreedom,
  cases: readonly PullCase[],
  bevel: number,
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
  // What stands already is not given up for something that is not better.
  const best = found.sideways < before.sideways ? found : before;
  const { stops, reason } = whyItStops(best === found ? c : undefined, best, at, axes, cases, bevel);
  return { found: true, before, best, stops, reason, saves: best.share <= job.limits.sidewaysShare };
}

function whyItStops(
  c: Candidate | undefined,
  best: Stance,
  at: readonly number[],
  axes: readonly Axis[],
  cases: readonly PullCase[],
  bevel: number,
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
    return {
      stops: 'balance',
      reason: [
        `${nameOf(plus.one)} and ${nameOf(minus.one)} pull to opposite sides with `,
        { newton: best.sideways },
        ' each: what eases one loads the other.',
      ],
    };
  }
  if (limits.length > 0) {
    return {
      stops: 'limit',
      reason: [`Held by ${limits.join(' and ')}; ${nameOf(best.worst).toLowerCase()} decides.`],
    };
  }
  return {
    stops: 'balance',
    reason: [`${nameOf(best.worst)} decides, and every change within the limits makes it or another worse.`],
  };
}

const nameOf = ({ state, push }: PullCase): string =>
  state < 0 ? 'The load' : `Step ${state + 1}${push === null ? '' : ` under ${push}`}`;
