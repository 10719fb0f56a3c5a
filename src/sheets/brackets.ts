import type { Display } from '../job/types.ts';

/** How a length is to be read on a sheet in US units, where each stands twice; nothing to say in metric ones. */
export const bracketWords = (display: Display): string =>
  display === 'us'
    ? 'Lengths: the fraction to the nearest 1/32 in for the tape, in brackets the length itself; where they differ, the bracket holds.'
    : '';
