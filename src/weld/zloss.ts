import { ROUND_OFF_RAD } from '../../geometry/math/tolerance.ts';
import { degrees, type Sourced } from './sourced.ts';

/** One row: from <= dihedral < to, rad; loss in mm. */
export interface ZLossRow {
  readonly from: number;
  readonly to: number;
  readonly loss: number;
}

/** Depth at the root of a sharp joint that a stick electrode does not fuse, mm, every position. */
export const Z_LOSS_STICK: Sourced<readonly ZLossRow[]> = {
  value: [
    { from: degrees(45), to: degrees(60), loss: 3 },
    { from: degrees(30), to: degrees(45), loss: 6 },
  ],
  source: 'AWS D1.1, Z-loss dimension of non-tubular skewed joints, shielded metal arc; from memory, not verified',
  standing: 'not-verified',
};

/**
 * Depth to subtract from the throat of a joint sharper than 60 degrees, mm; 0 for any other, and 0 below 30, where no throat
 * is credited at all. A default to change, not a limit. Source: `Z_LOSS_STICK`.
 */
export function zLoss(dihedral: number, rows: readonly ZLossRow[] = Z_LOSS_STICK.value): number {
  const angle = dihedral + ROUND_OFF_RAD;
  return rows.find((row) => angle >= row.from && angle < row.to)?.loss ?? 0;
}
