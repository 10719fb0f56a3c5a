import { addScaled, dot, length, type Vec3 } from '../../geometry/math/vec.ts';
import { fromAftPerpendicular, showFigure } from '../job/show.ts';
import type { Display } from '../job/types.ts';
import { internalPer } from '../job/units.ts';
import type { LiftLinePlan, LiftPlan, LugSweep } from '../plan/movement/types.ts';
import type { FittingPlan, Plan } from '../plan/types.ts';
import { verdictWord } from './calculation-summary.ts';
import { degrees, fixed, markDown, markUp, ratioText } from './figures.ts';
import type { Flow } from './flow.ts';
import { forceText, hoistLength } from './liftunits.ts';
import { sidesInWords } from './sides.ts';
import { plainText } from './text.ts';
import { fails } from './words.ts';

/** `15.00 t` of 1000 kg. */
const tonnes = (newton: number): string => `${fixed(newton / (internalPer('kN') * 9.80665), 2)} t`;

/** A rated load as the plate on the gear reads, and as a force: `15.00 t (147.1 kN)`, `16.53 ton (33.1 kip)`. Tons of 2000 lb; in the unit of a plan's lift where one is given. */
export function plateLoad(newton: number, display: Display, plan?: Plan): string {
  const force = plan === undefined ? showFigure({ newton }, display) : forceText(plan, newton);
  const mass = display === 'us' ? `${fixed(newton / internalPer('tonf'), 2)} ton` : tonnes(newton);
  return `${mass} (${force})`;
}

/** In place of a limit of gear that the job does not name. */
const NOT_GIVEN = 'NOT GIVEN, not checked';

/** A working load limit: in US units as a plate reads that is stamped in t of 1000 kg, too. */
function gearLimit(newton: number, display: Display, plan: Plan): string {
  const stamped = display === 'us' ? `${tonnes(newton)} = ` : '';
  return `${stamped}${plateLoad(newton, display, plan)}`;
}

const where = (at: { readonly state: number; readonly push: string | null }): string =>
  `step ${at.state + 1}, ${at.push === null ? 'at rest' : `push “${plainText(at.push)}”`}`;

/** What is used of a limit, and where, unless that is where the line pulls hardest: a shackle's limit falls with the angle. */
const used = (sweep: LugSweep | undefined, id: string, greatest: LiftLinePlan['greatest']): string => {
  const found = sweep?.checks
    .filter(({ check }) => check.id === id)
    .toSorted((p, q) => q.check.ratio - p.check.ratio)[0];
  if (found === undefined) return '';
  const there = found.state === greatest?.state && found.push === greatest.push;
  return `\nused ${ratioText(found.check)}${there ? '' : `\n${where(found)}`}${found.check.pass ? '' : ' FAILS'}`;
};

