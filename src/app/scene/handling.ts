import { dot, type Vec3 } from '../../../geometry/math/vec.ts';
import { readQuantity } from '../../job/quantity.ts';
import type { Display } from '../../job/types.ts';
import type { Kind } from '../../job/units.ts';
import { asWritten } from '../sentence/stepping.ts';
import { type Path, setIn, valueIn } from '../store/jsontext.ts';
import type { ScreenFitting } from '../worker/protocol.ts';

/** What a hand on the scene does to the job file. Lengths mm, angles rad; `snap` holds to whole steps. */

const STEP_MM = { metric: 10, us: 25.4 / 2 } as const;
const FINE_MM = { metric: 1, us: 25.4 / 32 } as const;
const DEGREE = Math.PI / 180;

const rounded = (x: number, step: number): number => Math.round(x / step) * step;

function like(text: string, path: Path): string {
  const value = valueIn(JSON.parse(text.replace(/^\uFEFF/, '')), path);
  return typeof value === 'string' ? value : '';
}

/** What stands after a figure to say how far it may be off: it stays when the figure is moved. */
const TOLERANCE = /\s*(?:±|\+\s*\/?\s*-).*$/;

export function putQuantity(text: string, path: Path, value: number, kind: Kind, display: Display): string {
  const before = like(text, path);
  const tail = TOLERANCE.exec(before)?.[0] ?? '';
  const next = asWritten(value, kind, before, display) + tail;
  const reading = readQuantity(next, kind);
  return reading.ok ? setIn(text, path, next) : text;
}

/** How a job measures a place besides its station. */
export type PlaceBy = 'girth' | 'height' | 'halfBreadth';

/** A place of the shell: station and girth, with the point there for jobs that go by z or |y|. Ship axes, mm. */
export interface HandPlace {
  readonly station: number;
  readonly girth: number;
  readonly point: Vec3;
}

/** The place held to steps in what the job file says of it; the girth of a job that goes by another figure stays as it is. */
export function heldPlace<P extends HandPlace>(place: P, by: PlaceBy, display: Display, snap: boolean): P {
  const step = (snap ? STEP_MM : FINE_MM)[display];
  const station = rounded(place.station, step);
  return { ...place, station, girth: by === 'girth' ? rounded(place.girth, step) : place.girth };
}

/** The lug set down at a place of the shell. */
export function placeLug(
  text: string,
  index: number,
  place: HandPlace,
  by: PlaceBy,
  display: Display,
  snap: boolean,
): string {
  const { station, girth, point } = heldPlace(place, by, display, snap);
  const step = (snap ? STEP_MM : FINE_MM)[display];
  const value = by === 'girth' ? girth : rounded(by === 'height' ? point[2] : Math.abs(point[1]), step);
  const at = (key: string): Path => ['fittings', index, 'at', key];
  return putQuantity(putQuantity(text, at('station'), station, 'length', display), at(by), value, 'length', display);
}

/** `snap`: to 5 degrees, to half a degree, or to the tenth that an angle finder reads. */
export function turnHeading(
  text: string,
  index: number,
  heading: number,
  display: Display,
  snap: boolean | 'exact',
): string {
  const step = (snap === 'exact' ? 0.1 : snap ? 5 : 0.5) * DEGREE;
  let turned = rounded(heading, step);
  while (turned > Math.PI) turned -= 2 * Math.PI;
  while (turned <= -Math.PI) turned += 2 * Math.PI;
  return putQuantity(text, ['fittings', index, 'heading'], turned, 'angle', display);
}

/** The stem leaned off square by an angle; a stem that was plumb or aimed becomes a leaned one. */
export function leanStem(text: string, index: number, lean: number, display: Display, snap: boolean): string {
  const angle = rounded(lean, snap ? DEGREE : 0.1 * DEGREE);
  const path: Path = ['fittings', index, 'stem'];
  const before = valueIn(JSON.parse(text.replace(/^\uFEFF/, '')), path);
  if (typeof before === 'object' && before !== null)
    return putQuantity(text, [...path, 'lean'], angle, 'angle', display);
  return setIn(text, path, { lean: asWritten(angle, 'angle', '0 deg', display) });
}

/** The pull swung to a new direction about the pin; a load point keeps its distance. */
export function swingPull(
  text: string,
  index: number,
  fitting: ScreenFitting,
  direction: Vec3,
  display: Display,
  snap: boolean,
): string {
  const { load, pulledByLift } = fitting.input;
  if (pulledByLift) {
    // Until now the movement said how it is pulled: from here on it has a pull of its own.
    const own = direction.map((x) => Number(rounded(x, 0.001).toFixed(3)));
    return setIn(text, ['fittings', index, 'load'], {
      direction: own,
      force: asWritten(load.force, 'force', '10 kN', display),
    });
  }
  if ('toward' in load) {
    const { pin } = fitting;
    const reach = Math.hypot(load.toward[0] - pin[0], load.toward[1] - pin[1], load.toward[2] - pin[2]);
    const step = (snap ? STEP_MM : FINE_MM)[display];
    return [0, 1, 2].reduce(
      (t, k) =>
        putQuantity(
          t,
          ['fittings', index, 'load', 'toward', k],
          rounded((pin[k] as number) + reach * (direction[k] as number), step),
          'length',
          display,
        ),
      text,
    );
  }
  const share = snap ? 0.02 : 0.001;
  return [0, 1, 2].reduce(
    (t, k) =>
      setIn(t, ['fittings', index, 'load', 'direction', k], Number(rounded(direction[k] as number, share).toFixed(3))),
    text,
  );
}

/** Angle of a vector of the tangent plane from forward towards outboard, rad. */
export const headingOf = ({ anchor }: ScreenFitting, v: Vec3): number =>
  Math.atan2(dot(v, anchor.tGirth), dot(v, anchor.tFore));

/**
 * Lean of a vector off the shell's normal, about the heading, rad, by the sign that the job file counts: positive
 * outward along the girth, or forward where the foot itself runs along the girth.
 */
export function leanOf({ anchor, input }: ScreenFitting, v: Vec3): number {
  const { tFore, tGirth, normal } = anchor;
  const cos = Math.cos(input.heading);
  const sin = Math.sin(input.heading);
  const sense = Math.abs(cos) > 1e-9 ? Math.sign(cos) : -Math.sign(sin);
  const w: Vec3 = [0, 1, 2].map(
    (k) => sense * (-sin * (tFore[k] as number) + cos * (tGirth[k] as number)),
  ) as unknown as Vec3;
  return Math.atan2(dot(v, w), dot(v, normal));
}
