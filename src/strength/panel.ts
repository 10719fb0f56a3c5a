import { clampedState, clampPanel } from './clamped.ts';
import { navierSeries, navierState, sines } from './navier.ts';
import { type Panel, type Patch, type PlateState, surfaceStress } from './platemoments.ts';

/** Terms a side of the double series and harmonics an edge; the accuracy they give is in the tests of the tables. */
export interface PanelTerms {
  readonly series: number;
  readonly edge: number;
  /** Terms a side and harmonics an edge with which the places are sorted before the full series is summed at the worst. */
  readonly look: { readonly series: number; readonly edge: number };
  /** How many of the worst, of either bound, are summed in full; `Infinity` sums them all. */
  readonly kept: number;
}

export const PANEL_TERMS: PanelTerms = { series: 100, edge: 25, look: { series: 24, edge: 12 }, kept: 3 };

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

/** Points along an edge where a clamped panel's edge moment is looked at: at k/EDGE_POINTS of it. */
const EDGE_POINTS = 60;
const EDGES = ['x0', 'xa', 'y0', 'yb'] as const;
type Edge = (typeof EDGES)[number];

const insideOf = (panel: Panel, patches: readonly Patch[]): Patch[] =>
  patches.filter((p) => p.x > 0 && p.x < panel.a && p.y > 0 && p.y < panel.b);

const sizeOf = (patches: readonly Patch[]): number => patches.reduce((sum, p) => sum + Math.abs(p.force), 0);

/** Where stress is looked at: under each patch and in the panel's middle. */
const placesOf = (panel: Panel, inside: readonly Patch[]): { readonly x: number; readonly y: number }[] => [
  ...inside.map(({ x, y }) => ({ x, y })),
  { x: panel.a / 2, y: panel.b / 2 },
];

/**
 * Elastic bending of a shell panel under patches of force square to it (the weld's line forces on the shell), as a plate of
 * constant thickness, flat, alone, without its membrane: simply supported (Navier) and clamped (superposed edge moments).
 * Stress is looked at under each patch, at the panel's middle and, clamped, along the edges. Patches outside the panel rest on
 * the next one and are left out. mm, N, MPa.
 */
export function panelBending(panel: Panel, patches: readonly Patch[], terms: PanelTerms = PANEL_TERMS): PanelResult {
  const inside = insideOf(panel, patches);
  const series = navierSeries(panel, inside, terms.series);
  const clamped = clampPanel(series, terms.edge);
  const places = placesOf(panel, inside);
  const worth = ({ x, y }: { readonly x: number; readonly y: number }, upTo: PanelTerms['look']): Looked => {
    const supported = navierState(series, x, y, upTo.series);
    const fixed = clampedState(clamped, x, y, supported, upTo.edge);
    return { x, y, free: surfaceStress(supported, panel.thickness), held: surfaceStress(fixed, panel.thickness) };
  };
  const looked =
    terms.kept >= places.length
      ? places
      : worstOf(
          places.map((at) => worth(at, terms.look)),
          terms.kept,
        );
  let simple: PanelPeak = { stress: 0, x: panel.a / 2, y: panel.b / 2, atEdge: false };
  let held: PanelPeak = simple;
  for (const { x, y, free, held: fixed } of looked.map((at) => worth(at, terms))) {
    if (free > simple.stress) simple = { stress: free, x, y, atEdge: false };
    if (fixed > held.stress) held = { stress: fixed, x, y, atEdge: false };
  }
  for (const edge of EDGES) {
    const worst = worstAlong(clamped[edge]);
    const stress = edgeStress(panel, worst.moment);
    if (stress > held.stress) held = edgePeak(panel, edge, worst.k, stress);
  }
  const all = sizeOf(patches);
  return { simplySupported: simple, clamped: held, shareInside: all > 0 ? sizeOf(inside) / all : 1 };
}

interface Looked {
  readonly x: number;
  readonly y: number;
  readonly free: number;
  readonly held: number;
}

/** The first of each order, without doubles. */
function worstOf(places: readonly Looked[], kept: number): Looked[] {
  const free = [...places].sort((p, q) => q.free - p.free).slice(0, kept);
  const held = [...places].sort((p, q) => q.held - p.held).slice(0, kept);
  return [...new Set([...free, ...held])];
}

/** sin(i pi k/EDGE_POINTS) by harmonic i and point k, for the most harmonics asked so far. */
let edgeSines: { readonly harmonics: number; readonly table: Float64Array } = { harmonics: 0, table: new Float64Array(0) };

function edgeSinesFor(harmonics: number): Float64Array {
  if (edgeSines.harmonics !== harmonics) {
    const table = new Float64Array(EDGE_POINTS * harmonics);
    for (let k = 0; k < EDGE_POINTS; k++) sines((Math.PI * k) / EDGE_POINTS, harmonics, table, k * harmonics);
    edgeSines = { harmonics, table };
  }
  return edgeSines.table;
}

