import Module, { type Manifold } from 'manifold-3d';
import { BufferAttribute, BufferGeometry, DoubleSide, Ray, Vector3 } from 'three';
import { MeshBVH } from 'three-mesh-bvh';
import { frameAt } from '../../geometry/align/stem.ts';
import { footField } from '../../geometry/fit/footfield.ts';
import { shellFrom } from '../../geometry/hull/from.ts';
import { type CastHit, newHit, type Shell } from '../../geometry/hull/shell.ts';
import type { LugFrame } from '../../geometry/lug/frame.ts';
import { toShip } from '../../geometry/lug/frame.ts';
import type { Vec3 } from '../../geometry/math/vec.ts';
import { ExactLoft } from './exactLoft.ts';
import { COLUMNS, FOOT, footGrid, LEAST_ANGLE, ROWS, THICKNESS } from './footHeights.ts';
import { race } from './race.ts';
import type { Row } from './table.ts';
import { DRAFT, halfBreadth, LENGTH, wigleySections } from './wigley.ts';

/** mm. Triangles lie no farther than this from the surface. */
const CHORD = 0.01;
/** mm. The patch that is meshed reaches this far to either side of the anchor, along the ship and along the girth. */
const REACH = 500;

/**
 * 585 foot heights on a loft of 41 stations x 17 points, against rays on triangles of the same surface: three-mesh-bvh
 * and manifold-3d. Errors of all are against the surface worked out in some 48 decimals.
 */
export async function loftHeights(): Promise<Row[]> {
  const group = 'Foot heights on a loft of 41 stations x 17 points (65 x 9)';
  const spec = wigleySections();
  const shell = shellFrom(spec);
  const station = 0.3 * LENGTH;
  const girth = shell.girthAt(station, 'height', 0.2 * DRAFT);
  const place = shell.pointAt(station, girth, 'port');
  const pull = { direction: [0, 0, -1] } as const;
  const frame = frameAt(place, 0.3, { kind: 'plumb' }, pull, [0, 0, 1], LEAST_ANGLE);
  const { a, c } = footGrid();

  const patch = meshPatch(shell, frame, station, girth);
  const bvh = bvhHeights(patch, a, c);
  const manifold = await manifoldHeights(patch, a, c);
  const caster = shell.caster(frame, FOOT / 2, THICKNESS / 2);
  const hit = newHit();
  const casts = new Float64Array(COLUMNS * ROWS);
  const castAll = () => castsInOrder(caster, a, c, hit, casts);

  const [field, alone, rays, solid] = race([
    () => footField(shell, frame, FOOT, THICKNESS).f[0] as number,
    castAll,
    bvh.run,
    manifold.run,
  ]) as [Result, Result, Result, Result];

  const ours = footField(shell, frame, FOOT, THICKNESS);
  const exact = new ExactLoft(spec.sections);
  const truth = new Float64Array(COLUMNS * ROWS);
  const formula = new Float64Array(COLUMNS * ROWS);
  for (let i = 0; i < COLUMNS; i++) {
    for (let j = 0; j < ROWS; j++) {
      const [x, y] = [a[i] as number, c[j] as number];
      ours.cast(x, y, hit);
      truth[i * ROWS + j] = exact.footHeight(frame, x, y, hit.p, hit.q);
      formula[i * ROWS + j] = formulaHeight(frame, x, y);
    }
  }
  const off = (list: Float64Array, against = truth) => {
    let most = 0;
    for (let k = 0; k < truth.length; k++)
      most = Math.max(most, Math.abs((list[k] as number) - (against[k] as number)));
    return most;
  };
  const errors = { ours: off(ours.f), bvh: off(bvh.heights), manifold: off(manifold.heights) };
  manifold.solid.delete();
  const size = `${patch.triangles.length / 3} triangles, ${2 * REACH} mm square round the foot, at most ${patch.chord.toPrecision(2)} mm off`;
  return [
    {
      group,
      what: 'the whole field',
      value: field.median,
      least: field.least,
      unit: 'ms',
      note: 'with slopes, normals, grid',
    },
    { group, what: 'its casts alone', value: alone.median, least: alone.least, unit: 'ms' },
    { group, what: 'three-mesh-bvh rays', value: rays.median, least: rays.least, unit: 'ms', note: size },
    {
      group,
      what: 'manifold-3d rays',
      value: solid.median,
      least: solid.least,
      unit: 'ms',
      note: 'the same patch, closed to a solid',
    },
    {
      group,
      what: 'field / three-mesh-bvh',
      value: 1 / rays.ratio,
      unit: 'x',
      wanted: { most: 1 },
      note: 'building its mesh and tree is not counted',
    },
    { group, what: 'casts / three-mesh-bvh', value: alone.ratio / rays.ratio, unit: 'x' },
    { group, what: 'field / manifold-3d', value: 1 / solid.ratio, unit: 'x' },
    { group, what: 'error of the field', value: errors.ours, unit: 'mm', note: 'against the same loft in 48 decimals' },
    { group, what: 'error of three-mesh-bvh rays', value: errors.bvh, unit: 'mm' },
    { group, what: 'error of manifold-3d rays', value: errors.manifold, unit: 'mm' },
    {
      group,
      what: 'three-mesh-bvh error / ours',
      value: errors.bvh / errors.ours,
      unit: 'x',
      wanted: { least: 100 },
    },
    {
      group,
      what: 'loft against the formula it was measured from',
      value: off(formula),
      unit: 'mm',
      note: 'what 41 x 17 points leave open: not of the casting',
    },
  ];
}

