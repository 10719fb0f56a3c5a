import type { Context } from './context.ts';
import { lowerEdge } from './cut.ts';
import type { Vertex } from './drawing.ts';
import { STOCK_DEFAULT } from './options.ts';

/** mm. What is left on the outside of the outline for dressing. */
export const stockOf = (context: Context): number => context.options.stock ?? STOCK_DEFAULT;

/**
 * Outline of the plate in (a, b), mm, counterclockwise from the foot's `end-`: the lower of the two foot edges (the plate is
 * cut square through there, then bevelled), upright sides, lines to the arc, the arc as an arc. `stock` grows it outward:
 * sides and lines by so much, the arc by its radius, the foot downward.
 */
export function plateOutline({ fitting }: Context, stock = 0): Vertex[] {
  const { shape, touch } = fitting.body.outline;
  const { topRadius: R, pinHeight: h, shoulder } = shape;
  const half = shape.foot / 2;
  const foot = lowerEdge(fitting).map((p) => ({
    x: p.x <= -half + 1e-9 ? -half - stock : p.x >= half - 1e-9 ? half + stock : p.x,
    y: p.y - stock,
  }));
  const r = R + stock;
  // The line that leaves the shoulder leans at `touch` off the upright; moved out by the stock it meets the side lower down
  // or higher up by stock tan(touch / 2).
  const bend = shoulder + stock * Math.tan(touch / 2);
  const on = (angle: number) => ({ x: r * Math.cos(angle), y: h + r * Math.sin(angle) });
  const sweep = Math.PI - 2 * touch;
  return [
    ...foot,
    { x: half + stock, y: bend },
    { ...on(touch), bulge: Math.tan(sweep / 4) },
    on(Math.PI - touch),
    { x: -half - stock, y: bend },
  ];
}
