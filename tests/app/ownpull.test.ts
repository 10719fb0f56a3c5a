import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { swingPull } from '../../src/app/scene/handling.ts';
import type { Piece } from '../../src/app/sentence/pieces.ts';
import { statement } from '../../src/app/sentence/statement.ts';
import type { Json } from '../../src/app/store/jsontext.ts';
import type { ScreenFitting } from '../../src/app/worker/protocol.ts';
import { readJob } from '../../src/job/read.ts';
import { planJob } from '../../src/plan/plan.ts';

const whole = readFileSync(new URL('../../samples/g-rudder-walked-aft/job.json', import.meta.url), 'utf8');

const parsed = (text: string) => JSON.parse(text) as Json & { fittings: { load?: Json }[] };
function wayOf(text: string, i: number): Extract<Piece, { choice: string }> {
  const found = statement(parsed(text), i)
    .flatMap((group) => group.sentences.flat())
    .find((piece): piece is Extract<Piece, { choice: string }> => {
      return typeof piece === 'object' && 'choice' in piece && piece.choice === `fittings[${i}].load`;
    });
  if (found === undefined) throw new Error('no choice of the pull');
  return found;
}
const planOf = (text: string) => {
  const reading = readJob(text, () => undefined);
  if (!reading.ok) throw new Error(JSON.stringify(reading.faults));
  return planJob(reading.job);
};

describe('a pull that is left to the movement', () => {
  test('can be chosen where a line hangs from the lug, and taken back; the job reads either way', () => {
    const before = wayOf(whole, 0);
    expect(before.options.map(({ value }) => value)).toContain('movement');
    const left = before.choose(whole, 'movement');
    expect(parsed(left).fittings[0]?.load).toBeUndefined();
    expect(planOf(left).fittings[0]?.input.pulledByLift).toBe(true);
    const after = wayOf(left, 0);
    expect(after.value).toBe('movement');
    for (const way of ['toward', 'direction']) {
      const own = after.choose(left, way);
      expect(wayOf(own, 0).value).toBe(way);
      expect(planOf(own).fittings[0]?.load.force).toBe(10_000);
    }
  });

  test('is not offered to a lug that no line hangs from', () => {
    const alone = readFileSync(new URL('../../samples/a-plumb-lug-rounded-bottom/job.json', import.meta.url), 'utf8');
    expect(wayOf(alone, 0).options.map(({ value }) => value)).toEqual(['toward', 'direction']);
  });

  test('swung by hand it becomes a pull of its own, with the force that it had', () => {
    const left = wayOf(whole, 0).choose(whole, 'movement');
    const fitting = planOf(left).fittings[0] as unknown as ScreenFitting;
    const swung = planOf(swingPull(left, 0, fitting, [0, 0.6, -0.8], 'metric', false)).fittings[0];
    expect(swung?.input.pulledByLift).toBeUndefined();
    expect(swung?.load.direction[1]).toBeCloseTo(0.6, 3);
    expect(swung?.load.force).toBeCloseTo(fitting.load.force, -2);
  });
});
