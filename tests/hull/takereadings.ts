import { slopeShown, upOf } from '../../geometry/hull/attitude.ts';
import { type HullSide, newHit, type Shell } from '../../geometry/hull/shell.ts';
import type { HullSpec } from '../../geometry/hull/spec.ts';
import { lugFrame } from '../../geometry/lug/frame.ts';
import { dot } from '../../geometry/math/vec.ts';

export interface Taking {
  readonly station: number;
  readonly girth: number;
  readonly side: HullSide;
  readonly ship: { lpp: number; draftAft: number; draftForward: number; heel: number };
  /** Along the tape from the place, and along the bar from its middle, mm. The tape's zero is at the first mark. */
  readonly marks: readonly number[];
  readonly bar: readonly number[];
  readonly withSlope?: boolean;
}

/** Readings as a diver would take them on a known shell, without any error. */
export function takeReadings(shell: Shell, t: Taking): Extract<HullSpec, { kind: 'readings' }> {
  const up = upOf(t.ship);
  const zero = t.marks[0] as number;
  const at = (s: number) => shell.pointAt(t.station, t.girth + s, 'port');
  const place = shell.pointAt(t.station, t.girth, t.side);
  // The bar lies in the tangent plane, square to the tape: casts along the normal from it are the gaps.
  const frame = lugFrame(place.position, place.tFore, place.normal);
  const caster = shell.caster(frame, Math.max(...t.bar.map(Math.abs)), 10);
  const hit = newHit();
  const start = at(zero).position;
  return {
    kind: 'readings',
    start: { y: start[1], z: start[2] },
    girth: t.marks.map((s) => {
      const { tGirth } = at(s);
      return { at: s - zero, slope: slopeShown(Math.atan2(tGirth[2], tGirth[1]), up, t.side) };
    }),
    fore: {
      gaps: t.bar.map((a) => {
        if (!caster.cast(a, 0, caster.seed, 0, 0, hit)) throw new Error('the bar reaches over the shell');
        return { at: a, gap: -hit.f };
      }),
      touch: 'middle',
      ...(t.withSlope === true ? { slope: Math.asin(dot(place.tFore, up)) } : {}),
    },
    up,
    side: t.side,
    station: t.station,
    place: { girth: -zero },
  };
}
