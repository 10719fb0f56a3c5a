import type { FittingComparison } from '../../plan/comparison.ts';
import type { FootProfiles } from '../worker/protocol.ts';

export type Reached = Extract<FittingComparison, { reached: true }>;

/** Two shells under one foot: heights along the stem, mm, along the middle of the foot and across the plate in its middle. */
export interface SectionLines {
  readonly a: readonly number[];
  readonly own: readonly number[];
  readonly other: readonly number[];
  /** Across the plate: c, and b on either shell at it. */
  readonly c: readonly [number, number];
  readonly ownAcross: readonly [number, number];
  readonly otherAcross: readonly [number, number];
}

/**
 * Lines to draw. Along the foot: the shell that was planned on, midway between its heights at the two faces, and the other
 * one its difference away. Across: through the same middle, at the bevel that either asks for.
 */
export function sectionLines(feet: FootProfiles, { found }: Reached, thickness: number): SectionLines {
  const a = found.along.map((p) => p.a);
  const middle = (x: number): number => (heightAt(feet, feet.shell.minus, x) + heightAt(feet, feet.shell.plus, x)) / 2;
  const own = a.map(middle);
  const other = found.along.map((p, i) => (own[i] as number) + p.difference);
  const k = (a.length - 1) / 2;
  const half = thickness / 2;
  const across = (b: number, bevel: number): [number, number] => [
    b - half * Math.tan(bevel),
    b + half * Math.tan(bevel),
  ];
  const mid = found.along[k];
  return {
    a,
    own,
    other,
    c: [-half, half],
    ownAcross: across(own[k] as number, mid?.bevelOwn ?? 0),
    otherAcross: across(other[k] as number, mid?.bevelOther ?? 0),
  };
}

/** Height at a along a face, on the straight between the points that were drawn. */
function heightAt(feet: FootProfiles, heights: Float32Array, x: number): number {
  const { a } = feet;
  let i = 1;
  while (i < a.length - 1 && (a[i] as number) < x) i++;
  const [p, q] = [a[i - 1] as number, a[i] as number];
  const share = q === p ? 0 : Math.min(1, Math.max(0, (x - p) / (q - p)));
  return (heights[i - 1] as number) * (1 - share) + (heights[i] as number) * share;
}

const STEPS = [100, 50, 20, 10, 5, 2];

/** By how much heights may be magnified so that `span` mm of them, drawn at `scale` a mm, stay within `tall`: a round figure, 1 for none. */
export const magnification = (span: number, scale: number, tall: number): number =>
  STEPS.find((step) => span * scale * step <= tall) ?? 1;
