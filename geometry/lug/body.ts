import type { Vec3 } from '../math/vec.ts';
import { Refusal } from '../refusal.ts';
import { type LugOutline, outlineArea, outlineTop } from './outline.ts';

/** kg/mm^3. Steel 7850 kg/m^3 (490 lb/ft^3 in rigging tables; EN 10025 plate). */
export const STEEL_DENSITY = 7850e-9;
/** kg/mm^3. Sea water, 1025 kg/m^3. */
export const SEA_WATER_DENSITY = 1025e-9;

/** The cut of a foot as a surface b = height(a, c), smooth between the `breaks` (ascending, from -foot/2 to foot/2). */
export interface FootSurface {
  readonly breaks: readonly number[];
  /** For a on a break the piece to its right is meant; `fromLeft` asks for the one to its left. */
  height(a: number, c: number, fromLeft?: boolean): number;
}

export interface LugBody {
  readonly outline: LugOutline;
  /** mm^3, plate as cut with its cheek plates, hole taken out. */
  readonly volume: number;
  /** kg. */
  readonly mass: number;
  /** kg: what it weighs in sea water, as the mass that would weigh as much in air. */
  readonly massInWater: number;
  /** Centre of gravity in the lug frame, mm. */
  readonly centre: Vec3;
}

/** Mass and centre of the plate trimmed to its cut. Throws `Refusal` (`lug.shoulder`, `lug.pinHeight`) where the cut eats into shoulder or hole. */
export function lugBody(outline: LugOutline, cut: FootSurface): LugBody {
  const { shape } = outline;
  const { thickness: t, cheek, hole, pinHeight } = shape;
  const top = outlineArea(outline);
  let volume = top.area * t;
  let mb = top.b * top.area * t;
  let ma = 0;
  let mc = 0;
  // The strip between b = 0 and the cut comes off (or, below b = 0, is added). Gauss 2 x 2 is exact for planes.
  const g = 1 / Math.sqrt(3);
  for (let i = 0; i + 1 < cut.breaks.length; i++) {
    const a0 = cut.breaks[i] as number;
    const a1 = cut.breaks[i + 1] as number;
    for (const ga of [-g, g]) {
      for (const gc of [-g, g]) {
        const a = (a0 + a1) / 2 + (ga * (a1 - a0)) / 2;
        const c = (gc * t) / 2;
        const k = cut.height(a, c);
        const w = ((a1 - a0) * t) / 4;
        volume -= w * k;
        ma -= w * k * a;
        mb -= (w * k * k) / 2;
        mc -= w * k * c;
      }
    }
  }
  const atEnds = Math.max(
    ...[-t / 2, t / 2].flatMap((c) => [cut.height(-shape.foot / 2, c), cut.height(shape.foot / 2, c, true)]),
  );
  if (atEnds >= shape.shoulder) {
    throw new Refusal(
      'lug-outline',
      'lug.shoulder',
      [{ mm: shape.shoulder }],
      ['more than ', { mm: atEnds }, ': the cut of the foot reaches up to there at an end'],
    );
  }
  // Least stem left between hole and cut, looked at across the width of the hole.
  let bridge = Number.POSITIVE_INFINITY;
  for (let i = 0; i <= 16; i++) {
    const a = (hole / 2) * (i / 8 - 1);
    if (Math.abs(a) > shape.foot / 2) continue;
    const rim = pinHeight - Math.sqrt(Math.max(0, (hole * hole) / 4 - a * a));
    for (const c of [-t / 2, t / 2]) bridge = Math.min(bridge, rim - cut.height(a, c));
  }
  if (bridge <= 0) {
    throw new Refusal(
      'lug-outline',
      'lug.pinHeight',
      [{ mm: pinHeight }],
      ['more than ', { mm: pinHeight - bridge }, ': the cut of the foot reaches into the hole'],
    );
  }
  const bore = (Math.PI * hole * hole) / 4;
  volume -= bore * t;
  mb -= bore * t * pinHeight;
  if (cheek) {
    const ring = (Math.PI * cheek.radius ** 2 - bore) * 2 * cheek.thickness;
    volume += ring;
    mb += ring * pinHeight;
  }
  return {
    outline,
    volume,
    mass: volume * STEEL_DENSITY,
    massInWater: volume * (STEEL_DENSITY - SEA_WATER_DENSITY),
    centre: [ma / volume, mb / volume, mc / volume],
  };
}

/**
 * Triangles of the lug, lug frame, mm, outward winding. `parts` say which triangles are which; each part is a closed
 * surface of its own (cheek plates lie against the plate's faces).
 */
export interface LugSolid {
  readonly positions: Float64Array;
  readonly triangles: Uint32Array;
  readonly parts: readonly {
    readonly name: 'plate' | 'cheek-' | 'cheek+';
    readonly from: number;
    readonly count: number;
  }[];
}