/** Each line with the gear in it, the most it pulls, and what that is of each limit. */
export function linesTable(flow: Flow, plan: Plan, lift: LiftPlan): void {
  const { display } = plan.job;
  const tape = (mm: number) => hoistLength(mm, display);
  flow.heading(2, 'Lines and hoists');
  flow.table(
    [
      { title: 'Line', share: 1, bold: true },
      { title: 'hangs from', share: 1.25 },
      { title: 'reach, pin to load', share: 1.2, align: 'right' },
      { title: 'greatest pull', share: 1.45, align: 'right' },
      { title: 'where', share: 1.4 },
      { title: 'hoist, limit', share: 1.75, align: 'right' },
      { title: 'shackle, limit', share: 1.75, align: 'right' },
    ],
    lift.lines.map((line, k) => {
      const fitting = plan.fittings.find((each) => each.id === line.fitting);
      const sweep = lift.lugs.find((each) => each.id === line.fitting);
      const asked = plan.job.lift?.lines[k];
      // Never more than the hoist reaches: the shortest up, the longest down to a mark on the tape.
      const reach = [
        asked?.shortest === undefined ? '' : tape(markUp(asked.shortest, display)),
        asked?.longest === undefined ? '' : tape(markDown(asked.longest, display)),
      ];
      const { hoist, shackle } = fitting?.input ?? {};
      return [
        plainText(line.id),
        line.fitting === null ? 'a point of its own' : `lug ${plainText(line.fitting)}`,
        reach.every((text) => text === '') ? 'not given' : reach.map((text) => text || '…').join(' to '),
        line.greatest === null ? 'never pulls' : plateLoad(line.greatest.tension, display, plan),
        line.greatest === null ? '' : where(line.greatest),
        hoist === undefined
          ? NOT_GIVEN
          : `${gearLimit(hoist.wll, display, plan)}${used(sweep, 'hoist-wll', line.greatest)}`,
        shackle === undefined
          ? NOT_GIVEN
          : `${gearLimit(shackle.wll, display, plan)}${used(sweep, 'shackle-wll', line.greatest)}`,
      ];
    }),
    { size: 8, boldRow: (row) => failing(lift, lift.lines[row]?.fitting ?? null) },
  );
  for (const line of lift.lines) {
    if (line.fitting === null)
      flow.bullet(
        `Line ${plainText(line.id)} hangs from a point of its own, ${placeText(line.pin, tape)}: this plan checks neither that point nor the hoist and shackle in it.`,
      );
  }
  const factors = plan.fittings[0]?.strength.factors;
  const factor = factors === undefined ? 1 : factors.dynamic.value * factors.skew.value * factors.consequence.value;
  flow.paragraph(
    `Pulls: from the balance of forces and moments on the load at each step, still and under each push (statics; set out in the calculation of each lug, “Movement of the load”). Limits: working load limits as the job file gives them, to be read off the plates before the lift. Used: the pull times ${fixed(factor, 3)} (dynamic, skew and consequence factors) over the limit, where that is most; a shackle pulled off the plane of its lug has less of its limit.${display === 'us' ? ' A ton is 2000 lb, a t 1000 kg.' : ''}`,
    { size: 8 },
  );
}

const failing = (lift: LiftPlan, id: string | null): boolean =>
  lift.lugs
    .find((lug) => lug.id === id)
    ?.checks.some(({ check }) => !check.pass && ['hoist-wll', 'shackle-wll'].includes(check.id)) ?? false;

/** Units of checks that ask how hard something is pulled. */
const STRENGTH: ReadonlySet<string> = new Set(['N', 'MPa', 'N/mm', 'N mm']);

/** The worst that each lug gets over the whole movement. */
export function lugsTable(flow: Flow, plan: Plan, lift: LiftPlan): void {
  const force = (newton: number) => forceText(plan, newton);
  flow.heading(2, 'The worst on each lug');
  flow.table(
    [
      { title: 'Lug', share: 0.7, bold: true },
      { title: 'greatest pull', share: 1.2, align: 'right' },
      { title: 'where', share: 1.6 },
      { title: 'across the plate', share: 1.3, align: 'right' },
      { title: 'where', share: 1.6 },
      { title: 'allowed across', share: 1.1, align: 'right' },
      { title: 'most used of its strength and gear', share: 2.3 },
    ],
    lift.lugs.map((lug) => {
      if (lug.worst === undefined) return [plainText(lug.id), 'carries nothing', '', '', '', '', ''];
      const { tension, sideways } = lug.worst;
      const fitting = plan.fittings.find((each) => each.id === lug.id);
      // What merely has to fit is used alike from the first step to the last, and says nothing of how hard the lug is pulled.
      // Of the movement alone: checks at the pull of the job belong to another pull than the ones in this row.
      const most = lug.checks
        .map(({ check }) => check)
        .filter(({ unit, pass }) => !pass || STRENGTH.has(unit))
        .toSorted((p, q) => q.ratio - p.ratio)[0];
      const allowed = lug.checks.find(({ check }) => check.id === 'lift-sideways')?.check;
      return [
        plainText(lug.id),
        force(tension.pull.force),
        where(tension),
        `${force(Math.abs(sideways.pull.sideways))}, ${degrees(Math.abs(sideways.pull.offPlane))} off`,
        where(sideways),
        allowed === undefined ? '' : `${force(allowed.limit)}${allowed.pass ? '' : ' FAILS'}`,
        most === undefined || fitting === undefined
          ? ''
          : `${sidesInWords(fitting, most.title)}: ${ratioText(most)}${most.pass ? '' : ` ${verdictWord(most)}`}`,
      ];
    }),
    { size: 8, boldRow: (row) => lift.lugs[row]?.pass === false },
  );
  flow.paragraph(
    'Every check, with its formula, limit and source, stands in the calculation of each lug. Where several lines hang from one lug its pull is what they make together.',
    { size: 8 },
  );
}

