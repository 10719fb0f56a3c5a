import { addScaled, dot, type Vec3 } from '../../geometry/math/vec.ts';
import type { StrengthInput } from './input.ts';
import type { Patch } from './platemoments.ts';
import { lineForceAt, type WeldGroupForce } from './weldgroup.ts';

/**
 * The weld on the shell in square cells of its own breadth (throat times sqrt2), counted from the middle of the foot along and
 * across it: what no load changes. mm, frame of the root.
 */
export interface PatchLayout {
  readonly breadth: number;
  readonly normal: Vec3;
  readonly cells: readonly {
    readonly length: number;
    /** Mean of the weld in the cell. */
    readonly position: Vec3;
    /** The same from the anchor, along the ship and along the girth. */
    readonly fore: number;
    readonly girth: number;
  }[];
}

/** Cells that are farther from the middle of the foot than this share a key: no foot has so many. */
const MOST_CELLS = 4096;

/** The weld in a cell: its length, mm, and the moments of it about the anchor, mm^2. */
interface Gathered {
  length: number;
  x: number;
  y: number;
  z: number;
}

/** Lays the weld out in cells. `throat` may differ along the root: the breadth is that of the greatest. */
export function patchLayout(input: Pick<StrengthInput, 'root' | 'panel' | 'weld' | 'frame'>): PatchLayout {
  const { root, panel, weld, frame } = input;
  const { position, weight } = root.quadrature;
  const breadth = Math.SQRT2 * (typeof weld.throat === 'number' ? weld.throat : Math.max(...weld.throat));
  // Alike on either side of the middle: a mirrored lug is cut up as the mirror of the cells.
  const cellOf = (u: number): number => Math.sign(u) * Math.round(Math.abs(u) / breadth);
  const { anchor } = panel;
  const { foot, face } = frame;
  const found = new Map<number, Gathered>();
  let cell: Gathered | undefined;
  let here = Number.NaN;
  for (let i = 0; i < weight.length; i++) {
    const w = weight[i] as number;
    const x = (position[3 * i] as number) - anchor[0];
    const y = (position[3 * i + 1] as number) - anchor[1];
    const z = (position[3 * i + 2] as number) - anchor[2];
    const key =
      cellOf(x * foot[0] + y * foot[1] + z * foot[2]) * MOST_CELLS + cellOf(x * face[0] + y * face[1] + z * face[2]);
    // The points follow each other along the root: most lie in the cell of the one before.
    if (key !== here) {
      cell = found.get(key);
      here = key;
    }
    if (!cell) {
      cell = { length: 0, x: 0, y: 0, z: 0 };
      found.set(key, cell);
    }
    cell.length += w;
    cell.x += w * x;
    cell.y += w * y;
    cell.z += w * z;
  }
  const cells = Array.from(found.values(), ({ length, x, y, z }) => {
    const r: Vec3 = [x / length, y / length, z / length];
    return { length, position: addScaled(anchor, r, 1), fore: dot(r, panel.fore), girth: dot(r, panel.girth) };
  });
  return { breadth, normal: panel.normal, cells };
}

/**
 * Forces of the weld group on the cells, square to the shell, N: the line force varies linearly in space, so a cell's force is its
 * length times the line force at its mean. `x0`, `y0`: the anchor from the frame abaft and the longitudinal inboard, mm.
 */
export function cellPatches(layout: PatchLayout, group: WeldGroupForce, x0: number, y0: number): Patch[] {
  const { breadth, normal, cells } = layout;
  return cells.map(({ length, position, fore, girth }) => {
    const q = lineForceAt(group, position);
    const square = q[0] * normal[0] + q[1] * normal[1] + q[2] * normal[2];
    return { x: x0 + fore, y: y0 + girth, force: length * square, sizeX: breadth, sizeY: breadth };
  });
}
