import type { Context } from './context.ts';
import type { Point } from './drawing.ts';
import { shopLength } from './figures.ts';
import { plateOutline } from './plate-shape.ts';
import { sideNames, sideWay } from './sides.ts';

/** A corner of the net outline by which the plate can be laid out, or a cut plate measured, without the drawing file. */
export interface PlateCorner {
  readonly name: string;
  /** mm, in the plate's coordinates (a, b). One that stands on both sides of the centre line is given once, on the right. */
  readonly at: Point;
  readonly both: boolean;
  /** mm, b behind a step of the outline; absent where there is none. */
  readonly stepTo?: number;
}

/**
 * Corners of the net outline, the foot from left to right as seen from `face+`, then up the sides. A scribed foot has its ends
 * alone: what lies between is a curve, cut to the template.
 */
export function plateCorners(context: Context): PlateCorner[] {
  const { fitting } = context;
  const names = sideNames(fitting);
  const outline = plateOutline(context);
  // Behind the foot: shoulder, the two ends of the arc, shoulder.
  const foot = outline.slice(0, -4);
  const [shoulder, arc] = outline.slice(-4);
  const shown: { at: Point; stepTo?: number }[] = [];
  foot.forEach((at, i) => {
    const before = shown.at(-1);
    if (before !== undefined && at.x - before.at.x < 1e-6) before.stepTo = at.y;
    else if (fitting.fit.chosen !== 'scribed' || i === 0 || i === foot.length - 1) shown.push({ at });
  });
  return [
    ...shown.map((point, i): PlateCorner => {
      const end = i === 0 ? names['end-'] : i === shown.length - 1 ? names['end+'] : undefined;
      return { name: end === undefined ? 'foot, between two facets' : `foot, ${end}`, both: false, ...point };
    }),
    { name: 'shoulder, both ends', at: shoulder as Point, both: true },
    { name: 'arc begins, both sides', at: arc as Point, both: true },
  ];
}

/** Which way from the centre line: `forward`, `towards the keel`. */
function towards(name: string): string {
  const way = sideWay(name);
  return { keel: 'towards the keel', upper: 'up', lower: 'down' }[way] ?? way;
}

/** Rows of the table of corners: number, name, distance from the centre line, distance from the pin centre along it. */
export function cornerRows(context: Context): string[][] {
  const { fitting, plan } = context;
  const names = sideNames(fitting);
  const { pinHeight } = fitting.input.lug;
  const say = (mm: number) => shopLength(mm, plan.job.display);
  const across = ({ at: { x }, both }: PlateCorner): string => {
    if (both) return `${say(Math.abs(x))} each way`;
    return say(Math.abs(x)) === say(0) ? 'on it' : `${say(Math.abs(x))} ${towards(names[x < 0 ? 'end-' : 'end+'])}`;
  };
  const along = ({ at: { y }, stepTo }: PlateCorner): string => {
    const [here, there] = [say(Math.abs(pinHeight - y)), say(Math.abs(pinHeight - (stepTo ?? y)))];
    return `${withStep(here, there)} ${pinHeight >= y ? 'to the foot' : 'to the top'}`;
  };
  return plateCorners(context).map((corner, i) => [String(i + 1), corner.name, across(corner), along(corner)]);
}

/** A length and the one behind a step; of a step too small for a fraction of an inch the decimals alone differ, and say so. */
export function withStep(here: string, there: string): string {
  if (here === there) return here;
  const [fraction, decimal] = here.split(' (');
  const [otherFraction, other] = there.split(' (');
  if (decimal === undefined || other === undefined || fraction !== otherFraction) return `${here}, step to ${there}`;
  return `${fraction} (${decimal.slice(0, -1)}, step to ${other}`;
}
