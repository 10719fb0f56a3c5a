import type {
  IArcEntity,
  IBlock,
  IEllipseEntity,
  IEntity,
  IInsertEntity,
  ILineEntity,
  ILwpolylineEntity,
  IPolylineEntity,
  ISplineEntity,
} from 'dxf-parser';

/*
 * What a drawing shows, in its own numbers: blocks put where they are inserted, as often as they are, turned, mirrored and scaled;
 * ellipses, and circles that a block draws out of round, as arcs.
 */

export interface Spot {
  readonly x: number;
  readonly y: number;
}

/** From one point to the next, counterclockwise bend positive: tan of a quarter of the angle turned. */
export interface Piece {
  readonly from: Spot;
  readonly to: Spot;
  readonly bulge: number;
}

export interface DrawnSpline {
  readonly degree: number;
  readonly control: readonly Spot[];
  readonly knots: readonly number[];
  readonly rational: boolean;
}

export interface Drawn {
  readonly pieces: readonly Piece[];
  readonly splines: readonly DrawnSpline[];
  /** All there are, whatever layer was asked for. */
  readonly layers: readonly string[];
}

/** An ellipse with the side it is seen from: drawn in a mirror its minor axis points the other way. */
type EllipseFromEitherSide = IEllipseEntity & { readonly extrusionDirectionZ: number };

/** Reads ELLIPSE with its extrusion (group 230), which the parser's own reader passes over; group codes of the DXF reference. */
export class EllipseReader {
  readonly ForEntityName = 'ELLIPSE' as const;

  parseEntity(scanner: Scanner, { value: type }: Group): EllipseFromEitherSide {
    const group: Record<number, number> = {};
    let layer = OF_THE_INSERT;
    for (let at = scanner.next(); at.code !== 0 && !scanner.isEOF(); at = scanner.next()) {
      if (at.code === 8) layer = String(at.value);
      else group[at.code] = Number(at.value);
    }
    return {
      type: String(type),
      layer,
      center: { x: group[10] ?? 0, y: group[20] ?? 0, z: 0 },
      majorAxisEndPoint: { x: group[11] ?? 0, y: group[21] ?? 0, z: 0 },
      axisRatio: group[40] ?? 1,
      startAngle: group[41] ?? 0,
      endAngle: group[42] ?? 2 * Math.PI,
      extrusionDirectionZ: group[230] ?? 1,
    } as EllipseFromEitherSide;
  }
}

interface Group {
  readonly code: number;
  readonly value: number | string | boolean;
}
interface Scanner {
  next(): Group;
  isEOF(): boolean;
}

/** Where a block's numbers come to lie: x' = a x + c y + e, y' = b x + d y + f. */
interface Placing {
  readonly a: number;
  readonly b: number;
  readonly c: number;
  readonly d: number;
  readonly e: number;
  readonly f: number;
}
const AS_DRAWN: Placing = { a: 1, b: 0, c: 0, d: 1, e: 0, f: 0 };
/** Drawn seen from below (extrusion downward): x runs the other way (DXF reference, arbitrary axis algorithm). */
const FROM_BELOW: Placing = { ...AS_DRAWN, a: -1 };

const put = (m: Placing, p: Spot): Spot => ({ x: m.a * p.x + m.c * p.y + m.e, y: m.b * p.x + m.d * p.y + m.f });
const after = (m: Placing, n: Placing): Placing => ({
  a: m.a * n.a + m.c * n.b,
  b: m.b * n.a + m.d * n.b,
  c: m.a * n.c + m.c * n.d,
  d: m.b * n.c + m.d * n.d,
  e: m.a * n.e + m.c * n.f + m.e,
  f: m.b * n.e + m.d * n.f + m.f,
});

/** The layer on which what a block has on layer 0 appears is that of the block where it is put (DXF reference). */
const OF_THE_INSERT = '0';
/** Arcs to a whole turn of an ellipse: off it by less than a millionth of its length down to a ratio of 1 to 10. */
const TO_A_TURN = 256;
/** What a drawing that repeats blocks within blocks may come to before it is given up. */
const MOST_INSERTS = 10_000;

