import { available, RUPTURE, stressLimit, YIELD } from './basis.ts';
import type { Case } from './case.ts';
import { type Check, type CheckInput, ratioOf, type Step, strengthCheck, type Term } from './check.ts';
import { dishingForce } from './dishing.ts';
import type { PinPlate } from './pinplate-aisc.ts';
import * as aisc from './pinplate-aisc.ts';
import * as bth from './pinplate-bth.ts';
import * as en from './pinplate-en.ts';

const SOURCE_AISC = 'AISC 360 D5.1';
const SOURCE_BTH = 'ASME BTH-1 3-3.3';

/** One plate on the pin, the radius of its round end, and how many of it there are. */
interface LugOnPin {
  readonly plate: PinPlate;
  readonly radius: number;
  readonly count: number;
}

/**
 * The plates on the pin: the lug, then one entry for both cheeks. The outline is an arc about the pin centre from the pin
 * upwards and wider below, so the steel past the hole is R - d0/2 whichever way the pull stands.
 */
export function pinPlates(c: Case): readonly LugOnPin[] {
  const { lug, cheek, steel } = c.input;
  const of = (thickness: number, radius: number, count: number) => {
    const edge = radius - lug.hole / 2;
    return { plate: { thickness, hole: lug.hole, pin: c.pin, end: edge, side: edge, ...steel.lug }, radius, count };
  };
  return [of(lug.thickness, lug.topRadius, 1), ...(cheek ? [of(cheek.thickness, cheek.radius, 2)] : [])];
}

const sum = (c: Case, f: (p: PinPlate, radius: number) => number): number =>
  pinPlates(c).reduce((total, { plate, radius, count }) => total + count * f(plate, radius), 0);

/** Terms every check of the pin plate has. */
function terms(c: Case, ...more: Term[]): Term[] {
  const { lug, cheek } = c.input;
  return [
    { symbol: 'F', name: 'pull with its factors', value: c.load.force, unit: 'N' },
    { symbol: 't', name: 'lug thickness', value: lug.thickness, unit: 'mm' },
    { symbol: 'R', name: 'top radius', value: lug.topRadius, unit: 'mm' },
    { symbol: 'd_h', name: 'pin hole', value: lug.hole, unit: 'mm' },
    ...(cheek
      ? ([
          { symbol: 't_c', name: 'cheek thickness (two)', value: cheek.thickness, unit: 'mm' },
          { symbol: 'R_c', name: 'cheek radius', value: cheek.radius, unit: 'mm' },
        ] as const)
      : []),
    ...more,
  ];
}

const pinTerm = (c: Case): Term => ({
  symbol: 'd',
  name: c.pinIsGiven ? 'pin' : 'pin, taken as 0.90 of the hole: no shackle is given',
  value: c.pin,
  unit: 'mm',
});
const fu = (c: Case): Term => ({
  symbol: 'F_u',
  name: 'tensile strength of the lug',
  value: c.input.steel.lug.tensile,
  unit: 'MPa',
});
const fy = (c: Case): Term => ({
  symbol: 'F_y',
  name: 'yield stress of the lug',
  value: c.input.steel.lug.yield,
  unit: 'MPa',
});
const factor = (symbol: string, name: string, value: number): Term => ({ symbol, name, value, unit: 'share' });

/** A check of the pull against a strength, with the remedy that its ratio asks for. */
function pullCheck(c: Case, part: Omit<CheckInput, 'demand' | 'unit' | 'basis' | 'remedy'>): Check {
  const ratio = ratioOf(c.load.force, part.limit);
  const need = c.input.lug.thickness * ratio;
  return strengthCheck({
    id: part.id,
    title: part.title,
    limit: part.limit,
    source: part.source,
    standing: part.standing,
    formula: part.formula,
    tex: part.tex ?? '',
    terms: part.terms,
    steps: part.steps ?? [],
    screening: part.screening ?? false,
    demand: c.load.force,
    unit: 'N',
    basis: c.design.basis,
    remedy:
      ratio <= 1
        ? []
        : [
            'Thicken the plate at the hole to about ',
            { mm: need, digits: 0, bound: 'least' },
            ' in all, or enlarge the top radius, or reduce the pull.',
          ],
  });
}

