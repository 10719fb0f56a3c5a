import type { IDxf } from 'dxf-parser';
import { type Drawn, type DrawnSpline, drawnOf, EllipseReader, type Spot } from './drawingpieces.ts';
import { readNumber } from './number.ts';
import { plainText } from './quantity.ts';
import type { RawHull } from './schema.ts';
import { quoted } from './shown.ts';
import { internalPer } from './units.ts';
import { quantityText } from './write.ts';

/*
 * A section from a drawing or from columns of numbers, as the hull of a job file: it is read once and then stands in the job,
 * where every figure can be looked at and changed.
 */

type Section = Extract<RawHull, { kind: 'segments' | 'spline' }>;
export type SectionReading =
  | { readonly ok: true; readonly hull: Section; readonly layers: readonly string[] }
  | { readonly ok: false; readonly found: string; readonly expected: string };

export type SectionUnit = 'mm' | 'cm' | 'm' | 'in' | 'ft';

export interface DrawingOptions {
  /** Of the drawing's numbers; absent: what its header says. */
  readonly unit?: SectionUnit;
  /** True size over drawn size: 25 for a drawing at 1:25 whose numbers are those of the paper. */
  readonly scale?: number;
  /** Only what is drawn on this layer; absent: all there is. */
  readonly layer?: string;
  /** The drawing's point that is the centreline at the baseline, in its own numbers. */
  readonly zero?: { readonly x: number; readonly y: number };
  /** Axes of the drawing that run outward and up; absent: x and y. */
  readonly axes?: { readonly out: PageAxis; readonly up: PageAxis };
  /** Of a section drawn to both sides: only what lies outward ('right') or beyond the centreline ('left'). */
  readonly half?: 'right' | 'left';
}

export type PageAxis = 'x' | '-x' | 'y' | '-y';

/** Reads a drawing's text: `readDrawing` with the parser of DXF in hand. */
export type DrawingReader = (text: string, options: DrawingOptions) => SectionReading;

/** A stretch from one point to the next, counterclockwise bend positive: tan of a quarter of the angle turned. */
interface Stretch {
  readonly from: Point;
  readonly to: Point;
  readonly bulge: number;
}
interface Point {
  readonly y: number;
  readonly z: number;
}

/** $INSUNITS of the header (DXF reference, HEADER section). */
const HEADER_UNITS: Readonly<Record<number, SectionUnit>> = { 1: 'in', 2: 'ft', 4: 'mm', 5: 'cm', 6: 'm' };
/** mm. Ends that are meant to meet. */
const MEET = 1;
/** Points taken of each span of a drawn spline: the cubic through them is then the spline to hundredths of a millimetre. */
const PER_SPAN = 6;
const MOST = 2000;

const refused = (found: string, expected: string): SectionReading => ({ ok: false, found, expected });

/** As the reader of `drawingReader`, which is loaded first. */
export async function readSectionDrawing(text: string, options: DrawingOptions = {}): Promise<SectionReading> {
  return (await drawingReader())(text, options);
}

/**
 * Loads what reads a drawing: half a section from the lines, arcs, ellipses, polylines and splines of a DXF drawing, also where they
 * stand in blocks. Unless `axes` says otherwise across the page is half-breadth, up the page is height. A half drawn to the left is
 * folded over. Lines and arcs become `segments`; a spline, alone, becomes `spline`.
 */
export async function drawingReader(): Promise<DrawingReader> {
  const loud = hush();
  const { default: DxfParser } = await import('dxf-parser').finally(loud);
  return (text, options) =>
    readDrawing(text, options, (dxf) => {
      const loudAgain = hush();
      try {
        const parser = new DxfParser();
        parser.registerEntityHandler(EllipseReader as unknown as Parameters<typeof parser.registerEntityHandler>[0]);
        return parser.parseSync(dxf);
      } finally {
        loudAgain();
      }
    });
}

/**
 * The parser of DXF talks to the console of what it passes over, and takes hold of it when it is loaded; standard output is the
 * plan's alone. @returns what gives the console its voice back
 */
function hush(): () => void {
  const { log, warn, error, debug, info } = console;
  const mute = () => undefined;
  Object.assign(console, { log: mute, warn: mute, error: mute, debug: mute, info: mute });
  return () => {
    Object.assign(console, { log, warn, error, debug, info });
  };
}

