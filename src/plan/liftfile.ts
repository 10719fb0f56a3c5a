import type { LoadAlignment } from '../../geometry/align/align.ts';
import { length, scale } from '../../geometry/math/vec.ts';
import { showPhrase } from '../job/show.ts';
import type { Display } from '../job/types.ts';
import type { State } from '../rigging/movement.ts';
import { NO_TURN, turnBetween } from '../rigging/pose.ts';
import { checkFile, degrees, finite, kilonewtons, vector } from './filefigures.ts';
import type { StanceOffer } from './movement/stancetypes.ts';
import type { LiftPlan, LugPull, LugSweep } from './movement/types.ts';

/*
 * The movement in the plan file. Steps are counted from 1. Lengths are those without load, between pin and attachment; a tension
 * of zero is a slack line. Null where there is no figure: no line on, no pose, nothing carried.
 */

export function liftFile(lift: LiftPlan, offers: readonly StanceOffer[], display: Display) {
  return {
    pass: lift.pass,
    load: {
      name: lift.name,
      weightKn: kilonewtons(lift.load.weight),
      weightInWaterKn: kilonewtons(lift.net),
      waterDensityKgPerM3: finite(lift.waterDensity),
      centreMm: vector(lift.load.centre),
      buoyancyCentreMm: vector(lift.load.buoyancyCentre),
    },
    lines: lift.lines.map((line) => ({
      id: line.id,
      fitting: line.fitting,
      ownWeightKn: kilonewtons(line.own),
      pinMm: vector(line.pin),
      attachmentMm: vector(line.attachment),
      stretch:
        line.stretch.kind === 'axial'
          ? { kind: 'axial' as const, eaKn: kilonewtons(line.stretch.ea) }
          : { kind: 'spring' as const, knPerMm: kilonewtons(line.stretch.k) },
      greatest:
        line.greatest === null
          ? null
          : {
              tensionKn: kilonewtons(line.greatest.tension),
              step: line.greatest.state + 1,
              push: line.greatest.push,
            },
    })),
    steps: lift.states.map((state, i) => stepFile(lift, state, i, display)),
    pushes: lift.pushes.map((push) => ({
      name: push.name,
      forceKn: kilonewtons(push.force),
      worst:
        push.worst === null
          ? null
          : {
              step: push.worst.state + 1,
              direction: vector(push.worst.direction),
              movesMm: finite(push.worst.swing.distance),
              turnsDeg: degrees(push.worst.swing.turn),
            },
    })),
    lugs: lift.lugs.map((lug) => ({
      ...lugFile(lug, display),
      otherStance: offerFile(
        offers.find(({ id }) => id === lug.id),
        display,
      ),
    })),
    checks: lift.checks.map((check) => checkFile(check, display)),
    notes: lift.notes.map((note) => showPhrase(note, display)),
  };
}

function stepFile(lift: LiftPlan, state: State, i: number, display: Display) {
  const { rest } = state;
  const pose = rest.found ? rest.equilibrium.pose : undefined;
  const turn = pose === undefined ? undefined : turnBetween(NO_TURN, pose.turn);
  const angle = turn === undefined ? 0 : length(turn);
  return {
    step: i + 1,
    name: state.label,
    part: state.part,
    parts: state.parts,
    atRest: rest.found,
    whyNot: rest.found ? null : rest.why,
    centreMm: pose === undefined ? null : vector(pose.centre),
    turnDeg: turn === undefined ? null : degrees(angle),
    turnAxis: turn === undefined || angle < 1e-9 ? null : vector(scale(turn, 1 / angle)),
    residual: rest.found ? finite(rest.equilibrium.residual) : null,
    stability: rest.found
      ? {
          kind: rest.equilibrium.stability.kind,
          leastNPerMm: finite(Math.min(rest.equilibrium.stability.least, Number.MAX_VALUE)),
        }
      : null,
    swing:
      rest.found && rest.swing !== null
        ? { movesMm: finite(rest.swing.distance), turnsDeg: degrees(rest.swing.turn) }
        : null,
    lines: lift.lines.map((line, k) => {
      const L = state.lengths[k] as number;
      const pull = rest.found ? rest.equilibrium.lines[k] : undefined;
      const on = Number.isFinite(L);
      return {
        id: line.id,
        on,
        lengthMm: on ? finite(L) : null,
        tensionKn: pull === undefined || !on ? null : kilonewtons(pull.tension),
        slack: pull !== undefined && on && pull.tension <= 0,
        distanceMm: pull === undefined ? null : finite(pull.length),
        direction: pull === undefined ? null : vector(pull.direction),
      };
    }),
    contacts: state.contacts.map((contact) => ({
      line: contact.line === undefined ? null : (lift.lines[contact.line]?.id ?? null),
      with: contact.with,
      clearanceMm: finite(contact.clearance),
    })),
    failures: state.failures.map((failure) => ({
      kind: failure.kind,
      line: failure.line === undefined ? null : (lift.lines[failure.line]?.id ?? null),
      text: showPhrase(failure.text, display),
    })),
  };
}

function lugFile(lug: LugSweep, display: Display) {
  return {
    id: lug.id,
    pass: lug.pass,
    summary: showPhrase(lug.summary, display),
    steps: lug.pulls.map((pull, i) => ({ step: i + 1, ...(pull === null ? NO_PULL : pullFile(pull)) })),
    worst:
      lug.worst === undefined
        ? null
        : {
            tension: worstFile(lug.worst.tension),
            sideways: worstFile(lug.worst.sideways),
            offPlane: worstFile(lug.worst.offPlane),
            inPlane: worstFile(lug.worst.inPlane),
          },
    checks: lug.checks.map(({ check, state, push }) => ({ ...checkFile(check, display), step: state + 1, push })),
  };
}

/** Null where no other stance was looked for, or none found. */
function offerFile(offer: StanceOffer | undefined, display: Display) {
  if (offer === undefined) return null;
  const { best, stops, saves } = offer.result;
  return {
    headingDeg: degrees(best.heading),
    leanDeg: offer.freedom === 'heading' ? null : degrees(best.lean),
    sidewaysKn: kilonewtons(best.sideways),
    sidewaysShare: finite(best.share),
    withinLimit: saves,
    heldBy: stops,
    text: showPhrase(offer.text, display),
  };
}

const NO_PULL = {
  forceKn: 0,
  offPlaneDeg: null,
  inPlaneDeg: null,
  alongStemKn: 0,
  alongFootKn: 0,
  sidewaysKn: 0,
} as const;

function pullFile(pull: LoadAlignment) {
  return {
    forceKn: kilonewtons(pull.force),
    offPlaneDeg: degrees(pull.offPlane),
    inPlaneDeg: degrees(pull.inPlane),
    alongStemKn: kilonewtons(pull.alongStem),
    alongFootKn: kilonewtons(pull.alongFoot),
    sidewaysKn: kilonewtons(pull.sideways),
  };
}

const worstFile = ({ state, push, pull }: LugPull) => ({ step: state + 1, push, ...pullFile(pull) });
