import { newHit, type Shell } from '../hull/shell.ts';
import type { FootSurface } from '../lug/body.ts';
import type { LugFrame } from '../lug/frame.ts';

/** A plate cut for one shell, set on another: how it then stands. */
export interface Seat {
  /** mm. Greatest gap with the plate pushed in along its stem until it touches. */
  readonly gap: number;
  /** mm. Metal that would have to be left on below the cut, at the planned height, to reach the shell everywhere. */
  readonly stock: number;
  /** mm. How far the shell stands above the cut where it does so most: what is then ground away. */
  readonly proud: number;
  /** rad. Slope of the shell through the thickness at the middle of the foot. */
  readonly bevel: number;
}

const ALONG = 17;
const ACROSS = 3;

/**
 * Sets a plate that was cut to `cut` on `shell`, its frame there being `frame`, the stem held as planned: no rocking. Looked
 * at on 17 x 3 points of the foot. `undefined` where some line of the foot meets no shell; throws the shell's `Refusal`s.
 */
export function seatOn(
  shell: Pick<Shell, 'caster'>,
  frame: LugFrame,
  halfFoot: number,
  halfThickness: number,
  cut: FootSurface,
): Seat | undefined {
  const caster = shell.caster(frame, halfFoot, halfThickness);
  const hit = newHit();
  let over = Number.NEGATIVE_INFINITY;
  let under = Number.POSITIVE_INFINITY;
  let minus = 0;
  let plus = 0;
  for (let i = 0; i < ALONG; i++) {
    const a = halfFoot * ((2 * i) / (ALONG - 1) - 1);
    for (let j = 0; j < ACROSS; j++) {
      const c = halfThickness * ((2 * j) / (ACROSS - 1) - 1);
      if (!caster.cast(a, c, caster.seed, 0, 0, hit)) return undefined;
      const rest = hit.f - cut.height(a, c);
      if (rest > over) over = rest;
      if (rest < under) under = rest;
      if (i === (ALONG - 1) / 2) {
        if (j === 0) minus = hit.f;
        if (j === ACROSS - 1) plus = hit.f;
      }
    }
  }
  return {
    gap: over - under,
    stock: Math.max(0, -under),
    proud: Math.max(0, over),
    bevel: Math.atan((plus - minus) / (2 * halfThickness)),
  };
}
