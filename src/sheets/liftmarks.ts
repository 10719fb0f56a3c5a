import type { Display } from '../job/types.ts';
import { internalPer } from '../job/units.ts';
import type { LiftPlan } from '../plan/movement/types.ts';
import type { Plan } from '../plan/types.ts';
import { type Point, type Sheet, THIN } from './drawing.ts';
import { fixed } from './figures.ts';
import { type Fonts, shortened } from './fonts.ts';
import type { Label } from './labels.ts';
import type { Scene } from './liftscene.ts';
import { forceText } from './liftunits.ts';
import { plainText } from './text.ts';

/*
 * What stands in a picture of the lift besides the things themselves: forces as arrows, the scale. Points come in mm of the ship and go
 * on the page by `on`; words go into `labels`, to be placed when all is drawn.
 */

/** mm on paper. The widest that a name from the job may be in a picture. */
export const NAME = 26;
/** mm on paper. Arrow of the weight. */
const WEIGHT = 5.5;

/** Weight and buoyancy as arrows at the points where they act; gives back their ways. */
export function centres(
  sheet: Sheet,
  plan: Plan,
  lift: LiftPlan,
  { centre, buoyancy }: Scene,
  on: (p: Point) => Point,
  figures: boolean,
  labels: Label[],
): Point[][] {
  if (centre === null) return [];
  const say = (name: string, newton: number) => (figures ? `${name} ${forceText(plan, newton)}` : name);
  const g = on(centre);
  sheet.circle(g.x, g.y, 1.1, { width: 0.3 }, 1, 'CG');
  sheet.circle(g.x, g.y, 0.4, undefined, 0, 'CG');
  const foot = { x: g.x, y: g.y - WEIGHT };
  sheet.arrow({ x: g.x, y: g.y - 1.1 }, foot, { width: 0.35 }, 2, 'WEIGHT');
  labels.push({ text: say('CG', lift.load.weight), at: { x: g.x, y: g.y - 3 } });
  if (buoyancy === null) return [[g, foot]];
  const b = on(buoyancy);
  sheet.circle(b.x, b.y, 0.8, { width: 0.3 }, undefined, 'CB');
  const head = { x: b.x, y: b.y + 4 };
  sheet.arrow({ x: b.x, y: b.y + 0.8 }, head, { width: 0.25 }, 1.6, 'BUOYANCY');
  labels.push({ text: say('CB', lift.load.buoyancy), at: { x: b.x, y: b.y + 2.4 } });
  return [
    [g, foot],
    [b, head],
  ];
}

/** mm on paper. */
const PUSH = 9;

/** Pushes that the job gives a direction, as arrows up to the point where they act; seen nearly end on they are left out. */
export function pushes(
  sheet: Sheet,
  fonts: Fonts,
  plan: Plan,
  scene: Scene,
  on: (p: Point) => Point,
  labels: Label[],
): Point[][] {
  return scene.pushes.map(({ index, at, along }) => {
    const tip = on(at);
    const tail = { x: tip.x - PUSH * along.x, y: tip.y - PUSH * along.y };
    sheet.arrow(tail, tip, { width: 0.35, dash: [1.2, 0.6] }, 2.2, 'PUSH');
    const name = plainText(plan.job.lift?.pushes[index]?.name ?? '');
    labels.push({ text: shortened(fonts, name, 8, NAME), at: tail });
    return [tail, tip];
  });
}

/** A bar of a round length with its figure, from a point to the right. */
export function scaleBar(sheet: Sheet, display: Display, at: Point, scale: number): void {
  const unit = display === 'us' ? 'ft' : 'm';
  const one = internalPer(unit) / scale;
  const count = [0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50].findLast((n) => n * one <= 19) ?? 0.1;
  const long = count * one;
  const x0 = at.x;
  sheet.line(x0, at.y + 1, x0 + long, at.y + 1, { width: 0.5 }, 'SCALE BAR');
  for (const x of [x0, x0 + long]) sheet.line(x, at.y + 0.1, x, at.y + 1.9, THIN, 'SCALE BAR ENDS');
  sheet.text(`${fixed(count, count < 1 ? 1 : 0)} ${unit}`, x0 + long + 1.2, at.y, { size: 8 });
}
