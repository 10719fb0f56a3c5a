import { leastSquares } from '../math/leastsquares.ts';

/*
 * What a smooth surface would hide: a plate that was modelled with both its faces, a knuckle. Points are (u, v, h, weight), four
 * numbers each, height over the plane of a disc; mm.
 */

/** Points looked at: more say no more. */
const LOOKED_AT = 700;
/** Two skins: this many times farther apart than either scatters about its own middle. A spread of one hump comes to 3.5 at most. */
const PARTED = 6;
/** mm. Skins nearer than this are one: no plate is thinner. */
const THINNEST = 2;
/** Share of the points that the lesser skin has, and of the disc that both cover. */
const LEAST_SHARE = 0.1;
const COVERED = 0.6;
/** Cells across the disc in which skins are looked for. */
const BOARD = 6;

/**
 * Distance, mm, between two skins that lie one over the other all over the disc; undefined where there is one. Points are split
 * where the two halves differ most (N. Otsu, IEEE Trans. SMC 9, 1979, 62), after a surface of third power is taken out.
 */
export function secondSkin(data: Float64Array, radius: number): number | undefined {
  const points = thinned(data);
  const rest = residuals(points, (u, v) => powers(u / radius, v / radius, 3));
  if (rest === undefined) return undefined;
  const order = rest.map((_, i) => i).sort((i, j) => (rest[i] as number) - (rest[j] as number));
  const n = order.length;
  // Of weight (area), residual and its square, all up to a place in the order.
  const sums = [new Float64Array(n + 1), new Float64Array(n + 1), new Float64Array(n + 1)] as const;
  order.forEach((k, i) => {
    const [w, r] = [(points[k] as Point)[3], rest[k] as number];
    [w, w * r, w * r * r].forEach((x, m) => {
      (sums[m] as Float64Array)[i + 1] = ((sums[m] as Float64Array)[i] as number) + x;
    });
  });
  const up = (m: 0 | 1 | 2, i: number) => sums[m][i] as number;
  const all = up(0, n);
  let best = { at: 0, apart: 0, within: Number.POSITIVE_INFINITY };
  let most = 0;
  for (let i = 1; i < n; i++) {
    const [w, rest] = [up(0, i), all - up(0, i)];
    if (Math.min(w, rest) < LEAST_SHARE * all) continue;
    const low = up(1, i) / w;
    const high = (up(1, n) - up(1, i)) / rest;
    const between = w * rest * (high - low) ** 2;
    if (between <= most) continue;
    most = between;
    const within = (up(2, n) - w * low * low - rest * high * high) / all;
    best = { at: i, apart: high - low, within: Math.sqrt(Math.max(0, within)) };
  }
  if (best.apart < Math.max(THINNEST, PARTED * best.within)) return undefined;
  // Cell by cell: weight of the one skin and of the other.
  const cells = new Map<number, [number, number]>();
  order.forEach((k, i) => {
    const [u, v, , w] = points[k] as Point;
    const cell = (x: number) => Math.min(BOARD - 1, Math.floor(((x / radius + 1) / 2) * BOARD));
    const name = cell(u) * BOARD + cell(v);
    const pair = cells.get(name) ?? [0, 0];
    pair[i < best.at ? 0 : 1] += w;
    cells.set(name, pair);
  });
  const both = [...cells.values()].filter(([p, q]) => Math.min(p, q) >= LEAST_SHARE * (p + q)).length;
  return both >= COVERED * cells.size ? best.apart : undefined;
}

/** A line u cos(turn) + v sin(turn) = shift along which the shell turns by `angle`; rad, mm. */
export interface Knuckle {
  readonly angle: number;
  readonly turn: number;
  readonly shift: number;
}

/** Side of the line on which a point lies, and how far from it, mm. */
export const besideKnuckle = ({ turn, shift }: Knuckle, u: number, v: number): number =>
  u * Math.cos(turn) + v * Math.sin(turn) - shift;

/** rad. A crease that is less is a weld's pull; between large facets of a round shell it may be more. */
const LEAST_CREASE = (4 * Math.PI) / 180;
const LEAST_AMONG_FACETS = (12 * Math.PI) / 180;
/** mm. Scatter at which a smooth surface has nothing to be reproached with. */
const SMOOTH = 0.05;
/** Share to which a crease of a handful of coefficients must bring the scatter of a smooth surface with many more. */
const BETTER = 0.8;
const SMOOTH_POWER = 6;
const TURNS = 12;
const SHIFTS = 11;
const ROUNDS = 4;

/**
 * The knuckle across a disc, if there is one: a crease laid over a surface of second power that describes the points better than
 * a smooth surface of sixth power does, which has three times its coefficients. Least squares, the crease looked for on a net of
 * directions and distances and then closer by. `facets`: the points lie on large flat triangles, whose edges are no knuckles.
 */
