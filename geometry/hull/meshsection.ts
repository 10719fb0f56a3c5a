import type { StationIndex, Triangles } from './triangles.ts';

/** Half a section cut from triangles: points from the innermost and lowest outward, with the girth so far. mm */
export interface CutSection {
  readonly y: Float64Array;
  readonly z: Float64Array;
  readonly girth: Float64Array;
  /** Stretches of girth where there is no triangle and a straight line was drawn. */
  readonly bridges: readonly { readonly from: number; readonly to: number }[];
  /** mm. Scatter of the triangles' points about the smooth section. */
  readonly noise: number;
}

/** mm. Ends of chains closer than this are one point: faces that were meshed each on its own do not meet to the digit. */
const CRACK = 2;
/** Longest stretch without a triangle that a section is drawn across, as a share of what there is of it; mm at least. */
const BRIDGE = 0.1;
const LEAST_BRIDGE = 200;
/** mm. Half width of the stretch over which a scanned section is smoothed for its length. */
const SMOOTH = 75;
const SPACING = 25;
/** mm. Scatter below which a section is taken as it stands. */
const CLEAN = 0.05;

/**
 * The half section at a station. `m` is +1 for the port half of the triangles, -1 for the starboard half mirrored to port;
 * `both` takes every triangle as port (a half model already folded). Undefined where the plane meets nothing.
 *
 * Plane and triangles: a corner at the station counts as forward of it, so every crossing has two ends. Crossings are joined
 * end to end (ends of a shared edge are equal to the last digit), the chain that starts nearest to the keel comes first.
 */
export function cutSection(t: Triangles, index: StationIndex, station: number, m: 1 | -1): CutSection | undefined {
  const chains = chainsOf(segmentsAt(t, index, station, m));
  if (chains.length === 0) return undefined;
  return measured(inOrder(chains));
}

interface Chain {
  readonly y: number[];
  readonly z: number[];
}

function segmentsAt({ corners, origin }: Triangles, index: StationIndex, station: number, m: number): Float64Array {
  const out: number[] = [];
  const x = station - origin[0];
  const ends = [0, 0, 0, 0];
  index.each(station, station, (k) => {
    let n = 0;
    for (let e = 0; e < 3; e++) {
      let i = 9 * k + 3 * e;
      let j = 9 * k + 3 * ((e + 1) % 3);
      let xi = corners[i] as number;
      let xj = corners[j] as number;
      if (xi >= x === xj >= x) continue;
      // The same edge gives the same point whichever triangle it is seen from.
      if (xi > xj) {
        [i, j] = [j, i];
        [xi, xj] = [xj, xi];
      }
      const s = (x - xi) / (xj - xi);
      const yi = corners[i + 1] as number;
      const zi = corners[i + 2] as number;
      ends[2 * n] = m * (yi + s * ((corners[j + 1] as number) - yi) + origin[1]);
      ends[2 * n + 1] = zi + s * ((corners[j + 2] as number) - zi) + origin[2];
      n++;
    }
    if (n !== 2) return;
    let [y0, z0, y1, z1] = ends as [number, number, number, number];
    if (y0 < 0 && y1 < 0) return;
    // What crosses the centreline is cut there.
    if (y0 < 0) {
      z0 += ((z1 - z0) * -y0) / (y1 - y0);
      y0 = 0;
    } else if (y1 < 0) {
      z1 += ((z0 - z1) * -y1) / (y0 - y1);
      y1 = 0;
    }
    if (y0 !== y1 || z0 !== z1) out.push(y0, z0, y1, z1);
  });
  return Float64Array.from(out);
}

function chainsOf(seg: Float64Array): Chain[] {
  const n = seg.length / 4;
  const key = (k: number) => `${seg[2 * k]},${seg[2 * k + 1]}`;
  const at = new Map<string, number[]>();
  const seen = new Set<string>();
  const alive = new Uint8Array(n);
  for (let i = 0; i < n; i++) {
    const p = key(2 * i);
    const q = key(2 * i + 1);
    const both = p < q ? `${p};${q}` : `${q};${p}`;
    // A triangle that is there twice gives its crossing twice.
    if (seen.has(both)) continue;
    seen.add(both);
    alive[i] = 1;
    for (const k of [p, q]) {
      const list = at.get(k);
      if (list) list.push(i);
      else at.set(k, [i]);
    }
  }
  const chains: Chain[] = [];
  const follow = (chain: Chain, from: number, end: 0 | 1): void => {
    let k = from;
    let e: number = end;
    for (;;) {
      const here = key(2 * k + e);
      chain.y.push(seg[4 * k + 2 * e] as number);
      chain.z.push(seg[4 * k + 2 * e + 1] as number);
      const next = (at.get(here) ?? []).find((i) => alive[i] === 1);
      if (next === undefined) return;
      alive[next] = 0;
      e = key(2 * next) === here ? 1 : 0;
      k = next;
    }
  };
  // Open chains from their loose ends first, then what is left: loops.
  const loose = (i: number) => [0, 1].find((e) => at.get(key(2 * i + e))?.length === 1);
  for (let pass = 0; pass < 2; pass++) {
    for (let i = 0; i < n; i++) {
      if (alive[i] !== 1) continue;
      const e = pass === 0 ? loose(i) : 0;
      if (e === undefined) continue;
      alive[i] = 0;
      const chain: Chain = { y: [seg[4 * i + 2 * e] as number], z: [seg[4 * i + 2 * e + 1] as number] };
      follow(chain, i, e === 0 ? 1 : 0);
      chains.push(chain);
    }
  }
  return chains;
}

