import type { Vec3 } from '../../geometry/math/vec.ts';
import { cross, dot } from '../../geometry/math/vec.ts';
import type { Case } from './case.ts';
import { type Check, type Step, strengthCheck, type Term } from './check.ts';
import {
  aiscWeldLineForce,
  angleToAxis,
  betaW,
  bthWeldLineForce,
  directionalIncrease,
  enComparisonStress,
  enWeldShearStrength,
  filletFrame,
  throatStress,
  WET_WELD_FACTORS,
} from './directional.ts';
import { lineForcesAt, loadWeldBed, type WeldGroupForce } from './weldgroup.ts';

/** f_u of EN 1993-1-8 4.5.3: the weaker of the parts joined; a deposit weaker than both is taken too (EN asks for none such). */
export const enWeakest = (c: Case): number =>
  Math.min(c.input.steel.lug.tensile, c.input.steel.shell.tensile, c.input.weld.electrode);

/** beta_w of the stronger of the two steels: the greater factor. */
export const enBeta = (c: Case): number => betaW(Math.max(c.input.steel.lug.yield, c.input.steel.shell.yield));

/** What the quality of a wet weld and its starts and stops leave of it, 0..1. */
export const wetFactor = (c: Case): number => {
  const wet = c.input.weld.wet ?? WET_WELD_FACTORS;
  return wet.quality * wet.startStop;
};

/** Weld limit for one mm of throat, N/mm per mm, without any gain by direction, with the wet factors. */
export function weldLimitPerThroat(c: Case): number {
  const e = c.input.weld.electrode;
  const dry = (): number => {
    switch (c.design.basis) {
      case 'aisc-360-asd':
        return aiscWeldLineForce(e, 1, 'asd');
      case 'aisc-360-lrfd':
        return aiscWeldLineForce(e, 1, 'lrfd');
      case 'en-1993':
        return enWeldShearStrength(enWeakest(c), enBeta(c), c.design.en.gammaM2);
      case 'bth-1':
        return bthWeldLineForce(e, 1, c.design.bth.designFactor);
    }
  };
  return dry() * wetFactor(c);
}

/** The weld along the root under the pull with its sideways part to one side. */
export interface WeldSense {
  /** N, across the plate, as it was put on: towards +C where above 0. */
  readonly sideways: number;
  /** N/mm, 3n, frame of the root. */
  readonly lineForce: Float64Array;
  /** Demand over limit, n. */
  readonly utilisation: Float64Array;
  readonly group: WeldGroupForce;
  /** N, frame of the root: the load that was put on. */
  readonly force: Vec3;
}

/** The weld along the root: line force, group and load are those of the sense in which the weld is used most. */
export interface WeldUse extends Omit<WeldSense, 'utilisation'> {
  /** Demand over limit at each sample, n: the worse of both senses where the allowance may act to either side. */
  readonly utilisation: Float64Array;
  readonly worst: { readonly index: number; readonly s: number; readonly side: number };
  /** Every sense that was tried, the one that governs in front. */
  readonly senses: readonly WeldSense[];
}

/** Vector k of a list of coordinates. */
export const at = (list: Float64Array, k: number): Vec3 => [
  list[3 * k] as number,
  list[3 * k + 1] as number,
  list[3 * k + 2] as number,
];

/** Outward normal of the plate on a side: -C, +A, +C, -A for face-, end+, face+, end-. */
export function plateNormalOn(c: Case, side: number): Vec3 {
  const { foot: A, face: C } = c.input.frame;
  const n = side % 2 === 0 ? C : A;
  return side === 0 || side === 3 ? [-n[0], -n[1], -n[2]] : n;
}

/** Throat at a root sample, mm. */
export const throatAt = (c: Case, k: number): number => {
  const { throat } = c.input.weld;
  return typeof throat === 'number' ? throat : (throat[k] as number);
};

/** Demand and limit at one sample. N/mm, but MPa by EN's directional method. */
interface PointUse {
  readonly demand: number;
  readonly limit: number;
  readonly unit: 'N/mm' | 'MPa';
}

/** True where the strength counts on the direction of the force: asked for by the job, and known to the basis. */
const byDirection = (c: Case): boolean => c.input.weld.directional === true && c.design.basis !== 'bth-1';

