import type { HullSide, Range, Shell } from '../../../geometry/hull/shell.ts';
import { addScaled, type Vec3 } from '../../../geometry/math/vec.ts';
import type { ShellSpot, Structure } from '../../job/structuretypes.ts';
import type { DrawnMember } from './protocol.ts';
import { sample } from './sample.ts';

interface Place {
  readonly station: number;
  readonly girth: number;
}

/** mm off the shell; mm between points of a line; mm between the strokes of a hatched zone. */
const [CLEAR, STEP, HATCH] = [2, 60, 70] as const;
/** Names stand this far from the lug along a line, mm, and only of lines that pass within `NEAR` of it. */
const [ASIDE, NEAR] = [330, 1300] as const;

/** What the job knows of the structure, as lines on one side of the shell between two stations. Points less `origin`, ship axes, mm. */
export function drawStructure(
  shell: Shell,
  structure: Structure,
  side: HullSide,
  stations: Range,
  place: Place,
  origin: Vec3,
): DrawnMember[] {
  const here = <T extends { readonly side?: HullSide }>(list: readonly T[]): T[] =>
    list.filter((m) => m.side === undefined || m.side === side);
  const pen = new Pen(shell, side, stations, origin);
  const out: DrawnMember[] = [];
  const add = (kind: DrawnMember['kind'], name: string, lines: readonly (readonly Place[])[], label: Place): void => {
    const segments = pen.draw(lines);
    if (segments.length === 0) return;
    const near = Math.hypot(label.station - place.station, label.girth - place.girth) <= NEAR;
    out.push({ kind, name, segments, label: near ? pen.point(label) : null });
  };
  for (const { name, station } of structure.frames) {
    if (station < stations.from || station > stations.to) continue;
    const { from, to } = shell.girthRange(station);
    const girth = Math.min(to, Math.max(from, place.girth - ASIDE));
    add('frame', name, [line({ station, girth: from }, { station, girth: to })], { station, girth });
  }
  for (const { name, girth, from = stations.from, to = stations.to } of here(structure.longitudinals)) {
    const ends = [
      { station: from, girth },
      { station: to, girth },
    ] as const;
    add(
      'longitudinal',
      name,
      [line(...clipped(ends, stations))],
      nearestOf(ends, { ...place, station: place.station + ASIDE }),
    );
  }
  for (const { name, from, to } of here(structure.seams))
    add(
      'seam',
      name,
      [line(...clipped([from, to], stations))],
      nearestOf([from, to], { ...place, station: place.station - ASIDE }),
    );
  for (const { name, from, to, radius } of here(structure.keepClear))
    add('keep-clear', name, zone(from, to ?? from, radius), nearestOf([from, to ?? from], place));
  return out;
}

/** Even points from one spot to another. */
function line(from: Place, to: Place): Place[] {
  const n = Math.max(1, Math.ceil(Math.hypot(to.station - from.station, to.girth - from.girth) / STEP));
  return Array.from({ length: n + 1 }, (_, i) => ({
    station: from.station + ((to.station - from.station) * i) / n,
    girth: from.girth + ((to.girth - from.girth) * i) / n,
  }));
}

/** The part of a straight line in station and girth between two stations. */
function clipped([p, q]: readonly [Place, Place], { from, to }: Range): [Place, Place] {
  const dx = q.station - p.station;
  const at = (t: number): Place => ({ station: p.station + t * dx, girth: p.girth + t * (q.girth - p.girth) });
  if (dx === 0) return [p, q];
  const [s, t] = [(from - p.station) / dx, (to - p.station) / dx];
  const [first, last] = [Math.max(0, Math.min(s, t)), Math.min(1, Math.max(s, t))];
  return first > last ? [p, p] : [at(first), at(last)];
}

function nearestOf([p, q]: readonly [Place, Place], to: Place): Place {
  const [dx, dg] = [q.station - p.station, q.girth - p.girth];
  const long = dx * dx + dg * dg;
  const t = long > 0 ? Math.min(1, Math.max(0, ((to.station - p.station) * dx + (to.girth - p.girth) * dg) / long)) : 0;
  return { station: p.station + t * dx, girth: p.girth + t * dg };
}

/** Outline of all within `radius` of a line, hatched across. Laid out in station and girth, which on the shell are lengths within the turn of the zone. */
function zone(from: ShellSpot, to: ShellSpot, radius: number): Place[][] {
  const [dx, dg] = [to.station - from.station, to.girth - from.girth];
  const long = Math.hypot(dx, dg);
  const along = long > 0 ? [dx / long, dg / long] : [1, 0];
  // x along the band from its first end, y across it.
  const put = (x: number, y: number): Place => ({
    station: from.station + x * (along[0] as number) - y * (along[1] as number),
    girth: from.girth + x * (along[1] as number) + y * (along[0] as number),
  });
  const arc = (at: number, start: number): Place[] =>
    Array.from({ length: 19 }, (_, i) => {
      const t = start + (Math.PI * i) / 18;
      return put(at + radius * Math.cos(t), radius * Math.sin(t));
    });
  const round = [...arc(long, -Math.PI / 2), ...arc(0, Math.PI / 2)];
  const outline = [...round, round[0] as Place].flatMap((p, i, all) => {
    const next = all[i + 1];
    return next === undefined ? [p] : line(p, next).slice(0, -1);
  });
  const strokes: Place[][] = [];
  for (let x = -radius + HATCH / 2; x < long + radius; x += HATCH) {
    const beyond = x < 0 ? -x : x > long ? x - long : 0;
    const half = Math.sqrt(Math.max(0, radius * radius - beyond * beyond));
    if (half > 0) strokes.push(line(put(x, -half), put(x, half)));
  }
  return [outline, ...strokes];
}

/** Puts lines in station and girth on the shell; what lies off its data is left out. */
class Pen {
  private readonly shell: Shell;
  private readonly side: HullSide;
  private readonly stations: Range;
  private readonly origin: Vec3;

  constructor(shell: Shell, side: HullSide, stations: Range, origin: Vec3) {
    this.shell = shell;
    this.side = side;
    this.stations = stations;
    this.origin = origin;
  }

  draw(lines: readonly (readonly Place[])[]): Float32Array {
    const out: number[] = [];
    for (const points of lines) {
      let last: Vec3 | null = null;
      for (const p of points) {
        const next = this.point(p);
        if (last !== null && next !== null)
          for (const q of [last, next])
            for (let k = 0; k < 3; k++) out.push((q[k] as number) - (this.origin[k] as number));
        last = next;
      }
    }
    return Float32Array.from(out);
  }

  point({ station, girth }: Place): Vec3 | null {
    if (!(station >= this.stations.from && station <= this.stations.to)) return null;
    const range = this.shell.girthRange(station);
    if (!(girth >= range.from - 1e-6 && girth <= range.to + 1e-6)) return null;
    const { position, normal } = sample(this.shell, station, girth, this.side);
    return addScaled(position, normal, CLEAR);
  }
}