type Result = ReturnType<typeof race>[number];

/** Casts one after the other along the rows, each from the one before it. */
function castsInOrder(
  caster: ReturnType<Shell['caster']>,
  a: Float64Array,
  c: Float64Array,
  hit: CastHit,
  out: Float64Array,
): number {
  for (let j = 0; j < c.length; j++) {
    const y = c[j] as number;
    let from = caster.seed;
    let [x0, y0] = [0, 0];
    for (let i = 0; i < a.length; i++) {
      const x = a[i] as number;
      if (!caster.cast(x, y, from, x0, y0, hit)) throw new Error('a line of the foot meets no shell');
      out[i * c.length + j] = hit.f;
      from = hit;
      x0 = x;
      y0 = y;
    }
  }
  return out[0] as number;
}

interface Patch {
  /** Lug frame (a, b, c), mm: three a vertex, row after row along the ship. */
  readonly positions: Float64Array;
  readonly triangles: Uint32Array;
  readonly rows: number;
  readonly columns: number;
  /** mm, largest distance of a triangle's middle or its edges' middles from the surface. */
  readonly chord: number;
}

/** Triangles of the shell round the anchor, as large as `CHORD` lets them be. */
function meshPatch(shell: Shell, frame: LugFrame, station: number, girth: number): Patch {
  const { k1, k2 } = shell.pointAt(station, girth, 'port').curvature;
  // Half of the chord error for each direction: k step^2 / 8.
  const side = (k: number, share: number) => Math.min(2 * REACH, Math.sqrt((4 * share * CHORD) / Math.abs(k)));
  let share = 1;
  for (let tries = 0; tries < 8; tries++) {
    const rows = Math.ceil((2 * REACH) / side(k2, share)) + 1;
    const columns = Math.ceil((2 * REACH) / side(k1, share)) + 1;
    const patch = triangulate(shell, frame, station, girth, rows, columns);
    if (patch.chord <= CHORD) return patch;
    share *= (0.97 * CHORD) / patch.chord;
  }
  throw new Error('no mesh within the chord tolerance');
}

function triangulate(
  shell: Shell,
  frame: LugFrame,
  station: number,
  girth: number,
  rows: number,
  columns: number,
): Patch {
  const positions = new Float64Array(3 * rows * columns);
  const ship: Vec3[] = [];
  for (let i = 0; i < rows; i++) {
    const x = station + REACH * ((2 * i) / (rows - 1) - 1);
    for (let j = 0; j < columns; j++) {
      const p = shell.pointAt(x, girth + REACH * ((2 * j) / (columns - 1) - 1), 'port').position;
      positions.set(toLug(frame, p), 3 * ship.length);
      ship.push(p);
    }
  }
  const triangles: number[] = [];
  for (let i = 0; i + 1 < rows; i++) {
    for (let j = 0; j + 1 < columns; j++) {
      const k = i * columns + j;
      triangles.push(k, k + columns, k + 1, k + 1, k + columns, k + columns + 1);
    }
  }
  let chord = 0;
  for (let t = 0; t < triangles.length; t += 3) {
    const [p, q, r] = triangles.slice(t, t + 3).map((k) => ship[k] as Vec3) as [Vec3, Vec3, Vec3];
    for (const list of [
      [p, q, r],
      [p, q],
      [q, r],
      [r, p],
    ]) {
      const middle = [0, 1, 2].map((d) => list.reduce((sum, v) => sum + (v[d] as number), 0) / list.length);
      chord = Math.max(chord, shell.closest(middle as unknown as Vec3).distance);
    }
  }
  return { positions, triangles: Uint32Array.from(triangles), rows, columns, chord };
}

function toLug({ origin: O, foot: A, stem: B, face: C }: LugFrame, p: Vec3): Vec3 {
  const along = (e: Vec3) => (p[0] - O[0]) * e[0] + (p[1] - O[1]) * e[1] + (p[2] - O[2]) * e[2];
  return [along(A), along(B), along(C)];
}

