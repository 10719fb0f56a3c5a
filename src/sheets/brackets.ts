import type { Display } from '../job/types.ts';

/** How a length is to be read on a sheet in US units, where each stands twice; nothing to say in metric ones. */
export const bracketWords = (display: Display): string =>
  display === 'us'
    ? 'Lengths: the fraction is to the nearest 1/32 in, for the tape; the decimal is the length itself. Where they differ, the decimal holds.'
    : '';
