import type { Display } from '../job/types.ts';
import type { Context } from './context.ts';
import { lowerEdge } from './cut.ts';
import { boundsOf, type Item, type Sheet, scaled, THIN } from './drawing.ts';
import { fixed, shopLength } from './figures.ts';
import { plateCorners } from './plate-corners.ts';
import { cheekAcross, cheekHeights, outermost, plateItems } from './plate-items.ts';
import { sideNames, sideWay } from './sides.ts';
import { halfWidthAt, sightLineAt } from './template-view.ts';

/** A length as the job gives it: in metric with a second decimal where it has one, as plate rolled in inches does. */
export function givenLength(mm: number, display: Display): string {
  return shopLength(mm, display, Math.abs(mm * 10 - Math.round(mm * 10)) > 1e-3 ? 2 : 1);
}

/** mm. Left and right of the outline for dimensions, and under it for words. */
const BESIDE = 28;
const UNDER = 16;
const OVER = 6;
/** A small lug is drawn larger than it is, up to so much. */
const LARGEST = 2;

export interface Picture {
  readonly items: readonly Item[];
  readonly box: { readonly x0: number; readonly y0: number; readonly x1: number; readonly y1: number };
  /** mm on paper for a mm. */
  readonly scale: number;
  /** mm, with the words under it. */
  readonly height: number;
}

/** The plate as large as it can be on paper. */
export function fitted(context: Context, width: number, most: number): Picture {
  const items = plateItems(context, false);
  const box = boundsOf(items);
  const room = { width: width - 2 * BESIDE, height: most - UNDER - OVER };
  const scale = Math.min(LARGEST, room.width / (box.x1 - box.x0), room.height / (box.y1 - box.y0));
  return { items, box, scale, height: scale * (box.y1 - box.y0) + UNDER + OVER };
}

/** The plate with its dimensions; x and y are its lower left corner on the page. */
export function drawPlate(context: Context, sheet: Sheet, picture: Picture, x: number, y: number, width: number): void {
  const { fitting, plan } = context;
  const { display } = plan.job;
  const { lug } = fitting.input;
  const names = sideNames(fitting);
  const { items, box, scale: k } = picture;
  const dx = x + (width - k * (box.x1 - box.x0)) / 2 - k * box.x0;
  const dy = y + UNDER - k * box.y0;
  sheet.add(scaled(items, k, dx, dy));
  const at = (a: number, b: number) => ({ x: dx + k * a, y: dy + k * b });
  const half = lug.foot / 2;
  const out = k * outermost(context);
  const low = Math.min(...lowerEdge(fitting).map((p) => p.y));
  const say = (mm: number) => givenLength(mm, display);
  const below = at(0, low).y - out - 6.5;
  sheet.dimension({ x: at(-half, 0).x, y: below }, { x: at(half, 0).x, y: below }, say(lug.foot));
  const sight = sightLineAt(context);
  const beside = at(-half, 0).x - out - 5;
  sheet.dimension(
    { x: beside, y: at(0, sight).y },
    { x: beside, y: at(0, lug.pinHeight).y },
    say(lug.pinHeight - sight),
  );
  const angle = 2.1;
  const rim = at(lug.topRadius * Math.cos(angle), lug.pinHeight + lug.topRadius * Math.sin(angle));
  sheet.arrow({ x: rim.x - 9, y: rim.y + 4 }, rim, THIN, 2);
  sheet.text(`R ${say(lug.topRadius)}`, rim.x - 10, rim.y + 4, { size: 8, align: 'right' });
  const bore = at((lug.hole / 2) * Math.cos(2.6), lug.pinHeight + (lug.hole / 2) * Math.sin(2.6));
  const aside = at(-lug.topRadius, lug.pinHeight + 0.35 * lug.topRadius);
  sheet.arrow({ x: aside.x - out - 4, y: aside.y + 1 }, bore, THIN, 2);
  sheet.text(`⌀ ${say(lug.hole)}`, aside.x - out - 5, aside.y, { size: 8, align: 'right' });
  const wide = halfWidthAt(context, sight);
  sheet.text('sight line', at(-wide, sight).x + 7, at(0, sight).y + 1, { size: 8 });
  if (lug.cheek) {
    for (const [i, b] of cheekHeights(context).entries()) {
      const edge = at(cheekAcross(context) + lug.cheek.radius + outermost(context), b);
      sheet.text(`cheek ${i + 1} of 2`, edge.x + 2, edge.y - 1, { size: 8 });
    }
  }
  for (const [i, { at: corner, both }] of plateCorners(context).entries()) {
    // Inside the outline, towards the pin, beside the centre line; at the shoulder below it, clear of the line that leans inward.
    const p = at(corner.x, corner.y);
    const inward = at(0, both && corner.y <= lug.shoulder ? Math.min(0, corner.y - half) : lug.pinHeight);
    const [ux, uy] = [inward.x - p.x, inward.y - p.y];
    const long = Math.hypot(ux, uy) || 1;
    const clear = Math.abs(k * corner.x) < 3 ? 3 : 0;
    sheet.text(String(i + 1), p.x + clear + (4 * ux) / long, p.y + (4 * uy) / long - 1, {
      size: 8,
      bold: true,
      align: 'centre',
    });
  }
  const [left, right] = [sideWay(names['end-']), sideWay(names['end+'])];
  sheet.text(`◄ ${left.toUpperCase()}`, x, y + 1, { size: 9, bold: true });
  sheet.text(`${right.toUpperCase()} ►`, x + width, y + 1, { size: 9, bold: true, align: 'right' });
  const scale = Math.abs(k - 1) < 1e-9 ? '1:1' : k < 1 ? `1:${fixed(1 / k, 2)}` : `${fixed(k, 2)}:1`;
  sheet.text(`seen from the ${sideWay(names['face+'])} face; scale ${scale}, do not measure`, x + width / 2, y + 1, {
    size: 8,
    align: 'centre',
  });
}