/** Everything drawn, blocks resolved; of `layer` alone where it is given. */
export function drawnOf(
  entities: readonly IEntity[],
  blocks: Readonly<Record<string, IBlock>>,
  layer: string | undefined,
): Drawn {
  const pieces: Piece[] = [];
  const splines: DrawnSpline[] = [];
  const layers = new Set<string>();
  let inserts = 0;
  const draw = (e: IEntity, on: string, m: Placing, inside: readonly string[]): void => {
    const own = e.layer === OF_THE_INSERT && inside.length > 0 ? on : e.layer;
    if (e.type === 'INSERT') {
      const insert = e as IInsertEntity;
      const block = blocks[insert.name];
      if (block === undefined || inside.includes(insert.name)) return;
      for (const at of placings(insert, block)) {
        inserts += 1;
        if (inserts > MOST_INSERTS) return;
        for (const part of block.entities ?? []) draw(part, own, after(m, at), [...inside, insert.name]);
      }
      return;
    }
    layers.add(own);
    if (layer !== undefined && own !== layer) return;
    if (e.type === 'SPLINE') splines.push(splineOf(e as ISplineEntity, m));
    else pieces.push(...piecesOf(e, m));
  };
  for (const e of entities) draw(e, e.layer, AS_DRAWN, []);
  return { pieces, splines, layers: [...layers].sort() };
}

/** Where an insert puts its block: once, or in rows and columns. */
function placings(insert: IInsertEntity, block: IBlock): Placing[] {
  const { position, xScale = 1, yScale = 1, rotation = 0, extrusionDirection } = insert;
  const turn = (rotation * Math.PI) / 180;
  const [cos, sin] = [Math.cos(turn), Math.sin(turn)];
  const base = block.position ?? { x: 0, y: 0 };
  const out: Placing[] = [];
  for (let row = 0; row < Math.max(1, insert.rowCount ?? 1); row++) {
    for (let column = 0; column < Math.max(1, insert.columnCount ?? 1); column++) {
      const [dx, dy] = [column * (insert.columnSpacing ?? 0), row * (insert.rowSpacing ?? 0)];
      const there: Placing = {
        a: cos * xScale,
        b: sin * xScale,
        c: -sin * yScale,
        d: cos * yScale,
        e: position.x + cos * dx - sin * dy,
        f: position.y + sin * dx + cos * dy,
      };
      const at = after(there, { ...AS_DRAWN, e: -base.x, f: -base.y });
      out.push((extrusionDirection?.z ?? 1) < 0 ? after(FROM_BELOW, at) : at);
    }
  }
  return out;
}

function piecesOf(e: IEntity, m: Placing): Piece[] {
  if (e.type === 'LINE') {
    const [p, q] = (e as ILineEntity).vertices;
    return p === undefined || q === undefined ? [] : [{ from: put(m, p), to: put(m, q), bulge: 0 }];
  }
  if (e.type === 'ARC') {
    const { center, radius, startAngle, endAngle, extrusionDirectionZ } = e as IArcEntity;
    const at = (t: number): Spot => ({ x: center.x + radius * Math.cos(t), y: center.y + radius * Math.sin(t) });
    return bentPieces(at, startAngle, turnOf(startAngle, endAngle), below(extrusionDirectionZ, m));
  }
  if (e.type === 'ELLIPSE') {
    const { center, majorAxisEndPoint: major, axisRatio, startAngle, endAngle } = e as IEllipseEntity;
    const { extrusionDirectionZ } = e as EllipseFromEitherSide;
    const minor = { x: -major.y * axisRatio, y: major.x * axisRatio };
    const sense = extrusionDirectionZ < 0 ? -1 : 1;
    const at = (t: number): Spot => ({
      x: center.x + major.x * Math.cos(t) + sense * minor.x * Math.sin(t),
      y: center.y + major.y * Math.cos(t) + sense * minor.y * Math.sin(t),
    });
    return fittedArcs((t) => put(m, at(t)), startAngle, turnOf(startAngle, endAngle));
  }
  if (e.type === 'LWPOLYLINE' || e.type === 'POLYLINE') {
    const { vertices, shape, extrusionDirectionZ } = e as ILwpolylineEntity & Pick<IPolylineEntity, 'shape'>;
    const down = extrusionDirectionZ ?? (e as IPolylineEntity).extrusionDirection?.z;
    const there = below(down, m);
    const corners = shape ? [...vertices, vertices[0]] : vertices;
    return corners.slice(1).flatMap((q, k) => {
      const p = corners[k];
      if (p === undefined || q === undefined) return [];
      return polylinePieces(p, q, (p as { bulge?: number }).bulge ?? 0, there);
    });
  }
  return [];
}

