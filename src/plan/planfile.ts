import type { CutFit } from '../../geometry/fit/cuts.ts';
import type { Side } from '../../geometry/fit/rootline.ts';
import type { Vec3 } from '../../geometry/math/vec.ts';
import type { Phrase } from '../../geometry/phrase.ts';
import { showPhrase } from '../job/show.ts';
import type { Assumption, Display } from '../job/types.ts';
import type { Check, CheckUnit, FittingPlan, JointPoint, Plan, RootSpot } from './types.ts';

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
    fittings: plan.fittings.map((fitting) => fittingFile(fitting, display)),
    assumptions: plan.assumptions.map(({ path, value, reason, standing }: Assumption) => ({
      path,
      value,
      reason,
      standing,
    })),
    hullNotes: plan.hullNotes.map((note) => showPhrase(note, display)),
  };
}

export type PlanFile = ReturnType<typeof planFile>;

function fittingFile(fitting: FittingPlan, display: Display) {
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
    strength: strengthFile(fitting),
    weld: {
      sides: fitting.weld.sides.map((side) => ({
        side: side.side,
        dihedralDeg: degrees(side.dihedral),
        throatMm: finite(side.throat),
        legAlongPlateMm: finite(side.legAlongPlate),
        legSquareMm: finite(side.legSquare),
        addedForGapMm: finite(side.addedForGap),
        areaMm2: finite(side.area),
      })),
    },
    lug: {
      massKg: finite(body.mass),
      massInWaterKg: finite(body.massInWater),
      volumeMm3: finite(body.volume),
      centreMm: vector(body.centre),
    },
    checks: fitting.checks.map((check) => checkFile(check, display)),
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

function strengthFile({ strength: { weldGroup } }: FittingPlan) {
  const { worst } = weldGroup;
  return {
    weldGroup: {
      lengthMm: finite(weldGroup.length),
      centroidMm: vector(weldGroup.centroid),
      worst: { sMm: finite(worst.s), side: worst.side, forceNPerMm: finite(worst.force) },
    },
  };
}

function checkFile(check: Check, display: Display) {
  return {
    id: check.id,
    title: check.title,
    demand: inFileUnit(check.demand, check.unit),
    limit: inFileUnit(check.limit, check.unit),
    unit: fileUnit(check.unit),
    ratio: finite(check.ratio),
    pass: check.pass,
    basis: check.basis,
    source: check.source,
    standing: check.standing,
    formula: check.formula,
    terms: check.terms.map((term) => ({
      symbol: term.symbol,
      name: term.name,
      value: inFileUnit(term.value, term.unit),
      unit: fileUnit(term.unit),
    })),
    remedy: showPhrase(check.remedy, display),
  };
}

function fileUnit(unit: CheckUnit): Exclude<CheckUnit, 'rad'> | 'deg' {
  return unit === 'rad' ? 'deg' : unit;
}

function inFileUnit(value: number, unit: CheckUnit): number {
  return unit === 'rad' ? degrees(value) : finite(value);
}

/** Degrees, or null where no turn brings the load line into the plane. */
function correction(turn: FittingPlan['corrections']['heading']): number | null {
  return turn.found ? degrees(turn.angle) : null;
}

function vector(v: Vec3): [number, number, number] {
  return [finite(v[0]), finite(v[1]), finite(v[2])];
}

function degrees(rad: number): number {
  return finite((rad * 180) / Math.PI);
}

function kilonewtons(newtons: number): number {
  return finite(newtons / 1000);
}

/** A figure that is no number is a fault of the program, not something to write into a file as null. */
function finite(value: number): number {
  if (!Number.isFinite(value)) throw new RangeError('a figure of the plan is no number');
  return value === 0 ? 0 : value;
}
