import { add, addScaled, distance, scale, sub, type Vec3 } from '../../geometry/math/vec.ts';
import type { Phrase } from '../../geometry/phrase.ts';
import { type Contact, contactsOf, type Surroundings } from './contact.ts';
import { type Equilibrium, type EquilibriumResult, equilibrium } from './equilibrium.ts';
import { lengthsFor } from './lengths.ts';
import { UNHOOKED } from './load.ts';
import { apart, follow, type Swing } from './path.ts';
import { NO_TURN, type Pose } from './pose.ts';
import { drawnPose, type HungSystem } from './system.ts';

/**
 * One thing that is done with the load. `lengths`: lines are set to lengths (mm, without load; `UNHOOKED` takes one off), the
 * others stay as they are. `walk`: the working lines bring the centre of gravity to a place, or by so much from where it hangs.
 * `parts` states are looked at on the way, the last of them its end.
 */
export type Step = {
  readonly label: string;
  readonly parts: number;
} & (
  | { readonly kind: 'lengths'; readonly lengths: ReadonlyMap<number, number> }
  | {
      readonly kind: 'walk';
      readonly to: { readonly centre: Vec3 } | { readonly by: Vec3 };
      /** Lines that are worked; absent: all that are hooked on. */
      readonly working?: readonly number[];
    }
);

/** What a hoist can do: lengths between pin and load, mm. */
export interface Reach {
  readonly shortest?: number;
  readonly longest?: number;
}

/** What a movement is held against. Lengths mm, `stretch` a share of a line's length. */
export interface MovementLimits {
  /** Stretch beyond which a line is too short: no real line gives so much. */
  readonly stretch: number;
  /** mm by which a walk may miss its place. */
  readonly miss: number;
  /** Share of the weight in water that a line may still carry when it is taken off. */
  readonly unhookShare: number;
}

export type FailureKind =
  | 'floats'
  | 'no-pose'
  | 'line-too-short'
  | 'beyond-hoist'
  | 'out-of-reach'
  | 'swings'
  | 'unhooked-under-load'
  | 'unstable'
  | 'touches';

/** Why a step cannot be done as it is written. */
export interface Failure {
  readonly kind: FailureKind;
  /** Index of the line that it is about. */
  readonly line?: number;
  readonly text: Phrase;
}

export type Rest =
  | { readonly found: true; readonly equilibrium: Equilibrium; readonly swing: Swing | null }
  | Extract<EquilibriumResult, { found: false }>;

/** The load at one point of the movement. */
export interface State {
  readonly label: string;
  /** Index of the step, and which part of how many. */
  readonly step: number;
  readonly part: number;
  readonly parts: number;
  /** Without load, mm; `UNHOOKED` for a line that is not on. */
  readonly lengths: readonly number[];
  readonly rest: Rest;
  readonly contacts: readonly Contact[];
  readonly failures: readonly Failure[];
}

/**
 * The whole movement, state by state. A step that cannot be done stands there with its failure, and the next goes on from the last
 * pose that was found. Nothing is thrown for a movement that goes wrong.
 */
