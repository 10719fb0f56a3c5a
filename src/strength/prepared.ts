import { dot } from '../../geometry/math/vec.ts';
import type { StrengthInput } from './input.ts';
import {
  fromLoad,
  type PanelResult,
  panelMixer,
  type WorstPanel,
  type WorstPeak,
  worsePanel,
  worstPanelBending,
} from './panel.ts';
import { STEEL_E } from './pinplate-en.ts';
import type { Panel } from './platemoments.ts';
import { cellPatches, type PatchLayout, patchLayout } from './shellpatches.ts';
import { loadWeldBed, type WeldBed, type WeldGroupForce, weldBed } from './weldgroup.ts';

/** Poisson's ratio of steel. EN 1993-1-1 3.2.6. */
export const STEEL_NU = 0.3;

/** The panel behind the lug as a plate, mm and MPa. */
export const panelOf = ({ panel, steel }: StrengthInput): Panel => ({
  a: panel.frameSpacing,
  b: panel.longitudinalSpacing,
  thickness: steel.shell.thickness,
  e: STEEL_E,
  nu: STEEL_NU,
});

/** Where the anchor stands on the panel, mm from the frame abaft and the longitudinal inboard: the middle where it is not given. */
export const anchorOn = ({ panel }: StrengthInput): { readonly x: number; readonly y: number } => ({
  x: panel.fromFrame ?? panel.frameSpacing / 2,
  y: panel.fromLongitudinal ?? panel.longitudinalSpacing / 2,
});

/** The member that runs more nearly along the foot: the one to set the lug over. */
export const memberAlong = ({ frame, panel }: StrengthInput): 'frame' | 'longitudinal' =>
  Math.abs(dot(frame.foot, panel.girth)) > Math.abs(dot(frame.foot, panel.fore)) ? 'frame' : 'longitudinal';

/** Where the lug is looked at: where it stands, and moved square to its foot onto the member that runs along it. */
export type PanelPlace = 'as-it-stands' | 'over-the-member';

/**
 * Where the anchor lies on each panel that the foot stands on, mm from that panel's own frame abaft and longitudinal inboard: one
 * panel, or those that meet where the foot crosses a member. The worse of them counts.
 */
export function anchorsAt(
  input: StrengthInput,
  place: PanelPlace,
  layout: PatchLayout,
): readonly { readonly x: number; readonly y: number }[] {
  const { frameSpacing: a, longitudinalSpacing: b } = input.panel;
  const stands = anchorOn(input);
  const member = place === 'over-the-member' ? memberAlong(input) : undefined;
  const at = { x: member === 'frame' ? 0 : stands.x, y: member === 'longitudinal' ? 0 : stands.y };
  const panels = new Map<string, { readonly x: number; readonly y: number }>();
  for (const { fore, girth } of layout.cells) {
    const i = Math.floor((at.x + fore) / a);
    const j = Math.floor((at.y + girth) / b);
    const onMember = at.x + fore === i * a || at.y + girth === j * b;
    if (!onMember) panels.set(`${i} ${j}`, { x: at.x - i * a, y: at.y - j * b });
  }
  return panels.size > 0 ? [...panels.values()] : [at];
}

/** True where the lug stands on the member along its foot already. */
export function standsOnMember(input: StrengthInput): boolean {
  const { x, y } = anchorOn(input);
  const { frameSpacing: a, longitudinalSpacing: b } = input.panel;
  return memberAlong(input) === 'frame' ? x === 0 || x === a : y === 0 || y === b;
}

/** A peak of the panel with the anchor as that panel sees it, mm from its own members, and which of the loads gives it. */
export interface PlacedPeak extends WorstPeak {
  readonly anchor: { readonly x: number; readonly y: number };
  readonly group: number;
}

/** The panel behind the lug, worst of the panels that the foot stands on and of the loads, each bound for itself. */
export interface PlacedPanel {
  readonly simplySupported: PlacedPeak;
  readonly clamped: PlacedPeak;
}

/** Loads stand panel by panel, within each one after another of the groups. */
function placedPanel(worst: WorstPanel, anchors: readonly { x: number; y: number }[], groups: number): PlacedPanel {
  const placed = (peak: WorstPeak): PlacedPeak => ({
    ...peak,
    anchor: anchors[Math.floor(peak.load / groups)] as { x: number; y: number },
    group: peak.load % groups,
  });
  return { simplySupported: placed(worst.simplySupported), clamped: placed(worst.clamped) };
}

/** What of a fitting's strength no load changes: made once, used for every direction of a sweep. */
export interface PreparedStrength {
  /** True where it serves a sweep over loads. */
  readonly swept?: boolean;
  readonly bed: WeldBed;
  /** The panel under one or more loads of the weld group (the senses of the sideways allowance). */
  readonly bending: (place: PanelPlace, groups: readonly WeldGroupForce[]) => PlacedPanel;
}

/** Made ready for one load: the panel is worked out as it is asked for. */
export function preparedOnce(input: StrengthInput): PreparedStrength {
  const layout = patchLayout(input);
  return {
    bed: weldBed(input.root.quadrature.position, input.root.quadrature.weight),
    bending: (place, groups) => {
      const anchors = anchorsAt(input, place, layout);
      const loads = anchors.flatMap(({ x, y }) => groups.map((group) => cellPatches(layout, group, x, y)));
      return placedPanel(worstPanelBending(panelOf(input), loads), anchors, groups.length);
    },
  };
}

/**
 * Made ready for a sweep over loads on one fitting: the panel is solved for a unit force along each axis of the lug and mixed.
 * All but `load` and its angles must stay as they are in `input`.
 */
export function preparedForSweep(input: StrengthInput): PreparedStrength {
  const { frame, pin, root } = input;
  const bed = weldBed(root.quadrature.position, root.quadrature.weight);
  const layout = patchLayout(input);
  const axes = [frame.stem, frame.foot, frame.face];
  const units = axes.map((direction) => loadWeldBed(bed, direction, pin));
  const mixers = new Map<PanelPlace, Mixers>();
  const mixersAt = (place: PanelPlace): Mixers => {
    const known = mixers.get(place);
    if (known) return known;
    const anchors = anchorsAt(input, place, layout);
    const made = {
      anchors,
      mix: anchors.map(({ x, y }) =>
        panelMixer(
          panelOf(input),
          units.map((group) => cellPatches(layout, group, x, y)),
        ),
      ),
    };
    mixers.set(place, made);
    return made;
  };
  return {
    swept: true,
    bed,
    bending: (place, groups) => {
      // u is force over length whatever the load: the force comes back from it.
      const shares = groups.map((group) => axes.map((axis) => dot(group.u, axis) * group.length));
      const { anchors, mix } = mixersAt(place);
      const worst = mix
        .flatMap((one, i) => shares.map((of, k) => fromLoad(one(of), i * groups.length + k)))
        .reduce(worsePanel);
      return placedPanel(worst, anchors, groups.length);
    },
  };
}

/** The panels that the foot stands on, each with its response to the axes of the lug. */
interface Mixers {
  readonly anchors: readonly { readonly x: number; readonly y: number }[];
  readonly mix: readonly ((shares: readonly number[]) => PanelResult)[];
}
