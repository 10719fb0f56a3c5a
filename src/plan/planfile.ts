import type { CutFit } from '../../geometry/fit/cuts.ts';
import type { Side } from '../../geometry/fit/rootline.ts';
import type { Phrase } from '../../geometry/phrase.ts';
import { showPhrase } from '../job/show.ts';
import type { Assumption, Display, Job } from '../job/types.ts';
import type { AsBuiltPlan } from './asbuilt.ts';
import { compareFile } from './comparefile.ts';
import { checkFile, degrees, finite, kilonewtons, vector } from './filefigures.ts';
import { liftFile } from './liftfile.ts';
import { strengthFile } from './strengthfile.ts';
import type { FittingPlan, JointPoint, Plan, RootSpot } from './types.ts';
import { uncertaintyFile } from './uncertaintyfile.ts';
import { weldFile } from './weldfile.ts';

/*
 * The plan file: what other programs read. The unit of a number ends its key (Mm, Deg, Kn, Kg, Min); vectors without one
 * are unit vectors in ship axes. No number is ever NaN or infinite; null stands only where a figure does not exist.
 */

/** @returns the plan as it is written to a file; `JSON.stringify` of it is the plan file. */
export function planFile(plan: Plan) {
  const display = plan.job.display;
  return {
    format: 'lugwright.plan' as const,
    version: 1 as const,
    title: plan.job.title,
    pass: plan.pass,
    caution: 'A planning aid: every figure is to be checked by a competent engineer.',
    up: vector(plan.up),
    trimDeg: degrees(plan.trim),
    fittings: plan.fittings.map((fitting) => fittingFile(fitting, plan.job)),
    lift: plan.lift === null ? null : liftFile(plan.lift, plan.offers ?? [], display),
    assumptions: plan.assumptions.map(({ path, value, reason, standing }: Assumption) => ({
      path,
      value,
      reason,
      standing,
    })),
    hullNotes: plan.hullNotes.map((note) => showPhrase(note, display)),
    ...(plan.compare.length === 0 ? {} : { compare: compareFile(plan.compare, display) }),
    ...(plan.uncertainty === undefined ? {} : { uncertainty: uncertaintyFile(plan.uncertainty) }),
  };
}

export type PlanFile = ReturnType<typeof planFile>;

function fittingFile(fitting: FittingPlan, job: Job) {
  const { display } = job;
  const { anchor, frame, bevel, readings, load, body } = fitting;
  return {
    id: fitting.id,
    pass: fitting.pass,
    anchorMm: vector(anchor.position),
    hullNormal: vector(anchor.normal),
    frame: { foot: vector(frame.foot), stem: vector(frame.stem), face: vector(frame.face) },
    pinMm: vector(fitting.pin),
    slopeDeg: degrees(fitting.slope),
    bevel: {
      minDeg: degrees(bevel.min),
      maxDeg: degrees(bevel.max),
      schedule: bevel.schedule.map((at) => ({
        aMm: finite(at.a),
        faceMinusMm: finite(at.faceMinus),
        facePlusMm: finite(at.facePlus),
        bevelDeg: degrees(at.bevel),
      })),
    },
    fit: fitFile(fitting, display),
    joint: jointFile(fitting),
    readings: {
      stemFromPlumbDeg: degrees(readings.stemFromPlumb),
      faceFromPlumbDeg: degrees(readings.faceFromPlumb),
      footFromLevelDeg: degrees(readings.footFromLevel),
      higherEnd: readings.higherEnd,
    },
    load: {
      offPlaneDeg: degrees(load.offPlane),
      inPlaneDeg: degrees(load.inPlane),
      alongStemKn: kilonewtons(load.alongStem),
      alongFootKn: kilonewtons(load.alongFoot),
      sidewaysKn: kilonewtons(load.sideways),
      forceKn: kilonewtons(load.force),
      direction: vector(load.direction),
      corrections: {
        headingDeg: correction(fitting.corrections.heading),
        leanDeg: correction(fitting.corrections.lean),
      },
    },
    sequence: sequenceFile(fitting),
    strength: strengthFile(fitting, display),
    weld: weldFile(fitting, job),
    lug: {
      massKg: finite(body.mass),
      massInWaterKg: finite(body.massInWater),
      volumeMm3: finite(body.volume),
      centreMm: vector(body.centre),
    },
    ...(fitting.asBuilt && { asBuilt: asBuiltFile(fitting.asBuilt, display) }),
    checks: fitting.checks.map((check) => checkFile(check, display)),
  };
}

