import { setIn, valueIn } from '../store/jsontext.ts';
import { parsed } from '../store/parsed.ts';

/** The job planned on another of its sources; the hull it stood on becomes a source to compare with, under its name there. */
export function planOnSource(text: string, index: number, name: string): string {
  const job = parsed(text);
  const hull = valueIn(job, ['ship', 'hull']);
  const other = valueIn(job, ['ship', 'compare', index, 'hull']);
  if (hull === undefined || other === undefined) return text;
  const swapped = setIn(setIn(text, ['ship', 'hull'], other), ['ship', 'compare', index, 'hull'], hull);
  return setIn(swapped, ['ship', 'compare', index, 'name'], name);
}
