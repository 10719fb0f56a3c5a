import type { Shell } from '../../geometry/hull/shell.ts';
import { addScaled, distance, sub, type Vec3 } from '../../geometry/math/vec.ts';
import { Refusal } from '../../geometry/refusal.ts';
import type { Segment } from './solids.ts';

/** mm. Sections that a first look goes by are this far apart. */
const SECTION_SPACING = 100;
/** mm. Chord error of the sections. */
const CHORD = 0.5;
/** mm. Closer than this to the shell a first look is not enough. */
const NEAR = 250;
/** mm. Points along a line are not farther apart than this. */
const SAMPLE_SPACING = 150;

/** How near a line or the load comes to the shell. */
export interface ShellClearance {
  /** mm, negative inside the hull. */
  readonly clearance: number;
  /** Where, ship axes. */
  readonly at: Vec3;
}

/** A section as y, z, y, z ... with the bounds of it that matter. */
interface Section {
  readonly points: Float64Array;
  readonly mostY: number;
  readonly leastZ: number;
}

function sectionFrom(line: readonly Vec3[]): Section | undefined {
  if (line.length < 2) return undefined;
  return {
    points: Float64Array.from(line.flatMap(([, y, z]) => [y, z])),
    mostY: Math.max(...line.map((p) => p[1])),
    leastZ: Math.min(...line.map((p) => p[2])),
  };
}

/** Answers how far points are outside the hull, as far as its data goes. Keeps the sections it has looked at. */
export class HullProbe {
  private readonly shell: Shell;
  private readonly sections = new Map<number, Section | undefined>();

  constructor(shell: Shell) {
    this.shell = shell;
  }

  /**
   * mm from a point to the shell, negative inside the hull; `undefined` at a station that the data does not reach. Inside is
   * what lies above the section, counted straight down from the point: an odd number of crossings. Farther off than 250 mm the
   * figure is that to the nearest section looked at, good enough to know that it is far.
   */
  clearance(p: Vec3): number | undefined {
    const rough = this.toSection(p, Math.round(p[0] / SECTION_SPACING) * SECTION_SPACING);
    const exact = rough === undefined || Math.abs(rough) < NEAR ? this.toSection(p, p[0]) : rough;
    if (exact === undefined || Math.abs(exact) >= NEAR) return exact;
    try {
      const { distance } = this.shell.closest(p);
      // A section's chords run inside the shell, and the nearest point may lie at another station.
      return Math.sign(exact) * (distance <= Math.abs(exact) + CHORD ? distance : Math.abs(exact));
    } catch (e) {
      if (e instanceof Refusal) return exact;
      throw e;
    }
  }

  /**
   * The least clearance along a segment; `undefined` where no shell is known along all of it. Looked at every 150 mm where the shell is
   * near; where it is far, the next look is as far on as the shell surely is (a distance grows no faster than the way that is gone).
   */
  along(segment: Segment): ShellClearance | undefined {
    const run = sub(segment.to, segment.from);
    const all = distance(segment.from, segment.to);
    let least: ShellClearance | undefined;
    let gone = 0;
    for (;;) {
      const at = addScaled(segment.from, run, all > 0 ? gone / all : 0);
      const clearance = this.clearance(at);
      if (clearance !== undefined && (least === undefined || clearance < least.clearance)) least = { clearance, at };
      if (gone >= all) return least;
      // Half of it: off the section's own plane the shell may be nearer than the section is.
      const sure = clearance === undefined ? 0 : (clearance - NEAR) / 2;
      gone = Math.min(all, gone + Math.max(SAMPLE_SPACING, sure));
    }
  }

  private section(station: number): Section | undefined {
    if (this.sections.has(station)) return this.sections.get(station);
    let line: Section | undefined;
    const { from, to } = this.shell.stations;
    if (station >= from && station <= to) {
      try {
        line = sectionFrom(this.shell.sectionLine(station, CHORD));
      } catch (e) {
        if (!(e instanceof Refusal)) throw e;
      }
    }
    // Stations off the grid are asked for once: they are not kept.
    if (station % SECTION_SPACING === 0) this.sections.set(station, line);
    return line;
  }

  private toSection(p: Vec3, station: number): number | undefined {
    const prismatic = !Number.isFinite(this.shell.stations.from);
    const line = this.section(prismatic ? 0 : station);
    if (line === undefined) return undefined;
    const y = Math.abs(p[1]);
    const z = p[2];
    // Well below or beside all of the section: the distance to its box is less than that to itself, and far enough.
    const beside = Math.hypot(Math.max(0, y - line.mostY), Math.max(0, line.leastZ - z));
    if (beside > NEAR) return beside;
    const { points } = line;
    let least = Number.POSITIVE_INFINITY;
    let below = 0;
    for (let k = 2; k < points.length; k += 2) {
      const y0 = points[k - 2] as number;
      const z0 = points[k - 1] as number;
      const dy = (points[k] as number) - y0;
      const dz = (points[k + 1] as number) - z0;
      const square = dy * dy + dz * dz;
      const t = square > 0 ? Math.max(0, Math.min(1, ((y - y0) * dy + (z - z0) * dz) / square)) : 0;
      const ry = y - y0 - t * dy;
      const rz = z - z0 - t * dz;
      least = Math.min(least, ry * ry + rz * rz);
      if (y0 <= y !== (points[k] as number) <= y && z0 + ((y - y0) / dy) * dz < z) below += 1;
    }
    least = Math.sqrt(least);
    return below % 2 === 1 ? -least : least;
  }
}
