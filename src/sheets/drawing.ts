/**
 * What every sheet is made in: pages with lines, arcs, filled shapes and text. Millimetres, x to the right, y up, origin at
 * the lower left corner of the page. Three writers turn it into PDF, SVG and DXF; none of them adds or leaves out anything.
 */
export interface Point {
  readonly x: number;
  readonly y: number;
}

/** A corner of a path. `bulge` bends the way to the next corner into an arc: the tangent of a quarter of its sweep, left turn positive. */
export interface Vertex extends Point {
  readonly bulge?: number;
}

export interface Pen {
  /** mm. */
  readonly width: number;
  /** mm on, mm off, ... */
  readonly dash?: readonly number[];
  /** 0 black to 1 white; black where absent. */
  readonly grey?: number;
}

export interface PathItem {
  readonly kind: 'path';
  readonly layer: string;
  readonly points: readonly Vertex[];
  readonly closed: boolean;
  readonly pen?: Pen;
  /** Grey of the inside, 0 black to 1 white; not filled where absent. */
  readonly fill?: number;
}

export interface CircleItem {
  readonly kind: 'circle';
  readonly layer: string;
  readonly centre: Point;
  readonly radius: number;
  readonly pen?: Pen;
  readonly fill?: number;
}

export interface TextItem {
  readonly kind: 'text';
  readonly layer: string;
  readonly text: string;
  /** On the base line, at the left, middle or right of the text. */
  readonly at: Point;
  /** Points of 1/72 in. */
  readonly size: number;
  readonly align: Align;
  /** rad, left turn positive. */
  readonly rotation: number;
  readonly bold: boolean;
  readonly italic: boolean;
  readonly grey: number;
}

/** A part of another drawing, moved by (dx, dy) and cut to a window given in page coordinates. */
export interface WindowItem {
  readonly kind: 'window';
  readonly dx: number;
  readonly dy: number;
  readonly clip: { readonly x: number; readonly y: number; readonly width: number; readonly height: number };
  readonly items: readonly Item[];
}

export type Align = 'left' | 'centre' | 'right';
export type Item = PathItem | CircleItem | TextItem | WindowItem;

export interface Page {
  /** mm. */
  readonly width: number;
  readonly height: number;
  readonly items: readonly Item[];
}

export interface Drawing {
  /** Plain text, for the reader's window. */
  readonly title: string;
  readonly pages: readonly Page[];
}

/** mm per point of type. */
export const MM_PER_POINT = 25.4 / 72;

export const THIN: Pen = { width: 0.18 };
const MEDIUM: Pen = { width: 0.35 };
export const HIDDEN: Pen = { width: 0.35, dash: [3, 1.5] };
export const CENTRE: Pen = { width: 0.18, dash: [8, 1.5, 1.5, 1.5] };

export interface TextStyle {
  readonly size?: number;
  readonly align?: Align;
  readonly rotation?: number;
  readonly bold?: boolean;
  readonly italic?: boolean;
  readonly grey?: number;
  readonly layer?: string;
}

/** A page being drawn. */
export class Sheet implements Page {
  readonly width: number;
  readonly height: number;
  readonly items: Item[] = [];

  constructor(width: number, height: number) {
    this.width = width;
    this.height = height;
  }

  path(points: readonly Vertex[], pen: Pen | undefined, layer = 'DRAWING', closed = false, fill?: number): void {
    this.items.push({
      kind: 'path',
      layer,
      points,
      closed,
      ...(pen === undefined ? {} : { pen }),
      ...(fill === undefined ? {} : { fill }),
    });
  }

  line(x0: number, y0: number, x1: number, y1: number, pen: Pen = THIN, layer = 'DRAWING'): void {
    this.path(
      [
        { x: x0, y: y0 },
        { x: x1, y: y1 },
      ],
      pen,
      layer,
    );
  }

  rect(x: number, y: number, width: number, height: number, pen?: Pen, fill?: number, layer = 'DRAWING'): void {
    const points = [
      { x, y },
      { x: x + width, y },
      { x: x + width, y: y + height },
      { x, y: y + height },
    ];
    this.path(points, pen, layer, true, fill);
  }

  circle(x: number, y: number, radius: number, pen?: Pen, fill?: number, layer = 'DRAWING'): void {
    this.items.push({
      kind: 'circle',
      layer,
      centre: { x, y },
      radius,
      ...(pen === undefined ? {} : { pen }),
      ...(fill === undefined ? {} : { fill }),
    });
  }

  text(text: string, x: number, y: number, style: TextStyle = {}): void {
    if (text === '') return;
    this.items.push({
      kind: 'text',
      layer: style.layer ?? 'TEXT',
      text,
      at: { x, y },
      size: style.size ?? 9,
      align: style.align ?? 'left',
      rotation: style.rotation ?? 0,
      bold: style.bold ?? false,
      italic: style.italic ?? false,
      grey: style.grey ?? 0,
    });
  }

  /** A filled arrow head at `tip`, pointing along the direction (dx, dy). */
  arrowHead(tip: Point, dx: number, dy: number, size: number, layer = 'DRAWING', grey = 0): void {
    const long = Math.hypot(dx, dy);
    const ux = dx / long;
    const uy = dy / long;
    const back = { x: tip.x - size * ux, y: tip.y - size * uy };
    const half = 0.42 * size;
    this.path(
      [tip, { x: back.x - half * uy, y: back.y + half * ux }, { x: back.x + half * uy, y: back.y - half * ux }],
      undefined,
      layer,
      true,
      grey,
    );
  }

