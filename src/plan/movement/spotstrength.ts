import type { LoadAlignment } from '../../../geometry/align/align.ts';
import type { RootLine } from '../../../geometry/fit/rootline.ts';
import type { ShellPoint } from '../../../geometry/hull/shell.ts';
import { type LugFrame, toShip } from '../../../geometry/lug/frame.ts';
import type { Vec3 } from '../../../geometry/math/vec.ts';
import type { Fitting, Job } from '../../job/types.ts';
import { type Case, strengthCase } from '../../strength/case.ts';
import { ratioOf } from '../../strength/check.ts';
import { pinPlateChecks } from '../../strength/checks-pinplate.ts';
import { cheekChecks, lugSectionChecks } from '../../strength/checks-plate.ts';
import { BOW_LIES, riggingChecks } from '../../strength/checks-rigging.ts';
import { weldChecks, weldUse } from '../../strength/checks-weld.ts';
import { weldBed } from '../../strength/weldgroup.ts';
import { strengthInput } from '../strength.ts';
import { shellRatios } from './quickpanel.ts';
import type { SpotPulls } from './spotpulls.ts';

/** A check of the plan as demand over limit. */
export interface Use {
  readonly id: string;
  readonly title: string;
  readonly ratio: number;
}

const notYet = (): never => {
  throw new Error('the panel of a spot is worked out for all its loads at once');
};

/** The strength checks of a lug at a spot under the pulls that decide them, the worst of each. */
export function spotStrength(
  job: Job,
  fitting: Fitting,
  place: ShellPoint,
  frame: LugFrame,
  root: RootLine,
  pulls: SpotPulls,
  up: Vec3,
): Use[] {
  const pin = toShip(frame, 0, fitting.lug.pinHeight, 0);
  const bed = weldBed(root.quadrature.position, root.quadrature.weight);
  const worst = new Map<string, Use>();
  const note = ({ id, title, ratio }: Use): void => {
    const known = worst.get(id);
    if (known === undefined || ratio > known.ratio) worst.set(id, { id, title, ratio });
  };
  // Several lines have a hoist each: those are held against their own lines, not against the resultant.
  const { hoist, ...without } = fitting;
  const rigged = pulls.line === undefined ? fitting : without;
  const caseOf = (load: LoadAlignment): Case =>
    strengthCase(strengthInput(job, rigged, place, frame, pin, root, load, up), { bed, bending: notYet });
  const rigging = (load: LoadAlignment, c: Case): void => {
    for (const found of riggingChecks(c).checks) if (load.force >= pulls.slack || !BOW_LIES.has(found.id)) note(found);
  };
  const plate = (load: LoadAlignment, c: Case): void => {
    for (const found of [...pinPlateChecks(c), ...lugSectionChecks(c), ...cheekChecks(c)]) note(found);
    rigging(load, c);
  };
  const worked = pulls.all.map((load) => {
    const c = caseOf(load);
    const use = weldUse(c);
    plate(load, c);
    for (const found of weldChecks(c, use)) note(found);
    return { case: c, use };
  });
  for (const { id, ratio } of shellRatios(worked)) note({ id, title: SHELL_TITLES[id], ratio });
  for (const load of pulls.plate) plate(load, caseOf(load));
  for (const load of pulls.shackle) rigging(load, caseOf(load));
  const factor = worked[0]?.case.service.factor;
  if (hoist !== undefined && pulls.line !== undefined && factor !== undefined) {
    const ratio = ratioOf(factor * pulls.line, hoist.wll);
    note({ id: 'hoist-wll', title: 'Hoist in the line that pulls most', ratio });
  }
  return [...worst.values()];
}

const SHELL_TITLES = {
  'shell-punching': 'Shell sheared through round the foot',
  'shell-bending': 'Shell panel bent by the lug, edges free to turn (screening)',
  'shell-bending-clamped': 'Shell panel bent by the lug, edges held from turning (screening)',
} as const;