const below = (extrusionZ: number | undefined, m: Placing): Placing =>
  (extrusionZ ?? 1) < 0 ? after(m, FROM_BELOW) : m;

/** rad, more than 0: how far it is round from one angle to the other. */
function turnOf(from: number, to: number): number {
  const turn = (((to - from) % (2 * Math.PI)) + 2 * Math.PI) % (2 * Math.PI);
  return turn === 0 ? 2 * Math.PI : turn;
}

/** What a placing scales by where circles stay round under it; its sign: negative where it mirrors. */
function evenScale({ a, b, c, d }: Placing): number | undefined {
  const size = Math.hypot(a, b);
  const mirrored = a * d - b * c < 0 ? -1 : 1;
  const off = Math.hypot(c + mirrored * b, d - mirrored * a);
  return off < 1e-9 * size ? mirrored * size : undefined;
}

/** A circle's arc, from parameter `from` on by `turn`: as it is, or as the ellipse that its placing makes of it. */
function bentPieces(at: (t: number) => Spot, from: number, turn: number, m: Placing): Piece[] {
  const scale = evenScale(m);
  if (scale === undefined) return fittedArcs((t) => put(m, at(t)), from, turn);
  // An arc of a job is the shorter one: more than a half circle is drawn as two, a whole one as three.
  const parts = turn > 1.98 * Math.PI ? 3 : turn > 0.99 * Math.PI ? 2 : 1;
  return Array.from({ length: parts }, (_, k) => ({
    from: put(m, at(from + (turn * k) / parts)),
    to: put(m, at(from + (turn * (k + 1)) / parts)),
    bulge: Math.sign(scale) * Math.tan(turn / parts / 4),
  }));
}

function polylinePieces(p: Spot, q: Spot, bulge: number, m: Placing): Piece[] {
  const scale = evenScale(m);
  if (bulge === 0 || scale !== undefined)
    return [{ from: put(m, p), to: put(m, q), bulge: bulge === 0 ? 0 : Math.sign(scale ?? 1) * bulge }];
  // The centre lies square to the chord from its middle, by (1 - bulge^2) / (4 bulge) of it.
  const k = (1 - bulge * bulge) / (4 * bulge);
  const centre = { x: (p.x + q.x) / 2 - k * (q.y - p.y), y: (p.y + q.y) / 2 + k * (q.x - p.x) };
  const radius = Math.hypot(p.x - centre.x, p.y - centre.y);
  const first = Math.atan2(p.y - centre.y, p.x - centre.x);
  const turn = 4 * Math.atan(bulge);
  const at = (t: number): Spot => ({
    x: centre.x + radius * Math.cos(first + t * Math.sign(turn)),
    y: centre.y + radius * Math.sin(first + t * Math.sign(turn)),
  });
  return fittedArcs((t) => put(m, at(t)), 0, Math.abs(turn));
}

/** A smooth curve as arcs, each through its two ends and the point between. */
function fittedArcs(at: (t: number) => Spot, from: number, turn: number): Piece[] {
  const parts = Math.max(2, Math.ceil((TO_A_TURN * turn) / (2 * Math.PI)));
  return Array.from({ length: parts }, (_, k) => {
    const [p, middle, q] = [k, k + 0.5, k + 1].map((j) => at(from + (turn * j) / parts)) as [Spot, Spot, Spot];
    const [u, v] = [
      { x: middle.x - p.x, y: middle.y - p.y },
      { x: q.x - middle.x, y: q.y - middle.y },
    ];
    // The two chords of half an arc each stand at half the angle that the arc turns.
    const half = Math.atan2(u.x * v.y - u.y * v.x, u.x * v.x + u.y * v.y);
    return { from: p, to: q, bulge: Math.tan(half / 2) };
  });
}

function splineOf(e: ISplineEntity, m: Placing): DrawnSpline {
  return {
    degree: e.degreeOfSplineCurve,
    control: (e.controlPoints ?? []).map((p) => put(m, p)),
    knots: e.knotValues ?? [],
    rational: e.rational === true,
  };
}
