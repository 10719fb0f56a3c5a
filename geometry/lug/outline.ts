import { Refusal } from '../refusal.ts';

/** The lug as it is drawn: mm. See `outlineOf` for the shape. */
export interface LugShape {
  readonly foot: number;
  readonly thickness: number;
  readonly pinHeight: number;
  readonly hole: number;
  readonly topRadius: number;
  readonly shoulder: number;
  readonly cheek?: { readonly radius: number; readonly thickness: number };
}

/**
 * The plate's outline in (a, b), symmetrical about a = 0: upright edges from the foot for `shoulder`, then straight lines
 * tangent to an arc of `topRadius` about the pin centre (0, pinHeight).
 */
export interface LugOutline {
  readonly shape: LugShape;
  /** Where the straight line from the shoulder at a > 0 touches the arc, as an angle from +a about the pin centre, rad. */
  readonly touch: number;
}

/** Throws `Refusal` (field `lug...`) for a lug that cannot be drawn. */
export function outlineOf(shape: LugShape): LugOutline {
  const { foot, pinHeight, hole, topRadius, shoulder, cheek } = shape;
  if (hole >= 2 * topRadius) {
    throw new Refusal(
      'lug-outline',
      'lug.hole',
      [{ mm: hole }],
      ['less than twice the top radius, ', { mm: 2 * topRadius }],
    );
  }
  if (hole / 2 >= pinHeight) {
    throw new Refusal(
      'lug-outline',
      'lug.pinHeight',
      [{ mm: pinHeight }],
      ['more than half the hole, ', { mm: hole / 2 }],
    );
  }
  const reach = Math.hypot(foot / 2, shoulder - pinHeight);
  if (reach < topRadius) {
    throw new Refusal(
      'lug-outline',
      'lug.topRadius',
      [{ mm: topRadius }],
      ['not more than the distance from the pin centre to the end of the shoulder, ', { mm: reach }],
    );
  }
  if (cheek && !(cheek.radius > hole / 2 && cheek.radius <= topRadius)) {
    throw new Refusal(
      'lug-outline',
      'lug.cheek.radius',
      [{ mm: cheek.radius }],
      ['more than half the hole, ', { mm: hole / 2 }, ', and not more than the top radius, ', { mm: topRadius }],
    );
  }
  const touch = Math.atan2(shoulder - pinHeight, foot / 2) + Math.acos(topRadius / reach);
  if (touch >= Math.PI / 2) {
    throw new Refusal(
      'lug-outline',
      'lug.shoulder',
      [{ mm: shoulder }],
      ['low enough for the edge to lean in to the top: below ', { mm: pinHeight + topRadius }],
    );
  }
  return { shape, touch };
}

/** Plane area of the outline above b = 0, without the hole, with the height of its centre (mm^2, mm). Closed form. */
export function outlineArea(outline: LugOutline): { area: number; b: number } {
  const { shape, touch } = outline;
  const { foot, pinHeight: h, topRadius: R, shoulder } = shape;
  const ta = R * Math.cos(touch);
  const tb = h + R * Math.sin(touch);
  // Polygon foot - shoulders - touching points, then the segment of the circle above their chord.
  const corners: [number, number][] = [
    [-foot / 2, 0],
    [foot / 2, 0],
    [foot / 2, shoulder],
    [ta, tb],
    [-ta, tb],
    [-foot / 2, shoulder],
  ];
  let area = 0;
  let moment = 0;
  corners.forEach(([a0, b0], i) => {
    const [a1, b1] = corners[(i + 1) % corners.length] as [number, number];
    const k = (a0 * b1 - a1 * b0) / 2;
    area += k;
    moment += (k * (b0 + b1)) / 3;
  });
  const sweep = Math.PI - 2 * touch;
  const segment = (R * R * (sweep - Math.sin(sweep))) / 2;
  // First moment of the segment about the circle's centre: 2/3 R^3 sin^3(sweep / 2).
  moment += segment * h + (2 / 3) * R ** 3 * Math.sin(sweep / 2) ** 3;
  area += segment;
  return { area, b: moment / area };
}

/** Outline above the foot, from (foot/2, shoulder) over the top to (-foot/2, shoulder); arc chords below `chord` mm. */
export function outlineTop(outline: LugOutline, chord: number): [number, number][] {
  const { shape, touch } = outline;
  const sweep = Math.PI - 2 * touch;
  const n = Math.max(8, Math.ceil(sweep * Math.sqrt(shape.topRadius / (8 * chord))));
  const points: [number, number][] = [[shape.foot / 2, shape.shoulder]];
  for (let i = 0; i <= n; i++) {
    const angle = touch + (sweep * i) / n;
    points.push([shape.topRadius * Math.cos(angle), shape.pinHeight + shape.topRadius * Math.sin(angle)]);
  }
  points.push([-shape.foot / 2, shape.shoulder]);
  return points;
}
