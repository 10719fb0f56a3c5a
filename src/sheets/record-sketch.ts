import type { Context } from './context.ts';
import type { Point, Sheet } from './drawing.ts';
import { spotLetter } from './record-fitup.ts';
import { sideNames, sideWay } from './sides.ts';

/** mm. */
export const SKETCH = 46;
const DEEP = 19;
/** mm. Radius of a letter's disc and its distance off the foot. */
const DISC = 2.7;
const OFF = 4.4;

/**
 * The foot as it is looked down on from the pin, not to scale: A to the right and C downward, so that B points at the reader. Where the
 * feeler goes by its letter, the sides by the words of the job, which way s runs and which way a turn counts.
 */
export function drawFeelerSketch(
  sheet: Sheet,
  { fitting }: Context,
  spots: readonly { readonly s: number }[],
  box: { readonly x: number; readonly y: number; readonly width: number },
): void {
  const names = sideNames(fitting);
  const wide = box.width * 0.62;
  const x0 = box.x + (box.width - wide) / 2;
  const y0 = box.y + 12;
  const [x1, y1] = [x0 + wide, y0 + DEEP];
  sheet.rect(x0, y0, wide, DEEP, { width: 0.5 });
  const bold = { size: 8, bold: true, align: 'centre' } as const;
  const side = (name: 'face-' | 'face+' | 'end-' | 'end+') => `${name} (${sideWay(names[name])})`;
  const middle = { x: (x0 + x1) / 2, y: (y0 + y1) / 2 };
  sheet.text(side('face-'), middle.x, y1 - 4.4, bold);
  sheet.text(side('face+'), middle.x, y0 + 2, bold);
  sheet.text(side('end-'), x0 + 2, middle.y - 1.1, { ...bold, align: 'left' });
  sheet.text(side('end+'), x1 - 2, middle.y - 1.1, { ...bold, align: 'right' });
  sheet.text('seen from the pin, not to scale', middle.x, middle.y - 1.1, { size: 8, align: 'centre' });
  const { corners } = fitting.root;
  const ends: readonly Point[] = [
    { x: x0, y: y1 },
    { x: x1, y: y1 },
    { x: x1, y: y0 },
    { x: x0, y: y0 },
  ];
  const out: readonly Point[] = [
    { x: 0, y: 1 },
    { x: 1, y: 0 },
    { x: 0, y: -1 },
    { x: -1, y: 0 },
  ];
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
  const high = y1 + 10;
  sheet.arrow({ x: x0, y: high }, { x: x0 + 22, y: high }, { width: 0.35 }, 2.2);
  sheet.line(x0, high - 1.5, x0, high + 1.5, { width: 0.35 });
  sheet.text('s runs from a this way round', x0 + 24, high - 1.1, { size: 8 });
  // A quarter turn to the left.
  const hub = { x: x1 - 6, y: high - 2.6 };
  sheet.path(
    [
      { x: hub.x + 4, y: hub.y, bulge: Math.tan(Math.PI / 8) },
      { x: hub.x, y: hub.y + 4 },
    ],
    { width: 0.35 },
  );
  sheet.arrowHead({ x: hub.x - 1, y: hub.y + 4 }, -1, 0, 2.2);
  sheet.text('+ turned', hub.x - 4, high - 1.1, { size: 8, align: 'right' });
}
