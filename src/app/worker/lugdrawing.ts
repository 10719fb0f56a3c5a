import { newHit } from '../../../geometry/hull/shell.ts';
import { type FootSurface, lugSolid } from '../../../geometry/lug/body.ts';
import type { Vec3 } from '../../../geometry/math/vec.ts';
import type { FittingPlan } from '../../plan/types.ts';
import { gasTrails } from './gastrails.ts';
import type { FacePair, LugDrawing } from './protocol.ts';

/** Chord of round edges on the screen, mm. */
const CHORD = 0.5;
const COLUMNS = 41;
/** A break between facets is looked at from just beside it, mm. */
const BESIDE = 1e-3;

/** The lug trimmed to its chosen cut, and the foot as each cut would leave it. */
export function drawLug(fitting: FittingPlan, up: Vec3): LugDrawing {
  const { fit, field, body } = fitting;
  const solid = lugSolid(body.outline, fit[fit.chosen].surface, CHORD);
  const breaks = fit.faceted.surface.breaks.slice(1, -1).flatMap((a) => [a - BESIDE, a + BESIDE]);
  const even = Array.from({ length: COLUMNS }, (_, i) => -field.halfFoot + (2 * field.halfFoot * i) / (COLUMNS - 1));
  const a = Float32Array.from([...even, ...breaks].sort((p, q) => p - q));
  const on = (surface: FootSurface): FacePair => ({
    minus: a.map((x) => surface.height(inside(x), -field.halfThickness)),
    plus: a.map((x) => surface.height(inside(x), field.halfThickness)),
  });
  const inside = (x: number): number => Math.min(Math.max(x, -field.halfFoot), field.halfFoot);
  const hit = newHit();
  const cast = (x: number, c: number): number => {
    field.cast(inside(x), c, hit);
    return hit.f;
  };
  return {
    positions: Float32Array.from(solid.positions),
    triangles: solid.triangles,
    edges: sharpEdges(solid.positions, solid.triangles),
    feet: {
      a,
      shell: { minus: a.map((x) => cast(x, -field.halfThickness)), plus: a.map((x) => cast(x, field.halfThickness)) },
      straight: on(fit.straight.surface),
      faceted: on(fit.faceted.surface),
      scribed: on(fit.scribed.surface),
    },
    gas: gasTrails(fitting, up),
  };
}

/** Faces that turn by more than this from one to the next have an edge between them, rad. */
const SHARP = 0.5;

/** Edges of a closed surface of triangles where it turns sharply, as pairs of points. */
export function sharpEdges(positions: ArrayLike<number>, triangles: ArrayLike<number>): Float32Array {
  const count = triangles.length / 3;
  const normals = new Float64Array(3 * count);
  const seen = new Map<number, number>();
  const out: number[] = [];
  const at = (k: number, c: number): number => positions[3 * k + c] as number;
  const limit = Math.cos(SHARP);
  const vertices = positions.length / 3;
  for (let t = 0; t < count; t++) {
    const [p, q, r] = [triangles[3 * t], triangles[3 * t + 1], triangles[3 * t + 2]] as [number, number, number];
    const u = [0, 1, 2].map((c) => at(q, c) - at(p, c)) as [number, number, number];
    const v = [0, 1, 2].map((c) => at(r, c) - at(p, c)) as [number, number, number];
    const n = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]] as const;
    const long = Math.hypot(...n);
    if (long < 1e-9) continue;
    for (let c = 0; c < 3; c++) normals[3 * t + c] = (n[c] as number) / long;
    for (const [a, b] of [
      [p, q],
      [q, r],
      [r, p],
    ] as const) {
      // Each edge is met twice, once in either direction.
      const other = seen.get(b * vertices + a);
      if (other === undefined) {
        seen.set(a * vertices + b, t);
        continue;
      }
      let along = 0;
      for (let c = 0; c < 3; c++) along += (normals[3 * t + c] as number) * (normals[3 * other + c] as number);
      if (along < limit) for (const k of [a, b]) out.push(at(k, 0), at(k, 1), at(k, 2));
    }
  }
  return Float32Array.from(out);
}
