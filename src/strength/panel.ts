import { type ClampedPanel, clampedStates, clampPanel } from './clamped.ts';
import { edgeSlopes, type NavierSeries, navierSeries, navierStates, type Place, sines } from './navier.ts';
import { type Panel, type Patch, type PlateState, plateStiffness, surfaceStress } from './platemoments.ts';
import { Room } from './room.ts';

/** Terms a side of the double series (at most) and harmonics an edge; the accuracy they give is in the tests of the tables. */
export interface PanelTerms {
  readonly series: number;
  readonly edge: number;
  /** Terms a side and harmonics an edge with which the places are sorted before the full series is summed at the worst. */
  readonly look: { readonly series: number; readonly edge: number };
  /** How many of the worst, of either bound, are summed in full; `Infinity` sums them all. */
  readonly kept: number;
}

export const PANEL_TERMS: PanelTerms = { series: 100, edge: 25, look: { series: 24, edge: 12 }, kept: 2 };

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

/**
 * Terms a side for patches of a size: to the harmonic that a patch spreads to nothing, 2 span/size, and no more than asked. What lies
 * beyond it comes in again with the other sign and a fifth of the size.
 */
function termsFor(panel: Panel, patches: readonly Patch[], most: number): number {
  const least = patches.reduce((size, p) => Math.min(size, p.sizeX, p.sizeY), Number.POSITIVE_INFINITY);
  return Math.min(most, Math.max(LEAST_TERMS, Math.ceil((2 * Math.max(panel.a, panel.b)) / least)));
}

/** Even a panel under one patch as large as itself is summed to this many. */
const LEAST_TERMS = 24;

const insideOf = (panel: Panel, patches: readonly Patch[]): Patch[] =>
  patches.filter((p) => p.x > 0 && p.x < panel.a && p.y > 0 && p.y < panel.b);

const sizeOf = (patches: readonly Patch[]): number => patches.reduce((sum, p) => sum + Math.abs(p.force), 0);

/** Where stress is looked at: under each patch and in the panel's middle. */
const placesOf = (panel: Panel, inside: readonly Patch[]): Place[] => [
  ...inside.map(({ x, y }) => ({ x, y })),
  { x: panel.a / 2, y: panel.b / 2 },
];

/**
 * Elastic bending of a shell panel under patches of force square to it (the weld's line forces on the shell), as a plate of
 * constant thickness, flat, alone, without its membrane: simply supported (Navier) and clamped (superposed edge moments).
 * Stress is looked at under each patch, at the panel's middle and along the edges with their corners: free to turn they are twisted,
 * held they are bent. Patches outside the panel rest on the next one and are left out. mm, N, MPa.
 */
export function panelBending(panel: Panel, patches: readonly Patch[], terms: PanelTerms = PANEL_TERMS): PanelResult {
  return bendingAt(lookAt(panel, patches, terms), terms);
}

/** A peak with the load (and so the panel) that it comes from, by its place in the list, and the share of it that stands on that panel. */
export interface WorstPeak extends PanelPeak {
  readonly load: number;
  readonly shareInside: number;
}

/** The worst of several panels or loads, each bound for itself. */
export interface WorstPanel {
  readonly simplySupported: WorstPeak;
  readonly clamped: WorstPeak;
}

/** What a panel gives, with the load it comes from. */
export const fromLoad = ({ simplySupported, clamped, shareInside }: PanelResult, load: number): WorstPanel => ({
  simplySupported: { ...simplySupported, load, shareInside },
  clamped: { ...clamped, load, shareInside },
});

/** The worse of two, each bound for itself. */
export const worsePanel = (p: WorstPanel, q: WorstPanel): WorstPanel => ({
  simplySupported: q.simplySupported.stress > p.simplySupported.stress ? q.simplySupported : p.simplySupported,
  clamped: q.clamped.stress > p.clamped.stress ? q.clamped : p.clamped,
});

/** Share of the worst panel's stress, at a quick look, from which a panel is worked out in full: the look itself is nearer than that. */
const WORTH_FULL = 0.8;

/**
 * The worst of panels of one size that a foot stands on at once (`loads`: the patches of all of it, as each panel sees them). Panels
 * that a quick look shows to be far from the worst are left out.
 */
