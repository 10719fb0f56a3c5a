import type { Display } from '../job/types.ts';
import type { Context } from './context.ts';
import { lowerEdge } from './cut.ts';
import {
  boundsOf,
  flattened,
  type Item,
  MM_PER_POINT,
  type Point,
  polylineOf,
  type Sheet,
  scaled,
  THIN,
} from './drawing.ts';
import { fixed, shopLength } from './figures.ts';
import { textBox, widthOf } from './fonts.ts';
import { clipped, comesInto } from './planar.ts';
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
  /** Whether the line of the torch stands far enough off the next one to be drawn. */
  readonly torch: boolean;
}

/** mm on paper from line to line, under which the two are one to the eye. */
const TELLS_APART = 0.9;

/** The plate as large as it can be on paper. */
export function fitted(context: Context, width: number, most: number): Picture {
  const items = plateItems(context, false);
  const box = boundsOf(items);
  const room = { width: width - 2 * BESIDE, height: most - UNDER - OVER };
  const scale = Math.min(LARGEST, room.width / (box.x1 - box.x0), room.height / (box.y1 - box.y0));
  // Half the kerf off the stock or, without any, off the net outline.
  const torch = context.options.kerf !== undefined && (scale * context.options.kerf) / 2 >= TELLS_APART;
  const shown = torch ? items : items.filter((item) => item.kind === 'window' || item.layer !== 'TORCH_CENTRE');
  return { items: shown, box, scale, height: scale * (box.y1 - box.y0) + UNDER + OVER, torch };
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
  const [left, right] = [sideWay(names['end-']), sideWay(names['end+'])];
  sheet.text(`◄ ${left.toUpperCase()}`, x, y + 1, { size: 9, bold: true });
  sheet.text(`${right.toUpperCase()} ►`, x + width, y + 1, { size: 9, bold: true, align: 'right' });
  const scale = Math.abs(k - 1) < 1e-9 ? '1:1' : k < 1 ? `1:${fixed(1 / k, 2)}` : `${fixed(k, 2)}:1`;
  sheet.text(`seen from the ${sideWay(names['face+'])} face; scale ${scale}, do not measure`, x + width / 2, y + 1, {
    size: 8,
    align: 'centre',
  });
  // Last: each number where it stands on no line and no word, the inside of the outline first.
  const middle = at(0, lug.pinHeight / 2);
  for (const [i, { at: corner }] of plateCorners(context).entries()) {
    const text = String(i + 1);
    const spot = freeSpot(context, sheet.items, at(corner.x, corner.y), middle, text);
    sheet.text(text, spot.x, spot.y - NUMBER.size * MM_PER_POINT * 0.36, { ...NUMBER, align: 'centre' });
  }
}

const NUMBER = { size: 8, bold: true } as const;
/** mm. How far off its corner a number may stand, and what it keeps off lines and words. */
const AWAY = [3.4, 4.2, 5.2, 6.4, 7.8];
const APART = 0.5;

/** Middle of a place for a number by its corner: over no line and no word, as near as may be, towards `inward` first. */
function freeSpot(context: Context, items: readonly Item[], corner: Point, inward: Point, text: string): Point {
  const half = {
    x: widthOf(context.fonts, text, NUMBER.size, NUMBER.bold) / 2 + APART,
    y: NUMBER.size * MM_PER_POINT * 0.37 + APART,
  };
  const near = AWAY.at(-1) as number;
  const boxes: { x0: number; y0: number; x1: number; y1: number }[] = [];
  const lines: Point[][] = [];
  for (const item of flattened(items)) {
    if (item.kind === 'text') boxes.push(textBox(context.fonts, item));
    else if (item.kind === 'path') {
      const points = polylineOf(item.points, item.closed, 0.05);
      lines.push(item.closed ? [...points, points[0] as Point] : points);
    } else {
      const { centre, radius } = item;
      lines.push(
        Array.from({ length: 121 }, (_, k) => ({
          x: centre.x + radius * Math.cos((k * Math.PI) / 60),
          y: centre.y + radius * Math.sin((k * Math.PI) / 60),
        })),
      );
    }
  }
  const about = lines.flatMap((line) =>
    clipped(
      line.map((p) => ({ x: p.x - corner.x, y: p.y - corner.y })),
      { x: near + 4, y: near + 4 },
    ),
  );
  const start = Math.atan2(inward.y - corner.y, inward.x - corner.x);
  const turns = Array.from({ length: 24 }, (_, k) => ((k % 2 === 0 ? 1 : -1) * Math.ceil(k / 2) * Math.PI) / 12);
  const over = (p: Point): number => {
    const at = { x: corner.x + p.x, y: corner.y + p.y };
    const words = boxes.filter(
      (t) => at.x + half.x > t.x0 && at.x - half.x < t.x1 && at.y + half.y > t.y0 && at.y - half.y < t.y1,
    );
    const crossed = about.filter((line) => comesInto(line, p, half));
    return 2 * words.length + crossed.length;
  };
  let best: { p: Point; over: number } | undefined;
  for (const away of AWAY) {
    for (const turn of turns) {
      const p = { x: away * Math.cos(start + turn), y: away * Math.sin(start + turn) };
      const count = over(p);
      if (best === undefined || count < best.over) best = { p, over: count };
      if (count === 0) break;
    }
    if (best?.over === 0) break;
  }
  const { x, y } = best?.p ?? { x: 0, y: 0 };
  return { x: corner.x + x, y: corner.y + y };
}
