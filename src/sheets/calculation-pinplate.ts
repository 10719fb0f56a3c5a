import type { Check } from '../plan/types.ts';
import type { Amended, WorkStep, WorkTerm } from './calculation-terms.ts';

const EDGE = { symbol: 'a', formula: 'R - d_h/2', unit: 'mm' } as const;
const EDGE_CHEEK = { symbol: 'a_c', formula: 'R_c - d_h/2', unit: 'mm' } as const;

/** Pin plate: the constants of the formulas as symbols, and what each cheek adds written out. Formulas: see the checks' sources. */
export function pinTerms(plain: Amended, check: Check): Partial<Amended> {
  const cheeks = check.terms.some((term) => term.symbol === 't_c');
  if (check.id === 'lug-dishing') {
    return { formula: cheeks ? 'F <= (8 t^2 + 16 t_c^2) f' : 'F <= 8 t^2 f' };
  }
  if (check.basis === 'aisc-360-asd' || check.basis === 'aisc-360-lrfd') return aisc(plain, check, cheeks);
  if (check.basis === 'en-1993') return eurocode(plain, check, cheeks);
  return check.basis === 'bth-1' ? hook(plain, check, cheeks) : {};
}

/** 1/Omega is written as a division by Omega, phi as a factor. */
function aisc(plain: Amended, check: Check, cheeks: boolean): Partial<Amended> {
  const k = check.terms.find((term) => term.symbol === 'k')?.value;
  if (k === undefined) return {};
  const asd = check.basis === 'aisc-360-asd';
  const factor: WorkTerm = asd
    ? { symbol: 'Omega', name: 'safety factor', value: Number((1 / k).toPrecision(12)), unit: 'share' }
    : { symbol: 'phi', name: 'resistance factor', value: k, unit: 'share' };
  const terms = [...plain.terms.filter((term) => term.symbol !== 'k'), factor];
  const against = (strength: string) => `F <= ${asd ? `${strength}/Omega` : `phi ${strength}`}`;
  switch (check.id) {
    case 'lug-tension':
      return {
        formula: against(cheeks ? '(2 t b_e + 4 t_c b_e,c) F_u' : '2 t b_e F_u'),
        terms: [...terms, { symbol: 'c_0', name: 'constant of D5.1(a)', value: 16, unit: 'mm' }],
        steps: [
          EDGE,
          { symbol: 'b_e', formula: 'min(2 t + c_0, a, a/1.33)', unit: 'mm', note: 'no more than D5.2 admits' },
          ...(cheeks
            ? ([EDGE_CHEEK, { symbol: 'b_e,c', formula: 'min(2 t_c + c_0, a_c, a_c/1.33)', unit: 'mm' }] as const)
            : []),
        ],
      };
    case 'lug-shear':
      return {
        formula: against(cheeks ? '(2 t (a + d/2) + 4 t_c (a_c + d/2)) 0.6 F_u' : '2 t (a + d/2) 0.6 F_u'),
        terms,
        steps: cheeks ? [EDGE, EDGE_CHEEK] : [EDGE],
      };
    case 'lug-bearing':
      return { formula: against(cheeks ? '1.8 F_y d (t + 2 t_c)' : '1.8 F_y d t'), terms };
    case 'lug-gross':
      return { formula: against('2 R t F_y'), terms };
    default:
      return {};
  }
}

function eurocode(plain: Amended, check: Check, cheeks: boolean): Partial<Amended> {
  if (check.id !== 'lug-end' && check.id !== 'lug-side') return {};
  const part = check.id === 'lug-end' ? '2/3' : '1/3';
  const at = (list: readonly { symbol: string; value?: number }[], symbol: string) =>
    list.find((each) => each.symbol === symbol)?.value;
  if (!cheeks || at(check.steps, 't_e') === at(check.terms, 't')) {
    return { formula: plain.formula.replace('t_e', 't'), steps: [] };
  }
  return {
    steps: [
      { symbol: 'b', formula: `R - d_h/2 - ${part} d_h`, unit: 'mm' },
      { symbol: 'b_c', formula: `R_c - d_h/2 - ${part} d_h`, unit: 'mm' },
      { symbol: 't_e', formula: 't + 2 t_c min(1, max(0, b_c)/b)', unit: 'mm' },
    ],
  };
}

