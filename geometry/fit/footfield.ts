import { type CastHit, copyHit, type FootCaster, type GridHits, newHit, type Shell } from '../hull/shell.ts';
import type { LugFrame } from '../lug/frame.ts';
import { Refusal } from '../refusal.ts';

/** mm. Spacing that is not exceeded between samples along the foot and through its thickness. */
const MAX_SPACING = 8;
const LEAST_COLUMNS = 65;
const LEAST_ROWS = 9;
/** mm. Points of the root line lie no farther apart than this. */
const ROOT_SPACING = 10;
/** A shell so steep along the stem that more would be needed runs along the stem: no foot stands on that. */
const MOST_NODES = 1025;

/** mm. A knuckle found on two rows, or next to a column, within this is one place: it is found to about 1e-8 mm. */
export const SAME_PLACE = 1e-6;

/**
 * Foot heights f(a, c) over the foot's rectangle, on a grid with node (i, j) at index i * c.length + j. Where a knuckle
 * line of the shell crosses an edge or a centre line of the rectangle, the grid has a column and a row of its own.
 */
export interface FootField {
  readonly frame: LugFrame;
  readonly halfFoot: number;
  readonly halfThickness: number;
  readonly a: Float64Array;
  readonly c: Float64Array;
  readonly f: Float64Array;
  /** Slopes of f along a and c; at a knuckle those of one of its two sides. */
  readonly fa: Float64Array;
  readonly fc: Float64Array;
  /** Outward unit normals of the shell, ship axes, three a node. */
  readonly n: Float64Array;
  /** Cosine between the stem and that normal. */
  readonly facing: Float64Array;
  readonly region: Int32Array;
  /** Where knuckles cross the edges: at (a, c), on the edge that runs along a or along c. */
  readonly knuckles: readonly { readonly a: number; readonly c: number; readonly along: 'a' | 'c' }[];
  /** True where the foot bridges a knuckle of the shell. */
  readonly bridgesKnuckle: boolean;
  readonly cast: FieldCast;
  /** Where on the shell the node nearest to (a, c) lies: a place to start a search, without a cast. */
  readonly near: (a: number, c: number, out: CastHit) => void;
}

/** Casts at any (a, c) of the rectangle, started from the nearest node. */
export type FieldCast = (a: number, c: number, out: CastHit) => boolean;

export interface BevelStation {
  readonly a: number;
  /** f at c = -thickness/2 and +thickness/2, mm. */
  readonly faceMinus: number;
  readonly facePlus: number;
  /** rad, signed. */
  readonly bevel: number;
}

/** Throws `Refusal` (field `at`, code `foot-off-shell`) where a line of the foot meets no shell. */
export function footField(shell: Shell, frame: LugFrame, foot: number, thickness: number): FootField {
  const halfFoot = foot / 2;
  const halfThickness = thickness / 2;
  const caster = shell.caster(frame, halfFoot, halfThickness);
  let a = evenly(halfFoot, Math.max(LEAST_COLUMNS, 2 * Math.ceil(foot / MAX_SPACING / 2) + 1));
  let c = evenly(halfThickness, Math.max(LEAST_ROWS, 2 * Math.ceil(thickness / MAX_SPACING / 2) + 1));
  let plain = sample(caster, frame, halfFoot, halfThickness, a, c, []);
  for (let round = 0; round < 3; round++) {
    // Where the shell runs steeply along the stem, the root line between two nodes is longer than their spacing.
    const columns = enough(a.length, longestStep(plain, 'a'));
    const rows = enough(c.length, longestStep(plain, 'c'));
    if (columns === a.length && rows === c.length) break;
    a = evenly(halfFoot, columns);
    c = evenly(halfThickness, rows);
    plain = sample(caster, frame, halfFoot, halfThickness, a, c, []);
  }
  const knuckles = findKnuckles(plain);
  if (knuckles.length === 0) return plain;
  // The grid's own columns and rows stay as they are; a knuckle that one of them stands on already needs none.
  const merge = (base: Float64Array, more: number[]) => {
    const kept: number[] = [];
    for (const x of more) if ([...base, ...kept].every((y) => Math.abs(x - y) > SAME_PLACE)) kept.push(x);
    return Float64Array.from([...base, ...kept].sort((p, q) => p - q));
  };
  return sample(
    caster,
    frame,
    halfFoot,
    halfThickness,
    merge(
      a,
      knuckles.filter((k) => k.along === 'a').map((k) => k.a),
    ),
    merge(
      c,
      knuckles.filter((k) => k.along === 'c').map((k) => k.c),
    ),
    knuckles,
  );
}

