import type { Figure, Phrase } from '../../geometry/phrase.ts';
import { showPhrase } from '../job/show.ts';
import type { Display, Welding } from '../job/types.ts';
import type { FittingPlan } from '../plan/types.ts';
import { block } from './layout.ts';

/** What the weld takes: legs on each side, layers, electrodes, current, time, dives, test plates. */
export function weldLines({ weld }: FittingPlan, welding: Welding, display: Display): string[] {
  const say = (...phrase: Phrase) => showPhrase(phrase, display);
  const { totals, schedule, sides, current, supply } = weld;
  const mm = (value: number): Figure => ({ mm: value, digits: 1 });
  const legs = sides.map((side) => {
    const gap = side.addedForGap > 0 ? say(' (with ', mm(side.addedForGap), ' for the gap)') : '';
    return `${side.side} ${say(mm(side.legAlongPlate), ' x ', mm(side.legSquare))}${gap}, ${side.beads} beads`;
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
