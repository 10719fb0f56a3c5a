import type { Context } from './context.ts';
import type { Point, Sheet } from './drawing.ts';
import { flatFoot } from './flatten.ts';
import { seenBy } from './markout-drawing.ts';
import { turnToLie } from './markout-tiles.ts';
import { spotLetter } from './record-fitup.ts';
import { sideNames, sideWay } from './sides.ts';

/** mm. */
export const SKETCH = 46;
const DEEP = 19;
/** mm. Radius of a letter's disc and its distance off the foot. */
const DISC = 2.7;
const OFF = 4.4;

/** Whether the sketch stands on its head, A to the left and C upward, so that it lies as the mark-out at true size does. */
export function sketchTurned({ plan, fitting }: Context): boolean {
  const flat = flatFoot(plan, fitting);
  const [p, q, r, s] = flat.corners.map(seenBy(flat, turnToLie(flat))) as [Point, Point, Point, Point];
  return q.x + r.x < p.x + s.x;
}

/**
 * The foot as it is looked down on from the pin, not to scale: A to the right and C downward, or both turned half round, so that B points
 * at the reader. Where the feeler goes by its letter, the sides by the words of the job, which way s runs and which way a turn counts.
 */
export function drawFeelerSketch(
  sheet: Sheet,
  context: Context,
  spots: readonly { readonly s: number }[],
  box: { readonly x: number; readonly y: number; readonly width: number },
): void {
  const { fitting } = context;
  const turned = sketchTurned(context);
  const names = sideNames(fitting);
  const wide = box.width * 0.62;
  const x0 = box.x + (box.width - wide) / 2;
  const y0 = box.y + (turned ? 15 : 12);
  const [x1, y1] = [x0 + wide, y0 + DEEP];
  sheet.rect(x0, y0, wide, DEEP, { width: 0.5 });
  const bold = { size: 8, bold: true, align: 'centre' } as const;
  const side = (name: 'face-' | 'face+' | 'end-' | 'end+') => `${name} (${sideWay(names[name])})`;
  const middle = { x: (x0 + x1) / 2, y: (y0 + y1) / 2 };
  sheet.text(side(turned ? 'face+' : 'face-'), middle.x, y1 - 4.4, bold);
  sheet.text(side(turned ? 'face-' : 'face+'), middle.x, y0 + 2, bold);
  sheet.text(side(turned ? 'end+' : 'end-'), x0 + 2, middle.y - 1.1, { ...bold, align: 'left' });
  sheet.text(side(turned ? 'end-' : 'end+'), x1 - 2, middle.y - 1.1, { ...bold, align: 'right' });
  sheet.text('seen from the water, not to scale', middle.x, middle.y - 1.1, { size: 8, align: 'centre' });
  const { corners } = fitting.root;
  // Clockwise from the corner where s begins.
  const round = <T>(four: readonly [T, T, T, T]): readonly T[] =>
    turned ? [four[2], four[3], four[0], four[1]] : four;
  const ends: readonly Point[] = round([
    { x: x0, y: y1 },
    { x: x1, y: y1 },
    { x: x1, y: y0 },
    { x: x0, y: y0 },
  ]);
  const out: readonly Point[] = round([
    { x: 0, y: 1 },
    { x: 1, y: 0 },
    { x: 0, y: -1 },
    { x: -1, y: 0 },
  ]);
  spots.forEach(({ s }, i) => {
    const k = [3, 2, 1, 0].find((each) => s >= (corners[each] as number) - 1e-6) ?? 0;
    const share = (s - (corners[k] as number)) / ((corners[k + 1] as number) - (corners[k] as number));
    const [p, q] = [ends[k], ends[(k + 1) % 4]] as [Point, Point];
    const at = { x: p.x + share * (q.x - p.x), y: p.y + share * (q.y - p.y) };
    const [m, n] = [out[k], out[(k + 3) % 4]] as [Point, Point];
    const way = share < 1e-6 ? { x: (m.x + n.x) / Math.SQRT2, y: (m.y + n.y) / Math.SQRT2 } : m;
    sheet.circle(at.x, at.y, 0.7, undefined, 0);
    const disc = { x: at.x + OFF * way.x, y: at.y + OFF * way.y };
    sheet.circle(disc.x, disc.y, DISC, { width: 0.25 }, 1);
    sheet.text(spotLetter(i), disc.x, disc.y - 1.2, { size: 9, bold: true, align: 'centre' });
  });
  // Along face- from its first corner: the way in which marks count.
  const high = turned ? y0 - 10 : y1 + 10;
  const [start, way] = turned ? [x1, -1] : [x0, 1];
  sheet.arrow({ x: start, y: high }, { x: start + 22 * way, y: high }, { width: 0.35 }, 2.2);
  sheet.line(start, high - 1.5, start, high + 1.5, { width: 0.35 });
  sheet.text('s runs from a this way round', start + 24 * way, high - 1.1, {
    size: 8,
    align: turned ? 'right' : 'left',
  });
  // A quarter of a turn to the left round the foot's middle: over its upper right corner, or under its lower left one.
  const half = turned ? -1 : 1;
  const hub = turned ? { x: x0 + 6, y: high + 1.4 } : { x: x1 - 6, y: high - 2.6 };
  sheet.path(
    [
      { x: hub.x + 4 * half, y: hub.y, bulge: Math.tan(Math.PI / 8) },
      { x: hub.x, y: hub.y + 4 * half },
    ],
    { width: 0.35 },
  );
  sheet.arrowHead({ x: hub.x - half, y: hub.y + 4 * half }, -half, 0, 2.2);
  const words = 'anticlockwise: +';
  if (turned) sheet.text(words, hub.x + 4, high - 1.1, { size: 8 });
  else sheet.text(words, hub.x - 4, high - 1.1, { size: 8, align: 'right' });
}
