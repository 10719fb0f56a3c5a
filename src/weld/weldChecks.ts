import type { Phrase } from '../../geometry/phrase.ts';
import { NO_THROAT_BELOW, PLAIN_FILLET } from './bands.ts';
import { FIT_UP_GAPS } from './gapRule.ts';
import { LEAST_LENGTH_IN_LEGS } from './lengths.ts';
import { LEAST_LEG, type LegPractice, leastLeg } from './sizes.ts';
import type { CheckInput, CheckTerm, JointSide } from './sourced.ts';
import { type ElectrodeKind, type ElectrodeRuling, NICKEL_FROM } from './steel.ts';

/** Angles of a side, rad, and what is open at its root, mm. */
export interface CheckedSide {
  readonly side: JointSide;
  readonly dihedralMin: number;
  readonly dihedralMax: number;
  readonly opening: number;
}

const TRADE = 'trade';

/** A plain fillet ends at 60 degrees: the sharpest place of the joint against it. Source: `PLAIN_FILLET`. */
export function leastAngleCheck(sides: readonly CheckedSide[]): CheckInput {
  const worst = sides.reduce((a, b) => (b.dihedralMin < a.dihedralMin ? b : a));
  const least = PLAIN_FILLET.value.from;
  const uncredited: Phrase =
    worst.dihedralMin < NO_THROAT_BELOW.value
      ? [' Below ', { rad: NO_THROAT_BELOW.value }, ' no throat is credited at all (from memory, not verified).']
      : [];
  return {
    id: 'weld.angle.least',
    title: `Sharpest angle for a plain fillet (${worst.side})`,
    demand: least,
    limit: worst.dihedralMin,
    unit: 'rad',
    basis: TRADE,
    source: PLAIN_FILLET.source,
    standing: PLAIN_FILLET.standing,
    formula: 'psi_least <= psi_min',
    tex: '\\psi_{\\mathrm{least}} \\le \\psi_{\\min}',
    terms: [
      { symbol: 'psi_least', name: 'least dihedral of a plain fillet', value: least, unit: 'rad' },
      { symbol: 'psi_min', name: `sharpest dihedral, ${worst.side}`, value: worst.dihedralMin, unit: 'rad' },
    ],
    remedy: [
      'Lean or turn the lug so that it stands squarer to the shell, or have a partial-penetration groove qualified for this side.',
      ...uncredited,
    ],
  };
}

/** A plain fillet ends at 135 degrees: the bluntest place of the joint against it. Source: `PLAIN_FILLET`. */
export function mostAngleCheck(sides: readonly CheckedSide[]): CheckInput {
  const worst = sides.reduce((a, b) => (b.dihedralMax > a.dihedralMax ? b : a));
  const most = PLAIN_FILLET.value.to;
  return {
    id: 'weld.angle.most',
    title: `Bluntest angle for a plain fillet (${worst.side})`,
    demand: worst.dihedralMax,
    limit: most,
    unit: 'rad',
    basis: TRADE,
    source: PLAIN_FILLET.source,
    standing: PLAIN_FILLET.standing,
    formula: 'psi_max <= psi_most',
    tex: '\\psi_{\\max} \\le \\psi_{\\mathrm{most}}',
    terms: [
      { symbol: 'psi_max', name: `bluntest dihedral, ${worst.side}`, value: worst.dihedralMax, unit: 'rad' },
      { symbol: 'psi_most', name: 'greatest dihedral of a plain fillet', value: most, unit: 'rad' },
    ],
    remedy: ['Lean or turn the lug so that it stands squarer to the shell.'],
  };
}

/** mm. No feeler gauge tells an opening under this from none. */
const UNFELT = 0.1;

/** The widest root opening against what a leg may make up. @param recutGap mm, the job's limit. Source: `FIT_UP_GAPS`. */
export function openingCheck(sides: readonly CheckedSide[], recutGap: number): CheckInput {
  const worst = sides.reduce((a, b) => (b.opening > a.opening ? b : a));
  // Where nothing stands open no side is the widest.
  const nil = worst.opening < UNFELT;
  return {
    id: 'weld.opening',
    title: `Root opening that the leg may make up${nil ? '' : ` (${worst.side})`}`,
    demand: worst.opening,
    limit: recutGap,
    unit: 'mm',
    basis: TRADE,
    source: FIT_UP_GAPS.source,
    standing: FIT_UP_GAPS.standing,
    formula: 'R <= R_most',
    tex: 'R \\le R_{\\mathrm{most}}',
    terms: [
      { symbol: 'R', name: `widest root opening${nil ? '' : `, ${worst.side}`}`, value: worst.opening, unit: 'mm' },
      { symbol: 'R_most', name: 'gap beyond which the foot is cut again', value: recutGap, unit: 'mm' },
    ],
    remedy: ['Cut the foot again to the shell: a bevel of its own for each facet, or scribed.'],
  };
}