const lengthOf = ({ y, z }: Chain): number => {
  let sum = 0;
  for (let i = 1; i < y.length; i++)
    sum += Math.hypot((y[i] as number) - (y[i - 1] as number), (z[i] as number) - (z[i - 1] as number));
  return sum;
};

const turned = ({ y, z }: Chain): Chain => ({ y: [...y].reverse(), z: [...z].reverse() });
const head = ({ y, z }: Chain): number => (y[0] as number) + (z[0] as number);
const tail = ({ y, z }: Chain): number => (y[y.length - 1] as number) + (z[z.length - 1] as number);

/**
 * Chains one after the other from the keel outward. Inner and lower comes first, by y + z of the ends; the next chain is
 * the one that starts nearest to where the last one ended. What lies too far away (a deck house, an inner bottom) is left out.
 */
function inOrder(all: readonly Chain[]): { chain: Chain; gaps: { at: number; size: number }[] } {
  const whole = all.reduce((sum, c) => sum + lengthOf(c), 0);
  const most = Math.max(LEAST_BRIDGE, BRIDGE * whole);
  const rest = all.map((c) => (head(c) <= tail(c) ? c : turned(c)));
  let first = 0;
  for (let i = 1; i < rest.length; i++) {
    const [p, q] = [rest[i] as Chain, rest[first] as Chain];
    // Among chains of any length that count, the one with the innermost and lowest end.
    if (lengthOf(p) > 0.02 * whole && (head(p) < head(q) || lengthOf(q) <= 0.02 * whole)) first = i;
  }
  const [start] = rest.splice(first, 1) as [Chain];
  const out: Chain = { y: [...start.y], z: [...start.z] };
  const gaps: { at: number; size: number }[] = [];
  for (;;) {
    let best = most;
    let pick = -1;
    let flip = false;
    const ye = out.y[out.y.length - 1] as number;
    const ze = out.z[out.z.length - 1] as number;
    rest.forEach((c, i) => {
      const n = c.y.length - 1;
      const d0 = Math.hypot((c.y[0] as number) - ye, (c.z[0] as number) - ze);
      const d1 = Math.hypot((c.y[n] as number) - ye, (c.z[n] as number) - ze);
      const d = Math.min(d0, d1);
      if (d < best && (d <= CRACK || lengthOf(c) > d)) {
        best = d;
        pick = i;
        flip = d1 < d0;
      }
    });
    if (pick < 0) return { chain: out, gaps };
    const [next] = rest.splice(pick, 1) as [Chain];
    const c = flip ? turned(next) : next;
    if (best > CRACK) gaps.push({ at: out.y.length - 1, size: best });
    out.y.push(...c.y);
    out.z.push(...c.z);
  }
}

function measured({ chain, gaps }: { chain: Chain; gaps: { at: number; size: number }[] }): CutSection {
  const y = Float64Array.from(chain.y);
  const z = Float64Array.from(chain.z);
  const raw = lengths(y, z);
  const bridges = gaps.map(({ at, size }) => ({ from: raw[at] as number, to: (raw[at] as number) + size }));
  const smooth = smoothed(y, z, raw);
  if (smooth === undefined || smooth.noise < CLEAN) return { y, z, girth: raw, bridges, noise: smooth?.noise ?? 0 };
  const girth = lengths(smooth.y, smooth.z);
  return { y: smooth.y, z: smooth.z, girth, bridges, noise: smooth.noise };
}

function lengths(y: Float64Array, z: Float64Array): Float64Array {
  const s = new Float64Array(y.length);
  for (let i = 1; i < y.length; i++) {
    s[i] =
      (s[i - 1] as number) +
      Math.hypot((y[i] as number) - (y[i - 1] as number), (z[i] as number) - (z[i - 1] as number));
  }
  return s;
}