/** Pin plate to AISC 360 D5, ASD or LRFD: tension, shear, bearing, gross yield. D5.2's dimensions are met by what is counted. */
export function aiscPinChecks(c: Case): Check[] {
  const method = c.design.basis === 'aisc-360-lrfd' ? 'lrfd' : 'asd';
  const k = available(method, RUPTURE);
  const ky = available(method, YIELD);
  const main = pinPlates(c)[0] as LugOnPin;
  const kTerm = factor('k', method === 'lrfd' ? 'phi = 0.75' : '1/Omega = 1/2.00', k);
  const width = 2 * c.input.lug.topRadius;
  const be = aisc.admittedEdge(main.plate);
  const edgeSteps: Step[] = [
    { symbol: 'c_0', formula: 'constant of D5.1(a)', value: aisc.AISC_EDGE_ALLOWANCE, unit: 'mm' },
    { symbol: 'a', formula: 'R - d_h/2', value: main.plate.end, unit: 'mm' },
    { symbol: 'b_e', formula: 'min(2 t + c_0, a, a/1.33): no more than D5.2 admits', value: be, unit: 'mm' },
  ];
  const cheeks = c.input.cheek ? ', and the like for each cheek' : '';
  return [
    pullCheck(c, {
      id: 'lug-tension',
      title: 'Tension across the pin hole',
      limit: k * sum(c, (p) => aisc.aiscTensileRupture(p, aisc.admittedEdge(p))),
      source: `${SOURCE_AISC}(a), eq. D5-1`,
      standing: 'source',
      formula: `F <= k F_u 2 t b_e${cheeks}`,
      tex: String.raw`F \le k\,F_u \sum 2\,t\,b_e,\quad b_e = \min\left(2t + c_0,\; a,\; \tfrac{a}{1.33}\right),\quad a = R - \tfrac{d_h}{2}`,
      terms: terms(c, fu(c), kTerm),
      steps: edgeSteps,
    }),
    pullCheck(c, {
      id: 'lug-shear',
      title: 'Shear-out beyond the pin',
      limit: k * sum(c, aisc.aiscShearRupture),
      source: `${SOURCE_AISC}(b), eq. D5-2`,
      standing: 'source',
      formula: `F <= k 0.6 F_u 2 t (a + d/2)${cheeks}`,
      tex: String.raw`F \le k\,0.6\,F_u \sum 2\,t\,(a + d/2),\quad a = R - d_h/2`,
      terms: terms(c, pinTerm(c), fu(c), kTerm),
      steps: [{ symbol: 'a', formula: 'R - d_h/2', value: main.plate.end, unit: 'mm' }],
    }),
    pullCheck(c, {
      id: 'lug-bearing',
      title: 'Bearing of the pin',
      limit: k * sum(c, aisc.aiscBearing),
      source: 'AISC 360 D5.1(c), J7, eq. J7-1',
      standing: 'source',
      formula: `F <= k 1.8 F_y d t${cheeks}`,
      tex: String.raw`F \le k\,1.8\,F_y\,d \sum t`,
      terms: terms(c, pinTerm(c), fy(c), kTerm),
    }),
    pullCheck(c, {
      id: 'lug-gross',
      title: 'Yield of the whole section at the pin',
      limit: ky * aisc.aiscGrossYield(main.plate, width),
      source: `${SOURCE_AISC}(d), eq. D2-1`,
      standing: 'source',
      formula: 'F <= k F_y 2 R t (cheeks not counted)',
      tex: String.raw`F \le k\,F_y\,2R\,t`,
      terms: terms(c, fy(c), factor('k', method === 'lrfd' ? 'phi = 0.90' : '1/Omega = 1/1.67', ky)),
    }),
  ];
}

