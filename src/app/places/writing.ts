import type { Shell } from '../../../geometry/hull/shell.ts';
import type { Vec3 } from '../../../geometry/math/vec.ts';
import type { Display, Fitting, Job } from '../../job/types.ts';
import type { StanceFreedom } from '../../plan/movement/stancetypes.ts';
import { movedBehind, type Place } from '../../plan/structure.ts';
import { heldPlace, leanStem, placeLug, putQuantity, turnHeading } from '../scene/handling.ts';
import { type Path, removeIn, setIn, spanOf } from '../store/jsontext.ts';

/** Places and stances that were found, written into the text of a job file: figures keep their units, the rest its bytes. mm, rad. */

export interface Spot extends Place {
  /** The point there, ship axes: for jobs that give the place by height or half-breadth. */
  readonly point: Vec3;
}

/**
 * The lug of `job` set down elsewhere, in the text of that job or of one that differs in its place alone. What its own field says is
 * behind it is counted on from where it stood, as the map counts it. `snap`: to the whole steps of a hand.
 */
export function putLug(
  text: string,
  job: Job,
  index: number,
  from: Place,
  to: Spot,
  display: Display,
  snap = false,
): string {
  const fitting = job.fittings[index] as Fitting;
  const { by } = fitting.at;
  const placed = placeLug(text, index, to, by, display, snap);
  const stands = snap ? heldPlace(to, by, display, snap) : to;
  return putBehind(placed, index, movedBehind(job, fitting, from, stands), display);
}

function putBehind(text: string, index: number, { behind }: Fitting, display: Display): string {
  return (['fromFrame', 'fromLongitudinal'] as const).reduce((t, key) => {
    const path: Path = ['fittings', index, 'behind', key];
    const value = behind?.[key];
    return value === undefined || spanOf(t, path) === undefined ? t : putQuantity(t, path, value, 'length', display);
  }, text);
}

/** The lug turned and leaned, to the tenth of a degree that an angle finder reads. */
export function standLug(text: string, index: number, heading: number, lean: number, display: Display): string {
  return leanStem(turnHeading(text, index, heading, display, 'exact'), index, lean, display, false);
}

const DEGREE = Math.PI / 180;

/**
 * The text of `job` with lugs standing as they do in `best`. `yard`: to a tenth of a degree and a millimetre (or a thirty-second), the
 * place given as it was; `fine`: to a thousandth of a degree and a tenth of a millimetre, the place by its girth.
 */
export function asStanding(
  text: string,
  job: Job,
  best: Job,
  indices: readonly number[],
  shell: Shell,
  freedom: StanceFreedom,
  fineness: 'yard' | 'fine',
): string {
  const { display } = job;
  const moves = (freedom.girth ?? 0) > 0 || (freedom.station ?? 0) > 0;
  return indices.reduce((t, i) => {
    const [was, now] = [job.fittings[i] as Fitting, best.fittings[i] as Fitting];
    if (was === now) return t;
    let out = t;
    const { station, value: girth, by, side } = now.at;
    if (moves && by === 'girth') {
      const { position } = shell.pointAt(station, girth, side);
      if (fineness === 'yard') out = placeLug(out, i, { station, girth, point: position }, was.at.by, display, false);
      else out = finePlace(out, i, station, girth);
      out = putBehind(out, i, now, display);
    }
    if (fineness === 'yard') {
      if (freedom.heading) out = turnHeading(out, i, now.heading, display, 'exact');
      if (freedom.lean && now.stem.kind === 'lean') out = leanStem(out, i, now.stem.angle, display, false);
      return out;
    }
    if (freedom.heading) out = setIn(out, ['fittings', i, 'heading'], fineAngle(now.heading));
    if (freedom.lean && now.stem.kind === 'lean') {
      out = setIn(out, ['fittings', i, 'stem'], { lean: fineAngle(now.stem.angle) });
    }
    return out;
  }, text);
}

const fineAngle = (rad: number): string => `${Number((rad / DEGREE).toFixed(3))} deg`;

function finePlace(text: string, index: number, station: number, girth: number): string {
  const at = (key: string): Path => ['fittings', index, 'at', key];
  const fine = (mm: number): string => `${Number(mm.toFixed(1))} mm`;
  const put = setIn(setIn(text, at('station'), fine(station)), at('girth'), fine(girth));
  return removeIn(removeIn(put, at('height')), at('halfBreadth'));
}
