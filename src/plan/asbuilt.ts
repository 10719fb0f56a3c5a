import {
  alignLoad,
  type InclinometerReadings,
  inclinometerReadings,
  type LoadAlignment,
} from '../../geometry/align/align.ts';
import { type GrindMap, grindMap, WORTH_GRINDING } from '../../geometry/asbuilt/grind.ts';
import { poseFromReadings } from '../../geometry/asbuilt/pose.ts';
import { type RootLine, rootAt, type Side } from '../../geometry/fit/rootline.ts';
import type { ShellPoint } from '../../geometry/hull/shell.ts';
import { type LugFrame, toShip } from '../../geometry/lug/frame.ts';
import { angleBetween, type Vec3 } from '../../geometry/math/vec.ts';
import type { Phrase } from '../../geometry/phrase.ts';
import { Refusal } from '../../geometry/refusal.ts';
import type { AsBuilt, Fitting, Job } from '../job/types.ts';
import { type Check, check } from '../strength/check.ts';
import { BOW_LIES, GOES_TOGETHER } from '../strength/checks-rigging.ts';
import { strengthChecks } from '../strength/strengthChecks.ts';
import { FIT_UP_SOURCE } from '../weld/gapRule.ts';
import { turnByFinder, turnByGaps } from './feltlean.ts';
import { strengthInput } from './strength.ts';

/** What was really built: the record of the fit-up typed back in, held against the limits of the job. mm, N, rad. */
export interface AsBuiltPlan {
  /** The lug's frame as the instrument says it stands. */
  readonly frame: LugFrame;
  readonly readings: InclinometerReadings;
  /** Angle between the stem as planned and as built. */
  readonly offPlanned: number;
  readonly load: LoadAlignment;
  readonly gaps: readonly FeltAt[];
  /** Least grinding that would bring every felt gap within `limits.fitGap`; null with fewer than three gaps off one line. */
  readonly grind: GrindMap | null;
  readonly checks: readonly Check[];
  readonly verdict: Phrase;
  /** What to read again, and what exactly must be ground off, and where; empty where nothing must. */
  readonly orders: readonly Phrase[];
}

export interface FeltAt {
  readonly s: number;
  readonly side: Side;
  readonly gap: number;
  /** Opening that the plan promised there. */
  readonly planned: number;
}

/** Throws `Refusal` (field `asBuilt...`) for readings that no plate can show, or a gap off the root. */
export function planAsBuilt(
  job: Job,
  fitting: Fitting,
  asBuilt: AsBuilt,
  planned: { frame: LugFrame; anchor: ShellPoint; root: RootLine; openingAt: (s: number) => number },
  up: Vec3,
): AsBuiltPlan {
  const { root, anchor } = planned;
  const frame = poseFromReadings(planned.frame, up, asBuilt);
  if (!frame) {
    throw new Refusal(
      'as-built-readings',
      'asBuilt',
      [
        'a face ',
        { rad: asBuilt.faceLean ?? 0 },
        ' from plumb with a foot ',
        { rad: asBuilt.footRise ?? 0 },
        ' from level',
      ],
      ['readings that one plate can show together'],
    );
  }
  const gaps = asBuilt.gaps.map((g, i): FeltAt => {
    if (g.s < 0 || g.s > root.perimeter) {
      throw new Refusal(
        'as-built-readings',
        `asBuilt.gaps[${i}].s`,
        [{ mm: g.s }],
        ['between ', { mm: 0 }, ' and ', { mm: root.perimeter }],
      );
    }
    return { s: g.s, side: rootAt(root, g.s).side, gap: g.gap, planned: planned.openingAt(g.s) };
  });
  const load = alignLoad(frame, fitting.lug.pinHeight, fitting.load, fitting.load.force);
  if (!load) throw new Refusal('load-at-pin', 'load.toward', ['the pin centre itself'], ['a point away from it']);
  const grind =
    grindMap(
      gaps.map((g) => ({ ...rootAt(root, g.s), gap: g.gap })),
      job.limits.fitGap,
    ) ?? null;
  const pin = toShip(frame, 0, fitting.lug.pinHeight, 0);
  const strength = strengthChecks(strengthInput(job, fitting, anchor, frame, pin, root, load, up));
  const checks = [
    ...gapCheck(job, gaps),
    sidewaysCheck(job, load),
    strengthCheck(strength.checks),
    ...clearanceCheck(strength.checks),
  ];
  return {
    frame,
    readings: inclinometerReadings(frame, up),
    offPlanned: angleBetween(frame.stem, planned.frame.stem),
    load,
    gaps,
    grind,
    checks,
    verdict: verdictOf(job, gaps, checks),
    orders: [...quarrelOf(asBuilt, planned, frame, gaps, fitting.lug.thickness), ...ordersOf(job, gaps, grind)],
  };
}

function gapCheck(job: Job, gaps: readonly FeltAt[]): Check[] {
  if (gaps.length === 0) return [];
  const widest = gaps.reduce((p, q) => (q.gap > p.gap ? q : p));
  return [
    check({
      id: 'as-built-gap',
      title: 'Widest gap felt at the root, as built',
      demand: widest.gap,
      limit: job.limits.recutGap,
      unit: 'mm',
      basis: 'trade',
      source: `${FIT_UP_SOURCE}: over 3/16 in (4.8 mm) a gap is not accepted`,
      standing: 'source',
      formula: 'widest felt gap <= gap that a leg may make up',
      terms: [
        { symbol: 'g', name: 'widest gap by feeler gauge', value: widest.gap, unit: 'mm' },
        { symbol: 's', name: 'where, along the root', value: widest.s, unit: 'mm' },
        { symbol: 'g_plan', name: 'opening the plan promised there', value: widest.planned, unit: 'mm' },
        {
          symbol: 'g_recut',
          name: 'largest gap that a leg may make up',
          value: job.limits.recutGap,
          unit: 'mm',
        },
      ],
      remedy: [
        'Set the lug in anew, with what is said to come off the foot ground away first (dive list, calculation and report say where), or cut a new foot.',
      ],
    }),
  ];
}

