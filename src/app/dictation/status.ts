import { showPhrase } from '../../job/show.ts';
import type { Display } from '../../job/types.ts';
import type { Json } from '../store/jsontext.ts';
import type { PlanningState } from '../store/planning.ts';
import { takenIn } from './course.ts';
import { type Needs, needsOf, readingsIn } from './doubt.ts';
import { type Spot, unfelt } from './fitup.ts';

/** How far the readings are, in words, and what there is to know of them. */
export interface Standing {
  readonly words: string;
  readonly enough: boolean;
  readonly needs: Needs | undefined;
}

const many = (n: number, one: string): string => `${n} ${one}${n === 1 ? '' : 's'}`;

/** Of the shell: what is needed still, and which reading would help most. */
export function shellStanding(
  job: Json | undefined,
  text: string,
  planning: Pick<PlanningState, 'shown' | 'trouble'>,
  display: Display,
): Standing {
  const spec = readingsIn(job);
  if (spec === undefined)
    return {
      words: 'Something else in the job is wrong: what is read is kept, but cannot be held against anything yet.',
      enough: false,
      needs: undefined,
    };
  const needs = needsOf(spec);
  const help = needs.help === undefined ? '' : ` Would help most: ${showPhrase(needs.help, display)}.`;
  const still = [
    ...(needs.slopes > 0 ? [many(needs.slopes, 'slope')] : []),
    ...(needs.gaps > 0 ? [many(needs.gaps, 'gap')] : []),
  ];
  if (still.length > 0) return { words: `Needed still: ${still.join(' and ')}.${help}`, enough: false, needs };
  const { trouble, shown } = planning;
  if (trouble?.kind === 'faults' && trouble.text === text) {
    const fault =
      trouble.faults.find((f) => f.path.startsWith('ship.hull') || /\.at(\.|$)/.test(f.path)) ?? trouble.faults[0];
    return {
      words: `Not enough to plan this lug on: found ${fault?.found ?? 'nothing'}. Needed still: ${fault?.expected ?? ''}.`,
      enough: false,
      needs,
    };
  }
  const planned = shown !== null && shown.request.text === text;
  return { words: `${planned ? 'Enough to plan on.' : 'Planning…'}${help}`, enough: planned, needs };
}

/** Of the tacked lug: what has not been read yet, and where the feeler goes next. */
export function fitupStanding(job: Json | undefined, fitting: number, spots: readonly Spot[]): Standing {
  const missing = (['face', 'foot'] as const).filter((p) => takenIn(job, p, fitting).length === 0);
  const left = unfelt(spots, takenIn(job, 'feelers', fitting));
  const still = [
    ...missing.map((p) => (p === 'face' ? 'the face from plumb' : 'the foot from level')),
    ...(left.length > 0 ? [many(left.length, 'gap')] : []),
  ];
  const next = missing.length === 0 && left[0] !== undefined ? ` Next: ${left[0].name}.` : '';
  return {
    words: still.length === 0 ? 'All read.' : `To be read still: ${still.join(', ')}.${next}`,
    enough: still.length === 0,
    needs: undefined,
  };
}