export function movementOf(
  system: HungSystem,
  steps: readonly Step[],
  reaches: readonly Reach[],
  surroundings: Surroundings,
  limits: MovementLimits,
): State[] {
  const states: State[] = [];
  let lengths: readonly number[] = system.lines.map(() => UNHOOKED);
  let last: Equilibrium | undefined;

  const settle = (label: string, step: number, part: number, parts: number, next: Planned): void => {
    const failures = [...next.failures];
    const rest = next.rest ?? arrive(system, lengths, next.lengths, last);
    failures.push(...unhookedUnderLoad(system, lengths, next.lengths, last, limits));
    if (rest.found) failures.push(...restFailures(system, next.lengths, rest, limits));
    else failures.push(noPose(rest));
    failures.push(...beyondHoist(system, next.lengths, rest, reaches));
    const contacts = rest.found ? contactsOf(system, next.lengths, rest.equilibrium, surroundings) : [];
    for (const contact of contacts) {
      failures.push({
        kind: 'touches',
        text: contact.text,
        ...(contact.line === undefined ? {} : { line: contact.line }),
      });
    }
    states.push({ label, step, part, parts, lengths: next.lengths, rest, contacts, failures });
    lengths = next.lengths;
    if (rest.found) last = rest.equilibrium;
  };

  steps.forEach((step, index) => {
    if (step.kind === 'lengths') {
      const from = lengths;
      for (let part = 1; part <= step.parts; part++) {
        settle(step.label, index, part, step.parts, {
          lengths: between(from, step.lengths, part / step.parts),
          failures: [],
        });
      }
      return;
    }
    const start = last?.pose ?? drawnPose(system);
    const end = 'by' in step.to ? add(start.centre, step.to.by) : step.to.centre;
    const hooked = lengths.flatMap((L, i) => (Number.isFinite(L) ? [i] : []));
    const working = step.working ?? (hooked.length > 0 ? hooked : lengths.map((_, i) => i));
    // With nothing hung yet there is no way to go: the load is where the first walk puts it.
    const parts = last === undefined ? 1 : step.parts;
    for (let part = 1; part <= parts; part++) {
      const centre = addScaled(start.centre, sub(end, start.centre), part / parts);
      settle(step.label, index, part, parts, walked(system, lengths, working, centre, last, limits));
    }
  });
  return states;
}

interface Planned {
  readonly lengths: readonly number[];
  readonly failures: readonly Failure[];
  /** Where there is no pose to arrive at. */
  readonly rest?: Rest;
}

function arrive(
  system: HungSystem,
  from: readonly number[],
  to: readonly number[],
  last: Equilibrium | undefined,
): Rest {
  if (last === undefined) {
    const first = equilibrium(system, to, drawnPose(system));
    return first.found ? { ...first, swing: null } : first;
  }
  return follow(system, from, to, last.pose);
}

function between(from: readonly number[], to: ReadonlyMap<number, number>, share: number): number[] {
  return from.map((start, i) => {
    const end = to.get(i);
    if (end === undefined) return start;
    return Number.isFinite(start) && Number.isFinite(end) ? start + share * (end - start) : end;
  });
}

function walked(
  system: HungSystem,
  lengths: readonly number[],
  working: readonly number[],
  centre: Vec3,
  last: Equilibrium | undefined,
  limits: MovementLimits,
): Planned {
  const from: Pose = last?.pose ?? drawnPose(system);
  const result = lengthsFor(system, lengths, working, { centre, turn: NO_TURN }, from);
  if (!result.found) return { lengths, failures: [], rest: result };
  const failures: Failure[] =
    result.missed > limits.miss
      ? [
          {
            kind: 'out-of-reach',
            text: [
              'These lines cannot bring the load there: it stays ',
              { mm: result.missed, digits: 0 },
              ' away. Each pull works along its own line only.',
            ],
          },
        ]
      : [];
  return { lengths: result.lengths, failures };
}

function restFailures(
  system: HungSystem,
  lengths: readonly number[],
  rest: Extract<Rest, { found: true }>,
  limits: MovementLimits,
): Failure[] {
  const failures: Failure[] = [];
  const { equilibrium: e, swing } = rest;
  e.lines.forEach((pull, i) => {
    const L = lengths[i] as number;
    if (!(pull.tension > 0) || pull.length / L - 1 <= limits.stretch) return;
    const line = system.lines[i] as HungSystem['lines'][number];
    failures.push({
      kind: 'line-too-short',
      line: i,
      text: [
        `Line ${line.id} is too short: it would have to stretch by `,
        { mm: pull.length - L, digits: 0 },
        ' and pull with ',
        { newton: pull.tension },
        '.',
      ],
    });
  });
  if (swing !== null) {
    failures.push({
      kind: 'swings',
      text: [
        'The load moves by itself on the way here: its centre by ',
        { mm: swing.distance, digits: 0 },
        ', turning ',
        { rad: swing.turn, digits: 0 },
        '. Nobody may be near it.',
      ],
    });
  }
  if (e.stability.kind === 'unstable') {
    failures.push({ kind: 'unstable', text: ['The load stands on a point of balance: it will not stay there.'] });
  }
  return failures;
}

