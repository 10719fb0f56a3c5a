import type { HullSide, Shell, ShellPoint } from '../../../geometry/hull/shell.ts';
import { addScaled, dot, normalize, type Vec3 } from '../../../geometry/math/vec.ts';
import { unlessRefused } from '../../../geometry/refusal.ts';

/** mm. Nodes are not farther apart than this where that makes no more than `MOST` of them a way. */
const SPACING = 25;
const MOST = 97;
/** Position, normal and the two tangents of a node. */
const FIGURES = 12;

/** A stretch of shell, mm: from so much less to so much more than the middle. */
export interface Stretch {
  readonly station: number;
  readonly girth: number;
  readonly reachAlong: number;
  readonly reachRound: number;
  readonly side: HullSide;
}

/**
 * Points of the shell for a search that asks for many thousands of them. Where one section stands for all stations that is `pointAt`
 * itself; through sections, whose every station has a girth of its own to be measured, nodes are worked out once and cubics laid
 * between them: exact at the nodes, and what a search finds has to be looked at again on the shell itself. Undefined off the data.
 */
export function pointsNear(shell: Shell, stretch: Stretch): (station: number, girth: number) => ShellPoint | undefined {
  const { side } = stretch;
  const exact = (station: number, girth: number): ShellPoint | undefined =>
    unlessRefused(() => shell.pointAt(station, girth, side));
  const prismatic = !Number.isFinite(shell.stations.from);
  if (prismatic || !(stretch.reachAlong > 0 || stretch.reachRound > 0)) return remembering(exact);
  const along = axisOf(stretch.station, stretch.reachAlong);
  const round = axisOf(stretch.girth, stretch.reachRound);
  const nodes: (ShellPoint | undefined)[] = [];
  // Station by station: what the shell keeps of one serves all its girths.
  for (let i = 0; i < along.count; i++) {
    for (let j = 0; j < round.count; j++) {
      nodes.push(exact(along.from + i * along.step, round.from + j * round.step));
    }
  }
  const figures = new Float64Array(FIGURES * nodes.length);
  nodes.forEach((node, k) => {
    if (node === undefined) return;
    [...node.position, ...node.normal, ...node.tGirth, ...node.tFore].forEach((x, f) => {
      figures[FIGURES * k + f] = x;
    });
  });
  const out = new Float64Array(FIGURES);
  const wx = new Float64Array(4);
  const wg = new Float64Array(4);
  return (station, girth) => {
    const i = along.weights(station, wx);
    const j = round.weights(girth, wg);
    out.fill(0);
    for (let p = 0; p < along.taken; p++) {
      for (let q = 0; q < round.taken; q++) {
        const k = (i + p) * round.count + j + q;
        if (nodes[k] === undefined) return exact(station, girth);
        const w = (wx[p] as number) * (wg[q] as number);
        for (let f = 0; f < FIGURES; f++) out[f] = (out[f] as number) + w * (figures[FIGURES * k + f] as number);
      }
    }
    const vec = (f: number): Vec3 => [out[f] as number, out[f + 1] as number, out[f + 2] as number];
    const normal = normalize(vec(3));
    const tGirth = normalize(addScaled(vec(6), normal, -dot(vec(6), normal)));
    const fore = addScaled(vec(9), normal, -dot(vec(9), normal));
    const tFore = normalize(addScaled(fore, tGirth, -dot(fore, tGirth)));
    const near = nodes[
      (i + Math.min(1, along.taken - 1)) * round.count + j + Math.min(1, round.taken - 1)
    ] as ShellPoint;
    return { position: vec(0), normal, tGirth, tFore, station, girth, side, curvature: near.curvature };
  };
}

interface NodeAxis {
  readonly from: number;
  readonly step: number;
  readonly count: number;
  /** Nodes that a figure between them is made of: four, or the only one. */
  readonly taken: number;
  /** Their weights at x, and the first of them. */
  weights(x: number, out: Float64Array): number;
}

function axisOf(middle: number, reach: number): NodeAxis {
  if (!(reach > 0)) {
    return {
      from: middle,
      step: 1,
      count: 1,
      taken: 1,
      weights: (_, out) => {
        out[0] = 1;
        return 0;
      },
    };
  }
  const cells = Math.min(MOST, Math.max(4, Math.ceil((2 * reach) / SPACING)));
  const step = (2 * reach) / cells;
  const count = cells + 1;
  const from = middle - reach;
  return {
    from,
    step,
    count,
    taken: 4,
    weights: (x, out) => {
      const first = Math.max(0, Math.min(count - 4, Math.floor((x - from) / step) - 1));
      const t = (x - from) / step - first;
      // Lagrange's cubic through the nodes 0, 1, 2, 3.
      out[0] = ((t - 1) * (t - 2) * (t - 3)) / -6;
      out[1] = (t * (t - 2) * (t - 3)) / 2;
      out[2] = (t * (t - 1) * (t - 3)) / -2;
      out[3] = (t * (t - 1) * (t - 2)) / 6;
      return first;
    },
  };
}

/** The same function, which knows what it was asked before. */
function remembering(
  of: (station: number, girth: number) => ShellPoint | undefined,
): (station: number, girth: number) => ShellPoint | undefined {
  const known = new Map<number, Map<number, ShellPoint | undefined>>();
  return (station, girth) => {
    let row = known.get(station);
    if (row === undefined) {
      row = new Map();
      known.set(station, row);
    }
    if (!row.has(girth)) row.set(girth, of(station, girth));
    return row.get(girth);
  };
}