/** A parabola through the neighbourhood at even steps along the section: what is left of a scan's section without its ripple. */
function smoothed(y: Float64Array, z: Float64Array, s: Float64Array) {
  const total = s[s.length - 1] as number;
  if (total < 4 * SMOOTH || y.length < 20) return undefined;
  const n = Math.ceil(total / SPACING);
  const outY = new Float64Array(n + 1);
  const outZ = new Float64Array(n + 1);
  let lo = 0;
  for (let k = 0; k <= n; k++) {
    const at = (total * k) / n;
    while (lo < s.length && (s[lo] as number) < at - SMOOTH) lo++;
    const m = [0, 0, 0, 0, 0];
    const by = [0, 0, 0];
    const bz = [0, 0, 0];
    for (let i = lo; i < s.length && (s[i] as number) <= at + SMOOTH; i++) {
      const d = ((s[i] as number) - at) / SMOOTH;
      const own = ((s[Math.min(i + 1, s.length - 1)] as number) - (s[Math.max(i - 1, 0)] as number)) / 2;
      const w = own * (1 - Math.abs(d) ** 3) ** 3;
      let p = w;
      for (let j = 0; j < 5; j++) {
        m[j] = (m[j] as number) + p;
        if (j < 3) {
          by[j] = (by[j] as number) + p * (y[i] as number);
          bz[j] = (bz[j] as number) + p * (z[i] as number);
        }
        p *= d;
      }
    }
    const c = constantOf(m, by, bz);
    if (c === undefined) return undefined;
    outY[k] = c[0];
    outZ[k] = c[1];
  }
  const off: number[] = [];
  const step = Math.max(1, Math.floor(s.length / 2000));
  for (let i = 0; i < s.length; i += step) {
    const k = Math.min(n - 1, Math.floor(((s[i] as number) / total) * n));
    const [y0, z0, y1, z1] = [outY[k], outZ[k], outY[k + 1], outZ[k + 1]] as [number, number, number, number];
    off.push(
      Math.abs(((y[i] as number) - y0) * (z1 - z0) - ((z[i] as number) - z0) * (y1 - y0)) /
        Math.hypot(y1 - y0, z1 - z0),
    );
  }
  off.sort((p, q) => p - q);
  // Less the sagitta of the steps themselves, which a clean curve shows too: chords of 25 mm on a radius of 500 are 0.15 off.
  return { y: outY, z: outZ, noise: Math.max(0, 1.4826 * (off[off.length >> 1] as number) - sagitta(outY, outZ)) };
}

function sagitta(y: Float64Array, z: Float64Array): number {
  const list: number[] = [];
  for (let i = 1; i + 1 < y.length; i++) {
    const [ay, az] = [
      ((y[i - 1] as number) + (y[i + 1] as number)) / 2,
      ((z[i - 1] as number) + (z[i + 1] as number)) / 2,
    ];
    list.push(Math.hypot((y[i] as number) - ay, (z[i] as number) - az) / 4);
  }
  list.sort((p, q) => p - q);
  return 1.4826 * (list[list.length >> 1] ?? 0);
}

/** Constant of the weighted parabola, for two right-hand sides, from moments 0..4 (Cramer's rule). */
function constantOf(m: readonly number[], by: readonly number[], bz: readonly number[]): [number, number] | undefined {
  const [m0 = 0, m1 = 0, m2 = 0, m3 = 0, m4 = 0] = m;
  const c0 = m2 * m4 - m3 * m3;
  const c1 = m2 * m3 - m1 * m4;
  const c2 = m1 * m3 - m2 * m2;
  const det = m0 * c0 + m1 * c1 + m2 * c2;
  if (!(det > 1e-9 * m0 * m0 * m0)) return m0 > 0 ? [(by[0] as number) / m0, (bz[0] as number) / m0] : undefined;
  const of = (b: readonly number[]) => (c0 * (b[0] as number) + c1 * (b[1] as number) + c2 * (b[2] as number)) / det;
  return [of(by), of(bz)];
}

/** Point and unit tangent of a section at a girth; the tangent over `span` mm either way. */
export function sectionPoint(s: CutSection, girth: number, span: number) {
  const at = (g: number): [number, number] => {
    const x = Math.min(s.girth[s.girth.length - 1] as number, Math.max(0, g));
    let lo = 0;
    let hi = s.girth.length - 2;
    while (lo < hi) {
      const mid = (lo + hi + 1) >> 1;
      if ((s.girth[mid] as number) <= x) lo = mid;
      else hi = mid - 1;
    }
    const h = (s.girth[lo + 1] as number) - (s.girth[lo] as number);
    const p = h > 0 ? (x - (s.girth[lo] as number)) / h : 0;
    return [
      (s.y[lo] as number) + p * ((s.y[lo + 1] as number) - (s.y[lo] as number)),
      (s.z[lo] as number) + p * ((s.z[lo + 1] as number) - (s.z[lo] as number)),
    ];
  };
  const [y, z] = at(girth);
  const [y0, z0] = at(girth - span);
  const [y1, z1] = at(girth + span);
  const run = Math.hypot(y1 - y0, z1 - z0) || 1;
  return { y, z, ty: (y1 - y0) / run, tz: (z1 - z0) / run };
}
