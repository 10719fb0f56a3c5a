import { ROUND_OFF_RAD } from '../../geometry/math/tolerance.ts';
import { degrees, type Sourced } from './sourced.ts';

export type AwsFilletPosition = '1F' | '2F' | '3F' | '4F';
export type IsoFilletPosition = 'PA' | 'PB' | 'PF' | 'PD';

export interface FilletPosition {
  readonly aws: AwsFilletPosition;
  readonly iso: IsoFilletPosition;
}

/** One row: axis inclination from..to, face rotation from..to, both in degrees as the rule prints them. */
export interface PositionBand {
  readonly aws: AwsFilletPosition;
  readonly axis: readonly [number, number];
  readonly rotation: readonly [number, number];
}

/**
 * Limits of fillet positions, degrees. Axis inclination counts from the horizontal; face rotation is 0 for a face normal
 * straight down and 180 for straight up; 180..360 mirrors 180..0 and is left out. The bands tile the whole domain.
 * An edge belongs to the band that stands first here: a rotation of 125 is horizontal (or vertical), not overhead.
 */
export const FILLET_POSITIONS: Sourced<readonly PositionBand[]> = {
  value: [
    { aws: '1F', axis: [0, 15], rotation: [150, 180] },
    { aws: '2F', axis: [0, 15], rotation: [125, 150] },
    { aws: '3F', axis: [15, 80], rotation: [125, 180] },
    { aws: '4F', axis: [0, 80], rotation: [0, 125] },
    { aws: '3F', axis: [80, 90], rotation: [0, 180] },
  ],
  source:
    'AWS D3.6M and AWS A3.0, positions of fillet welds: angle conventions as in D3.6M:1999 Fig. 5.1; the fillet rows are from memory, their tiling checked',
  standing: 'not-verified',
};

/**
 * The ISO 6947 name beside the AWS one. A vertical fillet is welded upwards here (PF): gas must have its way up and out
 * before the puddle. The pairing is from memory (not verified); the names are ISO 6947.
 */
export const ISO_FILLET: Sourced<Readonly<Record<AwsFilletPosition, IsoFilletPosition>>> = {
  value: { '1F': 'PA', '2F': 'PB', '3F': 'PF', '4F': 'PD' },
  source: 'ISO 6947 main positions; pairing with AWS positions from memory',
  standing: 'not-verified',
};

/**
 * Welding position of a fillet at one point of the root.
 *
 * @param axisInclination rad, 0..pi/2: slope of the root line against the horizontal.
 * @param faceRotation rad, 0..pi (pi..2 pi is taken as its mirror): seen along the axis, from straight down to the
 *   weld's face normal; null where the axis is within a degree of vertical, which is a vertical weld.
 * @throws RangeError where an angle is not a number or outside its range.
 * Source and standing: `FILLET_POSITIONS`, `ISO_FILLET`.
 */
export function weldingPosition(axisInclination: number, faceRotation: number | null): FilletPosition {
  if (!(axisInclination >= -ROUND_OFF_RAD && axisInclination <= Math.PI / 2 + ROUND_OFF_RAD))
    throw new RangeError(`axisInclination must lie within 0 and pi/2, got ${axisInclination}`);
  if (faceRotation === null) return VERTICAL;
  if (!(faceRotation >= -ROUND_OFF_RAD && faceRotation <= 2 * Math.PI + ROUND_OFF_RAD))
    throw new RangeError(`faceRotation must lie within 0 and 2 pi, got ${faceRotation}`);
  const rotation = faceRotation > Math.PI ? 2 * Math.PI - faceRotation : faceRotation;
  for (const { axis, turned, position } of BANDS) {
    if (holds(axis, axisInclination) && holds(turned, rotation)) return position;
  }
  throw new Error('the bands of fillet positions leave a gap');
}

interface Bounds {
  readonly from: number;
  readonly to: number;
}

const holds = ({ from, to }: Bounds, angle: number): boolean => angle >= from && angle <= to;

/** A row's limits in rad, let out by round-off. */
const bounds = ([from, to]: readonly [number, number]): Bounds => ({
  from: degrees(from) - ROUND_OFF_RAD,
  to: degrees(to) + ROUND_OFF_RAD,
});

const named = (aws: AwsFilletPosition): FilletPosition => ({ aws, iso: ISO_FILLET.value[aws] });

const VERTICAL = named('3F');

/** The rows as they are searched: hundreds of points a plan share what a row says. */
const BANDS = FILLET_POSITIONS.value.map(({ aws, axis, rotation }) => ({
  axis: bounds(axis),
  turned: bounds(rotation),
  position: named(aws),
}));
