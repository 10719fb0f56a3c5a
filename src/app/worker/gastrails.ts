import { cellOf, type FootField } from '../../../geometry/fit/footfield.ts';
import { toShip } from '../../../geometry/lug/frame.ts';
import type { Vec3 } from '../../../geometry/math/vec.ts';
import { VentFinder } from '../../../geometry/sequence/vent.ts';
import type { FittingPlan } from '../../plan/types.ts';
import type { GasTrail } from './protocol.ts';

/** Spots of the root from which gas is followed for the picture. */
const SPOTS = 72;

/** The ways that gas freed along the root takes under the foot: those of the plan's own vents, with the points between. Ship axes, mm. */
export function gasTrails({ field, root, sequence }: FittingPlan, up: Vec3): GasTrail[] {
  const finder = new VentFinder(field, root, up);
  const { elements } = sequence;
  const every = Math.max(1, Math.ceil(elements.count / SPOTS));
  const out: GasTrail[] = [];
  for (let e = 0; e < elements.count; e += every) {
    const s = ((elements.s0[e] as number) + (elements.s1[e] as number)) / 2;
    const k = between(root.s, s);
    const a = ((root.a[k - 1] as number) + (root.a[k] as number)) / 2;
    const c = ((root.c[k - 1] as number) + (root.c[k] as number)) / 2;
    const trail: [number, number][] = [];
    finder.from(a, c, s, elements.side[e] as number, trail);
    out.push({
      s,
      points: Float32Array.from(trail.flatMap(([p, q]) => [...toShip(field.frame, p, heightAt(field, p, q), q)])),
    });
  }
  return out;
}

/** Index of the first sample of the root at or beyond s. */
function between(list: ArrayLike<number>, s: number): number {
  for (let k = 1; k < list.length; k++) if ((list[k - 1] as number) <= s && s <= (list[k] as number)) return k;
  return 1;
}

/** Height of the shell over the foot at (a, c), mm, between the nodes of the field. */
function heightAt(f: FootField, a: number, c: number): number {
  const [i, j] = [cellOf(f.a, a), cellOf(f.c, c)];
  const n = f.c.length;
  const u = (a - (f.a[i] as number)) / ((f.a[i + 1] as number) - (f.a[i] as number));
  const w = (c - (f.c[j] as number)) / ((f.c[j + 1] as number) - (f.c[j] as number));
  const at = (p: number, q: number): number => f.f[p * n + q] as number;
  return (1 - u) * ((1 - w) * at(i, j) + w * at(i, j + 1)) + u * ((1 - w) * at(i + 1, j) + w * at(i + 1, j + 1));
}
