import type { LoadAlignment } from '../../../geometry/align/align.ts';
import type { Vec3 } from '../../../geometry/math/vec.ts';
import type { Phrase } from '../../../geometry/phrase.ts';
import type { Job } from '../../job/types.ts';
import { strengthCase } from '../../strength/case.ts';
import { type Check, check } from '../../strength/check.ts';
import { BOW_LIES } from '../../strength/checks-rigging.ts';
import type { StrengthInput } from '../../strength/input.ts';
import { strengthSweep } from '../../strength/strengthChecks.ts';
import { strengthInput } from '../strength.ts';
import type { FittingPlan } from '../types.ts';
import { pullOn } from './cases.ts';
import { beats } from './ties.ts';
import type { LiftCase, LiftLinePlan, LugPull, LugSweep, SweptCheck } from './types.ts';

/** What brings a pull nearer to the plane. Whether a turn alone will do is for the search of stances to say, which takes its time. */
const TURN_OR_MOVE =
  'Turn or lean the lug towards the middle of the pulls where that is enough (calculation, report and planner name the best stance and what it comes to), move it, or walk the load another way.';

/**
 * One lug over all cases of the movement: every strength check at every one of them, the worst of each kept with where it is.
 */
export function sweepLug(
  job: Job,
  fitting: FittingPlan,
  lines: readonly LiftLinePlan[],
  states: number,
  cases: readonly LiftCase[],
  least: number,
  up: Vec3,
): LugSweep {
  const own = lines.filter((line) => line.fitting === fitting.id).length;
  const pulls: (LoadAlignment | null)[] = new Array<LoadAlignment | null>(states).fill(null);
  const loaded: LugPull[] = [];
  for (const { state, push, equilibrium } of cases) {
    const pull = pullOn(fitting, lines, equilibrium, up);
    if (pull === null) continue;
    loaded.push({ state, push, pull });
    if (push === null) pulls[state] = pull;
  }
  const first = loaded[0];
  if (first === undefined) {
    return { id: fitting.id, pulls, checks: [], summary: ['Carries nothing over the whole movement.'], pass: true };
  }
  const most = (of: (p: LoadAlignment) => number, among: readonly LugPull[], scale: number): LugPull =>
    among.reduce((best, p) => (beats(of(p.pull), of(best.pull), scale) ? p : best), among[0] ?? first);
  const counted = loaded.filter((p) => p.pull.force >= least);
  const tension = most((p) => p.force, loaded, 0);
  const worst = {
    tension,
    sideways: most((p) => Math.abs(p.sideways), loaded, tension.pull.force),
    offPlane: most((p) => Math.abs(p.offPlane), counted, 1),
    inPlane: most((p) => Math.abs(p.inPlane), counted, 1),
  };
  const input = (pull: LoadAlignment): StrengthInput => {
    const { hoist, ...rest } = strengthInput(
      job,
      fitting.input,
      fitting.anchor,
      fitting.frame,
      fitting.pin,
      fitting.root,
      pull,
      up,
    );
    // Several lines have a hoist each: those are held against their own lines, not against the resultant.
    return hoist === undefined || own > 1 ? rest : { ...rest, hoist };
  };
  const checks: SweptCheck[] = [
    at(worst.sideways, sidewaysCheck(job, worst.sideways, worst.tension)),
    ...(job.limits.offPlane === undefined
      ? []
      : [at(worst.offPlane, offPlaneCheck(job.limits.offPlane, worst.offPlane))]),
    ...worstStrength(loaded, input, least),
    ...(own > 1 ? hoistsOf(fitting, lines, strengthCase(input(first.pull)).service.factor) : []),
  ];
  return {
    id: fitting.id,
    pulls,
    worst,
    checks,
    summary: summaryOf(worst, states),
    pass: checks.every((c) => c.check.pass),
  };
}

const at = ({ state, push }: LugPull, of: Check): SweptCheck => ({ check: of, state, push });

/** The worst of each strength check over the pulls; `least`: N, a line with less is slack and says nothing of how a bow lies. */
function worstStrength(
  pulls: readonly LugPull[],
  input: (pull: LoadAlignment) => StrengthInput,
  least: number,
): SweptCheck[] {
  const taut = pulls.some((p) => p.pull.force >= least);
  const verdict = strengthSweep(input((pulls[0] as LugPull).pull));
  const worst = new Map<string, SweptCheck>();
  const worked: LoadAlignment[] = [];
  for (const of of pulls) {
    if (worked.some((known) => alike(known, of.pull))) continue;
    worked.push(of.pull);
    const { load, inPlane, offPlane, fromPlumb } = input(of.pull);
    const swept = { load, inPlane, offPlane, ...(fromPlumb === undefined ? {} : { fromPlumb }) };
    for (const found of verdict(swept).checks) {
      if (taut && of.pull.force < least && BOW_LIES.has(found.id)) continue;
      const known = worst.get(found.id);
      // What fails is never left out for a tie with what passes.
      if (known === undefined || beats(found.ratio, known.check.ratio) || (known.check.pass && !found.pass))
        worst.set(found.id, at(of, found));
    }
  }
  return [...worst.values()];
}