function pointUse(c: Case, q: Vec3, k: number, perThroat: number): PointUse {
  const throat = throatAt(c, k);
  const size = Math.hypot(q[0], q[1], q[2]);
  const plain: PointUse = { demand: size, limit: perThroat * throat, unit: 'N/mm' };
  if (!byDirection(c)) return plain;
  const hull = at(c.input.root.normal, k);
  const plate = plateNormalOn(c, c.input.root.side[k] as number);
  if (c.design.basis === 'en-1993') {
    const fu = enWeakest(c) * wetFactor(c);
    const s = throatStress(q, throat, hull, plate);
    const compare: PointUse = {
      demand: enComparisonStress(s),
      limit: fu / (enBeta(c) * c.design.en.gammaM2),
      unit: 'MPa',
    };
    const normal: PointUse = { demand: Math.abs(s.normal), limit: (0.9 * fu) / c.design.en.gammaM2, unit: 'MPa' };
    return normal.demand * compare.limit > compare.demand * normal.limit ? normal : compare;
  }
  const theta = angleToAxis(q, filletFrame(hull, plate).axis);
  return { ...plain, limit: plain.limit * directionalIncrease(theta) };
}

/** The pull in the frame of the root, N, for a sideways part of its own. */
export function pullOf(c: Case, sideways: number): Vec3 {
  const { alongStem: b, alongFoot: a } = c.load;
  const { foot: A, stem: B, face: C } = c.input.frame;
  return [
    b * B[0] + a * A[0] + sideways * C[0],
    b * B[1] + a * A[1] + sideways * C[1],
    b * B[2] + a * A[2] + sideways * C[2],
  ];
}

/** Sideways parts to look at, N: both senses where the allowance is the worse one, since it may act to either side. */
export const sidewaysSenses = (c: Case): readonly number[] =>
  c.load.allowanceGoverns ? [c.load.sideways, -c.load.sideways] : [c.load.sideways];

/** Line force and utilisation along the root; both senses of the sideways allowance where it is the worse one. */
export function weldUse(c: Case): WeldUse {
  const [first, second] = sidewaysSenses(c).map((sideways) => senseOf(c, sideways)) as [Peaked, Peaked?];
  const swapped = second !== undefined && second.most > first.most * TIE;
  const governs = swapped ? second : first;
  const other = swapped ? first : second;
  const { lineForce, group, force, sideways } = governs.sense;
  const { s, side } = c.input.root;
  return {
    sideways,
    lineForce,
    utilisation:
      other === undefined
        ? governs.sense.utilisation
        : governs.sense.utilisation.map((use, k) => Math.max(use, other.sense.utilisation[k] as number)),
    worst: { index: governs.index, s: s[governs.index] as number, side: side[governs.index] as number },
    group,
    force,
    senses: other === undefined ? [governs.sense] : [governs.sense, other.sense],
  };
}

/** A sense with the sample where the weld is used most, and how much. */
interface Peaked {
  readonly sense: WeldSense;
  readonly index: number;
  readonly most: number;
}

/** What is no more than this times as great is as great, but for round-off: of equals the first stands, whoever looks. */
export const TIE = 1 + 1e-9;

function senseOf(c: Case, sideways: number): Peaked {
  const { root, pin } = c.input;
  const { bed } = c.prepared;
  const per = weldLimitPerThroat(c);
  const plain = !byDirection(c);
  const force = pullOf(c, sideways);
  const group = loadWeldBed(bed, force, pin);
  const n = root.s.length;
  const lineForce = lineForcesAt(group, root.position);
  const utilisation = new Float64Array(n);
  let index = 0;
  for (let k = 0; k < n; k++) {
    if (plain) {
      const size = Math.hypot(
        lineForce[3 * k] as number,
        lineForce[3 * k + 1] as number,
        lineForce[3 * k + 2] as number,
      );
      utilisation[k] = size / (per * throatAt(c, k));
    } else {
      const use = pointUse(c, at(lineForce, k), k, per);
      utilisation[k] = use.demand / use.limit;
    }
    if ((utilisation[k] as number) > (utilisation[index] as number) * TIE) index = k;
  }
  return {
    sense: { sideways, lineForce, utilisation, group, force },
    index,
    most: utilisation[index] as number,
  };
}

/** Of a check that looks at both sides: what was put across the plate, and to which side it is the worse there. */
export function acrossTerm(c: Case, sideways: number): Term {
  const side = sideways < 0 ? 'face-' : 'face+';
  return {
    symbol: 'H',
    name: c.load.allowanceGoverns
      ? `pull across the plate: the allowance, to either side; worse here towards the ${side}`
      : 'pull across the plate, as the direction gives it',
    value: Math.abs(sideways),
    unit: 'N',
  };
}

