import { type LugOutline, reachAlong } from './lugsection.ts';

/** Standard acceleration of gravity, m/s^2 (exact by definition, CGPM 1901): tonnes-force of a WLL to N. */
export const STANDARD_GRAVITY = 9.80665;

/** A size of alloy shackle, mm; WLL in t. */
export interface ShackleSize {
  readonly wllTonne: number;
  /** D, the bow's bar. */
  readonly bar: number;
  /** D1, the pin. */
  readonly pin: number;
  /** A, the clear width between the jaws at the pin. */
  readonly jaw: number;
  /** C, clear length inside from the pin to the bow: dee and bow pattern. */
  readonly insideDee: number;
  readonly insideBow: number;
  /** Clear width inside the bow. */
  readonly bowWidth: number;
}

/**
 * Alloy bow and dee shackles to US Federal Specification RR-C-271 and EN 13889 sizes, design factor 6:1. Bar, pin and jaw agree
 * with the specification's inch rows within 1 mm; the inside lengths and bow widths stand in columns that were assigned by size
 * without the drawing: not verified, to be measured on the shackle.
 */
export const SHACKLES: readonly ShackleSize[] = [
  [2, 13, 16, 22, 43, 47, 33],
  [3.25, 16, 19, 27, 51, 60, 42],
  [4.75, 19, 22, 31, 59, 71, 51],
  [6.5, 22, 25, 36, 73, 84, 58],
  [8.5, 25, 28, 43, 85, 95, 68],
  [9.5, 28, 32, 47, 90, 108, 74],
  [12, 32, 35, 51, 94, 119, 83],
  [13.5, 35, 38, 57, 115, 132, 89],
  [17, 38, 42, 60, 127, 146, 98],
  [25, 45, 50, 74, 149, 178, 126],
  [35, 50, 57, 83, 171, 197, 138],
  [55, 65, 70, 105, 203, 260, 180],
  [85, 75, 83, 127, 229, 330, 190],
].map(
  ([wllTonne, bar, pin, jaw, insideDee, insideBow, bowWidth]) =>
    ({ wllTonne, bar, pin, jaw, insideDee, insideBow, bowWidth }) as ShackleSize,
);

/** WLL within this share of a row's is that row (tonnes against short tons and rounded kN do not differ by less). */
const SAME_WLL = 0.03;
/** mm. A pin within this of a row's is that row's pin (inch sizes in mm). */
const SAME_PIN = 1;

/** The table's row for a shackle by WLL (N) and pin (mm); undefined where none fits, so its inside length is not known. */
export const shackleSize = (wll: number, pin: number): ShackleSize | undefined =>
  SHACKLES.find(
    (s) =>
      Math.abs(wll - s.wllTonne * 1000 * STANDARD_GRAVITY) <= SAME_WLL * s.wllTonne * 1000 * STANDARD_GRAVITY &&
      Math.abs(pin - s.pin) <= SAME_PIN,
  );

/** Steps of the share of WLL that is left when a bow is pulled sideways: up to `upTo` (rad) the share stands. */
export interface SideLoadBand {
  readonly upTo: number;
  readonly share: number;
}

const DEG = Math.PI / 180;

/**
 * Share of WLL against the angle of the pull off the bow's own line. Published: in line 100 %, 45 deg 70 %, 90 deg 50 %; bands to
 * 5, 45 and 90 deg from a state lifting rule after ASME B30.26 (the percentages for the bands recalled, not read).
 */
export const SIDE_LOAD_BANDS: readonly SideLoadBand[] = [
  { upTo: 5 * DEG, share: 1 },
  { upTo: 45 * DEG, share: 0.7 },
  { upTo: 90 * DEG, share: 0.5 },
];

/** rad. An angle this far over a band's end still counts to the band: round-off of an angle of 45 deg given in rad. */
const ANGLE_ROUND_OFF = 1e-9;

/** Share of WLL for a pull at `angle` (rad, its size counts) off the bow's line; 0 beyond the last band: not allowed at all. */
export const sideLoadShare = (angle: number, bands: readonly SideLoadBand[] = SIDE_LOAD_BANDS): number =>
  bands.find((b) => Math.abs(angle) <= b.upTo + ANGLE_ROUND_OFF)?.share ?? 0;

/** Field rule, short tons, bar diameter D in inches: SWL = 3 D^2. NAVEDTRA 14251. */
export const fieldRuleTons = (diameterIn: number): number => 3 * diameterIn ** 2;
/** The same in tonnes, D in centimetres: 0.417 D^2. NAVEDTRA 14251. */
export const fieldRuleTonnes = (diameterCm: number): number => 0.417 * diameterCm ** 2;

/** Share of the jaw filled by plate and cheeks. */
export const jawFilled = (plateAndCheeks: number, jaw: number): number => plateAndCheeks / jaw;

/** Plate thickness that fills a share of the jaw, mm, and the hole that leaves a share of the pin as clearance, mm. */
export const plateForJaw = (jaw: number, share: number): number => jaw * share;
export const holeForPin = (pin: number, clearance: number): number => pin * (1 + clearance);

/**
 * Room inside the bow beyond the lug's edge, mm: inside length less the plate past the hole in the direction of the pull (reach
 * less hole/2, for the pin lies against the hole's loaded side). What hangs in the bow must fit in it; below 0 the bow
 * sits on the plate. Plane geometry.
 */
export const roomInBow = (o: LugOutline, inPlane: number, insideLength: number): number =>
  insideLength - (reachAlong(o, inPlane) - o.hole / 2);

/**
 * How far the bow reaches from the pin centre towards the shell, mm, when the pull stands at inPlane (rad) to the stem: the
 * bow as a bar of length pin/2 + inside + bar and half breadth bowWidth/2 + bar. At or below 0 it does not reach towards it.
 * To be less than the pin's height. Plane geometry, shell flat under the lug.
 */
export function reachToShell(
  inPlane: number,
  size: Pick<ShackleSize, 'pin' | 'bar' | 'bowWidth'>,
  insideLength: number,
): number {
  const reach = size.pin / 2 + insideLength + size.bar;
  const half = size.bowWidth / 2 + size.bar;
  return Math.max(0, -Math.cos(inPlane)) * reach + half * Math.abs(Math.sin(inPlane));
}

/** Pull in a line that carries `vertical` (N) at `angle` (rad) off plumb: vertical/cos(angle); infinite where it lies level. */
export const linePull = (vertical: number, angle: number): number => {
  const c = Math.cos(angle);
  return c > 0 ? vertical / c : Number.POSITIVE_INFINITY;
};

/** kg/m^3. Carbon steel: 490 lb/ft^3 as trade tables print it; sea water of 35 g/kg at 15 deg C. */
export const STEEL_DENSITY = 7850;
export const SEA_WATER_DENSITY = 1025;

/** Weight in water over weight in air for a solid body: 1 - water/body density. Archimedes. */
export const buoyancyFactor = (density = STEEL_DENSITY, water = SEA_WATER_DENSITY): number => 1 - water / density;
