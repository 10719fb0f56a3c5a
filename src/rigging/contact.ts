import type { Vec3 } from '../../geometry/math/vec.ts';
import type { Phrase } from '../../geometry/phrase.ts';
import type { Equilibrium } from './equilibrium.ts';
import type { HullProbe } from './hullprobe.ts';
import { placeOf } from './pose.ts';
import { clearanceOf, type Segment, type Solid } from './solids.ts';
import type { HungSystem } from './system.ts';

/** What the lines and the load have to stay clear of. Ship axes, mm. */
export interface Surroundings {
  /** Absent where no hull is looked at. */
  readonly hull?: HullProbe;
  readonly solids: readonly Solid[];
  /** Points of the load's outside as drawn; the straight lines between any two of them are looked at. */
  readonly outline: readonly Vec3[];
  /** mm that the load is to keep clear; lines may come close and not touch. */
  readonly clearance: number;
}

/** Something that comes too close. */
export interface Contact {
  /** Index of the line; absent for the load itself. */
  readonly line?: number;
  /** Name of the solid, or the hull. */
  readonly with: string;
  /** mm, negative where the two go into each other. */
  readonly clearance: number;
  readonly text: Phrase;
}

const HULL = 'the hull';

/** Every line and the load against hull and solids, in a pose at rest. A slack line is taken straight: it may lie on more. */
export function contactsOf(
  system: HungSystem,
  lengths: readonly number[],
  { pose }: Equilibrium,
  surroundings: Surroundings,
): Contact[] {
  const contacts: Contact[] = [];
  const { hull, solids, outline, clearance } = surroundings;
  system.lines.forEach((line, i) => {
    if (!Number.isFinite(lengths[i])) return;
    const segment = { from: line.pin, to: placeOf(pose, system.load.centre, line.attachment) };
    const touch = (other: string, room: number): void => {
      if (room >= 0) return;
      contacts.push({ line: i, with: other, clearance: room, text: [`Line ${line.id} lies on ${other}.`] });
    };
    for (const solid of solids) touch(solid.name, clearanceOf(segment, solid));
    const near = hull?.along(segment);
    if (near) touch(HULL, near.clearance);
  });
  const points = outline.map((p) => placeOf(pose, system.load.centre, p));
  const body: Segment[] = points.flatMap((from, i) => points.slice(i + 1).map((to) => ({ from, to })));
  if (points.length === 1) body.push({ from: points[0] as Vec3, to: points[0] as Vec3 });
  const close = (other: string, rooms: readonly (number | undefined)[]): void => {
    const room = Math.min(...rooms.map((r) => r ?? Number.POSITIVE_INFINITY));
    if (room >= clearance) return;
    contacts.push({
      with: other,
      clearance: room,
      text:
        room < 0
          ? [`The load goes into ${other} by `, { mm: -room, digits: 0 }, '.']
          : [
              `The load comes within `,
              { mm: room, digits: 0 },
              ` of ${other}: `,
              { mm: clearance, digits: 0 },
              ' is asked for.',
            ],
    });
  };
  for (const solid of solids)
    close(
      solid.name,
      body.map((segment) => clearanceOf(segment, solid)),
    );
  if (hull)
    close(
      HULL,
      body.map((segment) => hull.along(segment)?.clearance),
    );
  return contacts;
}