const SOURCE: Readonly<Record<Case['design']['basis'], readonly [plain: string, directional: string]>> = {
  'aisc-360-asd': ['AISC 360 J2.4 (no directional increase)', 'AISC 360 J2.4, eq. J2-5'],
  'aisc-360-lrfd': ['AISC 360 J2.4 (no directional increase)', 'AISC 360 J2.4, eq. J2-5'],
  'en-1993': ['EN 1993-1-8 4.5.3.3 (simplified)', 'EN 1993-1-8 4.5.3.2 (directional)'],
  'bth-1': ['ASME BTH-1 3-3.4 (recalled)', 'ASME BTH-1 3-3.4 (recalled)'],
};

/** The foot weld at its worst point, and that the weld can carry the moment at all. */
export function weldChecks(c: Case, use: WeldUse): Check[] {
  const k = use.worst.index;
  const q = at(use.lineForce, k);
  const per = weldLimitPerThroat(c);
  const point = pointUse(c, q, k, per);
  const directional = byDirection(c);
  const wet = c.input.weld.wet ?? WET_WELD_FACTORS;
  const { group } = use;
  const size = Math.hypot(q[0], q[1], q[2]);
  const p = at(c.input.root.position, k);
  const arm: Vec3 = [p[0] - group.centroid[0], p[1] - group.centroid[1], p[2] - group.centroid[2]];
  const turning = cross(group.w, arm);
  const en = c.design.basis === 'en-1993';
  const terms: Term[] = [
    { symbol: 'F', name: 'pull with its factors', value: c.load.force, unit: 'N' },
    acrossTerm(c, use.sideways),
    { symbol: 'L', name: 'length of the weld round the foot', value: group.length, unit: 'mm' },
    { symbol: 'a_w', name: 'throat at the worst point', value: throatAt(c, k), unit: 'mm' },
    { symbol: 's', name: 'place of the worst point along the root', value: use.worst.s, unit: 'mm' },
    { symbol: 'F_w', name: 'tensile strength of the deposit', value: c.input.weld.electrode, unit: 'MPa' },
    { symbol: 'k_q', name: 'factor for the quality of the wet weld', value: wet.quality, unit: 'share' },
    { symbol: 'k_s', name: 'factor for starts and stops', value: wet.startStop, unit: 'share' },
    ...(en
      ? ([
          { symbol: 'f_u', name: 'tensile strength of the weakest part', value: enWeakest(c), unit: 'MPa' },
          { symbol: 'beta_w', name: 'correlation factor', value: enBeta(c), unit: 'share' },
          { symbol: 'gamma_M2', name: 'partial factor', value: c.design.en.gammaM2, unit: 'share' },
        ] as const)
      : []),
    ...(c.design.basis === 'bth-1'
      ? ([
          { symbol: 'N_d', name: 'nominal design factor (recalled)', value: c.design.bth.designFactor, unit: 'share' },
        ] as const)
      : []),
  ];
  const steps: Step[] = [
    { symbol: '|u|', formula: 'F/L', value: Math.hypot(...group.u), unit: 'N/mm' },
    {
      symbol: '|w x r|',
      formula: 'from I w = M, r from the centroid to the worst point',
      value: Math.hypot(...turning),
      unit: 'N/mm',
    },
    ...lugComponents(c, group.u, turning),
    { symbol: 'q', formula: '|u + w x r|', value: size, unit: 'N/mm' },
    { symbol: 'f_w', formula: LIMIT_TEXT[c.design.basis], value: per, unit: 'MPa' },
  ];
  if (directional && en) {
    const plate = plateNormalOn(c, use.worst.side);
    const s = throatStress(q, throatAt(c, k), at(c.input.root.normal, k), plate);
    steps.push(
      { symbol: 's_perp', formula: 'q square to the throat plane over a_w', value: s.normal, unit: 'MPa' },
      {
        symbol: 't_perp',
        formula: 'q in the throat plane, across the weld, over a_w',
        value: s.acrossShear,
        unit: 'MPa',
      },
      { symbol: 't_par', formula: 'q along the weld over a_w', value: s.alongShear, unit: 'MPa' },
    );
  } else if (directional) {
    const plate = plateNormalOn(c, use.worst.side);
    const theta = angleToAxis(q, filletFrame(at(c.input.root.normal, k), plate).axis);
    steps.push(
      { symbol: 'theta', formula: "angle between q and the weld's axis", value: theta, unit: 'rad' },
      { symbol: 'k_d', formula: '1 + 0.5 sin^1.5 theta', value: directionalIncrease(theta), unit: 'share' },
    );
  }
  const need = throatAt(c, k) * (point.demand / point.limit) * Math.SQRT2;
  const list = [
    strengthCheck({
      id: 'weld',
      title: 'Weld round the foot, worst point',
      demand: point.demand,
      limit: point.limit,
      unit: point.unit,
      basis: c.design.basis,
      source: `Elastic weld group, q = F/L + w × r; ${SOURCE[c.design.basis][directional ? 1 : 0]}`,
      standing: c.design.basis === 'bth-1' ? 'not-verified' : 'source',
      formula: directional
        ? en
          ? 'sqrt(s_perp^2 + 3 (t_perp^2 + t_par^2)) <= f_u/(beta_w gamma_M2) and |s_perp| <= 0.9 f_u/gamma_M2'
          : 'q <= k_d f_w a_w'
        : 'q <= f_w a_w',
      tex: directional
        ? en
          ? String.raw`\sqrt{\sigma_\perp^2 + 3(\tau_\perp^2 + \tau_\parallel^2)} \le \frac{f_u}{\beta_w\gamma_{M2}},\quad |\sigma_\perp| \le \frac{0.9 f_u}{\gamma_{M2}}`
          : String.raw`q \le (1 + 0.5\sin^{1.5}\theta)\,f_w\,a_w`
        : String.raw`q = |\mathbf u + \mathbf w \times \mathbf r| \le f_w\,a_w`,
      terms,
      steps,
      remedy: [
        'A leg of about ',
        { mm: need, digits: 1, bound: 'least' },
        ' (square tee) would do, or a longer foot, or a load line nearer the plane of the lug.',
      ],
    }),
  ];
  if (group.uncarried > 0) {
    list.push(
      strengthCheck({
        id: 'weld-moment',
        title: 'Moment that the weld has no width to carry',
        demand: group.uncarried,
        limit: 0,
        unit: 'N mm',
        basis: 'trade',
        source: 'Equilibrium: a straight weld cannot resist a moment about its own line',
        standing: 'source',
        formula: 'M about the line of the weld = 0',
        tex: String.raw`M_\parallel = 0`,
        terms: [{ symbol: 'M', name: 'moment about the line of the weld', value: group.uncarried, unit: 'N mm' }],
        remedy: ['Weld both faces and the ends of the foot.'],
      }),
    );
  }
  return list;
}

