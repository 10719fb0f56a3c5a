import type { Shell } from '../../../geometry/hull/shell.ts';
import { length, scale, type Vec3 } from '../../../geometry/math/vec.ts';
import { Refusal, unlessRefused } from '../../../geometry/refusal.ts';
import type { Assumption, Fitting, Job, LoadSpec } from '../../job/types.ts';
import { quantityText } from '../../job/write.ts';
import { type PullCase, pullAt } from './pulls.ts';
import { pinOf, pullsOf } from './stances.ts';
import { beats } from './ties.ts';

/** A job of which every lug has a pull, with what was taken where the job left it to the movement, and by index of the lug what was not found. */
export interface WithPulls {
  readonly job: Job;
  readonly taken: readonly Assumption[];
  readonly refused: ReadonlyMap<number, Refusal>;
}

/**
 * Gives every lug that has no pull of its own the greatest one of the movement, pushes and all, for the checks of the lug by itself; its
 * sweep over the movement looks at all of them. Lugs that cannot be placed are left as they are: planning them says why.
 */
export function withPullsOfLift(job: Job, shell: Shell, up: Vec3): WithPulls {
  const none: WithPulls = { job, taken: [], refused: new Map() };
  if (!job.fittings.some((fitting) => fitting.pulledByLift)) return none;
  const pulls = unlessRefused(() => pullsOf(job, shell, up));
  if (pulls === undefined) return none;
  const taken: Assumption[] = [];
  const refused = new Map<number, Refusal>();
  const fittings = job.fittings.map((fitting, i): Fitting => {
    if (!fitting.pulledByLift) return fitting;
    const worst = greatest(pulls[i] as PullCase[], pinOf(job, fitting, shell, up));
    if (worst === undefined) {
      refused.set(
        i,
        new Refusal('no-pull', 'load', ['none, and the movement never pulls on this lug'], ['a pull of its own']),
      );
      return fitting;
    }
    const { state, push } = worst.of;
    taken.push({
      path: `fittings[${i}].load`,
      value: quantityText(worst.load.force, 'force', job.display),
      reason: `left to the movement: its greatest pull on this lug, at step ${state + 1}${push === null ? '' : ` under the push “${push}”`}`,
      standing: 'choice',
    });
    return { ...fitting, load: worst.load };
  });
  return { job: { ...job, fittings }, taken, refused };
}

/** The greatest of the movement's pulls, towards the far end of its line where it is one line's. */
function greatest(
  cases: readonly PullCase[],
  pin: Vec3,
): { readonly of: PullCase; readonly load: LoadSpec } | undefined {
  let found: { readonly of: PullCase; readonly load: LoadSpec } | undefined;
  for (const of of cases) {
    if (of.state < 0) continue;
    const pull = pullAt(of, pin);
    const force = length(pull);
    if (!beats(force, found?.load.force ?? 0)) continue;
    const [only, ...others] = of.parts;
    const load =
      only !== undefined && others.length === 0 && 'toward' in only
        ? { toward: only.toward, force }
        : { direction: scale(pull, 1 / force), force };
    found = { of, load };
  }
  return found;
}