export function worstPanelBending(
  panel: Panel,
  loads: readonly (readonly Patch[])[],
  terms: PanelTerms = PANEL_TERMS,
): WorstPanel {
  const looks = loads.map((patches) => lookAt(panel, patches, terms));
  const free = Math.max(...looks.map((look) => look.free));
  const held = Math.max(...looks.map((look) => look.held));
  const full: WorstPanel[] = [];
  looks.forEach((look, load) => {
    const near = look.free >= WORTH_FULL * free || look.held >= WORTH_FULL * held;
    if (near) full.push(fromLoad(bendingAt(look, terms), load));
  });
  return full.reduce(worsePanel);
}

/** The short and the full series of one panel at a time. */
const lookRoom = new Room();
const fullRoom = new Room();

/** Stress by a short series at every place of a panel, and the places worth the full one. */
interface Look {
  readonly panel: Panel;
  readonly inside: readonly Patch[];
  /** Terms a side of the full series. */
  readonly full: number;
  readonly shareInside: number;
  readonly places: readonly Place[];
  readonly free: number;
  readonly held: number;
  /** Whether the edges, free to turn, are twisted so much that it may be the worst of all. */
  readonly twisted: boolean;
}

function lookAt(panel: Panel, patches: readonly Patch[], terms: PanelTerms): Look {
  const inside = insideOf(panel, patches);
  const clamped = clampPanel(navierSeries(panel, inside, terms.look.series, lookRoom), terms.look.edge);
  let [free, held] = [0, 0];
  const looked = stressesAt(clamped, placesOf(panel, inside));
  for (const seen of looked) {
    free = Math.max(free, seen.free);
    held = Math.max(held, seen.held);
  }
  const twist = worstTwist(clamped.series).stress;
  const twisted = twist >= WORTH_FULL * free;
  free = Math.max(free, twist);
  for (const edge of EDGES) held = Math.max(held, edgeStress(panel, worstAlong(clamped[edge]).moment));
  const all = sizeOf(patches);
  return {
    panel,
    inside,
    full: termsFor(panel, patches, terms.series),
    shareInside: all > 0 ? sizeOf(inside) / all : 1,
    places: terms.kept >= looked.length ? looked : worstOf(looked, terms.kept),
    free,
    held,
    twisted,
  };
}

/** Equivalent surface stress at places, edges free and held, MPa. */
const stressesAt = (clamped: ClampedPanel, places: readonly Place[]): Looked[] => {
  const { panel } = clamped.series;
  const supported = navierStates(clamped.series, places);
  const fixed = clampedStates(clamped, places, supported);
  return places.map(({ x, y }, i) => ({
    x,
    y,
    free: surfaceStress(supported[i] as PlateState, panel.thickness),
    held: surfaceStress(fixed[i] as PlateState, panel.thickness),
  }));
};

/** The full series at the places of a look, and the edges. */
function bendingAt({ panel, inside, full, shareInside, places, twisted }: Look, terms: PanelTerms): PanelResult {
  const clamped = clampPanel(navierSeries(panel, inside, full, fullRoom), terms.edge);
  let simple: PanelPeak = { stress: 0, x: panel.a / 2, y: panel.b / 2, atEdge: false };
  let held: PanelPeak = simple;
  for (const { x, y, free, held: fixed } of stressesAt(clamped, places)) {
    if (free > simple.stress) simple = { stress: free, x, y, atEdge: false };
    if (fixed > held.stress) held = { stress: fixed, x, y, atEdge: false };
  }
  if (twisted) {
    const twist = worstTwist(clamped.series);
    if (twist.stress > simple.stress) simple = twist;
  }
  for (const edge of EDGES) {
    const worst = worstAlong(clamped[edge]);
    const stress = edgeStress(panel, worst.moment);
    if (stress > held.stress) held = edgePeak(panel, edge, worst.k, stress);
  }
  return { simplySupported: simple, clamped: held, shareInside };
}

interface Looked extends Place {
  readonly free: number;
  readonly held: number;
}

/** The worst of each bound, the first of equals, without doubles. */
function worstOf(places: readonly Looked[], kept: number): Looked[] {
  const found = new Set<Looked>();
  for (const bound of ['free', 'held'] as const) for (const place of greatest(places, bound, kept)) found.add(place);
  return [...found];
}