/** Nodes that bring the longest step of the root line down to `ROOT_SPACING`; an odd number, so that one is in the middle. */
function enough(nodes: number, longest: number): number {
  if (longest <= ROOT_SPACING) return nodes;
  return Math.min(MOST_NODES, 2 * Math.ceil((0.55 * (nodes - 1) * longest) / ROOT_SPACING) + 1);
}

/** Longest way between neighbouring nodes on the two edges of the foot that run along a (along c), mm. */
function longestStep({ a, c, f }: FootField, along: 'a' | 'c'): number {
  const nc = c.length;
  const [list, edges, stride, across] = along === 'a' ? [a, [0, nc - 1], nc, 1] : [c, [0, a.length - 1], 1, nc];
  let longest = 0;
  for (const edge of edges) {
    for (let i = 1; i < list.length; i++) {
      const k = edge * across + i * stride;
      const rise = (f[k] as number) - (f[k - stride] as number);
      longest = Math.max(longest, Math.hypot((list[i] as number) - (list[i - 1] as number), rise));
    }
  }
  return longest;
}

function evenly(half: number, n: number): Float64Array {
  const out = new Float64Array(n);
  for (let i = 0; i < n; i++) out[i] = half * ((2 * i) / (n - 1) - 1);
  return out;
}

function sample(
  caster: FootCaster,
  frame: LugFrame,
  halfFoot: number,
  halfThickness: number,
  a: Float64Array,
  c: Float64Array,
  knuckles: FootField['knuckles'],
): FootField {
  const na = a.length;
  const nc = c.length;
  const hits = {
    f: new Float64Array(na * nc),
    fa: new Float64Array(na * nc),
    fc: new Float64Array(na * nc),
    n: new Float64Array(3 * na * nc),
    region: new Int32Array(na * nc),
  };
  const { f, fa, fc, n, region } = hits;
  let cast: FieldCast;
  let near: FootField['near'];
  if (caster.castGrid?.(a, c, hits) && !leapsInGrid(a, c, hits)) {
    const { seed } = caster;
    cast = (x, y, out) => caster.cast(x, y, seed, 0, 0, out);
    near = (_x, _y, out) => copyHit(seed, out);
  } else ({ cast, near } = march(caster, a, c, hits));
  const [bx, by, bz] = frame.stem;
  const facing = new Float64Array(f.length);
  for (let k = 0; k < f.length; k++) {
    facing[k] = bx * (n[3 * k] as number) + by * (n[3 * k + 1] as number) + bz * (n[3 * k + 2] as number);
    if (!((facing[k] as number) > GRAZING))
      offShell(a[Math.floor(k / nc)] as number, c[k % nc] as number, 'runs along the shell');
  }
  let bridgesKnuckle = false;
  for (let k = 1; k < region.length; k++) if (region[k] !== region[0]) bridgesKnuckle = true;
  return { frame, halfFoot, halfThickness, a, c, f, fa, fc, n, facing, region, knuckles, bridgesKnuckle, cast, near };
}

/**
 * Casts from the middle of the foot outward, so that each starts next to one that is known, and remembers where on the
 * shell each node lies.
 */
