import type { Vec3 } from '../../geometry/math/vec.ts';
import type { HungLoad, Line, Stretch } from '../../src/rigging/load.ts';

/** A line that hardly gives: its stretch is a millionth of its length under 10 kN. */
export const STIFF: Stretch = { kind: 'axial', ea: 1e10 };
/** About what a 22 mm wire rope gives. */
export const ROPE: Stretch = { kind: 'axial', ea: 2e7 };

export const line = (id: string, pin: Vec3, attachment: Vec3, stretch: Stretch = ROPE): Line => ({
  id,
  pin,
  attachment,
  stretch,
});

/** A load with no water about it: N, its centre where given. */
export const dry = (weight: number, centre: Vec3): HungLoad => ({
  weight,
  buoyancy: 0,
  centre,
  buoyancyCentre: centre,
});

export const UP: Vec3 = [0, 0, 1];
