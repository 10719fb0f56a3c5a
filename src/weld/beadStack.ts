import type { StringerBead } from './bead.ts';

/**
 * The cross-section of one side's weld, and how stringers fill it.
 *
 * Section plane, mm, at right angles to the root: the shell is the line y = 0, the plate's edge stands over the origin; x
 * runs along the shell away from the plate, y square to the shell, into the water. The plate's face leaves the corner
 * (0, opening) at the dihedral from +x.
 *
 *            plate face
 *            /
 *   toe  P(t)
 *          /  \        face: flat, at depth t from the corner
 *     (0,R)     \
 *       |         \
 *     (0,0)-------Q(t)----- shell
 *
 * A line at distance d from the corner, parallel to the face, runs from P(d) on the plate to Q(d) on the shell. Layers lie
 * between such lines; the beads of a layer divide both lines in equal parts, so they have equal areas exactly.
 */
export interface WeldSection {
  /** rad, 0..pi exclusive. */
  readonly dihedral: number;
  /** mm, from the plate's corner to the face. */
  readonly throat: number;
  /** mm, root opening the weld makes up; 0 where the fit is tight. */
  readonly opening: number;
}

export type LayerKind = 'root' | 'hot pass' | 'fill' | 'cap';
export type Point = readonly [x: number, y: number];
/** Corners in order, counter-clockwise. */
export type Polygon = readonly Point[];

export interface Bead {
  /** Order in its layer, from 1. */
  readonly bead: number;
  readonly polygon: Polygon;
  readonly area: number;
}

export interface BeadLayer {
  /** From 1, the root. */
  readonly layer: number;
  readonly kind: LayerKind;
  readonly thickness: number;
  /** In the order of welding. */
  readonly beads: readonly Bead[];
}

export interface BeadStack {
  readonly section: WeldSection;
  readonly outline: Polygon;
  /** The whole section: fillet and what fills the gap. */
  readonly area: number;
  readonly layers: readonly BeadLayer[];
  readonly beads: number;
}

/** Which fusion face the first bead of each layer is laid against. */
export type FirstBead = 'shell' | 'plate';

/**
 * Cross-section of the weld, mm2: fillet t^2 tan(psi/2), the strip R t/cos(psi/2) under it, and the wedge R^2 tan(psi/2)/2
 * below the plate's corner. Plain geometry: widths R/cos(psi/2) + 2 d tan(psi/2) integrated over the depth.
 */
export function sectionArea({ dihedral, throat, opening }: WeldSection): number {
  const tangent = Math.tan(dihedral / 2);
  return throat * throat * tangent + (opening * throat) / Math.cos(dihedral / 2) + (opening * opening * tangent) / 2;
}

/**
 * Number of layers that stringers of a size need: a root of one bead, then layers no thicker than a bead.
 * @throws RangeError for a section that has no area.
 */
export function layerCount(section: WeldSection, bead: StringerBead): number {
  const { depth } = rootLayer(section, bead);
  // A rest that is a whole number of layers but for round-off is that number.
  return 1 + Math.ceil((section.throat - depth) / bead.thickness - LAYER_ROUND_OFF);
}

/** Share of a layer that round-off may add. */
const LAYER_ROUND_OFF = 1e-9;

/**
 * Layers and beads of a section, root to cap: stringers only, areas summing to the section.
 *
 * @param layers how many; by default what the section needs. Asked for more, so that layers match round a corner, they
 *   come out thinner.
 * @param first the face the first bead of a layer lies against: the shell by default, so that the later beads temper the
 *   hull's heat-affected zone (a choice).
 * @throws RangeError where the section has no area, or `layers` is no whole number from 1.
 */
export function beadStack(
  section: WeldSection,
  bead: StringerBead,
  layers: number = layerCount(section, bead),
  first: FirstBead = 'shell',
): BeadStack {
  if (!(Number.isInteger(layers) && layers >= 1))
    throw new RangeError(`layers must be a whole number from 1, got ${layers}`);
  const root = rootLayer(section, bead);
  const rootDepth = depthOfRoot(root.depth, section.throat, layers, layers > layerCount(section, bead));
  const built: BeadLayer[] = [];
  built.push({
    layer: 1,
    kind: 'root',
    thickness: rootDepth,
    beads: rootBeads(section, bead, rootDepth, first),
  });
  const thickness = (section.throat - rootDepth) / (layers - 1);
  for (let layer = 2; layer <= layers; layer += 1) {
    const from = rootDepth + (layer - 2) * thickness;
    const to = layer === layers ? section.throat : from + thickness;
    built.push({
      layer,
      kind: layerKind(layer, layers),
      thickness: to - from,
      beads: splitLayer(section, from, to, bead, first),
    });
  }
  return {
    section,
    outline: outlineOf(section, section.throat),
    area: sectionArea(section),
    layers: built,
    beads: built.reduce((sum, layer) => sum + layer.beads.length, 0),
  };
}

/** Name of a layer: root, hot pass, fills, cap; two layers are root and cap, one is the root. */
export function layerKind(layer: number, layers: number): LayerKind {
  if (layer === 1) return 'root';
  if (layer === layers) return 'cap';
  return layer === 2 ? 'hot pass' : 'fill';
}