function readDrawing(text: string, options: DrawingOptions, parse: (dxf: string) => IDxf | null): SectionReading {
  let drawn: Drawn;
  let header: Readonly<Record<string, unknown>>;
  try {
    const dxf = parse(text);
    if (dxf === null || !Array.isArray(dxf.entities)) return refused('no entities', 'a DXF drawing in text form');
    drawn = drawnOf(dxf.entities, dxf.blocks ?? {}, options.layer);
    header = (dxf.header ?? {}) as Readonly<Record<string, unknown>>;
  } catch {
    return refused('a file that does not read as DXF', 'a DXF drawing in text form, whole');
  }
  const unit = options.unit ?? HEADER_UNITS[Number(header.$INSUNITS)];
  if (unit === undefined) return refused('a drawing that does not say its unit', 'a unit: mm, cm, m, in or ft');
  const { layers, splines } = drawn;
  const factor = internalPer(unit) * (options.scale ?? 1);
  const { x: x0, y: y0 } = options.zero ?? { x: 0, y: 0 };
  const { out, up } = options.axes ?? { out: 'x', up: 'y' };
  if (out.slice(-1) === up.slice(-1))
    return refused(`${out} outward and ${up} up`, 'two different axes of the drawing');
  const along = (axis: PageAxis, x: number, y: number) =>
    (axis.endsWith('x') ? x : y) * (axis.startsWith('-') ? -1 : 1);
  const place = (p: Spot): Point => ({
    y: along(out, p.x - x0, p.y - y0) * factor,
    z: along(up, p.x - x0, p.y - y0) * factor,
  });
  // Seen in a mirror, what bent counterclockwise bends clockwise.
  const turn = along(out, 1, 0) * along(up, 0, 1) - along(out, 0, 1) * along(up, 1, 0);

  const stretches = halved(
    drawn.pieces.map(({ from, to, bulge }) => ({ from: place(from), to: place(to), bulge: turn * bulge })),
    options.half,
  );
  if (splines.length + stretches.length === 0) {
    const where = options.layer === undefined ? '' : ` on layer ${quoted(options.layer)}`;
    return refused(
      `no line, arc, ellipse, polyline or spline${where}`,
      `a section drawn with them; the layers are ${layers.map(quoted).join(', ') || 'none'}`,
    );
  }
  if (splines.length > 1 || (splines.length === 1 && stretches.length > 0)) {
    return refused(
      `${splines.length} splines and ${stretches.length} lines and arcs`,
      'lines and arcs, or one spline alone: choose a layer',
    );
  }
  const [spline] = splines;
  if (spline !== undefined) return splineHull(spline, place, layers, options.half);
  if (stretches.length > MOST)
    return refused(`${stretches.length} lines and arcs`, `at most ${MOST}: choose the layer of the section`);
  return segmentsHull(stretches, layers);
}

/** What lies on the half that is wanted; a line or an arc across the centreline is cut there. */
function halved(all: readonly Stretch[], half: DrawingOptions['half']): Stretch[] {
  if (half === undefined) return [...all];
  const sign = half === 'left' ? -1 : 1;
  const inside = (p: Point) => sign * p.y >= -MEET / 1000;
  return all.flatMap((s) => parted(s)).filter((s) => inside(s.from) && inside(s.to));
}

/** A stretch cut where it crosses the centreline. */
function parted({ from, to, bulge }: Stretch): Stretch[] {
  const at: number[] = [];
  const sweep = 4 * Math.atan(bulge);
  // Centre of the arc: square to the chord from its middle, by (1 - bulge^2) / (4 bulge) of it.
  const k = bulge === 0 ? 0 : (1 - bulge * bulge) / (4 * bulge);
  const yc = (from.y + to.y) / 2 - k * (to.z - from.z);
  const zc = (from.z + to.z) / 2 + k * (to.y - from.y);
  const radius = Math.hypot(from.y - yc, from.z - zc);
  const first = Math.atan2(from.z - zc, from.y - yc);
  if (bulge === 0) {
    if (from.y * to.y < 0) at.push(from.y / (from.y - to.y));
  } else if (Math.abs(yc) < radius) {
    for (const end of [1, -1]) {
      const angle = Math.atan2(end * Math.sqrt(radius * radius - yc * yc), -yc);
      const t =
        (((((angle - first) * Math.sign(sweep)) % (2 * Math.PI)) + 2 * Math.PI) % (2 * Math.PI)) / Math.abs(sweep);
      if (t > 1e-9 && t < 1 - 1e-9) at.push(t);
    }
  }
  const edges = [0, ...at.sort((p, q) => p - q), 1];
  const point = (t: number): Point => {
    if (t === 0) return from;
    if (t === 1) return to;
    if (bulge === 0) return { y: 0, z: from.z + t * (to.z - from.z) };
    return { y: 0, z: zc + radius * Math.sin(first + t * sweep) };
  };
  return edges.slice(1).map((t, i) => {
    const t0 = edges[i] as number;
    return { from: point(t0), to: point(t), bulge: Math.tan(((t - t0) * sweep) / 4) };
  });
}

