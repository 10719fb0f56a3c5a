import type { Phrase } from '../../geometry/phrase.ts';
import type { Sourced } from './sourced.ts';

/** Weight per cent of each element by symbol; an element not named counts as none. */
export type Composition = Readonly<Record<string, number>>;

function of(percent: Composition, symbol: string): number {
  const value = percent[symbol] ?? 0;
  if (!(value >= 0 && value <= 100)) throw new RangeError(`${symbol} must lie within 0 and 100 per cent, got ${value}`);
  return value;
}

/**
 * Carbon equivalent of the International Institute of Welding, weight per cent:
 * C + Mn/6 + (Cr + Mo + V)/5 + (Ni + Cu)/15. Published on vmvcm.com and colliewelding.com, among others.
 */
export function carbonEquivalentIiw(percent: Composition): number {
  return of(percent, 'C') + of(percent, 'Mn') / 6 + alloyTerms(percent);
}

/** The form of the AWS D1.1 annex, weight per cent: silicon stands beside manganese, C + (Mn + Si)/6 + ... Source as IIW. */
export function carbonEquivalentAws(percent: Composition): number {
  return of(percent, 'C') + (of(percent, 'Mn') + of(percent, 'Si')) / 6 + alloyTerms(percent);
}

/**
 * Pcm, for low-carbon steels, weight per cent: C + Si/30 + (Mn + Cu + Cr)/20 + Ni/60 + Mo/15 + V/10 + 5 B. Source as IIW.
 */
export function carbonEquivalentPcm(percent: Composition): number {
  return (
    of(percent, 'C') +
    of(percent, 'Si') / 30 +
    (of(percent, 'Mn') + of(percent, 'Cu') + of(percent, 'Cr')) / 20 +
    of(percent, 'Ni') / 60 +
    of(percent, 'Mo') / 15 +
    of(percent, 'V') / 10 +
    5 * of(percent, 'B')
  );
}

/** CET, weight per cent: C + (Mn + Mo)/10 + (Cr + Cu)/20 + Ni/40. Source as IIW. */
export function carbonEquivalentCet(percent: Composition): number {
  return (
    of(percent, 'C') +
    (of(percent, 'Mn') + of(percent, 'Mo')) / 10 +
    (of(percent, 'Cr') + of(percent, 'Cu')) / 20 +
    of(percent, 'Ni') / 40
  );
}

/** What the short form allows for all that it leaves out, weight per cent. From memory, not verified. */
const SHORT_FORM_ALLOWANCE = 0.05;

export type ShortForm =
  | { readonly kind: 'value'; readonly value: number }
  | { readonly kind: 'refused'; readonly reason: Phrase };

/** C + Mn/6 + 0.05, for a steel of which no more is known than carbon and manganese. From memory, not verified. */
export function shortFormArithmetic(percent: Composition): number {
  return of(percent, 'C') + of(percent, 'Mn') / 6 + SHORT_FORM_ALLOWANCE;
}

/**
 * The short form, refused where it would flatter: as soon as the alloying elements of the full form are worth more than the
 * 0.05 that stands for them (then short < IIW by plain subtraction).
 */
export function carbonEquivalentShort(percent: Composition): ShortForm {
  if (alloyTerms(percent) > SHORT_FORM_ALLOWANCE) {
    return {
      kind: 'refused',
      reason: ['the steel is alloyed: C + Mn/6 + 0.05 leaves out more than it allows for; use the full form'],
    };
  }
  return { kind: 'value', value: shortFormArithmetic(percent) };
}

function alloyTerms(percent: Composition): number {
  return (of(percent, 'Cr') + of(percent, 'Mo') + of(percent, 'V')) / 5 + (of(percent, 'Ni') + of(percent, 'Cu')) / 15;
}

/** What is known of the steel's readiness to harden. */
export type SteelKnowledge =
  | { readonly kind: 'given'; readonly value: number }
  | { readonly kind: 'composition'; readonly percent: Composition }
  | { readonly kind: 'unknown' };

