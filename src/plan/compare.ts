import { shellFrom } from '../../geometry/hull/from.ts';
import type { Doubt, Shell } from '../../geometry/hull/shell.ts';
import type { HullSpec } from '../../geometry/hull/spec.ts';
import type { Vec3 } from '../../geometry/math/vec.ts';
import type { Phrase } from '../../geometry/phrase.ts';
import { Refusal } from '../../geometry/refusal.ts';
import { type Overlay, overlay } from '../../geometry/uncertainty/overlay.ts';
import type { Fitting, Job, Uncertain } from '../job/types.ts';
import type { Agreement, Differences, FittingComparison, SourceComparison } from './comparison.ts';
import type { FittingPlan } from './types.ts';

const FIGURES = ['offset', 'footSlope', 'bevel'] as const;
/** ± is read as two standard deviations. */
const SURE = 2;
/** mm and rad. Differences that no tape and no inclinometer tells apart are none. */
const NOTHING: Differences = { offset: 0.5, footSlope: 1e-3, bevel: 1e-3 };

/**
 * Every other source of the job's hull held against the plan, fitting by fitting. `shell`: that of the job's hull.
 * Throws `Refusal` (field `compare[i].hull...`) where a source makes no surface.
 */
export function compareSources(job: Job, fittings: readonly FittingPlan[], shell: Shell): SourceComparison[] {
  return (job.ship.compare ?? []).map(({ name, hull }, index) => {
    const other = otherShell(hull, index);
    const moved = movedShells(job, index);
    return { name, fittings: fittings.map((fitting) => compared(job, name, fitting, shell, other, moved)) };
  });
}

const shells = new WeakMap<HullSpec, Shell>();

function otherShell(hull: HullSpec, index: number): Shell {
  const known = shells.get(hull);
  if (known !== undefined) return known;
  try {
    const shell = shellFrom(hull);
    shells.set(hull, shell);
    return shell;
  } catch (e) {
    if (e instanceof Refusal) throw new Refusal(e.code, `compare[${index}].${e.field}`, e.found, e.expected);
    throw e;
  }
}

/** Both shells with one ± of the job moved by one standard deviation; undefined for the shell that it does not move. */
type Moved = () => { readonly own: Shell | undefined; readonly other: Shell | undefined };

function movedShells(job: Job, index: number): Moved[] {
  const { hull, compare = [] } = job.ship;
  const out: Moved[] = [];
  for (const { leaves } of job.uncertain ?? []) {
    const own = below(leaves, ['ship', 'hull']);
    const other = below(leaves, ['ship', 'compare', index, 'hull']);
    if (own.length === 0 && other.length === 0) continue;
    out.push(() => ({ own: movedShell(hull, own), other: movedShell(compare[index]?.hull, other) }));
  }
  return out;
}

type Leaf = Uncertain['leaves'][number];

const below = (leaves: readonly Leaf[], path: readonly PropertyKey[]): Leaf[] =>
  leaves
    .filter((leaf) => path.every((step, i) => leaf.path[i] === step))
    .map((leaf) => ({ path: leaf.path.slice(path.length), step: leaf.step }));

function movedShell(hull: HullSpec | undefined, leaves: readonly Leaf[]): Shell | undefined {
  // Of a mesh only the list of places follows the fittings.
  if (hull === undefined || leaves.length === 0 || hull.kind === 'mesh') return undefined;
  let moved: unknown = hull;
  for (const { path, step } of leaves) moved = stepped(moved, path, step);
  return shellFrom(moved as HullSpec);
}

function stepped(value: unknown, [key, ...rest]: readonly PropertyKey[], step: number): unknown {
  if (key === undefined) return (value as number) + step;
  if (Array.isArray(value)) return value.map((item, i) => (i === key ? stepped(item, rest, step) : item));
  const fields = value as Record<PropertyKey, unknown>;
  return { ...fields, [key]: stepped(fields[key], rest, step) };
}

function compared(
  job: Job,
  name: string,
  fitting: FittingPlan,
  shell: Shell,
  other: Shell,
  moved: readonly Moved[],
): FittingComparison {
  const { id, input, frame, fit } = fitting;
  const cut = fit[fit.chosen].surface;
  const lay = (p: Shell, q: Shell) => overlay(p, q, frame, input.lug.foot / 2, input.lug.thickness / 2, cut);
  let found: Overlay | undefined;
  let why: Phrase = ['a line of the foot meets no shell'];
  try {
    found = lay(shell, other);
  } catch (e) {
    if (!(e instanceof Refusal)) throw e;
    why = [...e.found, '; expected ', ...e.expected];
  }
  if (found === undefined) {
    return { id, reached: false, words: [`${said(name)} gives no shell under the whole foot: `, ...why, '.'] };
  }
  const variance = { offset: 0, footSlope: 0, bevel: 0 };
  for (const move of moved) {
    try {
      const { own = shell, other: its = other } = move();
      const there = lay(own, its);
      for (const f of FIGURES) variance[f] += there === undefined ? 0 : (there[f] - found[f]) ** 2;
    } catch (e) {
      if (!(e instanceof Refusal)) throw e;
    }
  }
  for (const each of [shell, other]) {
    const own = inLug(each.doubt?.(frame.origin, input.at.side), frame);
    for (const f of FIGURES) variance[f] += own[f] ** 2;
  }
  const errors: Differences = {
    offset: Math.sqrt(variance.offset),
    footSlope: Math.sqrt(variance.footSlope),
    bevel: Math.sqrt(variance.bevel),
  };
  const stated = FIGURES.some((f) => errors[f] > 0);
  const within = FIGURES.every((f) => Math.abs(found[f]) <= Math.max(SURE * errors[f], NOTHING[f]));
  const agreement: Agreement = !stated ? 'unstated' : within ? 'within' : 'beyond';
  const { fitGap, recutGap } = job.limits;
  const on = found.gapOther <= fitGap ? 'tight' : found.gapOther <= recutGap ? 'usable' : 'recut';
  const words = wordsOf(name, found, errors, agreement, on, fitting);
  return { id, reached: true, found, errors, agreement, cut: on, words };
}

