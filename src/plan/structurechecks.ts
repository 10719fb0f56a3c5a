import type { RootLine } from '../../geometry/fit/rootline.ts';
import type { Shell, ShellPoint } from '../../geometry/hull/shell.ts';
import type { LugFrame } from '../../geometry/lug/frame.ts';
import { dot, type Vec3 } from '../../geometry/math/vec.ts';
import { Refusal } from '../../geometry/refusal.ts';
import type { Fitting, Job } from '../job/types.ts';
import { type Check, check } from '../strength/check.ts';
import { footDistance, toeReach, type WeldedSide } from './footroom.ts';
import { type Behind, behindAt, tracesOn } from './structure.ts';

/** A welded foot on the shell, as far as what is drawn on the shell and behind it has to know it. */
export interface StandingFoot {
  readonly fitting: Fitting;
  readonly anchor: ShellPoint;
  readonly frame: LugFrame;
  readonly root: RootLine;
  /** The weld as planned, in the order of the root; without it what a gap adds to the leg is not counted. */
  readonly weld?: { readonly sides: readonly WeldedSide[] };
}

/**
 * The foot against the ship's structure: clear of every keep-clear zone, clear of the seams, over the member that it is asked to stand
 * over. Only what the job knows of is looked at; a job without structure has none of these checks. mm. Throws `Refusal` (field `over`)
 * where a member is asked for and nobody says where one is.
 */
export function structureChecks(job: Job, shell: Shell, foot: StandingFoot): Check[] {
  const zone = nearest(job, shell, foot, 'keep-clear');
  const seam = nearest(job, shell, foot, 'seam');
  const member = memberUnder(job, foot);
  return [
    ...(zone === undefined ? [] : [zoneCheck(zone)]),
    ...(seam === undefined ? [] : [seamCheck(seam)]),
    ...(member === undefined ? [] : [memberCheck(member)]),
  ];
}

/** What of the traces comes nearest to the weld, counted by how much of the room that it asks for is there. mm. */
interface Nearest {
  readonly name: string;
  /** Round its line: the zone's radius, or the room that the job asks for beside a seam. */
  readonly room: number;
  /** From the root to the weld's toe, and whether what a gap adds is in it. */
  readonly toe: number;
  readonly gaps: boolean;
  /** From its line to the root. */
  readonly distance: number;
}

function nearest(job: Job, shell: Shell, foot: StandingFoot, kind: 'keep-clear' | 'seam'): Nearest | undefined {
  const { fitting, frame, root, weld } = foot;
  const traces = tracesOn(shell, job.ship.structure).traces.filter((t) => t.kind === kind && t.pieces.length > 0);
  if (traces.length === 0) return undefined;
  const toe = toeReach(root, frame, fitting.weld.leg, job.display, weld?.sides);
  let worst: Nearest | undefined;
  for (const trace of traces) {
    const room = kind === 'seam' ? (job.limits.seamClear ?? 0) : trace.radius;
    const enough = worst === undefined ? undefined : ((room + toe) / (worst.room + toe)) * worst.distance;
    const distance = footDistance(root, frame, fitting.lug, trace, enough);
    if (worst === undefined || (room + toe) * worst.distance > (worst.room + toe) * distance) {
      worst = { name: trace.name, room, toe, gaps: weld !== undefined, distance };
    }
  }
  return worst;
}

/** The leg is called up in whole steps: the toe lies there, and not where the bare figure would put it. */
const toeName = (gaps: boolean): string =>
  `from the root to the toe on the shell, with the leg as called up${gaps ? ', at most' : '; a gap adds to it'}`;

function zoneCheck({ name, room, toe, gaps, distance }: Nearest): Check {
  return check({
    id: 'keep-clear',
    title: 'Weld clear of the zones where nothing may be welded',
    demand: room + toe,
    limit: distance,
    unit: 'mm',
    basis: 'trade',
    source: 'Zones that the job keeps clear of any weld; plain geometry',
    standing: 'choice',
    formula: 'r + z <= d',
    tex: 'r + z \\le d',
    terms: [
      { symbol: 'r', name: `radius or half breadth of “${name}”`, value: room, unit: 'mm' },
      { symbol: 'z', name: toeName(gaps), value: toe, unit: 'mm' },
      { symbol: 'd', name: `from the middle of “${name}” to the root, straight`, value: distance, unit: 'mm' },
    ],
    remedy: moveOff(name, room + toe - distance),
  });
}