/** The greatest few, in falling order: few enough that each is put in its place among them as it comes. */
function greatest(places: readonly Looked[], bound: 'free' | 'held', kept: number): Looked[] {
  const out: Looked[] = [];
  for (const place of places) {
    let k = out.length;
    while (k > 0 && (out[k - 1] as Looked)[bound] < place[bound]) k--;
    if (k >= kept) continue;
    out.splice(k, 0, place);
    if (out.length > kept) out.pop();
  }
  return out;
}

/** sin(i pi k/EDGE_POINTS) by point k, up to the middle, and harmonic i, for each number of harmonics asked for. */
const edgeSines = new Map<number, Float64Array>();

function edgeSinesFor(harmonics: number): Float64Array {
  const known = edgeSines.get(harmonics);
  if (known) return known;
  const table = new Float64Array((EDGE_POINTS / 2 + 1) * harmonics);
  for (let k = 0; 2 * k <= EDGE_POINTS; k++) sines((Math.PI * k) / EDGE_POINTS, harmonics, table, k * harmonics);
  edgeSines.set(harmonics, table);
  return table;
}

/** Edge moments at the points k/EDGE_POINTS of an edge's length, k from 0, into `out`. */
function momentsAlong(moments: Float64Array, out: Float64Array): Float64Array {
  const n = moments.length;
  const table = edgeSinesFor(n);
  for (let k = 1; 2 * k <= EDGE_POINTS; k++) {
    const row = k * n;
    // Odd harmonics are alike on either side of the middle, even ones change sign.
    let odd = 0;
    let even = 0;
    for (let i = 1; i < n; i += 2) {
      odd += (moments[i - 1] as number) * (table[row + i - 1] as number);
      even += (moments[i] as number) * (table[row + i] as number);
    }
    if (n % 2 === 1) odd += (moments[n - 1] as number) * (table[row + n - 1] as number);
    out[k] = odd + even;
    if (2 * k < EDGE_POINTS) out[EDGE_POINTS - k] = odd - even;
  }
  return out;
}

/** Filled anew in each call, so that the edges of a panel leave nothing to collect. */
const atEdge = new Float64Array(EDGE_POINTS);

/** The greatest edge moment in size and where. */
function worstAlong(moments: Float64Array): { readonly moment: number; readonly k: number } {
  const along = momentsAlong(moments, atEdge);
  let k = 0;
  for (let i = 1; i < along.length; i++) if (Math.abs(along[i] as number) > Math.abs(along[k] as number)) k = i;
  return { moment: along[k] as number, k };
}

/** cos(i pi k/EDGE_POINTS) by point k, up to the middle, and harmonic i, for each number of harmonics asked for. */
const edgeCosines = new Map<number, Float64Array>();

function edgeCosinesFor(harmonics: number): Float64Array {
  const known = edgeCosines.get(harmonics);
  if (known) return known;
  const table = new Float64Array((EDGE_POINTS / 2 + 1) * harmonics);
  for (let k = 0; 2 * k <= EDGE_POINTS; k++) {
    for (let i = 1; i <= harmonics; i++) table[k * harmonics + i - 1] = Math.cos((Math.PI * i * k) / EDGE_POINTS);
  }
  edgeCosines.set(harmonics, table);
  return table;
}

/** Points that an edge's twist is looked at: its ends, the corners, too. */
const TWIST_POINTS = EDGE_POINTS + 1;

/** One panel's edges at a time. */
const slopeRoom = new Room();
const atTwist = new Float64Array(EDGES.length * TWIST_POINTS);

/**
 * Twisting moments along the edges of a simply supported panel, mxy = -D (1 - nu) w_xy, N mm/mm: edges in the order of `EDGES`, points k from
 * 0 to EDGE_POINTS. Along such an edge the plate bends neither way, so the twist is all there is.
 */
