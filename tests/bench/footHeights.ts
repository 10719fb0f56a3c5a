import { frameAt } from '../../geometry/align/stem.ts';
import { footField } from '../../geometry/fit/footfield.ts';
import { shellFrom } from '../../geometry/hull/from.ts';
import { newHit } from '../../geometry/hull/shell.ts';
import type { HullSpec } from '../../geometry/hull/spec.ts';
import type { LugFrame } from '../../geometry/lug/frame.ts';
import { race } from './race.ts';
import type { Row } from './table.ts';

export const COLUMNS = 65;
export const ROWS = 9;
export const FOOT = 310;
export const THICKNESS = 35;
const UP = [0, 0, 1] as const;
/** rad. Least angle between stem and shell, as jobs have it. */
export const LEAST_ANGLE = (10 * Math.PI) / 180;

/** An even grid over the foot, as `footField` lays it: 65 along, 9 through the thickness. */
export function footGrid(): { readonly a: Float64Array; readonly c: Float64Array } {
  const evenly = (half: number, n: number) =>
    Float64Array.from({ length: n }, (_, i) => half * ((2 * i) / (n - 1) - 1));
  return { a: evenly(FOOT / 2, COLUMNS), c: evenly(THICKNESS / 2, ROWS) };
}

/** Bottom with a rise of 1 in 20 out to y = 4 m, then a bilge of 2.6 m that meets it smoothly, then a side. mm. */
const RISE = 1 / 20;
const TURN_Y = 4000;
const RADIUS = 2600;
const CENTRE_Y = TURN_Y - (RADIUS * RISE) / Math.hypot(1, RISE);
const CENTRE_Z = TURN_Y * RISE + RADIUS / Math.hypot(1, RISE);
const HULL: HullSpec = {
  kind: 'segments',
  start: { y: 0, z: 0 },
  path: [
    { to: { y: TURN_Y, z: TURN_Y * RISE } },
    { to: { y: CENTRE_Y + RADIUS, z: CENTRE_Z }, radius: RADIUS },
    { to: { y: CENTRE_Y + RADIUS, z: CENTRE_Z + 4000 } },
  ],
};

/**
 * What the heights alone cost where a person writes them down by hand for this one section and a plumb stem: y from (a, c),
 * z on the rising line or on the arc, the way from there along the stem; into an array that is there already.
 */
function heightsByHand(frame: LugFrame, a: Float64Array, c: Float64Array, f: Float64Array): void {
  const { origin: O, foot: A, stem: B, face: C } = frame;
  const perB = 1 / B[2];
  let k = 0;
  for (let i = 0; i < a.length; i++) {
    const x = a[i] as number;
    for (let j = 0; j < c.length; j++) {
      const w = c[j] as number;
      const y = O[1] + x * A[1] + w * C[1];
      const off = y - CENTRE_Y;
      const z = y < TURN_Y ? RISE * y : CENTRE_Z - Math.sqrt(RADIUS * RADIUS - off * off);
      f[k++] = (z - O[2] - x * A[2] - w * C[2]) * perB;
    }
  }
}

/** The same with what a field of heights holds besides: slopes along a and c and the shell's normal, in arrays of its own. */
function fieldByHand(frame: LugFrame, a: Float64Array, c: Float64Array) {
  const { origin: O, foot: A, stem: B, face: C } = frame;
  const count = a.length * c.length;
  const f = new Float64Array(count);
  const fa = new Float64Array(count);
  const fc = new Float64Array(count);
  const n = new Float64Array(3 * count);
  const perB = 1 / B[2];
  let k = 0;
  for (let i = 0; i < a.length; i++) {
    const x = a[i] as number;
    for (let j = 0; j < c.length; j++) {
      const w = c[j] as number;
      const y = O[1] + x * A[1] + w * C[1];
      let z: number;
      let ny: number;
      let nz: number;
      if (y < TURN_Y) {
        z = RISE * y;
        const size = Math.sqrt(1 + RISE * RISE);
        ny = RISE / size;
        nz = -1 / size;
      } else {
        const off = y - CENTRE_Y;
        z = CENTRE_Z - Math.sqrt(RADIUS * RADIUS - off * off);
        ny = off / RADIUS;
        nz = (z - CENTRE_Z) / RADIUS;
      }
      const slope = -ny / nz;
      f[k] = (z - O[2] - x * A[2] - w * C[2]) * perB;
      fa[k] = (slope * A[1] - A[2]) * perB;
      fc[k] = (slope * C[1] - C[2]) * perB;
      n[3 * k + 1] = ny;
      n[3 * k + 2] = nz;
      k++;
    }
  }
  return { f, fa, fc, n };
}

