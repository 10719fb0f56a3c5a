import type { FittingPlan } from '../plan/types.ts';
import { wayOf } from './sides.ts';

/** The two ways round the girth as a diver at the place would say them: up and down on a steep side, outboard and inboard under the bottom. */
export interface RoundWords {
  /** The way the girth counts. */
  readonly out: string;
  readonly in: string;
  /** What lies that way, at the edges of a picture. */
  readonly outEdge: string;
  readonly inEdge: string;
}

/** By the ship's direction that the girth follows most, as the sides of the foot are called. */
export function roundWords({ anchor }: Pick<FittingPlan, 'anchor'>): RoundWords {
  const way = wayOf(anchor.tGirth, anchor.side);
  if (way === 'upper') return { out: 'up', in: 'down', outEdge: 'UP', inEdge: 'DOWN' };
  if (way === 'lower') return { out: 'down', in: 'up', outEdge: 'DOWN', inEdge: 'UP' };
  return { out: 'outboard', in: 'inboard', outEdge: 'OUTBOARD', inEdge: 'KEEL' };
}

/** `outboard of`, `up from`. */
export const beyond = (way: string): string => `${way} ${way.endsWith('board') ? 'of' : 'from'}`;
