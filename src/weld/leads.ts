import { inches, type Sourced, within } from './sourced.ts';

/** American wire gauge as a number: 2, 1, then 1/0 = 0, 2/0 = -1, 3/0 = -2, 4/0 = -3. */
export type WireGauge = '2' | '1' | '1/0' | '2/0' | '3/0' | '4/0';

const GAUGE_NUMBER: Readonly<Record<WireGauge, number>> = { '2': 2, '1': 1, '1/0': 0, '2/0': -1, '3/0': -2, '4/0': -3 };

/** From thin to thick. */
export const WIRE_GAUGES: readonly WireGauge[] = ['2', '1', '1/0', '2/0', '3/0', '4/0'];

/** Copper conductor diameter of a gauge, mm: 0.005 in x 92^((36 - n)/39). Definition of the American wire gauge. */
export function gaugeDiameter(gauge: WireGauge): number {
  return inches(0.005) * 92 ** ((36 - GAUGE_NUMBER[gauge]) / 39);
}

/** Conductor area of a gauge, mm2. Plain geometry. */
export function gaugeArea(gauge: WireGauge): number {
  return (Math.PI / 4) * gaugeDiameter(gauge) ** 2;
}

/** 10.371 ohm circular-mil per foot of copper at 20 C, in ohm mm2/m: a circular mil is pi/4 (0.0254 mm)^2, a foot 0.3048 m. */
export const COPPER_20C: Sourced<number> = {
  value: (10.371 * (Math.PI / 4) * 0.0254 ** 2) / 0.3048,
  source: 'HyperPhysics wire table (gsu.edu), 10.371 ohm circular-mil per foot at 20 C',
  standing: 'source',
};

/** Copper's resistance per kelvin about 20 C, and what stranding adds. */
const COPPER_PER_KELVIN = 0.00393;
const STRANDING = 1.02;

/** Resistance of a solid copper conductor at 20 C, ohm per metre; area in mm2. Source: `COPPER_20C`. */
export function resistancePerMetre20C(area: number): number {
  return COPPER_20C.value / area;
}

/**
 * Resistance of a stranded copper lead at a temperature, ohm per metre: 20 C value x 1.02 x (1 + 0.00393 (T - 20)); area in
 * mm2, T in C. Reproduces NEC Chapter 9 Table 8 at 75 C (from memory, re-derived).
 */
export function resistancePerMetre(area: number, celsius: number): number {
  return resistancePerMetre20C(area) * STRANDING * (1 + COPPER_PER_KELVIN * (celsius - 20));
}

/** NEC rule for another temperature than 75 C: R (1 + 0.00323 (T - 75)); any unit of R, T in C. */
export function necResistanceAt(resistance75C: number, celsius: number): number {
  return resistance75C * (1 + 0.00323 * (celsius - 75));
}

/** Voltage lost along leads, V: I R l; ohm per metre, metre of both leads together, A. Ohm's law. */
export function voltageDrop(amperes: number, ohmPerMetre: number, metres: number): number {
  return amperes * ohmPerMetre * metres;
}

/** Power lost along leads, W: I^2 R l. Joule's law; arguments as `voltageDrop`. */
export function powerLost(amperes: number, ohmPerMetre: number, metres: number): number {
  return amperes * voltageDrop(amperes, ohmPerMetre, metres);
}

/** Least lead: 2/0, extra flexible. A short electrode lead may be 1/0. */
export const LEAST_LEAD: Sourced<WireGauge> = {
  value: '2/0',
  source:
    'US Navy S0300-BB-MAN-010, App. D-8: power leads at least 2/0 extra flexible; the short electrode lead may be 1/0',
  standing: 'source',
};

export type LeadChoice =
  | { readonly kind: 'gauge'; readonly gauge: WireGauge; readonly drop: number }
  /** Even the thickest single lead loses more than allowed: shorten, or double the leads. */
  | { readonly kind: 'none-thick-enough'; readonly drop: number };

/**
 * Thinnest lead, not thinner than `LEAST_LEAD`, that keeps the drop within `mostDrop` volts.
 * @param metres both leads together; @param celsius temperature of the copper.
 */
export function leadFor(amperes: number, metres: number, mostDrop: number, celsius: number): LeadChoice {
  within('amperes', amperes, 0, Number.MAX_VALUE);
  within('metres', metres, 0, Number.MAX_VALUE);
  let drop = 0;
  for (const gauge of WIRE_GAUGES.slice(WIRE_GAUGES.indexOf(LEAST_LEAD.value))) {
    drop = voltageDrop(amperes, resistancePerMetre(gaugeArea(gauge), celsius), metres);
    if (drop <= mostDrop) return { kind: 'gauge', gauge, drop };
  }
  return { kind: 'none-thick-enough', drop };
}

/**
 * Heat input, kJ/mm: 60 E I / (1000 S), E in V, I in A, S in mm/min; times a thermal efficiency (1 for the AWS form, 0.8 for
 * stick by EN 1011-1). Formula from memory, re-derived: a watt is a joule a second.
 */
export function heatInput(volts: number, amperes: number, travel: number, efficiency = 1): number {
  within('travel', travel, Number.MIN_VALUE, Number.MAX_VALUE);
  return (efficiency * 60 * volts * amperes) / (1000 * travel);
}