/** 585 foot heights on lines and arcs: the whole field, the casts alone, and a closed form written by hand. */
export function footHeights(): Row[] {
  const rows: Row[] = [];
  const group = 'Foot heights on lines and arcs (65 x 9)';
  const shell = shellFrom(HULL);
  const { a, c } = footGrid();
  for (const [where, halfBreadth, heading] of [
    ['on the rising line', 2500, 20],
    ['on the bilge', 5200, 20],
    ['over the joint of the two', 4000, 70],
  ] as const) {
    const place = shell.pointAt(30_000, shell.girthAt(30_000, 'halfBreadth', halfBreadth), 'port');
    const turn = (heading * Math.PI) / 180;
    const frame = frameAt(place, turn, { kind: 'plumb' }, { direction: [0, 0, -1] }, UP, LEAST_ANGLE);
    const plain = new Float64Array(COLUMNS * ROWS);
    const cast = new Float64Array(COLUMNS * ROWS);
    const caster = shell.caster(frame, FOOT / 2, THICKNESS / 2);
    const hit = newHit();
    const castAll = () => {
      let k = 0;
      for (let i = 0; i < COLUMNS; i++) {
        for (let j = 0; j < ROWS; j++) {
          caster.cast(a[i] as number, c[j] as number, caster.seed, 0, 0, hit);
          cast[k++] = hit.f;
        }
      }
      return cast[0] as number;
    };
    const grid = {
      f: new Float64Array(COLUMNS * ROWS),
      fa: new Float64Array(COLUMNS * ROWS),
      fc: new Float64Array(COLUMNS * ROWS),
      n: new Float64Array(3 * COLUMNS * ROWS),
      region: new Int32Array(COLUMNS * ROWS),
    };
    const [full, alone, field, gridded, casts] = race([
      () => fieldByHand(frame, a, c).f[0] as number,
      () => {
        heightsByHand(frame, a, c, plain);
        return plain[0] as number;
      },
      () => footField(shell, frame, FOOT, THICKNESS).f[0] as number,
      () => (caster.castGrid?.(a, c, grid) ? (grid.f[0] as number) : Number.NaN),
      castAll,
    ]) as [Result, Result, Result, Result, Result];
    const whole = footField(shell, frame, FOOT, THICKNESS);
    const byHand = fieldByHand(frame, a, c);
    const off = (p: Float64Array, q: Float64Array) =>
      p.reduce((most, x, k) => Math.max(most, Math.abs(x - (q[k] as number))), 0);
    rows.push(
      { group, what: `${where}: by hand, heights alone`, value: alone.median, least: alone.least, unit: 'ms' },
      { group, what: `${where}: by hand, with slopes and normals`, value: full.median, least: full.least, unit: 'ms' },
      {
        group,
        what: `${where}: the whole field`,
        value: field.median,
        least: field.least,
        unit: 'ms',
        note: 'and what it is cast with',
      },
      { group, what: `${where}: field / by hand`, value: field.ratio, unit: 'x', note: 'the same figures' },
      { group, what: `${where}: grid of casts / by hand`, value: gridded.ratio, unit: 'x', wanted: { most: 2 } },
      { group, what: `${where}: casts one by one / by hand`, value: casts.ratio, unit: 'x' },
      { group, what: `${where}: field / heights alone`, value: field.ratio / alone.ratio, unit: 'x' },
      {
        group,
        what: `${where}: largest difference in height`,
        value: Math.max(off(whole.f, byHand.f), off(whole.f, plain)),
        unit: 'mm',
        wanted: { most: 1e-8 },
      },
      {
        group,
        what: `${where}: largest difference in slope`,
        value: Math.max(off(whole.fa, byHand.fa), off(whole.fc, byHand.fc)),
        unit: '',
        wanted: { most: 1e-11 },
      },
    );
  }
  return rows;
}

type Result = ReturnType<typeof race>[number];
