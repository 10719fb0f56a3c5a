import { newHit, type Shell } from '../hull/shell.ts';
import type { FootSurface } from '../lug/body.ts';
import type { LugFrame } from '../lug/frame.ts';
import { leastSquares } from '../math/leastsquares.ts';
import { dot, length, sub, type Vec3 } from '../math/vec.ts';

/**
 * Two shells under one foot: what the other does that the own one does not. Lengths in mm, angles in rad, lug frame.
 * Differences are other less own, along the stem: positive where the other shell stands farther out, into the water.
 */
export interface Overlay {
  /** Along the middle of the foot, from end- to end+: difference of height, and the slope through the thickness on each. */
  readonly along: readonly {
    readonly a: number;
    readonly difference: number;
    readonly bevelOwn: number;
    readonly bevelOther: number;
  }[];
  /** Over the whole foot. */
  readonly least: number;
  readonly most: number;
  readonly rms: number;
  /** Between the planes nearest to either: height at the place, mm; slope along the foot and bevel, other less own, rad. */
  readonly offset: number;
  readonly footSlope: number;
  readonly bevel: number;
  /** mm, root mean square: what is left of the difference when its own nearest plane is taken out, the difference in shape. */
  readonly shape: number;
  /** Largest gap of the plate as cut, its stem held as planned, pushed in until it touches. */
  readonly gapOwn: number;
  readonly gapOther: number;
  /** Shortest way from the place to the other shell, mm, and the angle between the two normals, rad. */
  readonly place: number;
  readonly normal: number;
}

const ALONG = 17;
const ACROSS = 5;

/**
 * Lays `other` over `own` under the foot of a lug: 17 x 5 lines along the stem, looked at on both. `cut`: the foot as cut for
 * `own`. `undefined` where some line meets no shell on one of them; throws the shells' `Refusal`s.
 */
export function overlay(
  own: Shell,
  other: Shell,
  frame: LugFrame,
  halfFoot: number,
  halfThickness: number,
  cut: FootSurface,
): Overlay | undefined {
  const [p, q] = [heights(own, frame, halfFoot, halfThickness), heights(other, frame, halfFoot, halfThickness)];
  if (p === undefined || q === undefined) return undefined;
  const n = ALONG * ACROSS;
  const difference = q.f.map((f, k) => f - (p.f[k] as number));
  const rows: number[] = [];
  for (let k = 0; k < n; k++) rows.push(1, aAt(k, halfFoot), cAt(k, halfThickness));
  const [mine, its, rest] = [p.f, q.f, difference].map((f) => leastSquares(rows, 3, f));
  if (mine === undefined || its === undefined || rest === undefined) return undefined;
  const turned = (k: number) => Math.atan(its.coefficients[k] as number) - Math.atan(mine.coefficients[k] as number);
  const bevel = (f: Float64Array, i: number) =>
    Math.atan(((f[i * ACROSS + ACROSS - 1] as number) - (f[i * ACROSS] as number)) / (2 * halfThickness));
  const gap = (f: Float64Array): number => {
    let over = Number.NEGATIVE_INFINITY;
    let under = Number.POSITIVE_INFINITY;
    for (let k = 0; k < n; k++) {
      const rest = (f[k] as number) - cut.height(aAt(k, halfFoot), cAt(k, halfThickness));
      over = Math.max(over, rest);
      under = Math.min(under, rest);
    }
    return over - under;
  };
  return {
    along: Array.from({ length: ALONG }, (_, i) => ({
      a: aAt(i * ACROSS, halfFoot),
      difference: difference[i * ACROSS + (ACROSS - 1) / 2] as number,
      bevelOwn: bevel(p.f, i),
      bevelOther: bevel(q.f, i),
    })),
    least: Math.min(...difference),
    most: Math.max(...difference),
    rms: Math.sqrt(difference.reduce((sum, d) => sum + d * d, 0) / n),
    offset: rest.coefficients[0] as number,
    footSlope: turned(1),
    bevel: turned(2),
    shape: Math.sqrt(rest.squares / n),
    gapOwn: gap(p.f),
    gapOther: gap(q.f),
    place: signed(other.closest(frame.origin).position, frame, p.n),
    normal: Math.acos(Math.max(-1, Math.min(1, dot(p.n, q.n)))),
  };
}

/** Heights on the net of the foot, and the normal where the stem meets the shell. */
function heights(shell: Shell, frame: LugFrame, halfFoot: number, halfThickness: number) {
  const caster = shell.caster(frame, halfFoot, halfThickness);
  const f = new Float64Array(ALONG * ACROSS);
  const hit = newHit();
  for (let k = 0; k < f.length; k++) {
    if (!caster.cast(aAt(k, halfFoot), cAt(k, halfThickness), caster.seed, 0, 0, hit)) return undefined;
    f[k] = hit.f;
  }
  if (!caster.cast(0, 0, caster.seed, 0, 0, hit)) return undefined;
  const n: Vec3 = [hit.nx, hit.ny, hit.nz];
  return { f, n };
}

const aAt = (k: number, halfFoot: number): number => halfFoot * ((2 * Math.floor(k / ACROSS)) / (ALONG - 1) - 1);
const cAt = (k: number, halfThickness: number): number => halfThickness * ((2 * (k % ACROSS)) / (ACROSS - 1) - 1);

/** Distance of a point from the lug's place, with the sign of the side of the shell on which it lies. */
function signed(p: Vec3, frame: LugFrame, n: Vec3): number {
  const way = sub(p, frame.origin);
  return length(way) * (dot(way, n) < 0 ? -1 : 1);
}