export function knuckleIn(data: Float64Array, radius: number, facets: boolean): Knuckle | undefined {
  const points = thinned(data);
  const total = points.reduce((sum, p) => sum + p[3], 0);
  const h = points.map((p) => p[2]);
  const w = points.map((p) => p[3]);
  const scatter = (squares: number, terms: number) =>
    Math.sqrt((squares / Math.max(total, 1e-300)) * (points.length / Math.max(1, points.length - terms)));
  const many = ((SMOOTH_POWER + 1) * (SMOOTH_POWER + 2)) / 2;
  if (points.length < 3 * many) return undefined;
  const smooth = leastSquares(
    points.flatMap(([u, v]) => powers(u / radius, v / radius, SMOOTH_POWER)),
    many,
    h,
    w,
  );
  if (smooth === undefined || scatter(smooth.squares, many) < SMOOTH) return undefined;
  // One column more: what it explains of what the second power leaves, by the part of it that the second power is not.
  const root = w.map(Math.sqrt);
  const basis = orthonormal(
    points.map(([u, v], i) => powers(u / radius, v / radius, 2).map((x) => x * (root[i] as number))),
  );
  const left = h.map((y, i) => y * (root[i] as number));
  for (const q of basis) {
    const share = inner(q, left);
    for (let i = 0; i < left.length; i++) left[i] = (left[i] as number) - share * (q[i] as number);
  }
  const squaresLeft = inner(left, left);
  const column = new Array<number>(points.length);
  let best: (Knuckle & { readonly squares: number }) | undefined;
  const consider = (turn: number, shift: number): void => {
    if (Math.abs(shift) > 0.85 * radius) return;
    const [cos, sin] = [Math.cos(turn), Math.sin(turn)];
    points.forEach(([u, v], i) => {
      column[i] = ((root[i] as number) * Math.abs(u * cos + v * sin - shift)) / radius;
    });
    let own = inner(column, column);
    for (const q of basis) own -= inner(q, column) ** 2;
    if (!(own > 1e-9 * total)) return;
    const bend = inner(column, left) / own;
    const squares = Math.max(0, squaresLeft - bend * bend * own);
    if (best === undefined || squares < best.squares)
      best = { turn, shift, angle: 2 * Math.atan(Math.abs(bend) / radius), squares };
  };
  for (let i = 0; i < TURNS; i++)
    for (let j = 0; j < SHIFTS; j++) consider((Math.PI * i) / TURNS, 0.8 * radius * ((2 * j) / (SHIFTS - 1) - 1));
  let [dTurn, dShift] = [Math.PI / TURNS, (1.6 * radius) / (SHIFTS - 1)];
  for (let round = 0; round < ROUNDS && best !== undefined; round++) {
    dTurn /= 2;
    dShift /= 2;
    const { turn, shift } = best;
    for (let i = -1; i <= 1; i++) for (let j = -1; j <= 1; j++) consider(turn + i * dTurn, shift + j * dShift);
  }
  if (best === undefined || best.angle < (facets ? LEAST_AMONG_FACETS : LEAST_CREASE)) return undefined;
  return scatter(best.squares, 9) < BETTER * scatter(smooth.squares, many) ? best : undefined;
}

const inner = (p: readonly number[], q: readonly number[]): number => {
  let sum = 0;
  for (let i = 0; i < p.length; i++) sum += (p[i] as number) * (q[i] as number);
  return sum;
};

/** Orthonormal columns that span those of `rows` (Gram and Schmidt, twice for the last digits). */
function orthonormal(rows: readonly (readonly number[])[]): number[][] {
  const out: number[][] = [];
  for (let k = 0; k < (rows[0]?.length ?? 0); k++) {
    const q = rows.map((row) => row[k] as number);
    for (let pass = 0; pass < 2; pass++) {
      for (const p of out) {
        const share = inner(p, q);
        for (let i = 0; i < q.length; i++) q[i] = (q[i] as number) - share * (p[i] as number);
      }
    }
    const size = Math.sqrt(inner(q, q));
    if (size > 1e-12) out.push(q.map((x) => x / size));
  }
  return out;
}

type Point = readonly [u: number, v: number, h: number, weight: number];

function thinned(data: Float64Array): Point[] {
  const n = data.length / 4;
  const stride = Math.max(1, n / LOOKED_AT);
  const out: Point[] = [];
  for (let k = 0; k < n; k += stride) {
    const i = 4 * Math.floor(k);
    out.push([data[i] as number, data[i + 1] as number, data[i + 2] as number, data[i + 3] as number]);
  }
  return out;
}

function residuals(points: readonly Point[], row: (u: number, v: number) => number[]): number[] | undefined {
  const columns = row(0, 0).length;
  const rows = points.flatMap(([u, v]) => row(u, v));
  const fit = leastSquares(
    rows,
    columns,
    points.map((p) => p[2]),
  );
  if (fit === undefined) return undefined;
  return points.map((p, i) => {
    let h = p[2];
    for (let k = 0; k < columns; k++) h -= (rows[i * columns + k] as number) * (fit.coefficients[k] as number);
    return h;
  });
}

function powers(x: number, y: number, power: number): number[] {
  const out: number[] = [];
  for (let d = 0; d <= power; d++) for (let j = 0; j <= d; j++) out.push(x ** (d - j) * y ** j);
  return out;
}