function noPose(rest: Extract<Rest, { found: false }>): Failure {
  if (rest.why === 'floats') {
    return { kind: 'floats', text: ['The load displaces more than it weighs: it floats, and no line holds it down.'] };
  }
  if (rest.why === 'drifts') return { kind: 'no-pose', text: ['No line holds the load: it sinks.'] };
  return { kind: 'no-pose', text: ['No pose was found in which the load is at rest.'] };
}

function unhookedUnderLoad(
  system: HungSystem,
  before: readonly number[],
  after: readonly number[],
  last: Equilibrium | undefined,
  limits: MovementLimits,
): Failure[] {
  if (last === undefined) return [];
  return after.flatMap((L, i) => {
    const tension = last.lines[i]?.tension ?? 0;
    if (Number.isFinite(L) || !Number.isFinite(before[i]) || tension <= limits.unhookShare * system.net) return [];
    return [
      {
        kind: 'unhooked-under-load' as const,
        line: i,
        text: [
          `Line ${system.lines[i]?.id ?? ''} is taken off while it pulls with `,
          { newton: tension },
          ': slacken it first.',
        ],
      },
    ];
  });
}

/** A hoist's own reach: for a taut line its length, for a slack one the length that is paid out. */
function beyondHoist(system: HungSystem, lengths: readonly number[], rest: Rest, reaches: readonly Reach[]): Failure[] {
  return lengths.flatMap((L, i) => {
    if (!Number.isFinite(L)) return [];
    const pull = rest.found ? rest.equilibrium.lines[i] : undefined;
    const length = pull && pull.tension > 0 ? pull.length : L;
    const { shortest, longest } = reaches[i] ?? {};
    const id = system.lines[i]?.id ?? '';
    if (shortest !== undefined && length < shortest) {
      return [
        {
          kind: 'beyond-hoist' as const,
          line: i,
          text: [
            `Line ${id} would be `,
            { mm: length, digits: 0 },
            ' long: its hoist draws in to ',
            { mm: shortest, digits: 0 },
            ' and no further.',
          ],
        },
      ];
    }
    if (longest !== undefined && length > longest) {
      return [
        {
          kind: 'beyond-hoist' as const,
          line: i,
          text: [
            `Line ${id} would be `,
            { mm: length, digits: 0 },
            ' long: its hoist pays out to ',
            { mm: longest, digits: 0 },
            ' and no further.',
          ],
        },
      ];
    }
    return [];
  });
}

/** How a push moves the load off its pose. N, mm, rad. */
export interface PushAnswer {
  readonly rest: EquilibriumResult;
  /** Of the centre of gravity, and of the whole load about it. */
  readonly swing: Swing;
}

/** The load under a push of its own (N, ship axes, at a point of the load as drawn), from rest without it. */
export function underPush(
  system: HungSystem,
  lengths: readonly number[],
  at: Equilibrium,
  force: Vec3,
  point: Vec3,
): PushAnswer {
  const pushed: HungSystem = {
    ...system,
    pushes: [...system.pushes, { force, at: point }],
    pushArms: [...system.pushArms, sub(point, system.load.centre)],
  };
  const rest = equilibrium(pushed, lengths, at.pose);
  return { rest, swing: rest.found ? apart(at.pose, rest.equilibrium.pose) : { distance: 0, turn: 0 } };
}

/** Level directions round about, `count` of them, the first athwartships: unit vectors square to `up`. */
export function levelDirections(up: Vec3, count: number): Vec3[] {
  const across = sub([0, 1, 0], scale(up, up[1]));
  const y = scale(across, 1 / distance(across, [0, 0, 0]));
  const x: Vec3 = [up[1] * y[2] - up[2] * y[1], up[2] * y[0] - up[0] * y[2], up[0] * y[1] - up[1] * y[0]];
  return Array.from({ length: count }, (_, k) => {
    const a = (2 * Math.PI * k) / count;
    return add(scale(y, Math.cos(a)), scale(x, Math.sin(a)));
  });
}
