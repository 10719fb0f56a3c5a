import type { FittingUncertainty } from '../../plan/spreads.ts';
import { statement } from '../sentence/statement.ts';
import { type Json, pathOf, valueIn } from '../store/jsontext.ts';

/** A reading by the name it has in the statement; by its path where no sentence has it. */
export function readingName(job: Json | undefined, path: string): string {
  if (path === 'ship.hull.file') return 'the scatter of the scan itself';
  const index = Number(/^fittings\[(\d+)\]/.exec(path)?.[1] ?? 0);
  const label = job === undefined ? undefined : labelIn(job, index, path);
  if (label !== undefined) return lower(label);
  const name = pathOf(path)
    .map((step) =>
      typeof step === 'number' ? String(step + 1) : step.replace(/([A-Z])/g, (c) => ` ${c.toLowerCase()}`),
    )
    .join(', ');
  return name.replace(/^ship, hull, /, 'of the hull: ').replace(/^ship, /, 'of the ship: ');
}

function labelIn(job: Json, fitting: number, path: string): string | undefined {
  for (const piece of statement(job, fitting).flatMap((group) => group.sentences.flat()))
    if (typeof piece === 'object' && 'quantity' in piece && piece.quantity === path) return piece.label;
  return undefined;
}

const lower = (label: string): string => label.slice(0, 1).toLowerCase() + label.slice(1);

/** As it stands in the job, with its ±. */
export function readingFigure(job: Json | undefined, path: string): string {
  const value = valueIn(job, pathOf(path));
  return typeof value === 'string' ? value : '';
}

/** The share of the errors that a person would call all, most, about half, some of it. */
export function shareWord(share: number): string {
  if (share >= 0.9) return 'nearly all';
  if (share >= 0.6) return 'most';
  if (share >= 0.4) return 'about half';
  return 'a part';
}

/** What explains less than this says little. */
const TELLING = 0.02;

export type Reading = FittingUncertainty['inputs'][number];

/** Readings that tell in bevel, gap or pull, the greatest share of the gap first: it is the gap that the fit is judged by. */
export const telling = (inputs: readonly Reading[]): Reading[] =>
  inputs
    .filter((i) => Math.max(i.bevel, i.gap, i.offPlane) >= TELLING)
    .sort((p, q) => q.gap + q.bevel - (p.gap + p.bevel));
