import type { Figure } from '../../geometry/phrase.ts';
import { showFigure } from '../job/show.ts';
import type { Display } from '../job/types.ts';
import { internalPer } from '../job/units.ts';
import type { Check, CheckUnit } from '../plan/types.ts';

const MOST_DIGITS = 9;

/** `5.1 % over the limit of 5.0 %`: with as many decimals as it takes for a figure over its limit to look so. */
export function demandAgainstLimit(check: Pick<Check, 'demand' | 'limit' | 'unit'>, display: Display): string {
  for (let more = 0; ; more++) {
    const [demand, limit] = [
      valueText(check.demand, check.unit, more, display),
      valueText(check.limit, check.unit, more, display),
    ];
    if (demand !== limit || more === MOST_DIGITS) return `${demand} against ${limit}`;
  }
}

/** @param more decimals than usual */
function valueText(value: number, unit: CheckUnit, more: number, display: Display): string {
  const figure = (f: Figure) => showFigure(f, display);
  switch (unit) {
    case 'mm':
      return figure({ mm: value, digits: 1 + more });
    case 'rad':
      return figure({ rad: value, digits: 1 + more });
    case 'N':
      return figure({ newton: value, digits: 1 + more });
    case 'MPa':
      return figure({ mpa: value, digits: more });
    case 'N/mm':
      return figure({ newtonPerMm: value, digits: more });
    case 'share':
      return figure({ share: value, digits: 1 + more });
    case 'count':
      return figure({ count: value, digits: more });
    case 'N mm': {
      const kip = internalPer('kip') * internalPer('in');
      return display === 'us' ? `${(value / kip).toFixed(1 + more)} kip in` : `${(value / 1e6).toFixed(2 + more)} kN m`;
    }
  }
}
