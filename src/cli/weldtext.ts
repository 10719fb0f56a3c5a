import type { Phrase } from '../../geometry/phrase.ts';
import { showPhrase } from '../job/show.ts';
import type { Display, Welding } from '../job/types.ts';
import type { FittingPlan } from '../plan/types.ts';
import { gapLength, shopLength } from '../sheets/figures.ts';
import { sideNames } from '../sheets/sides.ts';
import { block } from './layout.ts';

/** What the weld takes: legs on each side, layers, electrodes, current, time, dives, test plates. */
export function weldLines(fitting: FittingPlan, welding: Welding, display: Display): string[] {
  const { weld } = fitting;
  const names = sideNames(fitting);
  const say = (...phrase: Phrase) => showPhrase(phrase, display);
  const { totals, schedule, sides, current, supply } = weld;
  const legs = sides.map((side) => {
    const gap = side.addedForGap > 0 ? ` (with ${gapLength(side.addedForGap, display)} for the gap)` : '';
    // As the sheets call them up: what is welded to, not what comes out of the formula.
    const [along, square] = [side.calledLegAlongPlate, side.calledLegSquare].map((leg) => shopLength(leg, display));
    return `${names[side.side]} ${along} x ${square}${gap}, ${side.beads} beads`;
  });
  const layers = Math.max(...sides.map((side) => side.layers));
  const dives =
    schedule === null
      ? 'no bottom time given, so no dives counted'
      : schedule.kind === 'planned'
        ? say({ count: schedule.dives.length }, ' dives of ', { minutes: schedule.terms.bottomTime })
        : say('NO DIVE of the time given holds the least step of work: it takes ', { minutes: schedule.least });
  const amperes =
    current.kind === 'window' && supply !== null
      ? say({ count: current.row.value.amperes[0] }, ' to ', { count: current.row.value.amperes[1] }) +
        ` A ${current.row.value.polarity}, the maker and the procedure decide`
      : 'no current known for this electrode: take the maker’s';
  const plates = weld.testPlates.map(({ aws }) => aws).join(', ');
  const asked = welding.class === undefined ? '' : `; class ${welding.class} of AWS D3.6M${editionText(welding)}`;
  return [
    ...block('Legs', `along the plate x square to it, ${layers} layers: ${legs.join('; ')}`),
    ...block(
      'Weld',
      say(
        { count: totals.electrodes },
        ' electrodes, ',
        { kg: totals.depositKg },
        ' of metal; arc ',
        { minutes: totals.arcMin },
        ', bottom time of the work ',
        { minutes: totals.workMin },
        `: ${dives}; ${amperes}; test plates ${plates}${asked}`,
      ),
    ),
  ];
}

const editionText = ({ edition }: Welding): string => (edition === undefined ? '' : `:${edition}`);