/** What a source says of itself at a place, in the directions of the foot. */
function inLug(doubt: Doubt | undefined, { foot, face }: FittingPlan['frame']): Differences {
  if (doubt === undefined) return { offset: 0, footSlope: 0, bevel: 0 };
  const slope = (v: Vec3): number => Math.sqrt(Math.max(0, doubt.slope(v)));
  return { offset: doubt.offset, footSlope: slope(foot), bevel: slope(face) };
}

const said = (name: string): string => JSON.stringify(name);

function wordsOf(
  name: string,
  found: Overlay,
  errors: Differences,
  agreement: Agreement,
  cut: 'tight' | 'usable' | 'recut',
  fitting: FittingPlan,
): Phrase {
  const [first, last] = [found.along[0], found.along[found.along.length - 1]];
  const ends = first === undefined || last === undefined ? [] : endsWords(first.difference, last.difference, fitting);
  return [
    `${said(name)} finds the shell `,
    ...ends,
    ', and ',
    ...bevelWords(found),
    '; the cut as planned would gap ',
    { mm: found.gapOther },
    ' on it',
    cut === 'tight'
      ? ' (tight).'
      : cut === 'usable'
        ? ' (the leg grows by it).'
        : ' (TOO WIDE: the foot must be cut anew).',
    ...agreementWords(found, errors, agreement),
  ];
}

/** Both ends of the foot, in one where they are alike. */
function endsWords(first: number, last: number, fitting: FittingPlan): Phrase {
  if (Math.abs(last - first) < NOTHING.offset) return [...inOrOut((first + last) / 2), ' along the whole foot'];
  return [...inOrOut(last), ` at ${endWords(fitting, 1)}, `, ...inOrOut(first), ` at ${endWords(fitting, -1)}`];
}

function inOrOut(d: number): Phrase {
  if (Math.abs(d) < NOTHING.offset) return ['in the same place'];
  return [{ mm: Math.abs(d) }, d < 0 ? ' farther in' : ' farther out'];
}

/** Where an end of the foot lies: forward or aft where the foot runs so, else outboard or inboard. */
function endWords(
  { frame, input }: { readonly frame: FittingPlan['frame']; readonly input: Fitting },
  end: 1 | -1,
): string {
  const [x, y] = frame.foot;
  if (Math.abs(x) >= Math.SQRT1_2) return end * x > 0 ? 'the forward end' : 'the aft end';
  const outboard = end * y * (input.at.side === 'port' ? 1 : -1);
  if (Math.abs(y) >= 0.5) return outboard > 0 ? 'the outboard end' : 'the inboard end';
  return end * frame.foot[2] > 0 ? 'the upper end' : 'the lower end';
}

function bevelWords({ along }: Overlay): Phrase {
  const middle = along[(along.length - 1) / 2];
  const [own, other] = [middle?.bevelOwn ?? 0, middle?.bevelOther ?? 0];
  const change = Math.abs(other) - Math.abs(own);
  if (Math.abs(other - own) < NOTHING.bevel) return ['asks for the same bevel'];
  if (own * other < 0) return ['asks for a bevel of ', { rad: other }, ' instead of ', { rad: own }];
  return ['asks for a bevel ', { rad: Math.abs(change) }, change > 0 ? ' steeper' : ' flatter'];
}

function agreementWords(found: Overlay, errors: Differences, agreement: Agreement): Phrase {
  if (agreement === 'unstated') {
    return [' Neither source says how sure it is: a ± on what was read would tell whether that is more than chance.'];
  }
  const sure: Phrase = [
    '± ',
    { mm: SURE * errors.offset },
    ' in place, ± ',
    { rad: SURE * errors.bevel, digits: 2 },
    ' in bevel',
  ];
  if (agreement === 'within') return [' Within what the two say of themselves: ', ...sure, '.'];
  const worst = FIGURES.reduce((p, q) => (ratio(found, errors, q) > ratio(found, errors, p) ? q : p));
  const what = { offset: 'place', footSlope: 'slope along the foot', bevel: 'bevel' }[worst];
  return [
    ' MORE than the two say of themselves (',
    ...sure,
    `), most so in ${what}: one of them is wrong, or was not taken at this place. Find out which before steel is cut.`,
  ];
}

const ratio = (found: Overlay, errors: Differences, f: (typeof FIGURES)[number]): number =>
  Math.abs(found[f]) / Math.max(SURE * errors[f], NOTHING[f]);
