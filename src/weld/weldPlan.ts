import type { Phrase } from '../../geometry/phrase.ts';
import { type AngleBand, angleBand, EN_FILLET, NO_THROAT_BELOW } from './bands.ts';
import { type StringerBead, stringerBead } from './bead.ts';
import { type BeadStack, beadStack, type FirstBead, layerCount, sectionArea, type WeldSection } from './beadStack.ts';
import { type CurrentAdvice, currentWindow } from './current.ts';
import { cornerVolume, depositPerElectrode } from './deposit.ts';
import { type Downhill, downhillOn, type Profile } from './fall.ts';
import { layPasses, type Pass, type RootRun, STAGGER_SHARE } from './layers.ts';
import { heatInput, type LeadChoice, leadFor } from './leads.ts';
import { legAlongPlate, legSquare, throatOfLegAlongPlate, type WeldSideSize, weldSide } from './legs.ts';
import type { AwsFilletPosition } from './position.ts';
import { HOLD_POINTS, type HoldName, type HoldPoint, type TestPlate, testPlates } from './qualification.ts';
import { type BeadRun, beadRuns, passBeads, type StackedSide } from './runs.ts';
import { type Schedule, scheduleDives, type WorkItem } from './schedule.ts';
import type { WeldSettings } from './settings.ts';
import { calledLeg, type LegPractice } from './sizes.ts';
import { type CheckInput, inches, type JointSide } from './sourced.ts';
import {
  type CarbonFigures,
  carbonFigures,
  type ElectrodeKind,
  type ElectrodeRuling,
  electrodeRuling,
  type SteelKnowledge,
} from './steel.ts';
import {
  electrodeCheck,
  leastAngleCheck,
  leastLegCheck,
  lengthCheck,
  mostAngleCheck,
  openingCheck,
} from './weldChecks.ts';
import { zLoss } from './zloss.ts';

/** One side of the root line, in the order of s. mm, rad. */
export interface PlannedSide {
  readonly side: JointSide;
  /** fromS < toS; the first begins at 0, each begins where the one before ends. */
  readonly fromS: number;
  readonly toS: number;
  /** Mean along the side. */
  readonly dihedral: number;
  readonly dihedralMin: number;
  readonly dihedralMax: number;
  /** Widest root opening along the side. */
  readonly opening: number;
}

export interface WeldPlanInput {
  readonly sides: readonly PlannedSide[];
  /** mm, leg of the 90 degree fillet with the throat wanted. */
  readonly leg: number;
  readonly fitGap: number;
  readonly recutGap: number;
  /** In the order of welding, covering the root line once. */
  readonly rootRuns: readonly RootRun[];
  /** How high the root line lies. */
  readonly profile: Profile;
  /** mm, longest stretch without a stop. */
  readonly runLength: number;
  readonly lug: { readonly thickness: number; readonly yield: number };
  readonly shell: { readonly thickness: number; readonly yield: number; readonly carbon: SteelKnowledge };
  readonly electrode: { readonly kind: ElectrodeKind; readonly diameter: number; readonly length: number };
  /** Positions met along the root with the length in each. */
  readonly positions: readonly { readonly aws: AwsFilletPosition; readonly length: number }[];
  readonly practice: LegPractice;
  readonly firstBead: FirstBead;
  /** min of bottom time per dive as the user gave it; null where nobody has, then no dives are counted. */
  readonly bottomTime: number | null;
  readonly settings: WeldSettings;
}

export interface PlannedWeldSide extends WeldSideSize {
  readonly side: JointSide;
  readonly length: number;
  readonly dihedral: number;
  readonly band: AngleBand;
  /** mm of throat that does not fuse in a sharp joint and is welded on top (from memory, not verified). */
  readonly zLoss: number;
  /** mm, throat to weld: the wanted one and the Z-loss. */
  readonly builtThroat: number;
  /** mm, leg to weld along the plate, Z-loss included, as it is called up on the job: in whole steps. */
  readonly calledLegAlongPlate: number;
  /** mm, leg square to the shell of the weld with that leg along the plate, gap included. Not rounded a second time. */
  readonly calledLegSquare: number;
  /** mm2, all metal of the section as called up: fillet, Z-loss, what rounding the leg up adds, and what fills the gap. */
  readonly sectionArea: number;
  readonly layers: number;
  readonly beads: number;
  readonly stack: BeadStack;
}