function sidewaysCheck(job: Job, load: LoadAlignment): Check {
  return check({
    id: 'as-built-sideways',
    title: 'Share of the pull across the plate as it stands',
    demand: load.sidewaysShare,
    limit: job.limits.sidewaysShare,
    unit: 'share',
    basis: 'trade',
    source:
      'API RP 2A-WSD: lifting lugs are designed for a side force of 5 % of the static sling load at the pin hole, square to the plate (as given in a textbook on offshore structures)',
    standing: 'source',
    formula: "|d . C'| <= share that the lug is designed for",
    terms: [
      {
        symbol: "d.C'",
        name: 'sine of the angle between load line and plate as built',
        value: load.sidewaysShare,
        unit: 'share',
      },
      { symbol: 'F_s', name: 'sideways force at the pin', value: Math.abs(load.sideways), unit: 'N' },
    ],
    remedy: ['Set the lug to its planned readings, or have the engineer accept the side force that is left.'],
  });
}

const tightest = (checks: readonly Check[]): Check => checks.reduce((p, q) => (q.ratio > p.ratio ? q : p));

const asItStands = (what: string, { title }: Check): string =>
  `${what} as it stands: ${title.charAt(0).toLowerCase()}${title.slice(1)}`;

/** Whether the parts go together no way of standing changes: the plan's own checks tell it. */
function strengthCheck(checks: readonly Check[]): Check {
  const worst = tightest(checks.filter(({ id }) => !GOES_TOGETHER.has(id) && !BOW_LIES.has(id)));
  return check({
    id: 'as-built-strength',
    title: asItStands('Strength', worst),
    demand: worst.ratio,
    limit: 1,
    unit: 'share',
    basis: worst.basis,
    source: worst.source,
    standing: worst.standing,
    screening: worst.screening,
    formula: 'greatest use of any strength check, with the pull as it meets the lug that was built <= 1',
    terms: worst.terms,
    remedy: worst.remedy,
  });
}

/** Room for the bow goes with the way the pull meets the lug as it stands. */
function clearanceCheck(checks: readonly Check[]): Check[] {
  const rooms = checks.filter(({ id }) => BOW_LIES.has(id));
  if (rooms.length === 0) return [];
  const worst = tightest(rooms);
  return [check({ ...worst, id: 'as-built-clearance', title: asItStands('Shackle', worst) })];
}

/** rad. Gaps and angle finder that differ by more cannot both be right: a choice. */
const DISAGREE = Math.PI / 180;
/** mm. What a feeler gauge can be off across the foot: a choice. A thin plate tells its lean no nearer. */
const FELT = 0.3;

/** Where the gaps mean another lean, or another rise of the foot, than the angle finder showed. */
function quarrelOf(
  read: AsBuilt,
  planned: { frame: LugFrame; root: RootLine },
  frame: LugFrame,
  gaps: readonly FeltAt[],
  thickness: number,
): Phrase[] {
  const felt = turnByGaps(planned.root, planned.frame, gaps);
  if (felt === undefined) return [];
  const shown = turnByFinder(planned.frame, frame);
  const said = (what: string, off: number): Phrase => [
    `Gaps and angle finder disagree by `,
    { rad: off },
    ` on ${what} (told from `,
    { rad: DISAGREE },
    ' on, a choice): read both again. If both stand, the foot or the shell is not as planned: measure them before the root is welded.',
  ];
  const [face, foot] = [Math.abs(felt.face - shown.face), Math.abs(felt.foot - shown.foot)];
  return [
    ...(read.faceLean !== undefined && face > Math.max(DISAGREE, Math.atan(FELT / thickness))
      ? [said('how the face leans', face)]
      : []),
    ...(read.footRise !== undefined && foot > DISAGREE ? [said('how the foot rises', foot)] : []),
  ];
}

function verdictOf(job: Job, gaps: readonly FeltAt[], checks: readonly Check[]): Phrase {
  const failed = checks.filter((c) => !c.pass);
  if (failed.length > 0)
    return ['Not within limits as it stands: ', failed.map((c) => c.title.toLowerCase()).join('; '), '.'];
  const wide = gaps.filter((g) => g.gap > job.limits.fitGap);
  if (wide.length > 0) {
    return [
      'Within limits; at ',
      { count: wide.length },
      ' of ',
      { count: gaps.length },
      ' places the leg must grow by the gap.',
    ];
  }
  return gaps.length > 0
    ? ['Within limits as it stands; every gap is tight.']
    : ['Within limits by its readings; no gap was felt.'];
}

function ordersOf(job: Job, gaps: readonly FeltAt[], grind: GrindMap | null): Phrase[] {
  if (gaps.every((g) => g.gap <= job.limits.fitGap)) return [];
  if (!grind) {
    return [['Feel the gap at three places or more, not all on one side: then what to grind can be said.']];
  }
  if (grind.reseatOnly) return [['Nothing need come off: set the lug in anew until it bears, and every gap is tight.']];
  return grind.spots.flatMap((spot, i): Phrase[] => {
    const g = gaps[i] as FeltAt;
    if (spot.grind < WORTH_GRINDING) return [];
    return [
      [
        'Grind ',
        { mm: spot.grind, digits: 1 },
        ' off the foot at ',
        { mm: g.s, digits: 0 },
        ` along the root (${g.side}), running out to the readings next to it.`,
      ],
    ];
  });
}