/** How far off the plane of the plate the pull is as the lug was built, where that was measured. */
const asStands = ({ asBuilt }: FittingPlan): string =>
  asBuilt === null ? '' : `\nas it stands ${degrees(Math.abs(asBuilt.load.offPlane))}`;

/** Where a pull leads that does not hang plumb: `, outboard`, `, aft and inboard`. */
function pullWay(plan: Plan, { load, anchor }: FittingPlan): string {
  const down = dot(load.direction, plan.up);
  const level = addScaled(load.direction, plan.up, -down);
  const size = length(level);
  if (size < Math.sin(Math.PI / 360)) return '';
  const outboard = (anchor.side === 'port' ? 1 : -1) * level[1];
  const ways = [
    ...(Math.abs(level[0]) > 0.35 * size ? [level[0] > 0 ? 'forward' : 'aft'] : []),
    ...(Math.abs(outboard) > 0.35 * size ? [outboard > 0 ? 'outboard' : 'inboard'] : []),
  ];
  return `, ${ways.join(' and ')}`;
}

/** What a shackle is left with at the angle that it is pulled at, where that is less than its plate says. */
function asItPulls(plan: Plan, { input, checks }: FittingPlan): string {
  const limit = checks.find(({ id }) => id === 'shackle-wll')?.limit;
  if (limit === undefined || input.shackle === undefined || !(limit < input.shackle.wll)) return '';
  return `\nat this angle ${plateLoad(limit, plan.job.display, plan)}`;
}

/** The pull that each lug was planned for, where no movement was. */
export function ownPullsTable(flow: Flow, plan: Plan): void {
  const { display } = plan.job;
  const given = (wll: number | undefined) => (wll === undefined ? NOT_GIVEN : gearLimit(wll, display, plan));
  flow.heading(2, 'Lugs');
  flow.table(
    [
      { title: 'Lug', share: 0.8, bold: true },
      { title: 'pull planned for', share: 1.4, align: 'right' },
      { title: 'off straight down', share: 1, align: 'right' },
      { title: 'out of the plane of the plate', share: 1.2, align: 'right' },
      { title: 'hoist, limit', share: 1.5, align: 'right' },
      { title: 'shackle, limit', share: 1.5, align: 'right' },
      { title: 'checks', share: 1.2 },
    ],
    plan.fittings.map((fitting: FittingPlan) => {
      const { load, input, checks } = fitting;
      const down = -load.direction.reduce((sum, d, i) => sum + d * (plan.up[i] as number), 0);
      const failed = checks.filter((check) => !check.pass).length;
      return [
        plainText(fitting.id),
        plateLoad(load.force, display, plan),
        `${degrees(Math.acos(Math.max(-1, Math.min(1, down))))}${pullWay(plan, fitting)}`,
        `${degrees(Math.abs(load.offPlane))}${asStands(fitting)}`,
        given(input.hoist?.wll),
        `${given(input.shackle?.wll)}${asItPulls(plan, fitting)}`,
        failed === 0 ? `all ${checks.length} pass` : `${failed} of ${checks.length} ${fails(failed)}`,
      ];
    }),
    { size: 8 },
  );
  flow.paragraph(
    `Pulls and limits are those of the job file; limits are to be read off the plates before the lift. In its plane a plate is strong, across it weak: a pull farther out of the plane than planned for is for the engineer${plan.fittings.some((fitting) => asItPulls(plan, fitting) !== '') ? '; a shackle pulled off it has less of its limit' : ''}.${plan.fittings.length > 1 ? ' The pulls of several lugs, added up, are no measure of what may be lifted: how they share it is not planned here.' : ''}${display === 'us' ? ' A ton is 2000 lb, a t 1000 kg.' : ''}`,
  );
}

/** A place in ship axes as it is found with a tape. */
export function placeText([x, y, z]: Vec3, tape: (mm: number) => string): string {
  const side = Math.abs(y) < 0.5 ? 'on the centreline' : `${tape(Math.abs(y))} to ${y > 0 ? 'port' : 'starboard'}`;
  return `${fromAftPerpendicular(x, tape)}, ${side}, ${tape(Math.abs(z))} ${z >= 0 ? 'above' : 'below'} the baseline`;
}