/**
 * Components of the line force along the axes of the lug (A foot, B stem, C across), told with a sweep's checks: the papers work out those
 * of the fitting's own pull in full, of a movement's worst pull this is all there is.
 */
function lugComponents(c: Case, u: Vec3, turning: Vec3): Step[] {
  if (!c.prepared.swept) return [];
  const { foot, stem, face } = c.input.frame;
  const most = Math.hypot(...u) + Math.hypot(...turning);
  // What round-off leaves is nothing.
  const tidy = (x: number): number => (Math.abs(x) < 1e-9 * most ? 0 : x);
  const axes = [
    ['A', 'along the foot', foot],
    ['B', 'along the stem', stem],
    ['C', 'across the plate', face],
  ] as const;
  return axes.flatMap(([axis, way, v]): Step[] => {
    const [pull, turn] = [tidy(dot(u, v)), tidy(dot(turning, v))];
    return [
      { symbol: `u_${axis}`, formula: `pull over L, ${way}`, value: pull, unit: 'N/mm' },
      { symbol: `v_${axis}`, formula: `what the moment adds, ${way}`, value: turn, unit: 'N/mm' },
      { symbol: `q_${axis}`, formula: `u_${axis} + v_${axis}`, value: pull + turn, unit: 'N/mm' },
    ];
  });
}

const LIMIT_TEXT: Readonly<Record<Case['design']['basis'], string>> = {
  'aisc-360-asd': '0.60 F_w/2.00 k_q k_s',
  'aisc-360-lrfd': '0.75 0.60 F_w k_q k_s',
  'en-1993': 'f_u/(sqrt3 beta_w gamma_M2) k_q k_s',
  'bth-1': '0.60 F_w/(1.20 N_d) k_q k_s',
};

/** Component of the line force square to the shell at each sample, N/mm: of both senses the one greater in size. */
export function normalLineForce(c: Case, use: WeldUse): Float64Array {
  const [first, second] = use.senses.map(({ lineForce }) => squareToShell(c, lineForce)) as [
    Float64Array,
    Float64Array?,
  ];
  if (second === undefined) return first;
  return first.map((q, k) => (Math.abs(second[k] as number) > Math.abs(q) ? (second[k] as number) : q));
}

function squareToShell(c: Case, q: Float64Array): Float64Array {
  const n = q.length / 3;
  const { normal } = c.input.root;
  const out = new Float64Array(n);
  for (let i = 0, k = 0; k < n; k++, i += 3) {
    out[k] =
      (q[i] as number) * (normal[i] as number) +
      (q[i + 1] as number) * (normal[i + 1] as number) +
      (q[i + 2] as number) * (normal[i + 2] as number);
  }
  return out;
}
