import { rootAt } from '../../geometry/fit/rootline.ts';
import { newHit } from '../../geometry/hull/shell.ts';
import { dot } from '../../geometry/math/vec.ts';
import type { Standing } from './lugs.ts';

/* Where gas goes, found the slow way: the path of steepest ascent on the shell itself, by tiny steps. */

/** mm. */
const STEP = 0.1;

export type Exit = { readonly kind: 'out' | 'self'; readonly s: number } | { readonly kind: 'inside' };

/** From the root point (a, c) on a side. `inside`: it stays under the foot, or the crevice lies level there. */
export function gasFrom(lug: Standing, a0: number, c0: number, side: number, s0: number): Exit {
  const { field, frame, up } = lug;
  const [ua, ub, uc] = [dot(up, frame.foot), dot(up, frame.stem), dot(up, frame.face)];
  const hit = newHit();
  const clamp = (x: number, half: number) => Math.min(half, Math.max(-half, x));
  const climb = (a: number, c: number): [number, number] => {
    field.cast(clamp(a, field.halfFoot), clamp(c, field.halfThickness), hit);
    return [ua + ub * hit.fa, uc + ub * hit.fc];
  };
  let [a, c] = [a0, c0];
  let [ga, gc] = climb(a, c);
  const inward = [gc, -ga, -gc, ga][side] as number;
  const steep = Math.hypot(ga, gc);
  if (steep < 1e-4) return { kind: 'inside' };
  if (inward < -1e-6 * steep) return { kind: 'self', s: s0 };
  for (let n = 0; n < (4 * (field.halfFoot + field.halfThickness)) / STEP; n++) {
    const g = Math.hypot(ga, gc);
    if (g < 1e-6) return { kind: 'inside' };
    const [na, nc] = [a + (STEP * ga) / g, c + (STEP * gc) / g];
    const outA = Math.abs(na) > field.halfFoot;
    const outC = Math.abs(nc) > field.halfThickness;
    // A path along an edge leaves at the corner only.
    const leavesA = outA && !(side % 2 === 1 && Math.abs(a - a0) < 1e-9 && !outC);
    const leavesC = outC && !(side % 2 === 0 && Math.abs(c - c0) < 1e-9 && !outA);
    if (leavesA || leavesC)
      return { kind: 'out', s: edgeS(lug, clamp(na, field.halfFoot), clamp(nc, field.halfThickness)) };
    a = clamp(na, field.halfFoot);
    c = clamp(nc, field.halfThickness);
    [ga, gc] = climb(a, c);
  }
  return { kind: 'inside' };
}

/** Arc length of the root point nearest to (a, c). */
function edgeS({ root }: Standing, a: number, c: number): number {
  let best = 0;
  let near = Number.POSITIVE_INFINITY;
  for (let k = 1; k < root.count; k++) {
    const [s0, s1] = [root.s[k - 1] as number, root.s[k] as number];
    for (const w of [0, 0.25, 0.5, 0.75, 1]) {
      const p = rootAt(root, s0 + w * (s1 - s0) - 1e-9);
      const d = Math.hypot(p.a - a, p.c - c);
      if (d < near) {
        near = d;
        best = s0 + w * (s1 - s0);
      }
    }
  }
  return best;
}

export interface Element {
  readonly s: number;
  readonly length: number;
  readonly exit: Exit;
}

export function gasOf(lug: Standing): Element[] {
  const { elements } = lug.sequence;
  return Array.from({ length: elements.count }, (_, e) => {
    const [s0, s1] = [elements.s0[e] as number, elements.s1[e] as number];
    const s = (s0 + s1) / 2;
    const { a, c } = rootAt(lug.root, s);
    return { s, length: s1 - s0, exit: gasFrom(lug, a, c, elements.side[e] as number, s) };
  });
}

/** mm. A run is taken to cover its ends and this much round them. */
const EDGE = 0.02;

interface Cover {
  readonly lo: number;
  readonly hi: number;
  readonly sense: number;
}

const coversOf = (lug: Standing): Cover[] =>
  lug.sequence.runs.map((r) => ({
    lo: Math.min(r.fromS, r.toS),
    hi: Math.max(r.fromS, r.toS),
    sense: Math.sign(r.toS - r.fromS),
  }));

/** Length sealed against its own run by the direction of welding, and by every set of runs welded before. */
function sealing(lug: Standing, gas: readonly Element[]) {
  const covers = coversOf(lug);
  const holds = (r: Cover, s: number) => s >= r.lo - EDGE && s <= r.hi + EDGE;
  const own = covers.map(() => [0, 0]);
  const others: { run: number; length: number; vents: number }[] = [];
  for (const e of gas) {
    if (e.exit.kind !== 'out') continue;
    const run = covers.findIndex((r) => e.s > r.lo && e.s < r.hi);
    let vents = 0;
    covers.forEach((r, i) => {
      if (holds(r, (e.exit as { s: number }).s)) vents |= 1 << i;
    });
    if (vents & (1 << run)) {
      const off = (e.exit as { s: number }).s - e.s;
      if (Math.abs(off) > e.length)
        (own[run] as number[])[off > 0 ? 1 : 0] = ((own[run] as number[])[off > 0 ? 1 : 0] as number) + e.length;
    }
    others.push({ run, length: e.length, vents: vents & ~(1 << run) });
  }
  const whenAfter = (run: number, done: number) =>
    others.reduce((sum, e) => sum + (e.run === run && (e.vents & done) !== 0 ? e.length : 0), 0);
  return { covers, own, whenAfter };
}

/** Length that the plan's own order and directions seal, mm. */
export function sealedByPlan(lug: Standing, gas: readonly Element[]): number {
  const { covers, own, whenAfter } = sealing(lug, gas);
  let done = 0;
  let sum = 0;
  covers.forEach((r, i) => {
    sum += whenAfter(i, done);
    // Welding towards +s shuts what lies at smaller s.
    sum += (own[i] as number[])[r.sense > 0 ? 0 : 1] as number;
    done |= 1 << i;
  });
  return sum;
}

/** Least length that any order and any directions of the same runs seal, mm: every subset of runs, one after the other. */
export function leastSealed(lug: Standing, gas: readonly Element[]): number {
  const { covers, own, whenAfter } = sealing(lug, gas);
  const n = covers.length;
  const best = new Float64Array(1 << n).fill(Number.POSITIVE_INFINITY);
  best[0] = 0;
  for (let done = 0; done < 1 << n; done++) {
    for (let i = 0; i < n; i++) {
      if (done & (1 << i)) continue;
      const next = (best[done] as number) + whenAfter(i, done) + Math.min(...(own[i] as [number, number]));
      best[done | (1 << i)] = Math.min(best[done | (1 << i)] as number, next);
    }
  }
  return best[(1 << n) - 1] as number;
}
