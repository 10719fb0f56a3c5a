import type { Shell } from '../../../geometry/hull/shell.ts';
import { angleBetween, length, scale, type Vec3 } from '../../../geometry/math/vec.ts';
import type { Phrase } from '../../../geometry/phrase.ts';
import type { Lift, LiftStep } from '../../job/lifttypes.ts';
import type { Job } from '../../job/types.ts';
import { HullProbe } from '../../rigging/hullprobe.ts';
import { type HungLoad, UNHOOKED, weightOf } from '../../rigging/load.ts';
import { levelDirections, movementOf, type State, type Step, underPush } from '../../rigging/movement.ts';
import { placeOf, turned } from '../../rigging/pose.ts';
import { type HungSystem, hungSystem } from '../../rigging/system.ts';
import { type Check, check } from '../../strength/check.ts';
import type { FittingPlan } from '../types.ts';
import { builtChecks, standingAs } from './built.ts';
import { solidsOf } from './solids.ts';
import { sweepLug } from './sweep.ts';
import { beats } from './ties.ts';
import type { LiftCase, LiftLinePlan, LiftPlan, LugSweep, PushPlan } from './types.ts';

/** Directions, level and evenly spread, in which a push without a direction of its own is tried. */
const PUSH_DIRECTIONS = 8;

/** The load on its lines, from the job and the pins as planned. N, mm, ship axes. */
export function systemOf(lift: Lift, pins: ReadonlyMap<string, Vec3>, up: Vec3): HungSystem {
  const { load } = lift;
  const hung: HungLoad = {
    weight: weightOf(load.mass),
    buoyancy: weightOf(load.displaced),
    centre: load.centre,
    buoyancyCentre: load.buoyancyCentre,
  };
  const lines = lift.lines.map((line) => ({
    id: line.id,
    pin: 'point' in line.from ? line.from.point : (pins.get(line.from.fitting) as Vec3),
    attachment: line.to,
    stretch: line.stretch,
  }));
  return hungSystem(hung, lines, up);
}

/** The steps of the job, lines by index. */
export function stepsOf(lift: Lift, up: Vec3): Step[] {
  const index = (id: string): number => lift.lines.findIndex((line) => line.id === id);
  return lift.steps.map((step: LiftStep): Step => {
    if (step.kind === 'set') {
      return {
        kind: 'lengths',
        label: step.name,
        parts: step.parts,
        lengths: new Map(step.lengths.map(({ line, length: l }) => [index(line), l === 'off' ? UNHOOKED : l])),
      };
    }
    return {
      kind: 'walk',
      label: step.name,
      parts: step.parts,
      to:
        'to' in step.target
          ? { centre: step.target.to }
          : 'by' in step.target
            ? step.target
            : { by: scale(up, -step.target.lower) },
      ...(step.with === undefined ? {} : { working: step.with.map(index) }),
    };
  });
}

/** Every state of the movement, with whatever stands in its way; without a shell nothing is looked at that does. */
export function statesOf(lift: Lift, system: HungSystem, shell: Shell | undefined): State[] {
  const reaches = lift.lines.map((line) => ({
    ...(line.shortest === undefined ? {} : { shortest: line.shortest }),
    ...(line.longest === undefined ? {} : { longest: line.longest }),
  }));
  const surroundings = {
    ...(shell === undefined ? {} : { hull: new HullProbe(shell) }),
    solids: shell === undefined ? [] : solidsOf(lift),
    outline: shell === undefined ? [] : lift.load.outline,
    clearance: lift.limits.clearance,
  };
  return movementOf(system, stepsOf(lift, system.up), reaches, surroundings, lift.limits);
}

/** Poses, still and pushed, of a movement over pins that stand elsewhere: what a lug that is moved about feels. */
export function liftCases(
  lift: Lift,
  pins: ReadonlyMap<string, Vec3>,
  up: Vec3,
): Pick<LiftPlan, 'lines' | 'cases' | 'load'> {
  const system = systemOf(lift, pins, up);
  const states = statesOf(lift, system, undefined);
  const cases = stillCases(states);
  pushesOn(lift, system, states, cases, up);
  return { lines: linesOf(lift, system, cases), cases, load: system.load };
}

function stillCases(states: readonly State[]): LiftCase[] {
  return states.flatMap((state, i) =>
    state.rest.found ? [{ state: i, push: null, equilibrium: state.rest.equilibrium }] : [],
  );
}

function linesOf(lift: Lift, system: HungSystem, cases: readonly LiftCase[]): LiftLinePlan[] {
  return lift.lines.map((line, i): LiftLinePlan => {
    let greatest: LiftLinePlan['greatest'] = null;
    for (const { state, push, equilibrium } of cases) {
      const tension = equilibrium.lines[i]?.tension ?? 0;
      if (beats(tension, greatest?.tension ?? 0)) greatest = { tension, state, push };
    }
    const fitting = 'fitting' in line.from ? line.from.fitting : null;
    return { ...(system.lines[i] as HungSystem['lines'][number]), fitting, own: weightOf(line.mass), greatest };
  });
}

