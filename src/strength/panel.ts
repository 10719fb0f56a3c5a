import { clampedState, clampPanel, edgeMoment } from './clamped.ts';
import { navierSeries, navierState } from './navier.ts';
import { type Panel, type Patch, surfaceStress } from './platemoments.ts';

/** Terms a side of the double series and harmonics an edge; the accuracy they give is in the tests of the tables. */
export interface PanelTerms {
  readonly series: number;
  readonly edge: number;
}

export const PANEL_TERMS: PanelTerms = { series: 100, edge: 25 };

/** Greatest surface stress of a panel and where, MPa and mm; `atEdge` for a clamped edge. */
export interface PanelPeak {
  readonly stress: number;
  readonly x: number;
  readonly y: number;
  readonly atEdge: boolean;
}

/** The shell panel under a foot, between two bounds of what the frames and longitudinals do to its edges. */
export interface PanelResult {
  readonly simplySupported: PanelPeak;
  readonly clamped: PanelPeak;
  /** Share of the patches' force (sizes added) that stands on this panel; less than 1 where the foot crosses its edge. */
  readonly shareInside: number;
}

/** Points along an edge where a clamped panel's edge moment is looked at. */
const EDGE_POINTS = 60;

/**
 * Elastic bending of a shell panel under patches of force square to it (the weld's line forces on the shell), as a plate of
 * constant thickness, flat, alone, without its membrane: simply supported (Navier) and clamped (superposed edge moments).
 * Stress is looked at under each patch, at the panel's middle and, clamped, along the edges. Patches outside the panel rest on
 * the next one and are left out. mm, N, MPa.
 */
export function panelBending(panel: Panel, patches: readonly Patch[], terms: PanelTerms = PANEL_TERMS): PanelResult {
  const inside = patches.filter((p) => p.x > 0 && p.x < panel.a && p.y > 0 && p.y < panel.b);
  const size = (list: readonly Patch[]): number => list.reduce((sum, p) => sum + Math.abs(p.force), 0);
  const series = navierSeries(panel, inside, terms.series);
  const clamped = clampPanel(series, terms.edge);
  const places = [...inside.map((p) => [p.x, p.y] as const), [panel.a / 2, panel.b / 2] as const];
  let simple: PanelPeak = { stress: 0, x: panel.a / 2, y: panel.b / 2, atEdge: false };
  let held: PanelPeak = simple;
  for (const [x, y] of places) {
    const supported = navierState(series, x, y);
    const free = surfaceStress(supported, panel.thickness);
    if (free > simple.stress) simple = { stress: free, x, y, atEdge: false };
    const fixed = surfaceStress(clampedState(clamped, x, y, supported), panel.thickness);
    if (fixed > held.stress) held = { stress: fixed, x, y, atEdge: false };
  }
  for (const edge of ['x0', 'xa', 'y0', 'yb'] as const) {
    const alongX = edge === 'y0' || edge === 'yb';
    const span = alongX ? panel.a : panel.b;
    for (let i = 1; i < EDGE_POINTS; i++) {
      const along = (span * i) / EDGE_POINTS;
      const m = edgeMoment(clamped, edge, along);
      // A clamped edge does not bend along itself, so the moment along it is nu m and there is no twist.
      const stress = surfaceStress({ deflection: 0, mx: m, my: panel.nu * m, mxy: 0 }, panel.thickness);
      if (stress > held.stress) {
        const across = edge === 'xa' ? panel.a : edge === 'yb' ? panel.b : 0;
        held = { stress, x: alongX ? along : across, y: alongX ? across : along, atEdge: true };
      }
    }
  }
  const all = size(patches);
  return { simplySupported: simple, clamped: held, shareInside: all > 0 ? size(inside) / all : 1 };
}

/** Mean shear through the plating under a line force square to it, MPa: q/t (q N/mm, t mm). Statics: one cut through the plate. */
export const punchingShear = (normalLineForce: number, thickness: number): number =>
  Math.abs(normalLineForce) / thickness;

/**
 * Distance to the nearest of a row of members, mm, signed: member less position. Members stand at origin + k spacing. Plain
 * arithmetic; whether the ship's frames really stand so is the drawing's business.
 */
export function distanceToMember(position: number, spacing: number, origin = 0): number {
  const k = Math.round((position - origin) / spacing);
  const d = origin + k * spacing - position;
  return d === 0 ? 0 : d;
}

/** What the panel check is and is not, to stand beside its figures. */
export const PANEL_SCREENING =
  'Screening only: a flat plate alone between frames and longitudinals, elastic, at its measured thickness, between two bounds ' +
  'of edge support. The engineer has still to judge the frames and longitudinals and their welds, the stresses already in ' +
  'the shell, wasted plating, laminations under the foot, and whether the lug must land on a member or a doubler.';