const apart = (p: Point, q: Point): number => Math.hypot(p.y - q.y, p.z - q.z);
const reversed = (s: Stretch): Stretch => ({ from: s.to, to: s.from, bulge: -s.bulge });

/** End to end from the centreline outward. */
function segmentsHull(all: readonly Stretch[], layers: readonly string[]): SectionReading {
  const left = all.reduce((sum, s) => sum + s.from.y + s.to.y, 0) < 0;
  const fold = (p: Point): Point => ({ y: left ? -p.y : p.y, z: p.z });
  const rest = all
    .map((s) => ({ from: fold(s.from), to: fold(s.to), bulge: left ? -s.bulge : s.bulge }))
    .filter((s) => apart(s.from, s.to) > 1e-6);
  const ends = rest.flatMap((s) => [s.from, s.to]);
  const loose = ends.filter((p) => ends.filter((q) => apart(p, q) < MEET).length === 1);
  const start = loose.sort((p, q) => p.y + p.z - q.y - q.z)[0];
  if (start === undefined) return refused('a closed outline', 'half a section, open, from the centreline outward');
  const chain: Stretch[] = [];
  let at = start;
  while (rest.length > 0) {
    const k = rest.findIndex((s) => apart(s.from, at) < MEET || apart(s.to, at) < MEET);
    if (k < 0)
      return refused(
        `${rest.length} lines and arcs that do not join the others`,
        'one outline, its pieces end to end within 1 mm: choose its layer',
      );
    const [s] = rest.splice(k, 1) as [Stretch];
    const next = apart(s.from, at) < MEET ? s : reversed(s);
    chain.push({ ...next, from: at });
    at = next.to;
  }
  const low = [start, ...chain.map((s) => s.to)].find((p) => p.y < -MEET);
  if (low !== undefined)
    return refused(
      'a section that crosses the centreline',
      'half a section and the point of the drawing that is on the centreline (zero), or which half to take (half)',
    );
  return {
    ok: true,
    layers,
    hull: {
      kind: 'segments',
      start: point(start),
      path: chain.map(({ from, to, bulge }) => {
        if (Math.abs(bulge) < 1e-9) return { to: point(to) };
        // Sagitta is bulge x half the chord: R = chord (1 + bulge^2) / (4 bulge); counterclockwise has its centre to the left.
        const radius = (apart(from, to) * (1 + bulge * bulge)) / (4 * bulge);
        return { to: point(to), radius: quantityText(radius, 'length', 'metric') };
      }),
    },
  };
}

const point = ({ y, z }: Point) => ({
  y: quantityText(Math.abs(y) < MEET / 1000 ? 0 : Math.max(0, y), 'length', 'metric'),
  z: quantityText(z, 'length', 'metric'),
});

