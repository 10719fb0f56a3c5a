/** The lug's outline in its plane, mm: upright edges from the foot for `shoulder`, then tangents to an arc about the pin. */
export interface LugOutline {
  readonly foot: number;
  readonly thickness: number;
  readonly pinHeight: number;
  readonly hole: number;
  readonly topRadius: number;
  readonly shoulder: number;
}

/**
 * Direction (rad, from A towards B) of the point where the right-hand tangent touches the arc, by
 * h cos phi + (shoulder - pinHeight) sin phi = R for the corner (h, shoulder); NaN where the corner lies inside the arc.
 */
export function tangentDirection(o: LugOutline): number {
  const h = o.foot / 2;
  const drop = o.shoulder - o.pinHeight;
  return Math.atan2(drop, h) + Math.acos(o.topRadius / Math.hypot(h, drop));
}

/** Width of the outline at height b above the foot, mm; the hole is not taken off. 0 above the top. */
export const widthAt = (o: LugOutline, b: number): number => widthWith(tangentDirection(o), o, b);

/** The same where the direction of the tangent point is known. */
function widthWith(phi: number, o: LugOutline, b: number): number {
  if (b <= o.shoulder) return o.foot;
  const y = b - o.pinHeight;
  if (y <= o.topRadius * Math.sin(phi)) return (2 * (o.topRadius - y * Math.sin(phi))) / Math.cos(phi);
  return 2 * Math.sqrt(Math.max(0, o.topRadius ** 2 - y * y));
}

/**
 * Distance from the pin centre to the outline in a direction in the lug's plane (rad, from the stem towards A), mm: the arc's
 * radius, more where the direction meets a tangent, an upright edge or the foot.
 */
export function reachAlong(o: LugOutline, inPlane: number): number {
  const phi = tangentDirection(o);
  const x = Math.abs(Math.sin(inPlane));
  const y = Math.cos(inPlane);
  const direction = Math.atan2(y, x);
  if (direction >= phi) return o.topRadius;
  const away = Math.cos(direction - phi);
  const toTangent = away > 0 ? o.topRadius / away : Number.POSITIVE_INFINITY;
  const toEdge = x > 0 ? o.foot / 2 / x : Number.POSITIVE_INFINITY;
  const toFoot = y < 0 ? -o.pinHeight / y : Number.POSITIVE_INFINITY;
  const atTangent = o.pinHeight + y * toTangent;
  return Math.min(atTangent >= o.shoulder ? toTangent : toEdge, toFoot);
}

/** Load at the pin, N, in the lug frame: along the stem (B), along the foot (A), across the plate (C). */
export interface LugLoad {
  readonly alongStem: number;
  readonly alongFoot: number;
  readonly sideways: number;
}

/** Stresses on a rectangular section square to the stem, MPa. */
export interface SectionStress {
  readonly direct: number;
  readonly inPlane: number;
  readonly outOfPlane: number;
  readonly shear: number;
  /** sqrt(sigma^2 + 3 tau^2), sigma the sum of the three at the worst corner, tau the mean shear. */
  readonly equivalent: number;
}

/**
 * Elastic stresses on a section of `width` x `thickness` at `arm` (mm) below the pin: P/A, alongFoot arm/(t w^2/6),
 * sideways arm/(w t^2/6), mean shear V/A. Sizes only, no signs: the worst corner adds them all. Elementary theory of bending;
 * equivalent stress after von Mises.
 */
export function sectionStress(load: LugLoad, arm: number, width: number, thickness: number): SectionStress {
  const area = width * thickness;
  const direct = Math.abs(load.alongStem) / area;
  const inPlane = (Math.abs(load.alongFoot) * arm) / ((thickness * width ** 2) / 6);
  const outOfPlane = (Math.abs(load.sideways) * arm) / ((width * thickness ** 2) / 6);
  const shear = Math.hypot(load.alongFoot, load.sideways) / area;
  return {
    direct,
    inPlane,
    outOfPlane,
    shear,
    equivalent: Math.hypot(direct + inPlane + outOfPlane, Math.sqrt(3) * shear),
  };
}

/** Steps in which the neck is searched between shoulder and hole: the stress varies slowly, the maximum is flat. */
const NECK_STEPS = 200;

/** The section above the shoulder with the greatest equivalent stress: its height b above the foot, mm. Below the hole only. */
export function worstNeck(o: LugOutline, load: LugLoad): { readonly height: number; readonly stress: SectionStress } {
  const phi = tangentDirection(o);
  const top = o.pinHeight - o.hole / 2;
  const shear = 3 * (load.alongFoot ** 2 + load.sideways ** 2);
  const [b, a, c] = [Math.abs(load.alongStem), 6 * Math.abs(load.alongFoot), 6 * Math.abs(load.sideways)];
  let height = o.shoulder;
  let most = -1;
  for (let i = 0; i <= NECK_STEPS; i++) {
    const at = o.shoulder + ((top - o.shoulder) * i) / NECK_STEPS;
    const width = widthWith(phi, o, at);
    const arm = o.pinHeight - at;
    // `sectionStress` times the thickness, squared: enough to compare.
    const direct = (b + arm * (a / width + c / o.thickness)) / width;
    const square = direct * direct + shear / (width * width);
    if (square > most) {
      most = square;
      height = at;
    }
  }
  return { height, stress: sectionStress(load, o.pinHeight - height, widthAt(o, height), o.thickness) };
}