/** Share of a pull by which two that are one and the same come out apart: far below what a tie is. */
const SAME = 1e-9;

/** Whether two pulls are one and the same on the lug, and so is every check of it. */
function alike(p: LoadAlignment, q: LoadAlignment): boolean {
  const most = SAME * q.force;
  return (
    Math.abs(p.force - q.force) <= most &&
    Math.abs(p.alongStem - q.alongStem) <= most &&
    Math.abs(p.alongFoot - q.alongFoot) <= most &&
    Math.abs(p.sideways - q.sideways) <= most
  );
}

function sidewaysCheck(job: Job, sideways: LugPull, tension: LugPull): Check {
  const { sidewaysShare } = job.limits;
  const force = Math.abs(sideways.pull.sideways);
  return check({
    id: 'lift-sideways',
    title: 'Sideways force over the movement',
    demand: force,
    limit: sidewaysShare * tension.pull.force,
    unit: 'N',
    basis: 'trade',
    source:
      'API RP 2A-WSD: lifting lugs are designed for a side force of 5 % of the static sling load at the pin hole, square to the plate (as given in a textbook on offshore structures); here of the greatest pull of the movement',
    standing: 'source',
    formula: 'F_s <= eta F_max',
    tex: 'F_s \\le \\eta F_{max}',
    terms: [
      { symbol: 'F_s', name: 'greatest sideways force of the movement', value: force, unit: 'N' },
      {
        symbol: 'theta',
        name: 'pull off the plane of the lug there',
        value: Math.abs(sideways.pull.offPlane),
        unit: 'rad',
      },
      { symbol: 'F', name: 'pull there', value: sideways.pull.force, unit: 'N' },
      { symbol: 'F_max', name: 'greatest pull of the movement on this lug', value: tension.pull.force, unit: 'N' },
      { symbol: 'eta', name: 'share of the pull allowed sideways', value: sidewaysShare, unit: 'share' },
    ],
    remedy: [TURN_OR_MOVE],
  });
}

function offPlaneCheck(limit: number, worst: LugPull): Check {
  const angle = Math.abs(worst.pull.offPlane);
  return check({
    id: 'lift-off-plane',
    title: 'Angle of the load line to the lug plane over the movement',
    demand: angle,
    limit,
    unit: 'rad',
    basis: 'trade',
    source: 'Limit of the job',
    standing: 'choice',
    formula: 'theta <= theta_lim',
    tex: '\\theta \\le \\theta_{lim}',
    terms: [
      { symbol: 'theta', name: 'greatest off-plane angle of a pull that counts', value: angle, unit: 'rad' },
      { symbol: 'F', name: 'pull there', value: worst.pull.force, unit: 'N' },
      { symbol: 'theta_lim', name: 'angle allowed', value: limit, unit: 'rad' },
    ],
    remedy: [TURN_OR_MOVE],
  });
}

/** `factor`: dynamic, skew and consequence factors of the job, as every other check of a working load limit takes them. */
function hoistsOf(fitting: FittingPlan, lines: readonly LiftLinePlan[], factor: number): SweptCheck[] {
  const { hoist } = fitting.input;
  if (hoist === undefined) return [];
  let worst: LiftLinePlan | undefined;
  for (const line of lines) {
    if (line.fitting !== fitting.id || line.greatest === null) continue;
    if (worst === undefined || beats(line.greatest.tension, worst.greatest?.tension ?? 0)) worst = line;
  }
  if (worst?.greatest == null) return [];
  const { tension, state, push } = worst.greatest;
  return [
    {
      state,
      push,
      check: check({
        id: 'hoist-wll',
        title: `Hoist in line ${worst.id}`,
        demand: factor * tension,
        limit: hoist.wll,
        unit: 'N',
        basis: 'trade',
        source: 'Working load limit of each hoist on this lug against the pull of its own line',
        standing: 'source',
        formula: 'k T <= WLL',
        tex: 'k T \\le \\mathrm{WLL}',
        terms: [
          { symbol: 'T', name: 'greatest tension of the line over the movement', value: tension, unit: 'N' },
          { symbol: 'k', name: 'dynamic, skew and consequence factors', value: factor, unit: 'share' },
          { symbol: 'WLL', name: 'working load limit of the hoist', value: hoist.wll, unit: 'N' },
        ],
        remedy: ['Take a larger hoist, or add a line.'],
      }),
    },
  ];
}

function summaryOf(worst: NonNullable<LugSweep['worst']>, states: number): Phrase {
  const { sideways, tension } = worst;
  const place = (p: LugPull): string =>
    `step ${p.state + 1} of ${states}${p.push === null ? '' : ` under the push “${p.push}”`}`;
  return [
    `Worst at ${place(sideways)}: `,
    { rad: Math.abs(sideways.pull.offPlane) },
    ' off the plane with ',
    { newton: sideways.pull.force },
    ', ',
    { newton: Math.abs(sideways.pull.sideways) },
    ' sideways; greatest pull ',
    { newton: tension.pull.force },
    ` at ${place(tension)}.`,
  ];
}
