import { cross, length, scale, sub, type Vec3 } from '../../geometry/math/vec.ts';
import type { LiftPlan } from '../plan/movement/types.ts';
import { placeOf } from '../rigging/pose.ts';
import { mathematics } from './calculation-check.ts';
import { printed, type ValueUnit } from './calculation-values.ts';
import type { Context } from './context.ts';
import type { Flow } from './flow.ts';
import { stepText } from './liftsteps.ts';
import { plainText } from './text.ts';

/** A force on the load: where it acts from the centre of gravity (mm), itself (N), its moment about the centre of gravity (N mm). Ship axes. */
export interface BalanceRow {
  readonly name: string;
  readonly arm: Vec3;
  readonly force: Vec3;
  readonly moment: Vec3;
}

/**
 * Everything that acts on the load at rest at a step, with the sum last: nothing but round-off is left of it. Undefined where the load is
 * nowhere at rest there. Plain statics.
 */
export function balanceAt(lift: LiftPlan, up: Vec3, step: number): BalanceRow[] | undefined {
  const state = lift.states[step];
  if (state === undefined || !state.rest.found) return undefined;
  const { pose, lines } = state.rest.equilibrium;
  const from = (drawn: Vec3): Vec3 => sub(placeOf(pose, lift.load.centre, drawn), pose.centre);
  const row = (name: string, arm: Vec3, force: Vec3): BalanceRow => ({ name, arm, force, moment: cross(arm, force) });
  const rows = [row('weight', [0, 0, 0], scale(up, -lift.load.weight))];
  if (lift.load.buoyancy > 0) rows.push(row('buoyancy', from(lift.load.buoyancyCentre), scale(up, lift.load.buoyancy)));
  lift.lines.forEach((line, k) => {
    const pull = lines[k];
    if (pull === undefined || !(pull.tension > 0)) return;
    rows.push(row(`line ${plainText(line.id)}`, from(line.attachment), scale(pull.direction, -pull.tension)));
  });
  const sum = (of: (each: BalanceRow) => Vec3): Vec3 =>
    rows.reduce<Vec3>((s, each) => s.map((v, i) => v + (of(each)[i] as number)) as unknown as Vec3, [0, 0, 0]);
  return [...rows, { name: 'sum', arm: [0, 0, 0], force: sum((r) => r.force), moment: sum((r) => r.moment) }];
}

/** How the pulls are found, how a line gives, and the balance at some steps in figures that can be added up by hand. */
export function balanceSection(flow: Flow, context: Context, lift: LiftPlan, steps: readonly number[]): void {
  const { plan } = context;
  const { display } = plan.job;
  flow.heading(2, 'How the pulls are found');
  flow.paragraph(
    'The load is a rigid body, wholly under water; lines only pull, along the straight way from pin to load. At each step lengths are set as the order of work says, and the load is where forces and moments about its centre of gravity come to nothing:',
  );
  mathematics(
    flow,
    [
      String.raw`\sum T_i \mathbf{u}_i = (W - B)\,\mathbf{e}`,
      String.raw`,\quad \sum \mathbf{r}_i \times T_i \mathbf{u}_i = -\mathbf{r}_B \times B \mathbf{e}`,
    ],
    11,
  );
  flow.paragraph(
    `with T the pull of a line, u its way from the load up to its pin, e the way up, square to the water, W and B weight and buoyancy, r the way from the centre of gravity to where a line i, or the buoyancy (B), acts. Source: statics. ${stretchWords(context, lift)}`,
  );
  flow.table(
    [
      { title: 'Line', share: 0.8, bold: true },
      { title: 'hangs from', share: 1 },
      { title: 'how it gives', share: 2.2 },
      { title: 'where that is from', share: 1.6 },
    ],
    lift.lines.map((line, k) => {
      const { stretch } = line;
      const say = (value: number, unit: ValueUnit) => {
        const { digits, unit: name } = printed(value, unit, display);
        return `${digits} ${name}`;
      };
      return [
        plainText(line.id),
        line.fitting === null ? 'a point of its own' : `lug ${plainText(line.fitting)}`,
        stretch.kind === 'axial'
          ? `T = EA (l - L) / L, EA = ${say(stretch.ea, 'N')}`
          : `T = k (l - L), k = ${say(stretch.k, 'N/mm')}`,
        isAssumed(plan, k) ? 'assumed: the job says nothing' : 'the job',
      ];
    }),
    { size: 8 },
  );
  const residual = Math.max(0, ...lift.cases.map(({ equilibrium }) => equilibrium.residual));
  flow.paragraph(
    `What is left over is nowhere more than ${powerOfTen(residual)} of the weight in water, over ${lift.cases.length} cases${lift.pushes.length === 0 ? '' : ', still and pushed'}.`,
    { size: 8 },
  );
  for (const step of steps) balanceTable(flow, context, lift, step);
}

