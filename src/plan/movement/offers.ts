import type { Phrase } from '../../../geometry/phrase.ts';
import type { Plan } from '../types.ts';
import { bestStanceOf } from './ask.ts';
import type { StanceFreedom, StanceOffer } from './stancetypes.ts';

/** Use of the sideways share from which another stance is looked for. A choice: below it there is little to gain. */
const WORTH = 0.5;
/** rad. A turn or a lean smaller than this is not one that a diver could set. */
const TURN = Math.PI / 360;

/**
 * For every lug that a movement pulls sideways by more than half of what the job allows: the heading that makes the worst of it least, or
 * heading and lean where no heading is enough. Empty without a movement. Each takes a few times as long as the movement itself.
 */
export function stanceOffers(plan: Plan): StanceOffer[] {
  return (plan.lift?.lugs ?? []).flatMap(({ id, checks }) => {
    const sideways = checks.find(({ check }) => check.id === 'lift-sideways');
    if (sideways === undefined || sideways.check.ratio <= WORTH) return [];
    const turned = look(plan, id, { heading: true, lean: false });
    if (turned?.saves === true) return [offer(plan, id, 'heading', turned)];
    const leant = look(plan, id, { heading: true, lean: true }) ?? turned;
    if (leant === undefined) return [];
    return [offer(plan, id, leant === turned ? 'heading' : 'heading-and-lean', leant)];
  });
}

/** The plan with what another stance of its lugs would do. */
export function withOffers(plan: Plan): Plan {
  const offers = stanceOffers(plan);
  return offers.length === 0 ? plan : { ...plan, offers };
}

function look(plan: Plan, id: string, freedom: StanceFreedom): StanceOffer['result'] | undefined {
  const result = bestStanceOf(plan, [id], freedom).lugs[0]?.result;
  return result?.found === true ? result : undefined;
}

function offer(plan: Plan, id: string, freedom: StanceOffer['freedom'], result: StanceOffer['result']): StanceOffer {
  return { id, freedom, result, text: inWords(plan, freedom, result) };
}

function inWords(plan: Plan, freedom: StanceOffer['freedom'], result: StanceOffer['result']): Phrase {
  const { before, best, saves, reason } = result;
  const turn = Math.abs(Math.sin(best.heading - before.heading));
  const lean = freedom === 'heading' ? 0 : Math.abs(best.lean - before.lean);
  if (best === before || (turn < TURN && lean < TURN)) {
    return ['It stands as well as it can where it is. ', ...reason];
  }
  const limit = plan.job.limits.sidewaysShare;
  return [
    'With heading ',
    { rad: best.heading },
    ' (now ',
    { rad: before.heading },
    ')',
    ...(freedom === 'heading'
      ? []
      : ([
          ' and the stem leant ',
          { rad: best.lean },
          ' off square to the shell (now ',
          { rad: before.lean },
          ')',
        ] as const)),
    ' the worst sideways force would be ',
    { newton: best.sideways },
    ' (',
    { share: best.share },
    ') instead of ',
    { newton: before.sideways },
    ' (',
    { share: before.share },
    saves ? '), within the ' : '), still over the ',
    { share: limit },
    saves ? ' allowed. ' : ' allowed: move the lug, or walk the load another way. ',
    ...reason,
  ];
}