/** Points of a B-spline by de Boor's algorithm (C. de Boor, A Practical Guide to Splines, ch. X; standard). */
function splineHull(
  { degree, control, knots, rational }: DrawnSpline,
  place: (p: Spot) => Point,
  layers: readonly string[],
  half: DrawingOptions['half'],
): SectionReading {
  if (control.length < degree + 1 || knots.length !== control.length + degree + 1 || rational) {
    return refused(
      'a spline without its control points, or one with weights',
      'a plain spline with control points and knots',
    );
  }
  const at = (u: number): Point => {
    let k = degree;
    while (k < control.length - 1 && u >= (knots[k + 1] as number)) k++;
    const d = Array.from({ length: degree + 1 }, (_, j) => place(control[j + k - degree] as Spot));
    for (let r = 1; r <= degree; r++) {
      for (let j = degree; j >= r; j--) {
        const lo = knots[j + k - degree] as number;
        const hi = knots[j + 1 + k - r] as number;
        const t = hi > lo ? (u - lo) / (hi - lo) : 0;
        const [p, q] = [d[j - 1] as Point, d[j] as Point];
        d[j] = { y: p.y + t * (q.y - p.y), z: p.z + t * (q.z - p.z) };
      }
    }
    return d[degree] as Point;
  };
  const spans = [...new Set(knots.slice(degree, control.length + 1))];
  let points: Point[] = [];
  for (let s = 0; s + 1 < spans.length; s++) {
    for (let i = s === 0 ? 0 : 1; i <= PER_SPAN; i++)
      points.push(at((spans[s] as number) + (((spans[s + 1] as number) - (spans[s] as number)) * i) / PER_SPAN));
  }
  if (points.length > MOST || points.length < 2)
    return refused(`a spline of ${spans.length - 1} spans`, 'a spline of at most 300');
  if (half !== undefined) points = onHalf(points, half === 'left' ? -1 : 1);
  if (points.length < 2) return refused(`nothing of the spline on the ${half} half`, 'the half that is drawn');
  if (points.reduce((sum, p) => sum + p.y, 0) < 0) points = points.map((p) => ({ y: -p.y, z: p.z }));
  const [first, last] = [points[0] as Point, points[points.length - 1] as Point];
  if (first.y + first.z > last.y + last.z) points.reverse();
  if (points.some((p) => p.y < -MEET))
    return refused(
      'a section that crosses the centreline',
      'half a section and the point of the drawing that is on the centreline (zero), or which half to take (half)',
    );
  return { ok: true, layers, hull: { kind: 'spline', points: points.map(point) } };
}

/** The points on one half, with one on the centreline where the curve crosses it. */
function onHalf(points: readonly Point[], sign: 1 | -1): Point[] {
  return points.flatMap((p, i) => {
    const before = points[i - 1];
    const crosses = before !== undefined && before.y * p.y < 0;
    const on = crosses ? [{ y: 0, z: before.z + ((p.z - before.z) * before.y) / (before.y - p.y) }] : [];
    return sign * p.y >= -MEET / 1000 ? [...on, p] : on;
  });
}

/** Half a section from pasted columns: half-breadth and height on each line, parted by tab, semicolon, comma or spaces. */
export function readSectionColumns(text: string, unit: SectionUnit): SectionReading {
  const points: Point[] = [];
  for (const [i, row] of text.split(/\r?\n/).entries()) {
    const line = plainText(row);
    if (line === '') continue;
    const cells =
      line.split(/ ?[\t;] ?/).length === 2
        ? line.split(/ ?[\t;] ?/)
        : row.includes('\t')
          ? row.trim().split(/\t+/)
          : line.split(/, | /);
    const pair = cells.length === 2 ? cells : line.split(',');
    const numbers = pair.map((cell) => {
      const reading = readNumber(cell.trim().replace(/^[+-] ?/, ''));
      return reading.ok ? (cell.trim().startsWith('-') ? -reading.value : reading.value) : Number.NaN;
    });
    if (numbers.length !== 2 || numbers.some(Number.isNaN)) {
      if (points.length === 0 && i === 0 && /[a-z]/i.test(line)) continue;
      return refused(`line ${i + 1}: ${quoted(row.trim())}`, 'two numbers on each line, half-breadth and height');
    }
    const [y, z] = numbers as [number, number];
    points.push({ y: y * internalPer(unit), z: z * internalPer(unit) });
  }
  if (points.length < 2) return refused(`${points.length} points`, 'at least 2');
  if (points.every((p) => p.y <= 0)) for (const [i, p] of points.entries()) points[i] = { y: -p.y, z: p.z };
  const bad = points.findIndex((p) => p.y < 0);
  if (bad >= 0) return refused(`point ${bad + 1} beyond the centreline`, 'half a section, all on one side');
  const [first, last] = [points[0] as Point, points[points.length - 1] as Point];
  if (first.y + first.z > last.y + last.z) points.reverse();
  return { ok: true, layers: [], hull: { kind: 'spline', points: points.map(point) } };
}