  /** A line from one point to another with a head at the far end. */
  arrow(from: Point, to: Point, pen: Pen = MEDIUM, size = 2.5, layer = 'DRAWING'): void {
    const dx = to.x - from.x;
    const dy = to.y - from.y;
    const long = Math.hypot(dx, dy);
    if (long === 0) return;
    const stop = Math.max(0, long - 0.9 * size) / long;
    this.line(from.x, from.y, from.x + dx * stop, from.y + dy * stop, pen, layer);
    this.arrowHead(to, dx, dy, size, layer, pen.grey ?? 0);
  }

  /** A dimension line between two points with its text over the middle, read from below or from the right. */
  dimension(from: Point, to: Point, text: string, size = 8, layer = 'DIMENSIONS'): void {
    const mid = { x: (from.x + to.x) / 2, y: (from.y + to.y) / 2 };
    this.arrow(mid, to, THIN, 2, layer);
    this.arrow(mid, from, THIN, 2, layer);
    let turn = Math.atan2(to.y - from.y, to.x - from.x);
    if (turn > Math.PI / 2 + 1e-9) turn -= Math.PI;
    if (turn <= -Math.PI / 2 + 1e-9) turn += Math.PI;
    this.text(text, mid.x - 0.9 * Math.sin(turn), mid.y + 0.9 * Math.cos(turn), {
      size,
      align: 'centre',
      rotation: turn,
      layer,
    });
  }

  add(items: readonly Item[]): void {
    for (const item of items) this.items.push(item);
  }
}

/** Every item of a list as if there were no windows: those moved to where they stand, cut by nothing. */
export function flattened(items: readonly Item[], dx = 0, dy = 0): Exclude<Item, WindowItem>[] {
  return items.flatMap((item): Exclude<Item, WindowItem>[] => {
    switch (item.kind) {
      case 'window':
        return flattened(item.items, dx + item.dx, dy + item.dy);
      case 'path':
        return [{ ...item, points: item.points.map((p) => ({ ...p, x: p.x + dx, y: p.y + dy })) }];
      case 'circle':
        return [{ ...item, centre: { x: item.centre.x + dx, y: item.centre.y + dy } }];
      default:
        return [{ ...item, at: { x: item.at.x + dx, y: item.at.y + dy } }];
    }
  });
}

/** Items about the origin made smaller by k and moved. Text keeps its size. */
export function scaled(items: readonly Item[], k: number, dx: number, dy: number): Item[] {
  return items.map((item): Item => {
    switch (item.kind) {
      case 'path':
        return { ...item, points: item.points.map((p) => ({ ...p, x: dx + k * p.x, y: dy + k * p.y })) };
      case 'circle':
        return { ...item, radius: k * item.radius, centre: { x: dx + k * item.centre.x, y: dy + k * item.centre.y } };
      case 'text':
        return { ...item, at: { x: dx + k * item.at.x, y: dy + k * item.at.y } };
      default:
        return item;
    }
  });
}

/** Box round items, text left out; mm. Arcs count by their whole circle's reach only as far as they sweep. */
export function boundsOf(items: readonly Item[]): { x0: number; y0: number; x1: number; y1: number } {
  const box = { x0: Infinity, y0: Infinity, x1: -Infinity, y1: -Infinity };
  const take = (x: number, y: number): void => {
    box.x0 = Math.min(box.x0, x);
    box.y0 = Math.min(box.y0, y);
    box.x1 = Math.max(box.x1, x);
    box.y1 = Math.max(box.y1, y);
  };
  for (const item of flattened(items)) {
    if (item.kind === 'circle') {
      take(item.centre.x - item.radius, item.centre.y - item.radius);
      take(item.centre.x + item.radius, item.centre.y + item.radius);
    }
    if (item.kind === 'path') for (const p of polylineOf(item.points, item.closed, 0.01)) take(p.x, p.y);
  }
  return box;
}

/** An arc of a path in words: centre, radius, start angle and signed sweep (rad), from p to q by its bulge. */
export function arcOf(p: Vertex, q: Point): { centre: Point; radius: number; start: number; sweep: number } {
  const bulge = p.bulge ?? 0;
  const sweep = 4 * Math.atan(bulge);
  const chord = Math.hypot(q.x - p.x, q.y - p.y);
  const radius = Math.abs(chord / (2 * Math.sin(sweep / 2)));
  // From the middle of the chord, square to it on the left, by the apothem; to the right for a sweep past half a turn.
  const off = chord / (2 * Math.tan(sweep / 2));
  const centre = {
    x: (p.x + q.x) / 2 - (off * (q.y - p.y)) / chord,
    y: (p.y + q.y) / 2 + (off * (q.x - p.x)) / chord,
  };
  return { centre, radius, start: Math.atan2(p.y - centre.y, p.x - centre.x), sweep };
}

/** The path as points with arcs broken into chords that stay within `chord` mm of them. */
export function polylineOf(points: readonly Vertex[], closed: boolean, chord: number): Point[] {
  const out: Point[] = [];
  points.forEach((p, i) => {
    out.push({ x: p.x, y: p.y });
    const q = points[i + 1] ?? (closed ? points[0] : undefined);
    if (q === undefined || p.bulge === undefined || p.bulge === 0) return;
    const { centre, radius, start, sweep } = arcOf(p, q);
    const n = Math.max(2, Math.ceil(Math.abs(sweep) * Math.sqrt(radius / (8 * chord))));
    for (let k = 1; k < n; k++) {
      const angle = start + (sweep * k) / n;
      out.push({ x: centre.x + radius * Math.cos(angle), y: centre.y + radius * Math.sin(angle) });
    }
  });
  return out;
}