/** mm. Rays start this far out along the stem and end as far within. */
const FAR = 300;

/** Rays down the stem on a bounding volume tree over the triangles, in doubles, nothing made anew from ray to ray. */
function bvhHeights(patch: Patch, a: Float64Array, c: Float64Array) {
  const geometry = new BufferGeometry();
  geometry.setAttribute('position', new BufferAttribute(patch.positions, 3));
  geometry.setIndex(new BufferAttribute(patch.triangles, 1));
  const bvh = new MeshBVH(geometry);
  const ray = new Ray(new Vector3(), new Vector3(0, -1, 0));
  const heights = new Float64Array(a.length * c.length);
  const run = () => {
    let k = 0;
    for (let i = 0; i < a.length; i++) {
      for (let j = 0; j < c.length; j++) {
        ray.origin.set(a[i] as number, FAR, c[j] as number);
        const hit = bvh.raycastFirst(ray, DoubleSide);
        if (!hit) throw new Error('a ray passed between the triangles');
        heights[k++] = hit.point.y;
      }
    }
    return heights[0] as number;
  };
  run();
  return { run, heights };
}

/** The same on a solid: the patch, walls down from its border, a flat floor. */
async function manifoldHeights(patch: Patch, a: Float64Array, c: Float64Array) {
  const wasm = await Module();
  wasm.setup();
  const solid = new wasm.Manifold(new wasm.Mesh({ numProp: 3, ...closed(patch) })) as Manifold;
  if (!(solid.volume() > 0)) throw new Error('the patch did not close to a solid');
  const heights = new Float64Array(a.length * c.length);
  const run = () => {
    let k = 0;
    for (let i = 0; i < a.length; i++) {
      for (let j = 0; j < c.length; j++) {
        const [x, y] = [a[i] as number, c[j] as number];
        const hit = solid.rayCast([x, FAR, y], [x, -FAR, y])[0];
        if (hit === undefined) throw new Error('a ray passed the solid by');
        heights[k++] = hit.position[1] as number;
      }
    }
    return heights[0] as number;
  };
  run();
  return { run, heights, solid };
}

/** mm, b of the floor: deeper than the patch. */
const FLOOR = -2000;

function closed({ positions, triangles, rows, columns }: Patch): {
  vertProperties: Float32Array;
  triVerts: Uint32Array;
} {
  const n = positions.length / 3;
  const vertices = new Float32Array(6 * n);
  vertices.set(positions);
  for (let k = 0; k < n; k++)
    vertices.set([positions[3 * k] as number, FLOOR, positions[3 * k + 2] as number], 3 * (n + k));
  const border: number[] = [];
  for (let i = 0; i < rows - 1; i++) border.push(i * columns);
  for (let j = 0; j < columns - 1; j++) border.push((rows - 1) * columns + j);
  for (let i = rows - 1; i > 0; i--) border.push(i * columns + columns - 1);
  for (let j = columns - 1; j > 0; j--) border.push(j);
  // The border runs as the triangles on it do: first and second corner of the first triangle lie on it in that order.
  const list: number[] = [...triangles];
  for (let t = 0; t < triangles.length; t += 3) {
    const [p, q, r] = triangles.subarray(t, t + 3) as unknown as [number, number, number];
    list.push(n + p, n + r, n + q);
  }
  border.forEach((p, k) => {
    const q = border[(k + 1) % border.length] as number;
    list.push(q, p, n + p, q, n + p, n + q);
  });
  // Outward: the patch must be seen counterclockwise from +b.
  const [p, q, r] = [0, 1, 2].map((k) => 3 * (triangles[k] as number)) as [number, number, number];
  const d = (from: number, to: number, axis: number) =>
    (positions[to + axis] as number) - (positions[from + axis] as number);
  const up = d(p, q, 2) * d(p, r, 0) - d(p, q, 0) * d(p, r, 2);
  if (up < 0) for (let t = 0; t < list.length; t += 3) list.splice(t, 2, list[t + 1] as number, list[t] as number);
  return { vertProperties: vertices, triVerts: Uint32Array.from(list) };
}

/** Foot height on the formula itself, by bisection: a fact about the data, in doubles. */
function formulaHeight(frame: LugFrame, a: number, c: number): number {
  const g = (b: number) => {
    const p = toShip(frame, a, b, c);
    return p[1] - halfBreadth(p[0], p[2]);
  };
  let [lo, hi] = [-FAR, FAR];
  const outside = g(hi) > 0;
  for (let k = 0; k < 80; k++) {
    const mid = (lo + hi) / 2;
    if (g(mid) > 0 === outside) hi = mid;
    else lo = mid;
  }
  return (lo + hi) / 2;
}