/** A run of one bead in the order of the work. Minutes are bottom time. */
export interface WeldRun extends WorkItem, BeadRun {
  readonly task: 'run';
  /** min of burning arc. */
  readonly arc: number;
  /** Starts and stops to grind: one where each electrode begins, one where the last ends. */
  readonly stops: number;
  /** mm of it that goes downhill more steeply than `STEEP_DEGREES`. */
  readonly downhill: number;
}

export interface WeldHold extends WorkItem {
  readonly task: 'hold';
  readonly hold: HoldName;
}

export interface WeldTotals {
  /** kg in the four sides, in the corners, feathered out beyond them by beads that some sides lack, and together. */
  readonly sidesKg: number;
  readonly cornersKg: number;
  readonly featheredKg: number;
  readonly depositKg: number;
  /** Whole electrodes for the joint; spares and trial beads come on top. */
  readonly electrodes: number;
  readonly arcMin: number;
  readonly changeMin: number;
  readonly grindMin: number;
  readonly cleanMin: number;
  readonly holdMin: number;
  /** Bottom time of the work itself, without what each dive loses. */
  readonly workMin: number;
}

export interface WeldPlan {
  readonly sides: readonly PlannedWeldSide[];
  readonly bead: StringerBead;
  readonly passes: readonly Pass[];
  readonly work: readonly (WeldRun | WeldHold)[];
  readonly totals: WeldTotals;
  /** Over dives; null where no bottom time was given. */
  readonly schedule: Schedule | null;
  readonly steel: { readonly figures: CarbonFigures | null; readonly ruling: ElectrodeRuling };
  readonly current: CurrentAdvice;
  /** At the middle of the current window; null where there is no window. */
  readonly supply: { readonly amperes: number; readonly lead: LeadChoice; readonly heatKjPerMm: number } | null;
  readonly testPlates: readonly TestPlate[];
  readonly holds: readonly HoldPoint[];
  readonly checks: readonly CheckInput[];
  readonly notes: readonly Phrase[];
}

/**
 * What the weld of one fitting takes: sizes, beads, runs in order, metal, time, dives, current, tests, checks.
 * Units mm, N, MPa, rad, kg, min, A, V. A joint outside a rule is planned all the same and fails its check.
 *
 * @throws RangeError for figures nothing can be computed from: a side without length, runs that do not close.
 */
export function planWeld(input: WeldPlanInput): WeldPlan {
  const { settings, electrode } = input;
  const perimeter = perimeterOf(input.sides);
  const { bead, sides, sidesVolume, cornersVolume, metal, perElectrode } = metalOfJoint(input);
  const stacked: readonly StackedSide[] = input.sides.map((side, index) => ({
    side: side.side,
    fromS: side.fromS,
    toS: side.toS,
    stack: (sides[index] as PlannedWeldSide).stack,
  }));
  const corners = input.sides.map((side) => side.fromS);
  const downhill = downhillOn(input.profile);
  const passes = layPasses(input.rootRuns, perimeter, corners, passBeads(stacked, perimeter), {
    stagger: settings.stagger,
    cornerClear: settings.cornerClear,
    longest: input.runLength,
    electrode: perElectrode,
    downhill,
  });
  const runs = beadRuns(stacked, passes, perimeter);
  const work = orderWork(runs, metal, perElectrode, settings, downhill);
  const ruling = electrodeRuling(input.shell.carbon, Math.max(input.shell.yield, input.lug.yield));
  const current = currentWindow(electrode.kind, electrode.diameter);
  return {
    sides,
    bead,
    passes,
    work,
    totals: totalsOf(work, sidesVolume, cornersVolume, settings),
    schedule:
      input.bottomTime === null
        ? null
        : scheduleDives(work, {
            bottomTime: input.bottomTime,
            overhead: settings.diveOverhead,
            restart: settings.grindStop,
          }),
    steel: {
      figures: input.shell.carbon.kind === 'composition' ? carbonFigures(input.shell.carbon.percent) : null,
      ruling,
    },
    current,
    supply: current.kind === 'window' ? supplyAt(current.row.value.amperes, settings) : null,
    testPlates: testPlates(input.positions),
    holds: HOLD_POINTS,
    checks: [
      leastAngleCheck(input.sides),
      mostAngleCheck(input.sides),
      openingCheck(input.sides, input.recutGap),
      leastLegCheck(input.leg, input.lug.thickness, input.shell.thickness, input.practice),
      lengthCheck(input.leg, perimeter),
      electrodeCheck(electrode.kind, ruling),
    ],
    notes: notesOn(input, sides, passes),
  };
}