/** Area of a polygon, mm2, positive counter-clockwise. Plain geometry (shoelace). */
export function polygonArea(polygon: Polygon): number {
  let twice = 0;
  polygon.forEach(([x, y], index) => {
    const [nextX, nextY] = polygon[(index + 1) % polygon.length] as Point;
    twice += x * nextY - nextX * y;
  });
  return twice / 2;
}

/** One layer is all root. More layers than the section needs share the depth as a triangle's do, root twice a layer. */
function depthOfRoot(needed: number, throat: number, layers: number, moreThanNeeded: boolean): number {
  if (layers === 1) return throat;
  return moreThanNeeded ? Math.min(needed, (2 * throat) / (layers + 1)) : needed;
}

/** Depth of the root: where one bead fills it, or the plate's corner where the gap alone takes a bead or more. */
function rootLayer(section: WeldSection, bead: StringerBead): { readonly depth: number } {
  const { dihedral, throat, opening } = section;
  if (!(dihedral > 0 && dihedral < Math.PI && throat > 0 && opening >= 0 && bead.area > 0))
    throw new RangeError('a weld section needs a dihedral between 0 and pi, a throat, an opening from 0 and a bead');
  const tangent = Math.tan(dihedral / 2);
  const rest = bead.area - (opening * opening * tangent) / 2;
  if (rest <= 0) return { depth: 0 };
  // tan d^2 + (R / cos) d - rest = 0, the root that does not cancel.
  const b = opening / Math.cos(dihedral / 2);
  const depth = (2 * rest) / (b + Math.sqrt(b * b + 4 * tangent * rest));
  return { depth: Math.min(throat, depth) };
}

function rootBeads(section: WeldSection, bead: StringerBead, depth: number, first: FirstBead): readonly Bead[] {
  const area = sectionArea({ ...section, throat: depth });
  const polygon = outlineOf(section, depth);
  const wanted = Math.max(1, Math.round(area / bead.area));
  if (wanted === 1) return [{ bead: 1, polygon, area }];
  if (section.opening === 0 || depth === 0) {
    // A triangle: lines from its apex divide the opposite side, and so the area, in equal parts.
    const apex: Point = [0, 0];
    const from: Point = [shellPoint(section, depth), 0];
    const to = platePoint(section, depth);
    return ordered(
      Array.from({ length: wanted }, (_, i) => [
        apex,
        between(from, to, i / wanted),
        between(from, to, (i + 1) / wanted),
      ]),
      area,
      first,
    );
  }
  // Gap and fillet in one layer of several beads: the wedge below the corner first, then the strip above it.
  const wedge: Bead = { bead: 1, polygon: outlineOf(section, 0), area: sectionArea({ ...section, throat: 0 }) };
  const upper = splitLayer(section, 0, depth, bead, first);
  return [wedge, ...upper.map((each) => ({ ...each, bead: each.bead + 1 }))];
}

function splitLayer(
  section: WeldSection,
  from: number,
  to: number,
  bead: StringerBead,
  first: FirstBead,
): readonly Bead[] {
  const area = sliceArea(section, from, to);
  const count = Math.max(1, Math.round(area / bead.area));
  const low: readonly [Point, Point] = [[shellPoint(section, from), 0], platePoint(section, from)];
  const high: readonly [Point, Point] = [[shellPoint(section, to), 0], platePoint(section, to)];
  const polygons: Polygon[] = [];
  for (let i = 0; i < count; i++) {
    const start = i / count;
    const end = (i + 1) / count;
    polygons.push([
      between(low[0], low[1], start),
      between(high[0], high[1], start),
      between(high[0], high[1], end),
      between(low[0], low[1], end),
    ]);
  }
  return ordered(polygons, area, first);
}

function sliceArea(section: WeldSection, from: number, to: number): number {
  const width = (d: number) =>
    section.opening / Math.cos(section.dihedral / 2) + 2 * d * Math.tan(section.dihedral / 2);
  return ((width(from) + width(to)) / 2) * (to - from);
}

function ordered(polygons: readonly Polygon[], area: number, first: FirstBead): readonly Bead[] {
  const inOrder = first === 'shell' ? polygons : [...polygons].reverse();
  return inOrder.map((polygon, index) => ({ bead: index + 1, polygon, area: area / polygons.length }));
}

function outlineOf(section: WeldSection, depth: number): Polygon {
  const root: Point = [0, 0];
  const toe: Point = [shellPoint(section, depth), 0];
  const upper = platePoint(section, depth);
  const corner: Point = [0, section.opening];
  if (section.opening === 0) return [root, toe, upper];
  return depth === 0 ? [root, toe, corner] : [root, toe, upper, corner];
}

/** x on the shell of the line at depth d. */
function shellPoint({ dihedral, opening }: WeldSection, d: number): number {
  return d / Math.cos(dihedral / 2) + opening * Math.tan(dihedral / 2);
}

/** Point on the plate of the line at depth d. */
function platePoint({ dihedral, opening }: WeldSection, d: number): Point {
  const along = d / Math.cos(dihedral / 2);
  return [along * Math.cos(dihedral), opening + along * Math.sin(dihedral)];
}

function between([ax, ay]: Point, [bx, by]: Point, share: number): Point {
  return [ax + (bx - ax) * share, ay + (by - ay) * share];
}
