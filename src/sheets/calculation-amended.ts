import type { Check } from '../plan/types.ts';
import { pinTerms } from './calculation-pinplate.ts';
import type { Amended, WorkStep, WorkTerm } from './calculation-terms.ts';
import { weldLines } from './calculation-weldgroup.ts';
import type { Context } from './context.ts';

/**
 * A check's formula with what its plain text leaves to the reader: the constant of a formula as a symbol with its unit, the like
 * for each cheek plate, the limit of the basis worked from the yield stress, the components of the weld's line force.
 * A check that needs nothing of this comes back as it is.
 */
export function amended(check: Check, context: Context): Amended {
  const plain: Amended = {
    formula: check.formula,
    terms: check.terms,
    steps: check.steps.map((step) => {
      const [formula = '', ...note] = step.formula.split(': ');
      return note.length === 0 ? step : { ...step, formula, note: note.join(': ') };
    }),
  };
  const cheeks = check.terms.some((term) => term.symbol === 't_c');
  const noCheeks = cheeks
    ? plain
    : {
        ...plain,
        formula: withoutCheeks(plain.formula),
        steps: plain.steps.map((step) => ({ ...step, formula: withoutCheeks(step.formula) })),
      };
  const change = CHANGES[check.id] ?? (check.id.startsWith('lug-') ? pinTerms : undefined);
  return change === undefined ? noCheeks : { ...noCheeks, ...change(noCheeks, check, context) };
}

const withoutCheeks = (formula: string): string => formula.replaceAll('t + 2 t_c', 't');

type Change = (plain: Amended, check: Check, context: Context) => Partial<Amended>;

const share = (symbol: string, name: string, value: number): WorkTerm => ({ symbol, name, value, unit: 'share' });

/** A figure without the round-off of the division it came from. */
const tidy = (value: number): number => Number(value.toPrecision(12));

/** Limit of the basis on a direct stress, worked from the yield stress: the factor that makes it is read off the limit itself. */
export function yieldLimit(
  check: Pick<Check, 'basis'>,
  symbol: string,
  yields: number,
  limit: number,
): { term: WorkTerm; step: WorkStep } {
  if (check.basis === 'aisc-360-lrfd') {
    return {
      term: share('phi', 'resistance factor of the basis', tidy(limit / yields)),
      step: { symbol, formula: 'phi F_y', value: limit, unit: 'MPa' },
    };
  }
  const [factor, name] =
    check.basis === 'en-1993'
      ? ['gamma_M0', 'partial factor']
      : check.basis === 'bth-1'
        ? ['N_d', 'nominal design factor (recalled)']
        : ['Omega', 'safety factor of the basis'];
  return {
    term: share(factor, name, tidy(yields / limit)),
    step: { symbol, formula: `F_y/${factor}`, value: limit, unit: 'MPa' },
  };
}

const termOf = (check: Check, symbol: string): number =>
  check.terms.find((term) => term.symbol === symbol)?.value ?? Number.NaN;
const without = (terms: readonly WorkTerm[], ...symbols: string[]): WorkTerm[] =>
  terms.filter((term) => !symbols.includes(term.symbol));

const section: Change = (plain, check) => {
  const { term, step } = yieldLimit(check, 'f', termOf(check, 'F_y'), check.limit);
  return {
    formula: 'sqrt((sigma_P + sigma_V + sigma_H)^2 + 3 tau^2) <= f',
    terms: [...without(plain.terms, 'f'), term],
    steps: [...plain.steps, step],
  };
};

const panel: Change = (plain, check) => {
  const { term, step } = yieldLimit(check, 'f', termOf(check, 'F_y'), check.limit);
  const t = plain.terms.find(({ symbol }) => symbol === 't_s')?.value ?? Number.NaN;
  return {
    formula: 'sigma_b + sigma_0 <= f',
    terms: [
      ...plain.terms.map((each) => (each.symbol === 'share' ? { ...each, symbol: 'c_p' } : each)),
      { symbol: 't_d', name: 'doubler, as thick as the shell', value: t, unit: 'mm' },
      term,
    ],
    steps: [
      ...plain.steps.map((each) => {
        if (each.symbol === 'sigma_d') {
          const note = 'with a doubler that bends with the whole panel';
          return { ...each, formula: 'sigma_b t_s^3/(t_s^3 + t_d^3) + sigma_0', note };
        }
        if (each.symbol === 'sigma_b')
          return { ...each, formula: 'from the moments of the plate there, the series summed' };
        return { ...each, formula: each.formula.replace(', + sigma_0', ', with the stress already in the shell') };
      }),
      step,
    ],
    beside: {
      words:
        'By series, with the moments per length that the plate has at the place named, across (x, y) and twisting (xy):',
      tex: String.raw`\sigma_b = \frac{6}{t_s^2}\sqrt{m_x^2 + m_y^2 - m_x m_y + 3 m_{xy}^2}`,
    },
  };
};

