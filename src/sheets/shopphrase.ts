import type { Figure, Phrase } from '../../geometry/phrase.ts';
import { bounded, showFigure } from '../job/show.ts';
import type { Display } from '../job/types.ts';
import { gapLength, markStep, shopLength } from './figures.ts';

/** mm. What is measured with a feeler gauge, not with a tape. */
const THIN = 10;

/**
 * An order with its lengths as they are measured in the shop: in US units fraction and decimal, a thin one by its decimal alone where a
 * fraction would say nothing; other figures as everywhere.
 */
export function shopPhrase(order: Phrase, display: Display): string {
  const figure = (part: Figure): string => {
    if (!('mm' in part)) return showFigure(part, display);
    const mm = bounded(part.mm, markStep(display, part.digits ?? 1), part.bound);
    return Math.abs(mm) < THIN ? gapLength(mm, display) : shopLength(mm, display, part.digits ?? 1);
  };
  return order.map((part) => (typeof part === 'string' ? part : figure(part))).join('');
}