/** Pin plate to EN 1993-1-8 3.13: the two edge distances, bearing, bearing and contact of a replaceable pin, the pin if given. */
export function enPinChecks(c: Case): Check[] {
  const { lug, steel, cheek, pinOwn } = c.input;
  const f = c.design.en;
  const y = steel.lug.yield;
  const all = lug.thickness + 2 * (cheek?.thickness ?? 0);
  const edge = lug.topRadius - lug.hole / 2;
  const gamma = factor('gamma_M0', 'partial factor', f.gammaM0);
  const gammaSer = factor('gamma_M6', 'partial factor at service load', f.gammaM6ser);
  const service: Term = { symbol: 'F_ser', name: 'pull at service load', value: c.service.force, unit: 'N' };
  // A cheek whose edge is nearer than the lug's counts for less: thickness times the band left past the standard's share of the hole.
  const counted = (share: number): number => {
    const band = edge - share * lug.hole;
    const cheekBand = cheek ? Math.max(0, cheek.radius - lug.hole / 2 - share * lug.hole) : 0;
    return band > 0 ? lug.thickness + (2 * (cheek?.thickness ?? 0) * Math.min(cheekBand, band)) / band : lug.thickness;
  };
  const edgeCheck = (
    id: 'lug-end' | 'lug-side',
    title: string,
    symbol: 'a' | 'c',
    share: number,
    words: string,
  ): Check => {
    const t = counted(share);
    return strengthCheck({
      id,
      title,
      demand: en.enLeastEdges(c.load.force, t, y, lug.hole, f.gammaM0)[symbol],
      limit: edge,
      unit: 'mm',
      basis: c.design.basis,
      source: 'EN 1993-1-8 Table 3.9, type A',
      standing: 'source',
      formula: `F gamma_M0/(2 t_e F_y) + ${words} d_h <= R - d_h/2`,
      tex: String.raw`\frac{F\,\gamma_{M0}}{2\,t_e\,F_y} + ${words === '2/3' ? String.raw`\tfrac{2}{3}` : String.raw`\tfrac{1}{3}`}\,d_h \le R - \tfrac{d_h}{2}`,
      terms: terms(c, fy(c), gamma),
      steps: [
        { symbol: 't_e', formula: 't + 2 t_c (R_c band)/(R band), no more than t + 2 t_c', value: t, unit: 'mm' },
      ],
      remedy: ['Enlarge the top radius, thicken the plate, or fit cheek plates.'],
    });
  };
  const list = [
    edgeCheck('lug-end', 'Steel beyond the hole', 'a', 2 / 3, '2/3'),
    edgeCheck('lug-side', 'Steel beside the hole', 'c', 1 / 3, '1/3'),
    pullCheck(c, {
      id: 'lug-bearing',
      title: 'Bearing of the pin',
      limit: en.enBearing(all, c.pin, y, f),
      source: 'EN 1993-1-8 Table 3.10',
      standing: 'source',
      formula: 'F <= 1.5 (t + 2 t_c) d F_y/gamma_M0',
      tex: String.raw`F \le \frac{1.5\,(t + 2t_c)\,d\,F_y}{\gamma_{M0}}`,
      terms: terms(c, pinTerm(c), fy(c), gamma),
    }),
    strengthCheck({
      id: 'lug-bearing-service',
      title: 'Bearing of the pin at service load (a shackle pin is replaceable)',
      demand: c.service.force,
      limit: en.enBearingReplaceable(all, c.pin, y, f),
      unit: 'N',
      basis: c.design.basis,
      source: 'EN 1993-1-8 Table 3.10',
      standing: 'source',
      formula: 'F_ser <= 0.6 (t + 2 t_c) d F_y/gamma_M6',
      tex: String.raw`F_{ser} \le \frac{0.6\,(t + 2t_c)\,d\,F_y}{\gamma_{M6,ser}}`,
      terms: terms(c, service, pinTerm(c), fy(c), gammaSer),
      remedy: ['Fit cheek plates, or take a thicker plate or a larger pin.'],
    }),
    strengthCheck({
      id: 'lug-contact',
      title: 'Contact pressure of the pin in its hole',
      demand: en.enContact(c.service.force, Math.min(c.pin, lug.hole), lug.hole, all),
      limit: en.enContactLimit(y, f),
      unit: 'MPa',
      basis: c.design.basis,
      source: 'EN 1993-1-8 eq. 3.14 to 3.16',
      standing: 'source',
      formula: '0.591 sqrt(E F_ser (d_h - d)/(d^2 (t + 2 t_c))) <= 2.5 F_y/gamma_M6',
      tex: String.raw`0.591\sqrt{\frac{E\,F_{ser}\,(d_h - d)}{d^2\,(t + 2t_c)}} \le \frac{2.5\,F_y}{\gamma_{M6,ser}}`,
      terms: terms(c, service, pinTerm(c), fy(c), gammaSer, {
        symbol: 'E',
        name: "Young's modulus",
        value: en.STEEL_E,
        unit: 'MPa',
      }),
      remedy: ['Take a pin that fits the hole more closely, or a thicker plate at the hole.'],
    }),
  ];
  if (pinOwn) list.push(...enPinOwnChecks(c, pinOwn, all));
  return list;
}