/**
 * The movement of a job's load over its fittings: poses, tensions, pushes, and every lug swept over all of it. A movement that
 * cannot be done comes back with its failures by step; nothing is thrown for it. mm, N, rad, ship axes.
 */
export function planLift(job: Job, lift: Lift, fittings: readonly FittingPlan[], shell: Shell, up: Vec3): LiftPlan {
  const system = systemOf(lift, new Map(fittings.map((f) => [f.id, f.pin])), up);
  const states = statesOf(lift, system, shell);
  const cases = stillCases(states);
  const pushes = pushesOn(lift, system, states, cases, up);
  const lines = linesOf(lift, system, cases);
  const least = lift.limits.unhookShare * Math.max(system.net, 0);
  const lugs = fittings
    .filter((f) => lines.some((line) => line.fitting === f.id))
    .map((f): LugSweep => {
      const sweep = (of: FittingPlan): LugSweep => sweepLug(job, of, lines, states.length, cases, least, up);
      const planned = sweep(f);
      if (f.asBuilt === null) return planned;
      const built = builtChecks(sweep(standingAs(f, f.asBuilt.frame)).checks);
      return {
        ...planned,
        checks: [...planned.checks, ...built],
        pass: planned.pass && built.every((c) => c.check.pass),
      };
    });
  const checks = [stepsCheck(states), tiltCheck(lift, states, up), ...underWaterCheck(job, lift, system, states, up)];
  return {
    name: lift.load.name,
    load: system.load,
    net: system.net,
    waterDensity: lift.waterDensity,
    lines,
    states,
    cases,
    pushes,
    lugs,
    checks,
    notes: notesOn(lift, system, states, fittings),
    pass: checks.every((c) => c.pass) && lugs.every((lug) => lug.pass),
  };
}

/** Every push on every state at rest, from each of its directions; the pushed loads are added to the cases. */
function pushesOn(lift: Lift, system: HungSystem, states: readonly State[], cases: LiftCase[], up: Vec3): PushPlan[] {
  const still = [...cases];
  return lift.pushes.map((push): PushPlan => {
    const directions =
      push.direction === undefined
        ? levelDirections(up, PUSH_DIRECTIONS)
        : [scale(push.direction, 1 / length(push.direction))];
    let worst: PushPlan['worst'] = null;
    for (const { state, equilibrium } of still) {
      const { lengths } = states[state] as State;
      for (const direction of directions) {
        const answer = underPush(system, lengths, equilibrium, scale(direction, push.force), push.at);
        if (!answer.rest.found) continue;
        cases.push({ state, push: push.name, equilibrium: answer.rest.equilibrium });
        if (worst === null || beats(answer.swing.distance, worst.swing.distance))
          worst = { state, direction, swing: answer.swing };
      }
    }
    return { name: push.name, force: push.force, worst };
  });
}

/** Every step can be done as it is written. */
function stepsCheck(states: readonly State[]): Check {
  const failed = states.flatMap((state, i) => state.failures.map((failure) => ({ i, label: state.label, failure })));
  const count = new Set(failed.map((f) => f.i)).size;
  const remedy: Phrase = failed.flatMap(({ i, label, failure }, k) => [
    `${k === 0 ? '' : ' '}Step ${i + 1}, ${label}: `,
    ...failure.text,
  ]);
  return check({
    id: 'lift-steps',
    title: 'Steps of the movement that cannot be done as written',
    demand: count,
    limit: 0,
    unit: 'count',
    basis: 'trade',
    source: 'Statics of the load on its lines, and plain geometry of what is in the way',
    standing: 'source',
    formula: 'n_f <= 0',
    tex: 'n_f \\le 0',
    terms: [
      { symbol: 'n', name: 'steps looked at', value: states.length, unit: 'count' },
      { symbol: 'n_f', name: 'steps that fail', value: count, unit: 'count' },
    ],
    remedy,
  });
}

/** How far what is drawn upright leans; a turn about plumb is none. */
function tiltCheck(lift: Lift, states: readonly State[], up: Vec3): Check {
  let most = 0;
  let where = 0;
  states.forEach((state, i) => {
    if (!state.rest.found) return;
    const tilt = angleBetween(turned(state.rest.equilibrium.pose.turn, up), up);
    if (beats(tilt, most, 1)) [most, where] = [tilt, i];
  });
  const { tilt: limit } = lift.limits;
  return check({
    id: 'lift-tilt',
    title: 'Tilt of the load from how it is drawn',
    demand: most,
    limit,
    unit: 'rad',
    basis: 'trade',
    source: 'Limit of the job; where it gives none the one among the assumptions',
    standing: 'choice',
    formula: 'phi <= phi_lim',
    tex: '\\varphi \\le \\varphi_{lim}',
    terms: [
      { symbol: 'phi', name: `greatest tilt, at step ${where + 1}`, value: most, unit: 'rad' },
      { symbol: 'phi_lim', name: 'tilt accepted', value: limit, unit: 'rad' },
    ],
    remedy: ['Move the attachments above the centre of gravity and spread them, or take up the low side.'],
  });
}

