import { expect, test } from 'vitest';
import { showPhrase } from '../../src/job/show.ts';
import type { Fitting } from '../../src/job/types.ts';
import { planJob } from '../../src/plan/plan.ts';
import { flatJob } from './flatbottom.ts';

/*
 * On a level flat bottom all of it is plain geometry. One who lies under the bottom with his head to the bow and looks up has port
 * on his right: a foot whose forward end goes to port turns clockwise for him, one whose forward end goes to starboard against it.
 */

const RAD = Math.PI / 180;

function remedy(direction: readonly [number, number, number], fitting: Partial<Fitting> = {}): string {
  const job = flatJob({ fitting: { load: { direction, force: 50_000 }, ...fitting } });
  const check = planJob(job).fittings[0]?.checks.find((each) => each.id === 'sideways-share');
  return showPhrase(check?.remedy ?? ['no such check'], 'metric');
}

const starboard = { at: { station: 6000, side: 'starboard', by: 'girth', value: 2000 } } as const;

test('a pull to port of a port lug: forward end to port, pin outboard (atan 0.2/0.3, atan 0.2)', () => {
  expect(remedy([0.3, 0.2, -1])).toBe(
    'To bring the pull into the plane, turn the foot 33.7° clockwise, seen from the water, or lean the stem 11.3° outboard.',
  );
  expect(Math.atan2(0.2, 0.3) / RAD).toBeCloseTo(33.7, 1);
  expect(Math.atan(0.2) / RAD).toBeCloseTo(11.3, 1);
});

test('the same pull on the starboard side goes inboard, the turn stays as it is seen', () => {
  expect(remedy([0.3, 0.2, -1], starboard)).toBe(
    'To bring the pull into the plane, turn the foot 33.7° clockwise, seen from the water, or lean the stem 11.3° inboard.',
  );
});

test('mirrored, outboard stays outboard and the turn goes the other way', () => {
  expect(remedy([0.3, -0.2, -1], starboard)).toBe(
    'To bring the pull into the plane, turn the foot 33.7° anticlockwise, seen from the water, or lean the stem 11.3° outboard.',
  );
});

test('a foot athwartships leans toward the bow or the stern', () => {
  expect(remedy([0.2, 0.3, -1], { heading: 90 * RAD })).toContain('lean the stem 11.3° toward the bow');
  expect(remedy([-0.2, 0.3, -1], { heading: 90 * RAD })).toContain('lean the stem 11.3° toward the stern');
});

test('a pull that lies in the plane, or out of it by what rounds to nothing, asks for nothing', () => {
  expect(remedy([0.3, 0, -1])).toBe('');
  expect(remedy([0.3, 0.00001, -1])).toBe('');
});