/** Shear, bending and both together of the pin itself. EN 1993-1-8 Table 3.10. */
function enPinOwnChecks(c: Case, own: NonNullable<Case['input']['pinOwn']>, all: number): Check[] {
  const f = c.design.en;
  const shear = en.enPinShear(c.pin, own.steel, f);
  const bending = en.enPinBending(c.pin, own.steel, f);
  const moment = en.enPinMoment(c.load.force, own.ear, all, own.gap);
  const own1: Term[] = [
    { symbol: 'f_up', name: 'tensile strength of the pin', value: own.steel.tensile, unit: 'MPa' },
    { symbol: 'f_yp', name: 'yield stress of the pin', value: own.steel.yield, unit: 'MPa' },
    { symbol: 'e', name: 'ear of the shackle, along the pin', value: own.ear, unit: 'mm' },
    { symbol: 'g', name: 'gap between ear and lug', value: own.gap, unit: 'mm' },
    factor('gamma_M0', 'partial factor', f.gammaM0),
    factor('gamma_M2', 'partial factor', f.gammaM2),
  ];
  const base = { basis: c.design.basis, source: 'EN 1993-1-8 Table 3.10, Figure 3.11', standing: 'source' } as const;
  const remedy = ['Take a larger pin or a stronger one, or close the gaps beside the lug with spacers.'] as const;
  return [
    strengthCheck({
      ...base,
      id: 'pin-shear',
      title: 'Shear of the pin, one of two planes',
      demand: c.load.force / 2,
      limit: shear,
      unit: 'N',
      formula: 'F/2 <= 0.6 (pi d^2/4) f_up/gamma_M2',
      tex: String.raw`\tfrac{F}{2} \le \frac{0.6\,\tfrac{\pi d^2}{4}\,f_{up}}{\gamma_{M2}}`,
      terms: terms(c, pinTerm(c), ...own1),
      remedy,
    }),
    strengthCheck({
      ...base,
      id: 'pin-bending',
      title: 'Bending of the pin',
      demand: moment,
      limit: bending,
      unit: 'N mm',
      formula: 'F/8 (t + 2 t_c + 4 g + 2 e) <= 1.5 (pi d^3/32) f_yp/gamma_M0',
      tex: String.raw`\tfrac{F}{8}(t + 2t_c + 4g + 2e) \le \frac{1.5\,\tfrac{\pi d^3}{32}\,f_{yp}}{\gamma_{M0}}`,
      terms: terms(c, pinTerm(c), ...own1),
      remedy,
    }),
    strengthCheck({
      ...base,
      id: 'pin-both',
      title: 'Shear and bending of the pin together',
      demand: en.enPinInteraction(moment, bending, c.load.force / 2, shear),
      limit: 1,
      unit: 'share',
      formula: '(M/M_Rd)^2 + (F_v/F_v,Rd)^2 <= 1',
      tex: String.raw`\left(\frac{M}{M_{Rd}}\right)^2 + \left(\frac{F_v}{F_{v,Rd}}\right)^2 \le 1`,
      terms: terms(c, pinTerm(c), ...own1),
      steps: [
        { symbol: 'M', formula: 'F/8 (t + 2 t_c + 4 g + 2 e)', value: moment, unit: 'N mm' },
        { symbol: 'M_Rd', formula: '1.5 (pi d^3/32) f_yp/gamma_M0', value: bending, unit: 'N mm' },
        { symbol: 'F_v', formula: 'F/2', value: c.load.force / 2, unit: 'N' },
        { symbol: 'F_v,Rd', formula: '0.6 (pi d^2/4) f_up/gamma_M2', value: shear, unit: 'N' },
      ],
      remedy,
    }),
  ];
}