const punching: Change = (plain, check) => {
  const [y, f] = [termOf(check, 'F_y'), check.limit];
  const rest = without(plain.terms, 'f_v');
  const asd = check.basis === 'aisc-360-asd';
  if (asd || check.basis === 'aisc-360-lrfd') {
    const [factor, formula, value] = asd
      ? (['Omega', '0.60 F_y/Omega', (0.6 * y) / f] as const)
      : (['phi', 'phi 0.60 F_y', f / (0.6 * y)] as const);
    return {
      terms: [...rest, share(factor, 'factor of the basis for shear', tidy(value))],
      steps: [{ symbol: 'f_v', formula, value: f, unit: 'MPa' }],
    };
  }
  const factor = check.basis === 'en-1993' ? 'gamma_M0' : 'N_d';
  const name = check.basis === 'en-1993' ? 'partial factor' : 'nominal design factor (recalled)';
  return {
    terms: [...rest, share(factor, name, tidy(y / (Math.sqrt(3) * f)))],
    steps: [{ symbol: 'f_v', formula: `F_y/(sqrt3 ${factor})`, value: f, unit: 'MPa' }],
  };
};

const CHANGES: Readonly<Record<string, Change>> = {
  'fit-gap': () => ({ formula: 'g_max <= g_recut' }),
  'sideways-share': (plain) => ({ formula: 'F_s/F <= eta', terms: without(plain.terms, 'd.C') }),
  'off-plane': () => ({ formula: 'theta <= theta_lim' }),
  'sealed-length': () => ({ formula: 'L_order + L_trap <= L_acc' }),
  'lug-foot': section,
  'lug-shoulder': section,
  'lug-neck': section,
  'shell-bending': panel,
  'shell-bending-clamped': panel,
  'shell-punching': punching,
  weld: weldLines,
  'weld-moment': () => ({ formula: 'M <= 0' }),
  'cheek-weld': (plain, check) => ({
    formula: 'q <= f_w z/sqrt2',
    steps: plain.steps.flatMap((step) =>
      step.symbol === 'F_c'
        ? [
            step,
            {
              symbol: 'q',
              formula: 'sqrt((F_c/(2 pi R_c))^2 + (F_c t_c/(2 pi R_c^2))^2)',
              value: check.demand,
              unit: 'N/mm',
            } as const,
          ]
        : [step],
    ),
  }),
  'shackle-bow': () => ({ formula: 'rho - d_h/2 <= C' }),
  'hole-clearance': (plain, _, context) => ({
    terms: [...plain.terms, ...given(context, 'd', 'd_h')],
  }),
  'jaw-filled': (plain, _, context) => ({
    formula: context.fitting.input.lug.cheek === undefined ? plain.formula : 'k <= (t + 2 t_c)/A',
    terms: [...plain.terms, ...given(context, 't', ...(context.fitting.input.lug.cheek ? ['t_c'] : []), 'A')],
  }),
  'weld.leg.least': () => ({ formula: 'w_min <= w' }),
  'weld.electrode': (plain) => ({
    formula: 'k_asked <= k_given',
    terms: plain.terms.map((term) =>
      term.symbol.startsWith('k_') ? { ...term, name: `${term.name}: 1 ordinary, 2 nickel-type` } : term,
    ),
  }),
  'as-built-gap': () => ({ formula: 'g <= g_recut' }),
  'as-built-sideways': (plain, check) => ({
    formula: 's_q <= eta',
    terms: [
      ...plain.terms.map((term) => (term.symbol === "d.C'" ? { ...term, symbol: 's_q' } : term)),
      share('eta', 'share of the pull allowed across the plate', check.limit),
    ],
  }),
  // The tighter of bow over plate and bow off the shell: only the first has words for symbols in its formula.
  'as-built-clearance': (plain) =>
    plain.terms.some(({ symbol }) => symbol === 'rho') ? { formula: 'rho - d_h/2 <= C' } : {},
  'as-built-strength': (_, check) => ({
    formula: 'U <= 1',
    terms: [
      share(
        'U',
        'greatest ratio of any strength check, with the pull as it meets the lug that was built',
        check.demand,
      ),
    ],
    steps: [],
  }),
};

function given({ fitting }: Context, ...symbols: string[]): WorkTerm[] {
  const { lug, shackle } = fitting.input;
  const all: readonly (readonly [string, string, number | undefined])[] = [
    ['d', 'pin', shackle?.pin],
    ['d_h', 'pin hole', lug.hole],
    ['t', 'lug thickness', lug.thickness],
    ['t_c', 'cheek thickness (two)', lug.cheek?.thickness],
    ['A', 'clear width of the jaw', shackle?.jaw],
  ];
  return all.flatMap(([symbol, name, value]) =>
    value !== undefined && symbols.includes(symbol) ? [{ symbol, name, value, unit: 'mm' } as const] : [],
  );
}
