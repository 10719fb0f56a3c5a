import type { HullSide, Range, Shell } from '../../../geometry/hull/shell.ts';
import type { Vec3 } from '../../../geometry/math/vec.ts';
import type { Structure } from '../../job/structuretypes.ts';
import { drawStructure } from './drawnstructure.ts';
import type { Drawing, ShellPatch } from './protocol.ts';
import { sample, within } from './sample.ts';
import { sectioned } from './sectioned.ts';

/** What is drawn of a ship round one place: fine within `NEAR`, coarse as far as `FAR`. mm */
const NEAR = 900;
const FAR = 7000;
/** The lug may move this far before the ship round it is drawn anew. mm */
const CELL = 300;
const FINE = 30;
const COARSE = 350;
const GRID = 100;

interface Place {
  readonly station: number;
  readonly girth: number;
  readonly side: HullSide;
}

/** Names the drawing that belongs to a place: places close by share one. `hull` tells one ship from another. */
export function drawingKey(hull: string, place: Place, frameSpacing: number): string {
  const cell = (x: number): number => Math.round(x / CELL);
  return `${hull}|${place.side}|${cell(place.station)}|${cell(place.girth)}|${frameSpacing}`;
}

/** Triangles and lines of the shell round a place. Throws what the shell throws where it cannot be drawn at all. */
export function drawShell(
  shell: Shell,
  place: Place,
  frameSpacing: number,
  key: string,
  structure?: Structure,
): Drawing {
  const { side } = place;
  const at = { station: Math.round(place.station / CELL) * CELL, girth: Math.round(place.girth / CELL) * CELL };
  const reach = clip({ from: at.station - FAR, to: at.station + FAR }, shell.stations);
  const stations = sectioned(shell, reach, within(place.station, reach));
  const middle = within(at.station, stations);
  const round = shell.girthRange(middle);
  const girths = { from: round.from, to: Math.max(round.to, round.from + 1) };
  const nearStations = clip({ from: at.station - NEAR, to: at.station + NEAR }, stations);
  const nearGirths = clip({ from: at.girth - NEAR, to: at.girth + NEAR }, girths);
  const origin = shell.pointAt(within(place.station, stations), within(place.girth, round), side).position;

  const fineS = steps(nearStations, FINE);
  const fineG = refined(shell, side, within(place.station, stations), steps(nearGirths, FINE));
  const coarseS = [
    ...steps({ from: stations.from, to: nearStations.from }, COARSE),
    ...steps(nearStations, COARSE).slice(1),
    ...steps({ from: nearStations.to, to: stations.to }, COARSE).slice(1),
  ];
  const coarseG = [
    ...steps({ from: girths.from, to: nearGirths.from }, COARSE),
    ...steps(nearGirths, COARSE).slice(1),
    ...steps({ from: nearGirths.to, to: girths.to }, COARSE).slice(1),
  ];
  const hole = { stations: nearStations, girths: nearGirths };
  return {
    key,
    origin,
    near: patch(shell, side, fineS, fineG, origin, undefined),
    far: patch(shell, side, coarseS, coarseG, origin, hole),
    other: patch(shell, side === 'port' ? 'starboard' : 'port', coarseS, coarseG, origin, undefined),
    // Where the job knows its frames, none are made up from their spacing.
    frames:
      structure !== undefined && structure.frames.length > 0
        ? new Float32Array()
        : frameLines(shell, side, stations, girths, frameSpacing, origin),
    grid: gridLines(shell, side, nearStations, nearGirths, origin),
    frameSpacing,
    members: structure === undefined ? [] : drawStructure(shell, structure, side, stations, place, origin),
  };
}

const clip = (r: Range, by: Range): Range => ({ from: Math.max(r.from, by.from), to: Math.min(r.to, by.to) });

/** Even steps of at most `size` from end to end, both ends included; one value where there is no length. */
function steps(r: Range, size: number): number[] {
  const length = r.to - r.from;
  if (!(length > 0)) return [r.from];
  const n = Math.ceil(length / size);
  return Array.from({ length: n + 1 }, (_, i) => r.from + (length * i) / n);
}

/** Chord of the fine part, mm, and how often a stretch is halved for it: a knuckle has no chord small enough. */
const FINE_CHORD = 0.3;
const HALVINGS = 5;