function march(caster: FootCaster, a: Float64Array, c: Float64Array, hits: GridHits): Pick<FootField, 'cast' | 'near'> {
  const { f, fa, fc, n, region } = hits;
  const na = a.length;
  const nc = c.length;
  const p = new Float64Array(6 * na * nc);
  const hit = newHit();
  const prev = newHit();
  const rowStart = newHit();
  const middle = nearest(c, 0);
  const centre = nearest(a, 0);
  for (let pass = 0; pass < 2; pass++) {
    const step = pass === 0 ? 1 : -1;
    copyHit(caster.seed, rowStart);
    let rowA = 0;
    let rowC = 0;
    for (let j = pass === 0 ? middle : middle - 1; j >= 0 && j < nc; j += step) {
      const cj = c[j] as number;
      for (let way = 0; way < 2; way++) {
        const stride = way === 0 ? 1 : -1;
        copyHit(rowStart, prev);
        let fromA = rowA;
        let fromC = rowC;
        for (let i = way === 0 ? centre : centre - 1; i >= 0 && i < na; i += stride) {
          const ai = a[i] as number;
          if (!caster.cast(ai, cj, prev, fromA, fromC, hit)) offShell(ai, cj, 'meets no shell');
          if (leaps(prev, hit, ai - fromA, cj - fromC)) offShell(ai, cj, 'meets another part of the shell');
          const k = i * nc + j;
          f[k] = hit.f;
          fa[k] = hit.fa;
          fc[k] = hit.fc;
          n[3 * k] = hit.nx;
          n[3 * k + 1] = hit.ny;
          n[3 * k + 2] = hit.nz;
          region[k] = hit.region;
          p[6 * k] = hit.p;
          p[6 * k + 1] = hit.q;
          p[6 * k + 2] = hit.pa;
          p[6 * k + 3] = hit.pc;
          p[6 * k + 4] = hit.qa;
          p[6 * k + 5] = hit.qc;
          copyHit(hit, prev);
          fromA = ai;
          fromC = cj;
          if (way === 0 && i === centre) {
            copyHit(hit, rowStart);
            rowA = ai;
            rowC = cj;
          }
        }
      }
    }
  }
  const start = newHit();
  const fill = (k: number, out: CastHit) => {
    out.p = p[6 * k] as number;
    out.q = p[6 * k + 1] as number;
    out.pa = p[6 * k + 2] as number;
    out.pc = p[6 * k + 3] as number;
    out.qa = p[6 * k + 4] as number;
    out.qc = p[6 * k + 5] as number;
  };
  const near = (x: number, y: number, out: CastHit) => fill(nearest(a, x) * nc + nearest(c, y), out);
  const cast: FieldCast = (x, y, out) => {
    const i = nearest(a, x);
    const j = nearest(c, y);
    fill(i * nc + j, start);
    return caster.cast(x, y, start, a[i] as number, c[j] as number, out);
  };
  return { cast, near };
}

/**
 * Sine of half a degree. Where the shell turns closer to the stem than this, a mm along the foot is more than 100 mm along
 * the shell: the foot ends at a fold, and its height there is no figure to cut by.
 */
const GRAZING = Math.sin(Math.PI / 360);

/** mm. A step in the foot heights beyond what the slopes on either hand explain is taken for a leap from this on. */
const LEAP = 1;

/**
 * True where the shell is not one sheet from one cast to the next: the foot reaches over an edge (of the data, of a
 * fold) and its line meets something else farther off. Between neighbours the heights differ by no more than the
 * steeper of the two slopes explains, knuckle or not.
 */
function leaps(from: CastHit, to: CastHit, da: number, dc: number): boolean {
  const rise = Math.abs(to.f - from.f);
  const most =
    Math.abs(da) * Math.max(Math.abs(from.fa), Math.abs(to.fa)) +
    Math.abs(dc) * Math.max(Math.abs(from.fc), Math.abs(to.fc));
  return rise > most + LEAP;
}

/** The same for neighbours in a whole grid: along each row, and from row to row in the middle, as `march` goes. */
function leapsInGrid(a: Float64Array, c: Float64Array, { f, fa, fc }: GridHits): boolean {
  const nc = c.length;
  const apart = (k: number, l: number, d: number, slope: Float64Array) =>
    Math.abs((f[l] as number) - (f[k] as number)) >
    d * Math.max(Math.abs(slope[k] as number), Math.abs(slope[l] as number)) + LEAP;
  for (let i = 0; i + 1 < a.length; i++) {
    const d = (a[i + 1] as number) - (a[i] as number);
    for (let k = i * nc; k < (i + 1) * nc; k++) if (apart(k, k + nc, d, fa)) return true;
  }
  const from = nearest(a, 0) * nc;
  for (let j = 0; j + 1 < nc; j++) {
    if (apart(from + j, from + j + 1, (c[j + 1] as number) - (c[j] as number), fc)) return true;
  }
  return false;
}

