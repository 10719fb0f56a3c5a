import type { Frame } from '../math/frame.ts';
import { addScaled, distance, dot, scale, sub, type Vec3 } from '../math/vec.ts';
import type { LocalFit } from './localfit.ts';
import { type FittedPlace, type MeshShell, onFit, onFitBy, onSide } from './mesh.ts';
import type { FootCaster, HullSide, Shell, ShellPoint } from './shell.ts';
import { SurfaceCaster } from './surfacecast.ts';

/** mm. Stations that far either way of a place tell how a line of equal girth runs there. */
const DRIFT_SPAN = 40;
/** Share of a patch's radius within which a place that moved is still looked for on it. */
const REACH = 0.5;

/** A planned place, and how far a point of equal girth moves with the station there (per mm). */
export interface ShakenPlace extends FittedPlace {
  readonly drift: Vec3;
}

/** The planned places of a scan with what is needed to move about on their surfaces; made once for many draws. */
export function shakenPlaces(shell: MeshShell): ShakenPlace[] {
  return shell.fitted().map((place) => {
    const at = (station: number): Vec3 => {
      const [x, y, z] = shell.pointAt(station, place.girth, place.side).position;
      return [x, Math.abs(y), z];
    };
    const { from, to } = shell.stations;
    const aft = Math.max(from, place.station - DRIFT_SPAN);
    const fore = Math.min(to, place.station + DRIFT_SPAN);
    return { ...place, drift: scale(sub(at(fore), at(aft)), 1 / (fore - aft)) };
  });
}

type Known = Pick<Shell, 'girthAt' | 'pointAt' | 'caster'>;

/**
 * A scan's shell with the surface round each planned place moved by one draw of its own error, for as far as sampling goes:
 * places near the planned ones and the feet on them, no section is cut anew. What lies farther off is that of `shell` as it stands.
 *
 * @param normals gives `count` standard normal numbers for the place with this index
 */
export function shakenMesh(
  shell: MeshShell,
  places: readonly ShakenPlace[],
  normals: (index: number, count: number) => ArrayLike<number>,
): Known {
  const fits = new Map<number, LocalFit>();
  const fitOf = (place: ShakenPlace): LocalFit => {
    let fit = fits.get(place.index);
    if (fit === undefined) {
      fit = place.fit.shaken(normals(place.index, place.fit.terms));
      fits.set(place.index, fit);
    }
    return fit;
  };
  const near = (station: number, side: HullSide, by: (place: ShakenPlace) => number): ShakenPlace | undefined => {
    let best: ShakenPlace | undefined;
    let least = Number.POSITIVE_INFINITY;
    for (const place of places) {
      if (place.side !== side) continue;
      const d = Math.hypot(place.station - station, by(place));
      if (d < Math.min(least, REACH * place.fit.radius)) [best, least] = [place, d];
    }
    return best;
  };
  /** Where the place would be at another station and girth, before the surface is looked for. */
  const start = (place: ShakenPlace, station: number, more: number): Vec3 =>
    addScaled(addScaled(place.position, place.drift, station - place.station), [0, place.ty, place.tz], more);
  return {
    girthAt(station, by, value, side = 'port') {
      const k = by === 'height' ? 2 : 1;
      const place = near(station, side, (p) => value - p.position[k]);
      const found = place && onFitBy(fitOf(place), start(place, station, 0), place.ty, place.tz, { by, value });
      if (place === undefined || found === undefined) return shell.girthAt(station, by, value, side);
      return place.girth + dot(sub(found.position, start(place, station, 0)), [0, place.ty, place.tz]);
    },
    pointAt(station, girth, side): ShellPoint {
      const place = near(station, side, (p) => girth - p.girth);
      if (place === undefined) return shell.pointAt(station, girth, side);
      const point = onFit(fitOf(place), start(place, station, girth - place.girth), place.ty, place.tz);
      return onSide(point, station, girth, side);
    },
    caster(frame: Frame, halfFoot, halfThickness): FootCaster {
      const side = frame.origin[1] < 0 ? 'starboard' : 'port';
      const about: Vec3 = [frame.origin[0], Math.abs(frame.origin[1]), frame.origin[2]];
      const reach = Math.hypot(halfFoot, halfThickness);
      const place = places.find((p) => p.side === side && distance(p.fit.centre, about) + reach <= p.fit.radius);
      if (place === undefined) return shell.caster(frame, halfFoot, halfThickness);
      const fit = fitOf(place);
      const [u, v] = fit.place(about);
      return new SurfaceCaster(fit, frame, side === 'starboard', u, v);
    },
  };
}