function balanceTable(flow: Flow, { plan }: Context, lift: LiftPlan, step: number): void {
  const { display } = plan.job;
  const rows = balanceAt(lift, plan.up, step);
  if (rows === undefined) return;
  const state = lift.states[step] as LiftPlan['states'][number];
  const unit = (of: ValueUnit) => printed(1, of, display).unit;
  flow.heading(2, `Balance at step ${step + 1}: ${stepText(state)}`);
  const most = (of: (row: BalanceRow) => Vec3) => Math.max(...rows.flatMap((row) => of(row).map(Math.abs)));
  // A sum that is round-off of its terms is nothing.
  const cells = (v: Vec3, whole: number, of: ValueUnit) =>
    v.map((value) => printed(Math.abs(value) < 1e-7 * whole ? 0 : value, of, display, 0, whole).digits);
  const [arms, forces, moments] = [most((r) => r.arm), most((r) => r.force), most((r) => r.moment)];
  const axes = ['x', 'y', 'z'];
  flow.table(
    [
      { title: 'acts on the load', share: 1.4, bold: true },
      { title: `size, ${unit('N')}`, share: 1, align: 'right' },
      ...axes.map((axis) => ({ title: `r ${axis}, ${unit('mm')}`, share: 1.1, align: 'right' as const })),
      ...axes.map((axis) => ({ title: `F ${axis}, ${unit('N')}`, share: 1, align: 'right' as const })),
      ...axes.map((axis) => ({ title: `M ${axis}, ${unit('N mm')}`, share: 1.1, align: 'right' as const })),
    ],
    rows.map((row) => [
      row.name,
      row.name === 'sum' ? '' : printed(length(row.force), 'N', display).digits,
      ...(row.name === 'sum' ? ['', '', ''] : cells(row.arm, arms, 'mm')),
      ...cells(row.force, forces, 'N'),
      ...cells(row.moment, moments, 'N mm'),
    ]),
    { size: 8, boldRow: (r) => r === rows.length - 1 },
  );
  flow.paragraph(
    `Ship axes; r from the centre of gravity, at rest, M = r × F.${lift.pushes.length === 0 ? '' : ' What a push adds is in the greatest pulls.'}`,
    {
      size: 8,
    },
  );
}

/** What the letters of the lines' stretch mean, those that stand in the table alone, and where the figures come from. */
function stretchWords({ plan }: Context, lift: LiftPlan): string {
  const kinds = new Set(lift.lines.map(({ stretch }) => stretch.kind));
  const letters = [
    'l the length of a line',
    'L its length without load',
    ...(kinds.has('axial') ? ['EA the pull that would stretch it to twice its length'] : []),
    ...(kinds.size > (kinds.has('axial') ? 1 : 0) ? ['k the pull that stretches it by a unit of length'] : []),
  ];
  const assumed = lift.lines.filter((_, k) => isAssumed(plan, k)).length;
  const from =
    assumed === 0
      ? 'as the job says'
      : `${assumed === lift.lines.length ? '' : 'as the job says, else '}by the half per cent that stands among the assumptions`;
  return `With ${letters.slice(0, -1).join(', ')} and ${letters.at(-1)}, it gives ${from}:`;
}

/** Whether the job leaves open how line k gives. */
const isAssumed = (plan: Context['plan'], k: number): boolean =>
  plan.assumptions.some(({ path }) => path === `lift.lines[${k}].ea`);

const RAISED = '⁰¹²³⁴⁵⁶⁷⁸⁹';

/** The power of ten that a small share stays below: `10⁻⁹`. */
function powerOfTen(share: number): string {
  const power = share > 0 ? Math.ceil(Math.log10(share)) : -15;
  if (power >= 0) return String(10 ** power);
  return `10⁻${[...String(-power)].map((digit) => RAISED[Number(digit)]).join('')}`;
}