function offShell(a: number, c: number, what: string): never {
  throw new Refusal(
    'foot-off-shell',
    'at',
    ['a foot whose line at a = ', { mm: a }, ', c = ', { mm: c }, ` ${what}`],
    ['a place where the whole foot stands on the shell that the data describes'],
  );
}

function nearest(list: Float64Array, x: number): number {
  const lo = cellOf(list, x);
  return x - (list[lo] as number) <= (list[lo + 1] as number) - x ? lo : lo + 1;
}

/** Index i, not past the last but one, with list[i] <= x <= list[i + 1]. Guessed as if the list were even, then mended. */
export function cellOf(list: Float64Array, x: number): number {
  const last = list.length - 2;
  const first = list[0] as number;
  let i = Math.floor(((x - first) / ((list[last + 1] as number) - first)) * (last + 1));
  if (!(i > 0)) i = 0;
  if (i > last) i = last;
  while (i > 0 && (list[i] as number) > x) i--;
  while (i < last && (list[i + 1] as number) <= x) i++;
  return i;
}

/** Places on the edges and centre lines where the shell's smooth part changes, found by bisection. */
function findKnuckles(field: FootField): { a: number; c: number; along: 'a' | 'c' }[] {
  const { a, c, region, cast } = field;
  const nc = c.length;
  const out: { a: number; c: number; along: 'a' | 'c' }[] = [];
  if (!field.bridgesKnuckle) return out;
  const hit = newHit();
  const regionAt = (x: number, y: number) => (cast(x, y, hit) ? hit.region : Number.NaN);
  const bisect = (lo: number, hi: number, first: number, at: (x: number) => number) => {
    let p = lo;
    let q = hi;
    for (let i = 0; i < 60 && q - p > 1e-10; i++) {
      const mid = (p + q) / 2;
      if (at(mid) === first) p = mid;
      else q = mid;
    }
    return (p + q) / 2;
  };
  for (const j of [0, (nc - 1) >> 1, nc - 1]) {
    const y = c[j] as number;
    for (let i = 0; i + 1 < a.length; i++) {
      const r = region[i * nc + j] as number;
      if (r !== region[(i + 1) * nc + j]) {
        out.push({ a: bisect(a[i] as number, a[i + 1] as number, r, (x) => regionAt(x, y)), c: y, along: 'a' });
      }
    }
  }
  for (const i of [0, (a.length - 1) >> 1, a.length - 1]) {
    const x = a[i] as number;
    for (let j = 0; j + 1 < nc; j++) {
      const r = region[i * nc + j] as number;
      if (r !== region[i * nc + j + 1]) {
        out.push({ a: x, c: bisect(c[j] as number, c[j + 1] as number, r, (y) => regionAt(x, y)), along: 'c' });
      }
    }
  }
  return out;
}

/** Bevel at a: the slope, through the thickness, of the chord between the two faces, rad. */
export function bevelAtColumn(field: FootField, i: number): BevelStation {
  const nc = field.c.length;
  const faceMinus = field.f[i * nc] as number;
  const facePlus = field.f[i * nc + nc - 1] as number;
  return {
    a: field.a[i] as number,
    faceMinus,
    facePlus,
    bevel: Math.atan((facePlus - faceMinus) / (2 * field.halfThickness)),
  };
}

/** Bevel along the foot: least and greatest over all columns, and a schedule at stations not farther apart than `spacing` mm. */
export function bevelSchedule(field: FootField, spacing: number) {
  let min = Number.POSITIVE_INFINITY;
  let max = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < field.a.length; i++) {
    const { bevel } = bevelAtColumn(field, i);
    if (bevel < min) min = bevel;
    if (bevel > max) max = bevel;
  }
  const n = Math.max(2, 2 * Math.ceil(field.halfFoot / spacing));
  const hit = newHit();
  const schedule: BevelStation[] = [];
  for (let k = 0; k <= n; k++) {
    const a = field.halfFoot * ((2 * k) / n - 1);
    field.cast(a, -field.halfThickness, hit);
    const faceMinus = hit.f;
    field.cast(a, field.halfThickness, hit);
    const facePlus = hit.f;
    schedule.push({ a, faceMinus, facePlus, bevel: Math.atan((facePlus - faceMinus) / (2 * field.halfThickness)) });
  }
  return { min, max, schedule };
}
