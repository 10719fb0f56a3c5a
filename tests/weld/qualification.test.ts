import { expect, test } from 'vitest';
import { HOLD_POINTS, testPlates } from '../../src/weld/qualification.ts';

test('a vertical and an overhead fillet test plate at the site always (common practice, no source)', () => {
  expect(testPlates([]).map(({ aws, asked }) => ({ aws, asked }))).toEqual([
    { aws: '3F', asked: ['site'] },
    { aws: '4F', asked: ['site'] },
  ]);
});

test('and one for each position the joint asks for, with the length in it', () => {
  const plates = testPlates([
    { aws: '2F', length: 40 },
    { aws: '4F', length: 500 },
    { aws: '2F', length: 60 },
  ]);
  expect(plates).toEqual([
    { aws: '2F', asked: ['joint'], length: 100 },
    { aws: '3F', asked: ['site'], length: 0 },
    { aws: '4F', asked: ['site', 'joint'], length: 500 },
  ]);
});

test('hold points in order: fit-up before the root, root before the hot pass, the finished weld (common practice)', () => {
  expect(HOLD_POINTS.map((point) => point.hold)).toEqual(['fit-up', 'root', 'finished']);
});