function seamCheck({ name, room, toe, gaps, distance }: Nearest): Check {
  return check({
    id: 'seam-clear',
    title: 'Weld clear of the seams of the plating',
    demand: room + toe,
    limit: distance,
    unit: 'mm',
    basis: 'trade',
    source: 'common practice, no source: a new weld keeps off an old one; class may ask for more',
    standing: 'common-practice',
    formula: 'x + z <= d',
    tex: 'x + z \\le d',
    terms: [
      { symbol: 'x', name: 'room asked for between toe and seam', value: room, unit: 'mm' },
      { symbol: 'z', name: toeName(gaps), value: toe, unit: 'mm' },
      { symbol: 'd', name: `from the seam “${name}” to the root, straight`, value: distance, unit: 'mm' },
    ],
    remedy: moveOff(name, room + toe - distance),
  });
}

const moveOff = (name: string, by: number): Check['remedy'] =>
  by > 0
    ? ['Move the lug ', { mm: by, digits: 0, bound: 'least' }, ` or more away from “${name}”, or turn its foot.`]
    : [];

/** The nearest member of the kind that a foot is asked to stand over. mm, signed along the ship or outward along the girth. */
export interface MemberUnder {
  readonly member: 'frame' | 'longitudinal';
  /** From the stem to the member. */
  readonly offset: number;
  /** How far the foot reaches on that side of the stem. */
  readonly reach: number;
}

/** Undefined where no member is asked for. Throws `Refusal` (field `over`) where one is and it is not known where members are. */
export function memberUnder(job: Job, { fitting, anchor, root }: StandingFoot): MemberUnder | undefined {
  const { over } = fitting;
  if (over === undefined) return undefined;
  const offset = offsetTo(over, behindAt(job, fitting, anchor));
  if (offset === undefined) {
    const where =
      over === 'frame'
        ? 'ship.structure.frames or behind.fromFrame'
        : 'ship.structure.longitudinals or behind.fromLongitudinal';
    throw new Refusal(
      'member-unknown',
      'over',
      [`"${over}", and no ${over} is known near by`],
      [`${where} to say where one is`],
    );
  }
  const axis: Vec3 = over === 'frame' ? [1, 0, 0] : anchor.tGirth;
  const at = dot(anchor.position, axis);
  let reach = 0;
  for (let k = 0; k < root.count; k++) {
    const [x, y, z] = [3 * k, 3 * k + 1, 3 * k + 2].map((i) => root.position[i] as number) as [number, number, number];
    const out = x * axis[0] + y * axis[1] + z * axis[2] - at;
    reach = Math.max(reach, offset < 0 ? -out : out);
  }
  return { member: over, offset, reach };
}

/** From a place to the nearest member, mm, signed; undefined where that is not known. */
export function offsetTo(member: 'frame' | 'longitudinal', behind: Behind): number | undefined {
  const from = member === 'frame' ? behind.fromFrame : behind.fromLongitudinal;
  const spacing = member === 'frame' ? behind.frameSpacing : behind.longitudinalSpacing;
  if (from === undefined) return undefined;
  return from <= spacing - from ? -from : spacing - from;
}

function memberCheck({ member, offset, reach }: MemberUnder): Check {
  const along = member === 'frame' ? 'along the ship' : 'round the girth';
  const distance = Math.abs(offset);
  const way = member === 'frame' ? (offset > 0 ? 'forward' : 'aft') : offset > 0 ? 'outward' : 'inward';
  return check({
    id: 'over-member',
    title: `Foot over a ${member}`,
    demand: distance,
    limit: reach,
    unit: 'mm',
    basis: 'trade',
    source: 'Asked for in the job; a lug is best set over a member: common practice, no source',
    standing: 'choice',
    formula: 'd <= l',
    tex: 'd \\le l',
    terms: [
      { symbol: 'd', name: `from the stem to the nearest ${member}, ${along}`, value: distance, unit: 'mm' },
      { symbol: 'l', name: `reach of the foot from the stem, ${along}`, value: reach, unit: 'mm' },
    ],
    remedy:
      distance > reach
        ? ['Move the lug ', { mm: distance - reach, digits: 0, bound: 'least' }, ` or more ${way}, or turn its foot.`]
        : [],
  });
}