export interface CarbonFigures {
  readonly iiw: number;
  readonly aws: number;
  readonly pcm: number;
  readonly cet: number;
  readonly short: ShortForm;
}

/** Every form side by side, for a composition. */
export function carbonFigures(percent: Composition): CarbonFigures {
  return {
    iiw: carbonEquivalentIiw(percent),
    aws: carbonEquivalentAws(percent),
    pcm: carbonEquivalentPcm(percent),
    cet: carbonEquivalentCet(percent),
    short: carbonEquivalentShort(percent),
  };
}

/** From this carbon equivalent on a steel gets nickel-type electrodes. */
export const NICKEL_FROM: Sourced<number> = {
  value: 0.4,
  source:
    'common practice, no source: ordinary ferritic wet electrodes crack from hydrogen at a carbon equivalent of 0.40 or more',
  standing: 'common-practice',
};

/** From this yield on (MPa, 80 ksi) a plate counts as high-strength naval steel. */
export const NAVAL_YIELD_FROM: Sourced<number> = {
  value: 550,
  source:
    'common practice, no source: high-strength naval steels, of which HY-80 yields at 80 ksi, get nickel-type electrodes',
  standing: 'common-practice',
};

export type ElectrodeKind = 'nickel' | 'ferritic' | 'austenitic';

export interface ElectrodeRuling {
  /** The class the steel asks for: `any` where ordinary wet electrodes may be qualified. */
  readonly asks: 'nickel' | 'any';
  /** The figure the ruling rests on (IIW form); absent where the steel is unknown. */
  readonly carbonEquivalent?: number;
  readonly reason: Phrase;
  readonly source: string;
  readonly standing: 'common-practice';
}

/**
 * Which class of wet electrode a steel asks for: nickel-type from `NICKEL_FROM` on, for high-strength naval steel, and for a
 * steel that nobody has sampled. A composition is judged by the IIW form.
 *
 * @param yieldStress MPa.
 */
export function electrodeRuling(
  steel: SteelKnowledge,
  yieldStress: number,
  from: { readonly carbonEquivalent: number; readonly yield: number } = {
    carbonEquivalent: NICKEL_FROM.value,
    yield: NAVAL_YIELD_FROM.value,
  },
): ElectrodeRuling {
  const common = { source: NICKEL_FROM.source, standing: 'common-practice' } as const;
  if (steel.kind === 'unknown') {
    return {
      asks: 'nickel',
      reason: ['the composition is unknown: sample the shell, and until then weld it as if it hardened'],
      ...common,
    };
  }
  const value = steel.kind === 'given' ? steel.value : carbonEquivalentIiw(steel.percent);
  // The figure may be a sum of decimals that prints as the threshold: the side of the threshold is not left to round-off.
  if (value >= from.carbonEquivalent - CE_ROUND_OFF) {
    return {
      asks: 'nickel',
      carbonEquivalent: value,
      reason: [
        'carbon equivalent ',
        { count: value, digits: 2 },
        ' is not below ',
        { count: from.carbonEquivalent, digits: 2 },
      ],
      ...common,
    };
  }
  if (yieldStress >= from.yield) {
    return {
      asks: 'nickel',
      carbonEquivalent: value,
      reason: ['yield ', { mpa: yieldStress }, ' makes it high-strength steel'],
      source: NAVAL_YIELD_FROM.source,
      standing: 'common-practice',
    };
  }
  return {
    asks: 'any',
    carbonEquivalent: value,
    reason: [
      'carbon equivalent ',
      { count: value, digits: 2 },
      ' is below ',
      { count: from.carbonEquivalent, digits: 2 },
    ],
    ...common,
  };
}

/** Round-off of a carbon equivalent, weight per cent. */
const CE_ROUND_OFF = 1e-12;