function hook(plain: Amended, check: Check, cheeks: boolean): Partial<Amended> {
  const at = (symbol: string) => check.terms.find((term) => term.symbol === symbol)?.value ?? Number.NaN;
  const close = at('d') / at('d_h') > 0.9;
  const fit: WorkStep = close
    ? { symbol: 'C_r', formula: '1', unit: 'share', note: 'd/d_h is above 0.90' }
    : { symbol: 'C_r', formula: '1 - 0.275 sqrt(1 - (d/d_h)^2)', unit: 'share' };
  const edges: WorkStep[] = [{ ...EDGE, symbol: 'b' }, ...(cheeks ? [{ ...EDGE_CHEEK, symbol: 'b_c' }] : [])];
  const width = (b: string, t: string, name: string): WorkStep => ({
    symbol: name,
    formula: `min(4 ${t}, 0.6 F_u/F_y sqrt(d_h/${b}) ${b}, ${b})`,
    unit: 'mm',
  });
  switch (check.id) {
    case 'lug-tension':
      return {
        formula: cheeks ? 'F <= C_r F_u/(1.20 N_d) (2 t b_eff + 4 t_c b_eff,c)' : 'F <= C_r F_u/(1.20 N_d) 2 t b_eff',
        steps: [fit, ...edges, width('b', 't', 'b_eff'), ...(cheeks ? [width('b_c', 't_c', 'b_eff,c')] : [])],
      };
    case 'lug-fracture': {
      const plane = (b: string, name: string): WorkStep => ({
        symbol: name,
        formula: `k_1 ${b} + k_2 ${b}/(1 + ${b}/d_h)`,
        unit: 'mm',
      });
      return {
        formula: cheeks ? 'F <= C_r F_u/(1.20 N_d) (l t + 2 l_c t_c)' : 'F <= C_r F_u/(1.20 N_d) l t',
        steps: [fit, ...edges, plane('b', 'l'), ...(cheeks ? [plane('b_c', 'l_c')] : [])],
      };
    }
    case 'lug-shear': {
      const angle = check.steps.find((step) => step.symbol === 'phi')?.value ?? Number.NaN;
      const whole = Number(((angle * at('d_h')) / at('d')).toPrecision(12));
      const short = (r: string, name: string): WorkStep => ({
        symbol: name,
        formula: `${r} - sqrt(${r}^2 - (d/2 sin phi)^2)`,
        unit: 'mm',
        ...(name === 'Z' && { note: 'the round top ends the planes sooner' }),
      });
      const long = (b: string, z: string, name: string): WorkStep => ({
        symbol: name,
        formula: `${b} + d/2 (1 - cos phi) - ${z}`,
        unit: 'mm',
      });
      return {
        formula: cheeks ? 'F <= 0.70 F_u/(1.20 N_d) (2 l t + 4 l_c t_c)' : 'F <= 0.70 F_u/(1.20 N_d) 2 l t',
        terms: [
          ...plain.terms,
          { symbol: 'phi_0', name: 'angle of the shear planes at d = d_h, recalled', value: whole, unit: 'rad' },
        ],
        steps: [
          ...edges,
          { symbol: 'phi', formula: 'phi_0 d/d_h', unit: 'rad' },
          short('R', 'Z'),
          long('b', 'Z', 'l'),
          ...(cheeks ? [short('R_c', 'Z_c'), long('b_c', 'Z_c', 'l_c')] : []),
        ],
      };
    }
    default:
      return {};
  }
}