/**
 * Weight and trim of the load are those of one that is wholly under water. Its highest point that the job knows of (outline, ends of
 * lines, centres) tells whether it is: out of the water it weighs more, and the lines carry more than the figures say. A load of which
 * nothing floats weighs the same wherever it is, and one that is nowhere at rest has no place: neither has this check.
 */
function underWaterCheck(job: Job, lift: Lift, system: HungSystem, states: readonly State[], up: Vec3): Check[] {
  if (!(system.load.buoyancy > 0)) return [];
  const { centre, buoyancyCentre, outline } = lift.load;
  const points = [centre, buoyancyCentre, ...outline, ...lift.lines.map((line) => line.to)];
  const surface = waterHeight(job, up);
  let most = Number.NEGATIVE_INFINITY;
  let where = 0;
  states.forEach(({ rest }, i) => {
    if (!rest.found) return;
    for (const point of points) {
      const above = dotUp(placeOf(rest.equilibrium.pose, system.load.centre, point), up) - surface;
      if (most === Number.NEGATIVE_INFINITY || beats(above, most, 1)) [most, where] = [above, i];
    }
  });
  if (!Number.isFinite(most)) return [];
  const made = check({
    id: 'lift-under-water',
    title: `Highest point ${outline.length < 3 ? 'that is known ' : ''}of the load, over the water (minus: under it)`,
    demand: most,
    limit: 0,
    unit: 'mm',
    basis: 'trade',
    source: 'Statics: a load is as light as worked with only while all of it is under water',
    standing: 'source',
    formula: 'h <= 0',
    tex: 'h \\le 0',
    terms: [
      {
        symbol: 'h',
        name: `highest point that the job knows of, over the water, at step ${where + 1}; minus is under it`,
        value: most,
        unit: 'mm',
      },
    ],
    remedy:
      most > 0
        ? [
            'It weighs more there than is worked with: keep it under, or plan that part as a lift of its own in which it weighs in the water what it weighs in air.',
          ]
        : [],
  });
  return [made];
}

function notesOn(lift: Lift, system: HungSystem, states: readonly State[], fittings: readonly FittingPlan[]): Phrase[] {
  const hung = weightOf(lift.lines.reduce((sum, line) => sum + line.mass, 0));
  const notes: Phrase[] = [
    [
      `The ${lift.load.name} weighs `,
      { newton: system.load.weight },
      ' in air and ',
      { newton: system.net },
      ' in this water; ',
      ...(hung > 0
        ? ([
            'what the lines themselves weigh (',
            { newton: hung },
            ' in air, all told) hangs from their pins, and none of it from the load.',
          ] as const)
        : ['lines are taken to weigh nothing.']),
    ],
    ...(lift.load.outline.length === 0
      ? [
          [
            'The job gives no outline of the load: its lines are looked at against hull and gear, the load itself is NOT. Room round it is for who knows its shape.',
          ],
        ]
      : []),
  ];
  notes.push(
    ...inRuns(states, (state) => {
      if (!state.rest.found) return '';
      const { lines } = state.rest.equilibrium;
      const slack = lift.lines.filter((_, k) => Number.isFinite(state.lengths[k]) && (lines[k]?.tension ?? 0) <= 0);
      const names = slack.map((line) => line.id).join(' and ');
      return slack.length === 0 ? '' : slack.length === 1 ? `line ${names} hangs slack.` : `lines ${names} hang slack.`;
    }),
    ...inRuns(states, (state) =>
      state.rest.found && state.rest.equilibrium.stability.kind === 'neutral'
        ? 'nothing keeps the load from turning on its lines; hold it with a tag line.'
        : '',
    ),
  );
  for (const fitting of fittings) {
    if (lift.lines.some((line) => 'fitting' in line.from && line.from.fitting === fitting.id)) continue;
    notes.push([`No line of the movement hangs from ${fitting.id}: it is planned for the pull in its own field only.`]);
  }
  return notes;
}

/** What is said of each state, once for states in a row of which the same is said. */
function inRuns(states: readonly State[], say: (state: State) => string): Phrase[] {
  const notes: Phrase[] = [];
  for (let i = 0; i < states.length; ) {
    const text = say(states[i] as State);
    let end = i;
    while (end + 1 < states.length && say(states[end + 1] as State) === text) end++;
    if (text !== '') notes.push([i === end ? `Step ${i + 1}: ${text}` : `Steps ${i + 1} to ${end + 1}: ${text}`]);
    i = end + 1;
  }
  return notes;
}

const dotUp = (p: Vec3, up: Vec3): number => p[0] * up[0] + p[1] * up[1] + p[2] * up[2];

/** Height of the water plane along `up`, mm: it passes through the draught at the aft perpendicular. */
function waterHeight(job: Job, up: Vec3): number {
  return dotUp([0, 0, job.ship.draftAft], up);
}
