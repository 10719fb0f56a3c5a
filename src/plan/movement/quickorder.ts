import type { FootField } from '../../../geometry/fit/footfield.ts';
import { plateNormal, type RootLine, sideAt, vecAt } from '../../../geometry/fit/rootline.ts';
import type { HullSide } from '../../../geometry/hull/shell.ts';
import { clampUnit, dot, type Vec3 } from '../../../geometry/math/vec.ts';
import { rootSequence } from '../../../geometry/sequence/sequence.ts';
import type { Job } from '../../job/types.ts';
import { weldingPosition } from '../../weld/position.ts';
import { extreme, rotationOf } from '../joint.ts';
import type { RootSpot } from '../types.ts';

/** Length of root (mm) that would be welded against a closed vent or whose gas is trapped: as the plan has it, without the joint's openings. */
export function closedLength(job: Job, field: FootField, root: RootLine, side: HullSide, up: Vec3): number {
  const labels = new Float64Array(root.count);
  const points: RootSpot[] = [];
  for (let k = 0; k < root.count; k++) {
    const axis = vecAt(root.tangent, k);
    const of = sideAt(root, k);
    const rotation = rotationOf(axis, vecAt(root.normal, k), plateNormal(field, of), up);
    labels[k] = Number(weldingPosition(Math.asin(clampUnit(Math.abs(dot(axis, up)))), rotation).aws[0]);
    points.push({ s: root.s[k] as number, side: of, height: dot(vecAt(root.position, k), up) });
  }
  const sequence = rootSequence(field, root, up, {
    runLength: job.welding.runLength,
    level: job.limits.level,
    labels,
    lowest: extreme(root, points, up, -1),
    highest: extreme(root, points, up, 1),
    outboard: side === 'port' ? 1 : -1,
  });
  return sequence.sealedLength + sequence.trappedLength;
}