/** Edge moments at the points k/EDGE_POINTS of an edge's length, k from 0. */
function momentsAlong(moments: Float64Array): Float64Array {
  const table = edgeSinesFor(moments.length);
  const out = new Float64Array(EDGE_POINTS);
  for (let k = 1; k < EDGE_POINTS; k++) {
    let sum = 0;
    for (let i = 0; i < moments.length; i++) sum += (moments[i] as number) * (table[k * moments.length + i] as number);
    out[k] = sum;
  }
  return out;
}

/** The greatest edge moment in size and where. */
function worstAlong(moments: Float64Array): { readonly moment: number; readonly k: number } {
  const along = momentsAlong(moments);
  let k = 0;
  for (let i = 1; i < along.length; i++) if (Math.abs(along[i] as number) > Math.abs(along[k] as number)) k = i;
  return { moment: along[k] as number, k };
}

/** A clamped edge does not bend along itself, so the moment along it is nu m and there is no twist. */
const edgeStress = (panel: Panel, moment: number): number =>
  surfaceStress({ deflection: 0, mx: moment, my: panel.nu * moment, mxy: 0 }, panel.thickness);

function edgePeak(panel: Panel, edge: Edge, k: number, stress: number): PanelPeak {
  const alongX = edge === 'y0' || edge === 'yb';
  const along = ((alongX ? panel.a : panel.b) * k) / EDGE_POINTS;
  const across = edge === 'xa' ? panel.a : edge === 'yb' ? panel.b : 0;
  return { stress, x: alongX ? along : across, y: alongX ? across : along, atEdge: true };
}

/**
 * A panel under any mix of given loads: `cases` are lists of patches that stand at the same places. Plate bending is linear, so
 * moments at every place are summed once for each case; what comes back mixes them (shares of the cases, one a case) and gives
 * what `panelBending` would for the mixed patches, looking at every place. For sweeps over load directions. mm, N, MPa.
 */
export function panelMixer(
  panel: Panel,
  cases: readonly (readonly Patch[])[],
  terms: PanelTerms = PANEL_TERMS,
): (shares: readonly number[]) => PanelResult {
  const first = cases[0] ?? [];
  const within = first.map((p) => insideOf(panel, [p]).length > 0);
  const places = placesOf(panel, insideOf(panel, first));
  const solved = cases.map((patches) => {
    const series = navierSeries(panel, insideOf(panel, patches), terms.series);
    const clamped = clampPanel(series, terms.edge);
    const free = places.map(({ x, y }) => navierState(series, x, y));
    const held = places.map(({ x, y }, i) => clampedState(clamped, x, y, free[i] as PlateState));
    return { free, held, edges: EDGES.flatMap((edge) => [...momentsAlong(clamped[edge])]) };
  });
  // One row a case: figures of all places after one another.
  const rows = (of: (s: (typeof solved)[number]) => readonly number[]): Float64Array[] =>
    solved.map((s) => Float64Array.from(of(s)));
  const figures = (states: readonly PlateState[]): number[] => states.flatMap(({ mx, my, mxy }) => [mx, my, mxy]);
  const free = rows((s) => figures(s.free));
  const held = rows((s) => figures(s.held));
  const edges = rows((s) => s.edges);
  const forces = cases.map((patches) => Float64Array.from(patches, (p) => p.force));

  const worst = (moments: readonly Float64Array[], shares: readonly number[]): PanelPeak => {
    const m = mixed(moments, shares);
    let most = -1;
    let at = 0;
    for (let k = 0; k < m.length; k += 3) {
      const [mx, my, mxy] = [m[k] as number, m[k + 1] as number, m[k + 2] as number];
      const square = mx * mx + my * my - mx * my + 3 * mxy * mxy;
      if (square > most) {
        most = square;
        at = k / 3;
      }
    }
    const { x, y } = places[at] as { readonly x: number; readonly y: number };
    return { stress: (6 / panel.thickness ** 2) * Math.sqrt(most), x, y, atEdge: false };
  };

  return (shares) => {
    const clamped = worst(held, shares);
    const along = mixed(edges, shares);
    let k = 0;
    for (let i = 1; i < along.length; i++) if (Math.abs(along[i] as number) > Math.abs(along[k] as number)) k = i;
    const edge = edgeStress(panel, along[k] as number);
    let all = 0;
    let on = 0;
    const force = mixed(forces, shares);
    for (let i = 0; i < force.length; i++) {
      const size = Math.abs(force[i] as number);
      all += size;
      if (within[i]) on += size;
    }
    return {
      simplySupported: worst(free, shares),
      clamped:
        edge > clamped.stress
          ? edgePeak(panel, EDGES[Math.floor(k / EDGE_POINTS)] as Edge, k % EDGE_POINTS, edge)
          : clamped,
      shareInside: all > 0 ? on / all : 1,
    };
  };
}

/** Sum of rows times their shares. */
function mixed(rows: readonly Float64Array[], shares: readonly number[]): Float64Array {
  const out = new Float64Array(rows[0]?.length ?? 0);
  for (let j = 0; j < rows.length; j++) {
    const row = rows[j] as Float64Array;
    const share = shares[j] as number;
    for (let i = 0; i < out.length; i++) out[i] = (out[i] as number) + share * (row[i] as number);
  }
  return out;
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
