import type { Phrase } from '../../geometry/phrase.ts';

/** How well a figure is known. `not-verified`: from memory, a default to change, shown as such, never a limit of ours. */
export type Standing = 'source' | 'common-practice' | 'not-verified' | 'choice';

/** A figure or table with where it comes from. */
export interface Sourced<T> {
  readonly value: T;
  readonly source: string;
  readonly standing: Standing;
}

export type JointSide = 'face-' | 'end+' | 'face+' | 'end-';

/** The order of the sides along the root line, s rising from the corner (-foot/2, -thickness/2). */
export const JOINT_SIDES: readonly JointSide[] = ['face-', 'end+', 'face+', 'end-'];

export type CheckUnit = 'mm' | 'rad' | 'N' | 'MPa' | 'N/mm' | 'share' | 'count' | 'N mm';

export interface CheckTerm {
  readonly symbol: string;
  readonly name: string;
  readonly value: number;
  readonly unit: CheckUnit;
}

/** What a check is made of; its ratio and verdict are derived by whoever holds demand against limit. */
export interface CheckInput {
  readonly id: string;
  readonly title: string;
  readonly demand: number;
  readonly limit: number;
  readonly unit: CheckUnit;
  readonly basis: string;
  readonly source: string;
  readonly standing: Standing;
  readonly formula: string;
  readonly tex: string;
  readonly terms: readonly CheckTerm[];
  readonly remedy: Phrase;
}

const RAD_PER_DEG = Math.PI / 180;

/** Angle in rad of a figure that a rule prints in degrees. */
export function degrees(value: number): number {
  return value * RAD_PER_DEG;
}

/** Length in mm of a figure that a rule prints in inches (25.4 mm exactly). */
export function inches(value: number): number {
  return value * 25.4;
}

/** Throws RangeError naming the figure unless it is finite and within lo..hi. */
export function within(name: string, value: number, lo: number, hi: number): void {
  if (!(value >= lo && value <= hi)) throw new RangeError(`${name} must lie within ${lo} and ${hi}, got ${value}`);
}