/**
 * mm, longest run of the root that one electrode lays whichever side it is on: as a run ends at a corner, a side that an electrode lays
 * from end to end sets no bound. Infinity where each does.
 *
 * @throws RangeError for figures nothing can be computed from.
 */
export function rootOfOneElectrode(input: Omit<WeldPlanInput, 'rootRuns'>): number {
  const { sides, perElectrode } = metalOfJoint(input);
  let least = Number.POSITIVE_INFINITY;
  for (const { length, stack } of sides) {
    const laid = perElectrode / (stack.layers[0]?.beads[0]?.area ?? 0);
    if (length > laid) least = Math.min(least, laid);
  }
  return least;
}

/** Sides and corners with their metal, mm3, that of an electrode, and what of it goes along the sides. */
function metalOfJoint(input: Omit<WeldPlanInput, 'rootRuns'>) {
  const { settings, electrode } = input;
  const metal = depositPerElectrode(electrode.diameter, electrode.length, settings.stub, settings.recovery);
  const bead = stringerBead(metal, settings.travel, settings.burn, electrode.diameter, settings.beadWidthRatio);
  const sides = planSides(input, bead);
  const sidesVolume = sides.reduce((sum, side) => sum + side.sectionArea * side.length, 0);
  const cornersVolume = volumeOfCorners(sides);
  // The corners' metal is spread over the runs.
  return { bead, sides, sidesVolume, cornersVolume, metal, perElectrode: metal / (1 + cornersVolume / sidesVolume) };
}

function perimeterOf(sides: readonly PlannedSide[]): number {
  let end = 0;
  for (const side of sides) {
    if (!(side.toS > side.fromS) || Math.abs(side.fromS - end) > SIDES_MEET * side.toS)
      throw new RangeError(`${side.side} must begin at s = ${end} and have a length, got ${side.fromS} to ${side.toS}`);
    end = side.toS;
  }
  return end;
}

/** Round-off between the end of a side and the start of the next, as a share of s. */
const SIDES_MEET = 1e-9;

function planSides(input: Omit<WeldPlanInput, 'rootRuns'>, bead: StringerBead): readonly PlannedWeldSide[] {
  const sized = input.sides.map((side) => {
    const size = weldSide(side.dihedral, input.leg, side.opening, input.fitGap);
    // Where the side's sharpest place is in a sharper band than its mean, it counts.
    const loss = Math.max(zLoss(side.dihedral), zLoss(side.dihedralMin));
    // One call: rods, beads and metal are those of the leg that is called up, and the leg square to the shell goes with it.
    const called = calledLeg(legAlongPlate(size.throat + loss, side.dihedral), input.practice);
    const section: WeldSection = {
      dihedral: side.dihedral,
      throat: throatOfLegAlongPlate(called, side.dihedral),
      opening: size.addedForGap,
    };
    return { side, size, loss, called, section };
  });
  // The same layers all round: a layer is carried through the corners.
  const layers = Math.max(...sized.map(({ section }) => layerCount(section, bead)));
  return sized.map(({ side, size, loss, called, section }) => {
    const stack = beadStack(section, bead, layers, input.firstBead);
    // Field by field: this object is too large for a spread to be cheap.
    return {
      throat: size.throat,
      legAlongPlate: size.legAlongPlate,
      legSquare: size.legSquare,
      addedForGap: size.addedForGap,
      area: size.area,
      side: side.side,
      length: side.toS - side.fromS,
      dihedral: side.dihedral,
      band: angleBand(side.dihedral),
      zLoss: loss,
      builtThroat: size.throat + loss,
      calledLegAlongPlate: called,
      calledLegSquare: legSquare(section.throat, side.dihedral) + size.addedForGap,
      sectionArea: sectionArea(section),
      layers,
      beads: stack.beads,
      stack,
    };
  });
}

