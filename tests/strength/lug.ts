import type { StrengthInput, WeldRoot } from '../../src/strength/input.ts';

/** A flat shell under a rectangular foot, A = x and C = -y as in `sampleInput`: root line with corners twice, trapezoid-free Gauss quadrature left to two points a piece. */
export function flatRoot(foot: number, thickness: number, pieces = 40): WeldRoot {
  // In (a, c): face- first, then end+, face+, end-.
  const corners: [number, number][] = [
    [-foot / 2, -thickness / 2],
    [foot / 2, -thickness / 2],
    [foot / 2, thickness / 2],
    [-foot / 2, thickness / 2],
  ];
  const position: number[] = [];
  const normal: number[] = [];
  const s: number[] = [];
  const side: number[] = [];
  const q: number[] = [];
  const w: number[] = [];
  let run = 0;
  const g = 0.5 / Math.sqrt(3);
  for (let k = 0; k < 4; k++) {
    const [ax, ay] = corners[k] as [number, number];
    const [bx, by] = corners[(k + 1) % 4] as [number, number];
    const l = Math.hypot(bx - ax, by - ay);
    for (let i = 0; i <= pieces; i++) {
      const f = i / pieces;
      position.push(ax + f * (bx - ax), -(ay + f * (by - ay)), 0);
      normal.push(0, 0, 1);
      s.push(run + f * l);
      side.push(k);
      if (i === pieces) continue;
      for (const h of [0.5 - g, 0.5 + g]) {
        const e = (i + h) / pieces;
        q.push(ax + e * (bx - ax), -(ay + e * (by - ay)), 0);
        w.push(l / pieces / 2);
      }
    }
    run += l;
  }
  return {
    quadrature: { position: Float64Array.from(q), weight: Float64Array.from(w) },
    position: Float64Array.from(position),
    normal: Float64Array.from(normal),
    s: Float64Array.from(s),
    side: Uint8Array.from(side),
  };
}

/** A lug of invented sizes on a flat shell, normal to it: A = x, C = y, B = z, so that A x B = -y would be left-handed: C = A x B = (0, -1, 0). */
export function sampleInput(change: Partial<StrengthInput> = {}): StrengthInput {
  const load = { alongStem: 108_000, alongFoot: 18_000, sideways: 9_000 };
  return {
    basis: 'aisc-360-asd',
    load,
    lug: { foot: 310, thickness: 35, pinHeight: 215, hole: 54, topRadius: 95, shoulder: 50 },
    steel: {
      lug: { yield: 250, tensile: 400 },
      shell: { yield: 235, tensile: 400, thickness: 12 },
    },
    frame: { foot: [1, 0, 0], stem: [0, 0, 1], face: [0, -1, 0] },
    pin: [0, 0, 215],
    root: flatRoot(310, 35),
    weld: { throat: 16 / Math.SQRT2, electrode: 490 },
    panel: {
      frameSpacing: 600,
      longitudinalSpacing: 700,
      anchor: [0, 0, 0],
      normal: [0, 0, 1],
      fore: [1, 0, 0],
      girth: [0, 1, 0],
    },
    shackle: { wll: 25 * 9806.65, pin: 50, jaw: 74 },
    hoist: { wll: 222_411 },
    inPlane: Math.atan2(load.alongFoot, load.alongStem),
    offPlane: Math.asin(load.sideways / Math.hypot(load.alongStem, load.alongFoot, load.sideways)),
    ...change,
  };
}
