import { dot } from '../../geometry/math/vec.ts';
import type { StrengthInput } from './input.ts';
import { type PanelResult, panelMixer, worsePanel, worstPanelBending } from './panel.ts';
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
  return memberAlong(input) === 'frame' ? x === 0 : y === 0;
}

/** What of a fitting's strength no load changes: made once, used for every direction of a sweep. */
export interface PreparedStrength {
  readonly bed: WeldBed;
  readonly bending: (place: PanelPlace, group: WeldGroupForce) => PanelResult;
}

/** Made ready for one load: the panel is worked out as it is asked for. */
export function preparedOnce(input: StrengthInput): PreparedStrength {
  const layout = patchLayout(input);
  return {
    bed: weldBed(input.root.quadrature.position, input.root.quadrature.weight),
    bending: (place, group) =>
      worstPanelBending(
        panelOf(input),
        anchorsAt(input, place, layout).map(({ x, y }) => cellPatches(layout, group, x, y)),
      ),
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
  const mixers = new Map<PanelPlace, readonly ((shares: readonly number[]) => PanelResult)[]>();
  const mixersAt = (place: PanelPlace) => {
    const known = mixers.get(place);
    if (known) return known;
    const made = anchorsAt(input, place, layout).map(({ x, y }) =>
      panelMixer(
        panelOf(input),
        units.map((group) => cellPatches(layout, group, x, y)),
      ),
    );
    mixers.set(place, made);
    return made;
  };
  return {
    bed,
    bending: (place, group) => {
      // u is force over length whatever the load: the force comes back from it.
      const shares = axes.map((axis) => dot(group.u, axis) * group.length);
      return mixersAt(place)
        .map((mix) => mix(shares))
        .reduce(worsePanel);
    },
  };
}