/** The called leg against the least for the thinner part, mm. Source: `LEAST_LEG`. */
export function leastLegCheck(
  leg90: number,
  lugThickness: number,
  shellThickness: number,
  practice: LegPractice,
): CheckInput {
  const thinner = Math.min(lugThickness, shellThickness);
  const least = leastLeg(thinner, practice);
  return {
    id: 'weld.leg.least',
    title: 'Least leg for the thickness',
    demand: least,
    limit: leg90,
    unit: 'mm',
    basis: TRADE,
    source: LEAST_LEG.source,
    standing: LEAST_LEG.standing,
    formula: 'w_min(t) <= w',
    tex: 'w_{\\min}(t) \\le w',
    terms: [
      { symbol: 't', name: 'thinner part joined', value: thinner, unit: 'mm' },
      { symbol: 'w_min', name: 'least leg', value: least, unit: 'mm' },
      { symbol: 'w', name: 'leg of the 90 degree fillet', value: leg90, unit: 'mm' },
    ],
    remedy: ['Call for a leg of at least ', { mm: least, bound: 'least' }, '.'],
  };
}

/** The weld round the foot against four legs, mm. AWS D1.1:2010, 2.4.2.3; AISC 360, J2.2b. */
export function lengthCheck(leg90: number, perimeter: number): CheckInput {
  return {
    id: 'weld.length.least',
    title: 'Length of the weld against its leg',
    demand: LEAST_LENGTH_IN_LEGS * leg90,
    limit: perimeter,
    unit: 'mm',
    basis: TRADE,
    source:
      'AWS D1.1/D1.1M:2010, 2.4.2.3; AISC 360, J2.2b: at least four legs, else a quarter of the length counts as leg',
    standing: 'source',
    formula: '4 w <= L',
    tex: '4 w \\le L',
    terms: [
      { symbol: 'w', name: 'leg of the 90 degree fillet', value: leg90, unit: 'mm' },
      { symbol: 'L', name: 'weld round the foot', value: perimeter, unit: 'mm' },
    ],
    remedy: ['Make the foot longer or the leg smaller.'],
  };
}

/** Rank of an electrode's resistance to hydrogen cracking in this rule: nickel-type above all others. */
const RANK = { any: 1, nickel: 2 } as const;

/** The electrode of the job against what the steel asks for. Common practice, see `NICKEL_FROM`. */
export function electrodeCheck(kind: ElectrodeKind, ruling: ElectrodeRuling): CheckInput {
  const given = kind === 'nickel' ? RANK.nickel : RANK.any;
  const known: readonly CheckTerm[] =
    ruling.carbonEquivalent === undefined
      ? []
      : [
          {
            symbol: 'CE',
            name: 'carbon equivalent of the shell, per cent',
            value: ruling.carbonEquivalent,
            unit: 'count',
          },
          { symbol: 'CE_n', name: 'from here on nickel-type, per cent', value: NICKEL_FROM.value, unit: 'count' },
        ];
  return {
    id: 'weld.electrode',
    title: 'Electrode for the steel',
    demand: RANK[ruling.asks],
    limit: given,
    unit: 'count',
    basis: TRADE,
    source: ruling.source,
    standing: ruling.standing,
    formula: 'class asked <= class given (1 ordinary, 2 nickel-type)',
    tex: 'k_{\\mathrm{asked}} \\le k_{\\mathrm{given}}',
    terms: [
      { symbol: 'k_asked', name: 'class that the steel asks for', value: RANK[ruling.asks], unit: 'count' },
      { symbol: 'k_given', name: 'class of the electrode', value: given, unit: 'count' },
      ...known,
    ],
    // Where the electrode will do there is nothing to mend: a nickel-type one is no fault where an ordinary one would do too.
    remedy: RANK[ruling.asks] > given ? [...ruling.reason, '. Weld it with nickel-type electrodes.'] : [],
  };
}