/** Pin plate to ASME BTH-1 3-3.3: tension, fracture beyond the hole, double shear, bearing. */
export function bthPinChecks(c: Case): Check[] {
  const f = c.design.bth;
  const main = pinPlates(c)[0] as LugOnPin;
  const nd = factor('N_d', 'nominal design factor (recalled: 2 category A, 3 category B)', f.designFactor);
  const crStep = fitStep(c);
  const edgeStep = { symbol: 'b', formula: 'R - d_h/2', value: main.plate.side, unit: 'mm' } as const;
  const cheeks = c.input.cheek ? ', and the like for each cheek' : '';
  return [
    pullCheck(c, {
      id: 'lug-tension',
      title: 'Tension across the pin hole',
      limit: sum(c, (p) => bth.bthTension(p, f)),
      source: `${SOURCE_BTH}.1`,
      standing: 'not-verified',
      formula: `F <= C_r F_u/(1.20 N_d) 2 t b_eff${cheeks}`,
      tex: String.raw`F \le C_r \frac{F_u}{1.20\,N_d} \sum 2\,t\,b_{eff}`,
      terms: terms(c, pinTerm(c), fu(c), fy(c), nd),
      steps: [
        crStep,
        edgeStep,
        {
          symbol: 'b_eff',
          formula: 'min(4 t, 0.6 F_u/F_y sqrt(d_h/b) b, b)',
          value: bth.bthEffectiveWidth(main.plate),
          unit: 'mm',
        },
      ],
    }),
    pullCheck(c, {
      id: 'lug-fracture',
      title: 'Fracture on one plane beyond the hole',
      limit: sum(c, (p) => bth.bthFracture(p, f)),
      source: `${SOURCE_BTH}.1`,
      standing: 'not-verified',
      formula: `F <= C_r F_u/(1.20 N_d) (k_1 (R - d_h/2) + k_2 b/(1 + b/d_h)) t${cheeks}`,
      tex: String.raw`F \le C_r \frac{F_u}{1.20\,N_d} \sum \left[k_1\!\left(R - \tfrac{d_h}{2}\right) + \frac{k_2\,b}{1 + b/d_h}\right] t`,
      terms: terms(
        c,
        pinTerm(c),
        fu(c),
        nd,
        factor('k_1', 'coefficient, recalled', f.fractureEdge),
        factor('k_2', 'coefficient, recalled', f.fractureNet),
      ),
      steps: [crStep, edgeStep],
    }),
    pullCheck(c, {
      id: 'lug-shear',
      title: 'Double shear beyond the pin',
      limit: sum(c, (p, radius) => bth.bthShear(p, f, radius)),
      source: `${SOURCE_BTH}.1`,
      standing: 'not-verified',
      formula: `F <= 0.70 F_u/(1.20 N_d) 2 (R - d_h/2 + d/2 (1 - cos phi) - Z) t${cheeks}`,
      tex: String.raw`F \le \frac{0.70\,F_u}{1.20\,N_d} \sum 2\left[R - \tfrac{d_h}{2} + \tfrac{d}{2}(1 - \cos\varphi) - Z\right] t`,
      terms: terms(c, pinTerm(c), fu(c), nd),
      steps: [
        {
          symbol: 'phi',
          formula: '55 deg d/d_h (55 deg recalled)',
          value: (f.shearPlaneAngle * c.pin) / c.input.lug.hole,
          unit: 'rad',
        },
        {
          symbol: 'Z',
          formula: 'R - sqrt(R^2 - (d/2 sin phi)^2): the round top ends the planes sooner',
          value: bthZ(c),
          unit: 'mm',
        },
      ],
    }),
    pullCheck(c, {
      id: 'lug-bearing',
      title: 'Bearing of the pin',
      limit: sum(c, (p) => bth.bthBearing(p, f)),
      source: `${SOURCE_BTH}.4`,
      standing: 'not-verified',
      formula: 'F <= k F_y/N_d d (t + 2 t_c)',
      tex: String.raw`F \le \frac{k\,F_y}{N_d}\,d\,(t + 2t_c)`,
      terms: terms(c, pinTerm(c), fy(c), nd, factor('k', 'coefficient, recalled', f.bearing)),
    }),
  ];
}

