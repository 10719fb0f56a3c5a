import type { Phrase } from '../../geometry/phrase.ts';

/** rad. Less reads as none: 0.005 degrees. */
const LEAST = Math.PI / 36_000;

/** Trim with the end that lies deeper: "0.32° by the stern", "none". @param trim rad, plus by the stern */
export const trimPhrase = (trim: number): Phrase =>
  Math.abs(trim) < LEAST ? ['none'] : [{ rad: Math.abs(trim), digits: 2 }, ` by the ${trim > 0 ? 'stern' : 'bow'}`];

/** Heel with the side that lies lower: "0.40° to starboard", "none". @param heel rad, plus with the starboard side down */
export const heelPhrase = (heel: number): Phrase =>
  Math.abs(heel) < LEAST ? ['none'] : [{ rad: Math.abs(heel), digits: 2 }, ` to ${heel > 0 ? 'starboard' : 'port'}`];