/** mm3 in the four corners: each with the mean of its two sides, over a quarter turn. */
function volumeOfCorners(sides: readonly PlannedWeldSide[]): number {
  return sides.reduce((sum, side, index) => {
    const before = sides[(index + sides.length - 1) % sides.length] as PlannedWeldSide;
    const area = (side.sectionArea + before.sectionArea) / 2;
    const leg = (side.calledLegAlongPlate + before.calledLegAlongPlate) / 2;
    return sum + cornerVolume(area, leg, Math.PI / 2);
  }, 0);
}

const MM_PER_METRE = 1000;

function orderWork(
  runs: readonly BeadRun[],
  metal: number,
  alongSides: number,
  settings: WeldSettings,
  downhill: Downhill,
): readonly (WeldRun | WeldHold)[] {
  const work: (WeldRun | WeldHold)[] = [];
  const hold = (name: HoldName) => {
    work.push({
      no: work.length + 1,
      task: 'hold',
      hold: name,
      minutes: settings.hold,
      fromS: 0,
      toS: 0,
      electrodes: 0,
    });
  };
  hold('fit-up');
  let layer = 1;
  for (const run of runs) {
    if (run.layer !== layer && layer === 1) hold('root');
    layer = run.layer;
    // What is feathered out is none of the sides', of which the corners take their share.
    const electrodes = (run.volume - run.feathered) / alongSides + run.feathered / metal;
    const arc = electrodes * settings.burn;
    const stops = Math.ceil(electrodes) + 1;
    // Field by field: a hundred spreads a plan would cost more than all the geometry.
    work.push({
      no: work.length + 1,
      task: 'run',
      pass: run.pass,
      layer: run.layer,
      kind: run.kind,
      bead: run.bead,
      fromS: run.fromS,
      toS: run.toS,
      volume: run.volume,
      feathered: run.feathered,
      downhill: downhill(run.fromS, run.toS),
      electrodes,
      arc,
      stops,
      minutes: arc + electrodes * settings.change + stops * settings.grindStop + cleaning(run, settings),
    });
  }
  hold('finished');
  return work;
}

function cleaning(run: { readonly fromS: number; readonly toS: number }, settings: WeldSettings): number {
  return (Math.abs(run.toS - run.fromS) / MM_PER_METRE) * settings.cleanMetre;
}

function totalsOf(
  work: readonly (WeldRun | WeldHold)[],
  sidesVolume: number,
  cornersVolume: number,
  settings: WeldSettings,
): WeldTotals {
  const runs = work.filter((item) => item.task === 'run');
  const sum = (of: (run: WeldRun) => number) => runs.reduce((total, run) => total + of(run), 0);
  const electrodes = sum((run) => run.electrodes);
  const feathered = sum((run) => run.feathered);
  return {
    sidesKg: sidesVolume * settings.density,
    cornersKg: cornersVolume * settings.density,
    featheredKg: feathered * settings.density,
    depositKg: (sidesVolume + cornersVolume + feathered) * settings.density,
    electrodes: Math.ceil(electrodes),
    arcMin: sum((run) => run.arc),
    changeMin: electrodes * settings.change,
    grindMin: sum((run) => run.stops) * settings.grindStop,
    cleanMin: sum((run) => cleaning(run, settings)),
    holdMin: (work.length - runs.length) * settings.hold,
    workMin: work.reduce((total, item) => total + item.minutes, 0),
  };
}