/** C_r of ASME BTH-1 3-3.3.1: 1 where the pin fits closely. */
function fitStep(c: Case): Step {
  const value = bth.bthFitReduction(c.pin, c.input.lug.hole);
  const formula = value === 1 ? '1: d/d_h is above 0.90' : '1 - 0.275 sqrt(1 - (d/d_h)^2)';
  return { symbol: 'C_r', formula, value, unit: 'share' };
}

function bthZ(c: Case): number {
  const r = c.input.lug.topRadius;
  const phi = (c.design.bth.shearPlaneAngle * c.pin) / c.input.lug.hole;
  return r - Math.sqrt(r * r - ((c.pin / 2) * Math.sin(phi)) ** 2);
}

/** The stress that a strip beside the hole may have in tension, how it comes about, and where it stands. */
interface StripLimit {
  readonly stress: number;
  readonly terms: readonly Term[];
  readonly steps: readonly Step[];
  readonly source: string;
}

/**
 * The limit of the basis for tension across the pin hole, MPa, on which dishing is held: rupture of the net effective area for AISC 360
 * (eq. D5-1, F_u) and ASME BTH-1 (3-3.3.1, F_u); yield for EN 1993, whose pin plates are sized by yield throughout (1-1 6.2.1).
 */
function stripLimit(c: Case): StripLimit {
  const { basis } = c.design;
  const s = c.input.steel.lug;
  const step = (formula: string, value: number): Step => ({ symbol: 'f', formula, value, unit: 'MPa' });
  if (basis === 'en-1993') {
    const stress = stressLimit(c.design, s.yield);
    return {
      stress,
      terms: [fy(c), factor('gamma_M0', 'partial factor', c.design.en.gammaM0)],
      steps: [step('F_y/gamma_M0', stress)],
      source: `${DISHING_BORROWED} yield, EN 1993-1-1 6.2.1`,
    };
  }
  if (basis === 'bth-1') {
    const fit = fitStep(c);
    const nd = c.design.bth.designFactor;
    const stress = (fit.value * s.tensile) / (1.2 * nd);
    return {
      stress,
      terms: [pinTerm(c), fu(c), factor('N_d', 'nominal design factor (recalled)', nd)],
      steps: [fit, step('C_r F_u/(1.20 N_d)', stress)],
      source: 'ASME BTH-1 3-3.3.1: no more than 4 t of plate counts on each side of the hole',
    };
  }
  const lrfd = basis === 'aisc-360-lrfd';
  const stress = s.tensile * available(lrfd ? 'lrfd' : 'asd', RUPTURE);
  return {
    stress,
    terms: [
      fu(c),
      lrfd
        ? factor('phi', 'resistance factor of rupture', RUPTURE.phi)
        : factor('Omega', 'safety factor of rupture', RUPTURE.omega),
    ],
    steps: [step(lrfd ? 'phi F_u' : 'F_u/Omega', stress)],
    source: `${DISHING_BORROWED} rupture, AISC 360 D5.1(a), eq. D5-1`,
  };
}

const DISHING_BORROWED =
  'ASME BTH-1 3-3.3.1 (no more than 4 t counts on each side of the hole), held with the limit of';

/** Dishing of the plate past the pin, for every basis. */
export function dishingCheck(c: Case): Check {
  const { basis } = c.design;
  const { stress, terms: more, steps, source } = stripLimit(c);
  return pullCheck(c, {
    id: 'lug-dishing',
    title: 'Dishing of a thin plate past the pin',
    limit: sum(c, (p) => dishingForce(p.thickness, stress)),
    source,
    standing: basis === 'bth-1' ? 'not-verified' : 'choice',
    formula: `F <= f 2 t (4 t)${c.input.cheek ? ', and the like for each cheek' : ''}`,
    tex: String.raw`F \le f \sum 2\,t\,(4t)`,
    terms: terms(c, ...more),
    steps,
  });
}

/** The pin plate to the case's basis, with dishing. */
export function pinPlateChecks(c: Case): Check[] {
  const own =
    c.design.basis === 'en-1993' ? enPinChecks(c) : c.design.basis === 'bth-1' ? bthPinChecks(c) : aiscPinChecks(c);
  return [...own, dishingCheck(c)];
}
