import type { MapSpot } from './kinds.ts';

/** How many spots of a map stand, fail and cannot stand. */
export interface Tally {
  readonly known: number;
  readonly passes: number;
  readonly fails: number;
  readonly cannot: number;
  /** What binds where it does not pass, commonest first. */
  readonly binding: readonly (readonly [string, number])[];
}

export function tallyOf(spots: readonly (MapSpot | undefined)[]): Tally {
  const binding = new Map<string, number>();
  let [known, passes, cannot] = [0, 0, 0];
  for (const spot of spots) {
    if (spot === undefined) continue;
    known++;
    if (spot.verdict.kind === 'cannot') cannot++;
    else if (spot.verdict.passes) passes++;
    else {
      const title = spot.verdict.limits[0]?.title ?? '';
      binding.set(title, (binding.get(title) ?? 0) + 1);
    }
  }
  return {
    known,
    passes,
    fails: known - passes - cannot,
    cannot,
    binding: [...binding].sort((p, q) => q[1] - p[1]).slice(0, 3),
  };
}
