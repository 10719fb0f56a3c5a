import { dot, sub, type Vec3 } from '../../geometry/math/vec.ts';
import type { Check } from '../plan/types.ts';
import { loadWeldBed, weldBed } from '../strength/weldgroup.ts';
import type { Amended, WorkStep, WorkTerm } from './calculation-terms.ts';
import type { ValueUnit } from './calculation-values.ts';
import type { Context } from './context.ts';

const AXES = ['A', 'B', 'C'] as const;

/**
 * The weld of the foot in components along the axes of the lug, so that q = F/L + w x r can be redone by hand: pull, lever of the
 * pin, moments, w held against I w = M, and the line force at the worst point. I of the line weld about its centroid, unit throat.
 * Of a movement's check pull and worst point are those that the check itself tells.
 */
export function weldLines(plain: Amended, check: Check, context: Context): Partial<Amended> {
  const strength = strengthFormula(plain, check);
  const { fitting } = context;
  const { frame, root } = fitting;
  const { use } = fitting.strength;
  const inLug = (v: Vec3): Vec3 => [dot(v, frame.foot), dot(v, frame.stem), dot(v, frame.face)];
  const { position, weight } = root.quadrature;
  const lug = new Float64Array(position.length);
  for (let i = 0; i < position.length; i += 3) lug.set(inLug([...position.subarray(i, i + 3)] as unknown as Vec3), i);
  const bed = weldBed(lug, weight);
  const { inertia, centroid } = bed;
  const from = (p: Vec3): Vec3 => sub(inLug(p), centroid);
  const own = fitting.checks.includes(check);
  const force = own ? inLug(use.force) : sweptPull(check);
  const k = own ? use.worst.index : sampleAt(root.s, termOf(check.terms, 's'));
  const worst = [0, 1, 2].map((i) => root.position[3 * k + i] as number) as unknown as Vec3;
  const lever = from(fitting.pin);
  const arm = from(worst);
  const turn = loadWeldBed(bed, force, inLug(fitting.pin)).w;
  const whole = (values: readonly number[]) => Math.max(...values.map(Math.abs));
  // What is left of a component by round-off is nothing.
  const component = (value: number, scale: number) => ({ value: Math.abs(value) < 1e-9 * scale ? 0 : value, scale });
  const vector = (symbol: string, name: string, values: Vec3, unit: ValueUnit): WorkTerm[] =>
    AXES.map((axis, i) => ({
      symbol: `${symbol}_${axis}`,
      name: `${name} ${axis}`,
      unit,
      ...component(values[i] as number, whole(values)),
    }));
  const inertias = ['AA', 'BB', 'CC', 'AB', 'BC', 'CA'].map(
    (axes, i): WorkTerm => ({
      symbol: `I_${axes}`,
      name: i < 3 ? `inertia of the weld about ${axes[0]}` : `minus its product ${axes[0]} ${axes[1]}`,
      unit: 'mm3',
      ...component(inertia[i] as number, whole(inertia)),
    }),
  );
  const steps: WorkStep[] = [];
  const turning = whole(force) * whole(lever);
  const next = (i: number) => AXES[(i + 1) % 3] as string;
  const last = (i: number) => AXES[(i + 2) % 3] as string;
  AXES.forEach((axis, i) => {
    const [j, l] = [next(i), last(i)];
    steps.push({ symbol: `M_${axis}`, formula: `p_${j} F_${l} - p_${l} F_${j}`, unit: 'N mm', scale: turning });
  });
  const pair = (i: string, j: string) => (['AB', 'BC', 'CA'].includes(i + j) ? i + j : j + i);
  AXES.forEach((axis) => {
    const row = AXES.map((other) => `I_${axis === other ? axis + axis : pair(axis, other)} w_${other}`);
    steps.push({
      symbol: `M_${axis}`,
      formula: row.join(' + '),
      unit: 'N mm',
      scale: turning,
      note: 'the same from w: I w = M',
    });
  });
  AXES.forEach((axis, i) => {
    const [j, l] = [next(i), last(i)];
    steps.push({
      symbol: `q_${axis}`,
      formula: `F_${axis}/L + w_${j} r_${l} - w_${l} r_${j}`,
      unit: 'N/mm',
      scale: check.demand,
    });
  });
  const size = plain.steps.find((step) => step.symbol === 'q');
  return {
    ...strength,
    terms: [
      ...plain.terms.filter((term) => term.symbol !== 'F'),
      ...vector('F', 'pull with its factors,', force, 'N'),
      ...vector('p', 'centroid to pin,', lever, 'mm'),
      ...vector('r', 'centroid to worst point,', arm, 'mm'),
      ...inertias,
      ...vector('w', 'line force per arm,', turn, 'N/mm2'),
    ],
    steps: [
      ...steps,
      {
        symbol: 'q',
        formula: 'sqrt(q_A^2 + q_B^2 + q_C^2)',
        unit: 'N/mm',
        ...(size?.value !== undefined && { value: size.value }),
      },
      ...(strength.steps ?? []).filter((step) => !TOLD.has(step.symbol)),
    ],
    beside: {
      words:
        'Weld as a line on an even elastic bed, the lug rigid; all about the centroid of the weld, along the axes A, B, C of the lug:',
      tex: String.raw`\mathbf q = \frac{\mathbf F}{L} + \mathbf w \times \mathbf r,\quad \mathbf I\,\mathbf w = \mathbf M = \mathbf p \times \mathbf F`,
    },
  };
}

/** The pull that a movement's check was worked with, lug axes, N: what it brings for each length of the weld, over all of it. */
function sweptPull(check: Check): Vec3 {
  const length = termOf(check.terms, 'L');
  return AXES.map((axis) => termOf(check.steps, `u_${axis}`) * length) as unknown as Vec3;
}

/** The sample of the root at s, mm: the nearest. */
const sampleAt = (along: Float64Array, s: number): number =>
  along.reduce((best, at, i) => (Math.abs(at - s) < Math.abs((along[best] as number) - s) ? i : best), 0);

function termOf(list: readonly { readonly symbol: string; readonly value: number }[], symbol: string): number {
  const found = list.find((each) => each.symbol === symbol);
  if (found === undefined) throw new Error(`the weld's check does not tell ${symbol}`);
  return found.value;
}

/** Lines of the check's own working that stand here with their components instead. */
const TOLD: ReadonlySet<string> = new Set([
  '|u|',
  '|w x r|',
  'q',
  ...['u', 'v', 'q'].flatMap((symbol) => AXES.map((axis) => `${symbol}_${axis}`)),
]);

/** The formula that decides, with the factors of the wet weld where the directional method of EN 1993-1-8 takes them. */
function strengthFormula(plain: Amended, check: Check): Partial<Amended> {
  if (check.unit !== 'MPa') return { formula: check.formula, steps: plain.steps };
  const value = (symbol: string) => plain.terms.find((term) => term.symbol === symbol)?.value ?? Number.NaN;
  const strength = value('f_u') * value('k_q') * value('k_s');
  const normal = (0.9 * strength) / value('gamma_M2');
  const compare = strength / (value('beta_w') * value('gamma_M2'));
  const governs = Math.abs(check.limit - normal) < Math.abs(check.limit - compare);
  return {
    formula: governs
      ? '|s_perp| <= 0.9 f_u k_q k_s/gamma_M2'
      : 'sqrt(s_perp^2 + 3 (t_perp^2 + t_par^2)) <= f_u k_q k_s/(beta_w gamma_M2)',
    steps: plain.steps,
  };
}