function supplyAt([least, most]: readonly [number, number], settings: WeldSettings): NonNullable<WeldPlan['supply']> {
  const amperes = (least + most) / 2;
  return {
    amperes,
    lead: leadFor(amperes, settings.leadMetres, settings.leadDrop, settings.leadCelsius),
    heatKjPerMm: heatInput(settings.arcVolts, amperes, settings.travel),
  };
}

function notesOn(input: WeldPlanInput, sides: readonly PlannedWeldSide[], passes: readonly Pass[]): readonly Phrase[] {
  const notes: Phrase[] = [];
  sides.forEach((side, index) => {
    const { dihedralMin, dihedralMax } = input.sides[index] as PlannedSide;
    if (side.zLoss > 0)
      notes.push([
        `${side.side}: `,
        { mm: side.zLoss },
        ' of throat is welded on top for what does not fuse in so sharp a joint (from memory, not verified).',
      ]);
    if (dihedralMin < NO_THROAT_BELOW.value)
      notes.push([
        `${side.side}: no throat is credited below `,
        { rad: NO_THROAT_BELOW.value },
        ' (from memory, not verified).',
      ]);
    if (dihedralMax > EN_FILLET.value.to)
      notes.push([
        `${side.side}: EN 1993-1-8 asks for a test of the strength above `,
        { rad: EN_FILLET.value.to },
        ' (from memory, not verified).',
      ]);
  });
  notes.push(...stopNotes(passes.slice(1), input.settings, input.practice));
  return notes;
}

/** What distances between stops are told in, mm, and the decimals (in inches two more) that show it: one spelling for all of them. */
const STOP_STEP: Readonly<Record<LegPractice, { readonly mm: number; readonly digits: number }>> = {
  metric: { mm: 0.1, digits: 1 },
  us: { mm: inches(0.001), digits: 1 },
};

/** Where the stops of the runs as laid are nearer to each other or to a corner than is wanted; the root's own stay where its order puts them. */
function stopNotes(
  later: readonly Pass[],
  { stagger, cornerClear }: WeldSettings,
  practice: LegPractice,
): readonly Phrase[] {
  const notes: Phrase[] = [];
  const falls = (got: number, asked: number) => got < asked * (1 - SIDES_MEET);
  const { mm: step, digits } = STOP_STEP[practice];
  // What is wanted is told as everywhere; what was reached is not told larger, but for round-off.
  const wanted = (mm: number) => ({ mm, digits });
  const reached = (mm: number) => ({ mm: Math.floor(mm / step + SIDES_MEET) * step, digits });
  const touching = Math.min(...later.map((pass) => pass.stagger));
  const overlap = Math.min(...later.map((pass) => pass.overlap));
  const apart = Math.min(...later.map((pass) => pass.apart));
  const corner = Math.min(...later.map((pass) => pass.cornerDistance));
  if (
    falls(touching, stagger) ||
    falls(overlap, STAGGER_SHARE.beneath * stagger) ||
    falls(apart, STAGGER_SHARE.near * stagger)
  ) {
    const note: Phrase[number][] = [
      'Stops come as near to each other as ',
      reached(touching),
      ' on beads that touch (',
      wanted(stagger),
      ' wanted)',
    ];
    if (Number.isFinite(overlap)) note.push(', ', reached(overlap), ' one over the other with a layer between');
    note.push(
      ', ',
      reached(apart),
      ' on any beads of three layers that follow each other: grind each stop before a bead covers it.',
    );
    notes.push(note);
  }
  if (falls(corner, cornerClear))
    notes.push([
      'Above the root a stop comes as near to a corner of the foot as ',
      reached(corner),
      ', where ',
      wanted(cornerClear),
      ' is wanted.',
    ]);
  return notes;
}