function twistsAlong(series: NavierSeries, out: Float64Array): Float64Array {
  const { panel, terms } = series;
  const slopes = slopeRoom.list(4 * terms);
  edgeSlopes(series, terms, slopes);
  const table = edgeCosinesFor(terms);
  const d = -plateStiffness(panel) * (1 - panel.nu) * Math.PI;
  EDGES.forEach((edge, e) => {
    const alongX = edge === 'y0' || edge === 'yb';
    // `edgeSlopes` has the edges along x first.
    const from = ((e + 2) % 4) * terms;
    const factor = d / (alongX ? panel.a : panel.b);
    const to = e * TWIST_POINTS;
    for (let k = 0; 2 * k <= EDGE_POINTS; k++) {
      // Even harmonics are alike on either side of the middle, odd ones change sign.
      let odd = 0;
      let even = 0;
      for (let n = 1; n <= terms; n += 2) {
        odd += n * (slopes[from + n - 1] as number) * (table[k * terms + n - 1] as number);
        if (n < terms) even += (n + 1) * (slopes[from + n] as number) * (table[k * terms + n] as number);
      }
      out[to + k] = factor * (odd + even);
      out[to + EDGE_POINTS - k] = factor * (even - odd);
    }
  });
  return out;
}

/** The place where the edges of a simply supported panel are twisted most, corners included. */
function worstTwist(series: NavierSeries): PanelPeak {
  return twistPeak(series.panel, twistsAlong(series, atTwist));
}

function twistPeak(panel: Panel, twists: Float64Array): PanelPeak {
  let at = 0;
  for (let i = 1; i < twists.length; i++) if (Math.abs(twists[i] as number) > Math.abs(twists[at] as number)) at = i;
  const stress = surfaceStress({ deflection: 0, mx: 0, my: 0, mxy: twists[at] as number }, panel.thickness);
  return edgePeak(panel, EDGES[Math.floor(at / TWIST_POINTS)] as Edge, at % TWIST_POINTS, stress);
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
    const series = navierSeries(panel, insideOf(panel, patches), termsFor(panel, first, terms.series));
    const clamped = clampPanel(series, terms.edge);
    const free = navierStates(series, places);
    const held = clampedStates(clamped, places, free);
    return {
      free,
      held,
      edges: EDGES.flatMap((edge) => [...momentsAlong(clamped[edge], atEdge)]),
      twists: [...twistsAlong(series, atTwist)],
    };
  });
  // One row a case: figures of all places after one another.
  const rows = (of: (s: (typeof solved)[number]) => readonly number[]): Float64Array[] =>
    solved.map((s) => Float64Array.from(of(s)));
  const figures = (states: readonly PlateState[]): number[] => states.flatMap(({ mx, my, mxy }) => [mx, my, mxy]);
  const freeAt = rows((s) => figures(s.free));
  const held = rows((s) => figures(s.held));
  const edges = rows((s) => s.edges);
  const twists = rows((s) => s.twists);
  const forces = cases.map((patches) => Float64Array.from(patches, (p) => p.force));

  // Filled anew in each call, so that a sweep leaves nothing to collect.
  const atPlaces = new Float64Array(3 * places.length);
  const atEdges = new Float64Array(EDGES.length * EDGE_POINTS);
  const atPatches = new Float64Array(first.length);
  const twisted = new Float64Array(EDGES.length * TWIST_POINTS);

  const worst = (moments: readonly Float64Array[], shares: readonly number[]): PanelPeak => {
    const m = mixed(moments, shares, atPlaces);
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
    const { x, y } = places[at] as Place;
    return { stress: (6 / panel.thickness ** 2) * Math.sqrt(most), x, y, atEdge: false };
  };

  return (shares) => {
    const clamped = worst(held, shares);
    const along = mixed(edges, shares, atEdges);
    let k = 0;
    for (let i = 1; i < along.length; i++) if (Math.abs(along[i] as number) > Math.abs(along[k] as number)) k = i;
    const edge = edgeStress(panel, along[k] as number);
    const free = worst(freeAt, shares);
    const twist = twistPeak(panel, mixed(twists, shares, twisted));
    let all = 0;
    let on = 0;
    const force = mixed(forces, shares, atPatches);
    for (let i = 0; i < force.length; i++) {
      const size = Math.abs(force[i] as number);
      all += size;
      if (within[i]) on += size;
    }
    return {
      simplySupported: twist.stress > free.stress ? twist : free,
      clamped:
        edge > clamped.stress
          ? edgePeak(panel, EDGES[Math.floor(k / EDGE_POINTS)] as Edge, k % EDGE_POINTS, edge)
          : clamped,
      shareInside: all > 0 ? on / all : 1,
    };
  };
}

/** Sum of rows times their shares, into `out`. */
function mixed(rows: readonly Float64Array[], shares: readonly number[], out: Float64Array): Float64Array {
  out.fill(0);
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