/** Solid for drawing, chords of round edges below `chord` mm. */
export function lugSolid(outline: LugOutline, cut: FootSurface, chord = 0.2): LugSolid {
  const { shape } = outline;
  const half = shape.thickness / 2;
  const profile = outerProfile(outline, cut, chord);
  const positions: number[] = [];
  const triangles: number[] = [];
  const parts: { name: 'plate' | 'cheek-' | 'cheek+'; from: number; count: number }[] = [];
  const hub = (a: number, b: number): [number, number] => {
    const r = Math.hypot(a, b - shape.pinHeight);
    const k = shape.hole / 2 / r;
    return [a * k, shape.pinHeight + (b - shape.pinHeight) * k];
  };
  ringSolid(
    profile.map((p) => [p.a, p.minus, ...hub(p.a, p.minus)]),
    profile.map((p) => [p.a, p.plus, ...hub(p.a, p.plus)]),
    -half,
    half,
    positions,
    triangles,
  );
  parts.push({ name: 'plate', from: 0, count: triangles.length / 3 });
  if (shape.cheek) {
    const n = Math.max(32, Math.ceil(2 * Math.PI * Math.sqrt(shape.cheek.radius / (8 * chord))));
    const ring: [number, number, number, number][] = [];
    for (let i = 0; i < n; i++) {
      const angle = (2 * Math.PI * i) / n;
      const a = shape.cheek.radius * Math.cos(angle);
      const b = shape.pinHeight + shape.cheek.radius * Math.sin(angle);
      ring.push([a, b, ...hub(a, b)]);
    }
    for (const [name, c0, c1] of [
      ['cheek-', -half - shape.cheek.thickness, -half],
      ['cheek+', half, half + shape.cheek.thickness],
    ] as const) {
      const from = triangles.length / 3;
      ringSolid(ring, ring, c0, c1, positions, triangles);
      parts.push({ name, from, count: triangles.length / 3 - from });
    }
  }
  return { positions: Float64Array.from(positions), triangles: Uint32Array.from(triangles), parts };
}

/** Outer boundary, counterclockwise seen from +c, with the b of either face; fine enough that the hole looks round. */
function outerProfile(
  outline: LugOutline,
  cut: FootSurface,
  chord: number,
): { a: number; minus: number; plus: number }[] {
  const { shape } = outline;
  const half = shape.thickness / 2;
  const coarse: { a: number; minus: number; plus: number }[] = [];
  cut.breaks.forEach((a, i) => {
    const left = { a, minus: cut.height(a, -half, true), plus: cut.height(a, half, true) };
    const right = { a, minus: cut.height(a, -half), plus: cut.height(a, half) };
    if (i > 0) coarse.push(left);
    if (i < cut.breaks.length - 1 && (i === 0 || left.minus !== right.minus || left.plus !== right.plus))
      coarse.push(right);
  });
  for (const [a, b] of outlineTop(outline, chord)) coarse.push({ a, minus: b, plus: b });
  const fine: { a: number; minus: number; plus: number }[] = [];
  const polar = (p: { a: number; minus: number }) => Math.atan2(p.minus - shape.pinHeight, p.a);
  coarse.forEach((p, i) => {
    const q = coarse[(i + 1) % coarse.length] as (typeof coarse)[number];
    let turn = Math.abs(polar(q) - polar(p));
    if (turn > Math.PI) turn = 2 * Math.PI - turn;
    const n = Math.max(1, Math.ceil(turn / 0.1));
    for (let k = 0; k < n; k++) {
      const w = k / n;
      fine.push({
        a: p.a + w * (q.a - p.a),
        minus: p.minus + w * (q.minus - p.minus),
        plus: p.plus + w * (q.plus - p.plus),
      });
    }
  });
  return fine;
}

/** Solid between two rings of (outer a, outer b, hole a, hole b), one on each face. */
function ringSolid(
  minus: readonly (readonly number[])[],
  plus: readonly (readonly number[])[],
  cMinus: number,
  cPlus: number,
  positions: number[],
  triangles: number[],
): void {
  const n = minus.length;
  const base = positions.length / 3;
  // Four rings of n vertices: outer-, hole-, outer+, hole+.
  for (const [list, c] of [
    [minus, cMinus],
    [plus, cPlus],
  ] as const) {
    for (const p of list) positions.push(p[0] as number, p[1] as number, c);
    for (const p of list) positions.push(p[2] as number, p[3] as number, c);
  }
  const at = (ring: number, i: number) => base + ring * n + (i % n);
  for (let i = 0; i < n; i++) {
    const quad = (p: number, q: number, r: number, s: number) => triangles.push(p, q, r, p, r, s);
    quad(at(2, i), at(2, i + 1), at(3, i + 1), at(3, i)); // face +c
    quad(at(0, i + 1), at(0, i), at(1, i), at(1, i + 1)); // face -c
    quad(at(0, i), at(0, i + 1), at(2, i + 1), at(2, i)); // outer wall
    quad(at(1, i + 1), at(1, i), at(3, i), at(3, i + 1)); // hole
  }
}