/** Only where the job says what was built. */
function asBuiltFile(asBuilt: AsBuiltPlan, display: Display) {
  const { frame, readings, load, grind } = asBuilt;
  return {
    frame: { foot: vector(frame.foot), stem: vector(frame.stem), face: vector(frame.face) },
    readings: {
      stemFromPlumbDeg: degrees(readings.stemFromPlumb),
      faceFromPlumbDeg: degrees(readings.faceFromPlumb),
      footFromLevelDeg: degrees(readings.footFromLevel),
    },
    offPlannedDeg: degrees(asBuilt.offPlanned),
    load: {
      offPlaneDeg: degrees(load.offPlane),
      inPlaneDeg: degrees(load.inPlane),
      sidewaysKn: kilonewtons(load.sideways),
    },
    gaps: asBuilt.gaps.map((g, i) => ({
      sMm: finite(g.s),
      side: g.side,
      gapMm: finite(g.gap),
      plannedMm: finite(g.planned),
      ...(grind && { grindMm: finite(grind.spots[i]?.grind ?? 0), leftMm: finite(grind.spots[i]?.left ?? 0) }),
    })),
    verdict: showPhrase(asBuilt.verdict, display),
    orders: asBuilt.orders.map((order) => showPhrase(order, display)),
  };
}

function fitFile({ fit }: FittingPlan, display: Display) {
  const { straight, faceted, scribed, square } = fit;
  const text = (phrase: Phrase) => showPhrase(phrase, display);
  return {
    squareFoot: gaps(square),
    straightCut: {
      ...gaps(straight),
      bevelDeg: degrees(straight.bevel),
      footSlopeDeg: degrees(straight.footSlope),
      p0Mm: finite(straight.p0),
    },
    facetedCut: {
      ...gaps(faceted),
      withinTolerance: faceted.withinTolerance,
      facets: faceted.facets.map((facet) => ({
        fromAMm: finite(facet.fromA),
        toAMm: finite(facet.toA),
        bevelDeg: degrees(facet.bevel),
        footSlopeDeg: degrees(facet.footSlope),
        p0Mm: finite(facet.p0),
        maxGapMm: finite(facet.maxGap),
      })),
    },
    scribedCut: { ...gaps(scribed), raisedMm: finite(scribed.raised) },
    toleranceMm: finite(fit.tolerance),
    chosen: fit.chosen,
    grade: fit.grade,
    verdict: text(fit.verdict),
    remedies: fit.remedies.map(text),
  };
}

function gaps(cut: CutFit) {
  return { maxGapMm: finite(cut.maxGap), maxRootOpeningMm: finite(cut.maxRootOpening) };
}

function jointFile({ joint }: FittingPlan) {
  return {
    perimeterMm: finite(joint.perimeter),
    dihedral: { minDeg: degrees(joint.dihedral.min), maxDeg: degrees(joint.dihedral.max) },
    lowest: spot(joint.lowest),
    highest: spot(joint.highest),
    level: joint.level,
    points: joint.points.map((point) => pointFile(point)),
  };
}

function pointFile(point: JointPoint) {
  return {
    sMm: finite(point.s),
    side: point.side,
    aMm: finite(point.a),
    cMm: finite(point.c),
    positionMm: vector(point.position),
    heightMm: finite(point.height),
    dihedralDeg: degrees(point.dihedral),
    axisInclinationDeg: degrees(point.axisInclination),
    faceRotationDeg: point.faceRotation === null ? null : degrees(point.faceRotation),
    position: { aws: point.weldingPosition.aws, iso: point.weldingPosition.iso },
    rootOpeningMm: finite(point.opening),
    rootOpeningSquareFootMm: finite(point.openingSquare),
  };
}

function spot(at: RootSpot) {
  return { sMm: finite(at.s), side: at.side, heightMm: finite(at.height) };
}

function sequenceFile({ sequence }: FittingPlan) {
  const place = (at: { readonly s: number; readonly side: Side }) => ({ sMm: finite(at.s), side: at.side });
  return {
    start: place(sequence.start),
    finish: place(sequence.finish),
    root: sequence.runs.map((run) => ({
      run: run.run,
      fromSMm: finite(run.fromS),
      toSMm: finite(run.toS),
      side: run.side,
      travel: run.travel.towards,
      climbDeg: degrees(run.travel.climb),
      fromHeightMm: finite(run.fromHeight),
      toHeightMm: finite(run.toHeight),
      ventSMm: run.ventS === null ? null : finite(run.ventS),
      ventOpen: run.ventOpen,
      sealedMm: finite(run.sealed),
      trappedMm: finite(run.trapped),
    })),
    sealedLengthMm: finite(sequence.sealedLength),
    trappedLengthMm: finite(sequence.trappedLength),
    trap:
      sequence.trap === null
        ? null
        : {
            aMm: finite(sequence.trap.a),
            cMm: finite(sequence.trap.c),
            heightMm: finite(sequence.trap.height),
            notchSMm: finite(sequence.trap.notchS),
          },
    level: sequence.level,
  };
}

/** Degrees, or null where no turn brings the load line into the plane. */
function correction(turn: FittingPlan['corrections']['heading']): number | null {
  return turn.found ? degrees(turn.angle) : null;
}