/** Girths with more of them where the section turns sharply. */
function refined(shell: Shell, side: HullSide, station: number, girths: readonly number[]): number[] {
  const at = (g: number): Vec3 => sample(shell, station, g, side).position;
  const out: number[] = [];
  const halve = (g: number, h: number, left: number): void => {
    const m = (g + h) / 2;
    const [p, q, r] = [at(g), at(h), at(m)];
    const off = Math.hypot(r[0] - (p[0] + q[0]) / 2, r[1] - (p[1] + q[1]) / 2, r[2] - (p[2] + q[2]) / 2);
    if (left > 0 && off > FINE_CHORD) {
      halve(g, m, left - 1);
      halve(m, h, left - 1);
    } else out.push(h);
  };
  girths.forEach((g, i) => {
    const before = girths[i - 1];
    if (before === undefined) out.push(g);
    else halve(before, g, HALVINGS);
  });
  return out;
}

function patch(
  shell: Shell,
  side: HullSide,
  stations: readonly number[],
  girths: readonly number[],
  origin: Vec3,
  hole: { readonly stations: Range; readonly girths: Range } | undefined,
): ShellPatch {
  const ns = stations.length;
  const ng = girths.length;
  const positions = new Float32Array(3 * ns * ng);
  const normals = new Float32Array(3 * ns * ng);
  const places = new Float32Array(2 * ns * ng);
  stations.forEach((station, i) => {
    girths.forEach((girth, k) => {
      const p = sample(shell, station, girth, side);
      const n = i * ng + k;
      for (let c = 0; c < 3; c++) {
        positions[3 * n + c] = (p.position[c] as number) - (origin[c] as number);
        normals[3 * n + c] = p.normal[c] as number;
      }
      places[2 * n] = station;
      places[2 * n + 1] = p.girth;
    });
  });
  const index: number[] = [];
  for (let i = 0; i + 1 < ns; i++) {
    for (let k = 0; k + 1 < ng; k++) {
      const station = ((stations[i] as number) + (stations[i + 1] as number)) / 2;
      const girth = ((girths[k] as number) + (girths[k + 1] as number)) / 2;
      if (hole !== undefined && inRange(station, hole.stations) && inRange(girth, hole.girths)) continue;
      const [a, b, c, d] = [i * ng + k, (i + 1) * ng + k, (i + 1) * ng + k + 1, i * ng + k + 1];
      // Seen from the water the corners go round to the left on one side of the ship and to the right on the other.
      if (side === 'port') index.push(a, c, b, a, d, c);
      else index.push(a, b, c, a, c, d);
    }
  }
  return { positions, normals, places, index: Uint32Array.from(index), chord: chordOf(shell, side, stations, girths) };
}

const inRange = (x: number, r: Range): boolean => x > r.from && x < r.to;

/** Largest distance between the middle of a facet's edge along the girth and the shell there, over a sample of facets. */
function chordOf(shell: Shell, side: HullSide, stations: readonly number[], girths: readonly number[]): number {
  const station = stations[Math.floor(stations.length / 2)] as number;
  let most = 0;
  for (let k = 0; k + 1 < girths.length; k++) {
    const [g, h] = [girths[k] as number, girths[k + 1] as number];
    const p = sample(shell, station, g, side).position;
    const q = sample(shell, station, h, side).position;
    const m = sample(shell, station, (g + h) / 2, side).position;
    const off = Math.hypot(m[0] - (p[0] + q[0]) / 2, m[1] - (p[1] + q[1]) / 2, m[2] - (p[2] + q[2]) / 2);
    if (off > most) most = off;
  }
  return most;
}

function line(out: number[], points: readonly Vec3[], origin: Vec3): void {
  for (let i = 0; i + 1 < points.length; i++)
    for (const p of [points[i] as Vec3, points[i + 1] as Vec3])
      out.push(p[0] - origin[0], p[1] - origin[1], p[2] - origin[2]);
}

function frameLines(
  shell: Shell,
  side: HullSide,
  stations: Range,
  girths: Range,
  spacing: number,
  origin: Vec3,
): Float32Array {
  const out: number[] = [];
  const along = steps(girths, 120);
  for (let n = Math.ceil(stations.from / spacing); n * spacing <= stations.to; n++)
    line(
      out,
      along.map((g) => sample(shell, n * spacing, g, side).position),
      origin,
    );
  return Float32Array.from(out);
}

/** A net of `GRID` by `GRID` round the lug: the eye reads the turn of the shell and the scale from it. */
function gridLines(shell: Shell, side: HullSide, stations: Range, girths: Range, origin: Vec3): Float32Array {
  const out: number[] = [];
  const up = (x: number): number => Math.ceil(x / GRID) * GRID;
  for (let x = up(stations.from); x <= stations.to; x += GRID)
    line(
      out,
      steps(girths, 50).map((g) => sample(shell, x, g, side).position),
      origin,
    );
  for (let g = up(girths.from); g <= girths.to; g += GRID)
    line(
      out,
      steps(stations, 150).map((x) => sample(shell, x, g, side).position),
      origin,
    );
  return Float32Array.from(out);
}
