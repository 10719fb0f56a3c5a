import { shearLimit, stressLimit } from '../../strength/basis.ts';
import type { Case } from '../../strength/case.ts';
import { ratioOf } from '../../strength/check.ts';
import { normalLineForce, type WeldUse } from '../../strength/checks-weld.ts';
import { punchingShear, worstPanelBending } from '../../strength/panel.ts';
import { anchorsAt, panelOf } from '../../strength/prepared.ts';
import { cellPatches, patchLayout } from '../../strength/shellpatches.ts';

/**
 * The shell behind one lug under several loads, as demand over limit by id of the check: what `shellChecks` gives for the worst of them,
 * without its working and without what a doubler would gain. `loads` are cases of one input that differ in their load only; the full
 * series is summed only for those that a short one shows to be near the worst.
 */
export function shellRatios(
  loads: readonly { readonly case: Case; readonly use: WeldUse }[],
): readonly { readonly id: 'shell-punching' | 'shell-bending' | 'shell-bending-clamped'; readonly ratio: number }[] {
  const first = loads[0];
  if (first === undefined) return [];
  const { input, design } = first.case;
  const { shell } = input.steel;
  let most = 0;
  for (const load of loads) {
    for (const q of normalLineForce(load.case, load.use)) most = Math.max(most, Math.abs(q));
  }
  const layout = patchLayout(input);
  const bent = worstPanelBending(
    panelOf(input),
    anchorsAt(input, 'as-it-stands', layout).flatMap(({ x, y }) =>
      loads.flatMap(({ use }) => use.senses.map(({ group }) => cellPatches(layout, group, x, y))),
    ),
  );
  const present = input.panel.stressPresent ?? 0;
  const limit = stressLimit(design, shell.yield);
  return [
    { id: 'shell-punching', ratio: ratioOf(punchingShear(most, shell.thickness), shearLimit(design, shell.yield)) },
    { id: 'shell-bending', ratio: ratioOf(bent.simplySupported.stress + present, limit) },
    { id: 'shell-bending-clamped', ratio: ratioOf(bent.clamped.stress + present, limit) },
  ];
}
