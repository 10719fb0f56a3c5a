import { expect, test } from 'vitest';
import { spokenFigure } from '../../../src/app/dictation/spoken.ts';

/* Digits one by one and "decimal" for the point: common practice of voice procedure, no source. */
test.each([
  ['14.5 deg', 'one four decimal five degrees'],
  ['250 mm', 'two five zero millimetres'],
  ['1 mm', 'one millimetre'],
  ['1,5 m', 'one decimal five metres'],
  ['.8 mm', 'decimal eight millimetres'],
  ['12 1/8 in', 'one two and one eighth inches'],
  ['3/16 in', 'three sixteenths inches'],
  ['5 ft 6 1/2 in', 'five feet six and one half inches'],
  ['6½ in', 'six and one half inches'],
  ['14.5 deg ± 0.2 deg', 'one four decimal five degrees plus or minus zero decimal two degrees'],
  ['-3 deg', 'minus three degrees'],
  ['−3°', 'minus three degrees'],
  ['7/12 in', 'seven over one two inches'],
])('%s', (written, said) => {
  expect(spokenFigure(written)).toBe(said);
});
