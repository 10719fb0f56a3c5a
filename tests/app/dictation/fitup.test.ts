import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { entryIn, inFigures, sayBack } from '../../../src/app/dictation/course.ts';
import { doubtFitup, feelerSpots, spotAt, unfelt, untouched } from '../../../src/app/dictation/fitup.ts';
import { fitupStanding } from '../../../src/app/dictation/status.ts';
import { setIn } from '../../../src/app/store/jsontext.ts';
import { spotName } from '../../../src/app/text/sides.ts';
import { planRequest } from '../../../src/app/worker/answer.ts';
import { showPhrase } from '../../../src/job/show.ts';

const text = readFileSync('samples/a-plumb-lug-rounded-bottom/job.json', 'utf8');
function planned(job: string) {
  const reply = planRequest({ text: job, files: {}, drawn: 0 }, '');
  if (reply.kind !== 'planned') throw new Error(JSON.stringify(reply));
  return reply.plan;
}
const plan = planned(text);
const fitting = plan.fittings[0] as (typeof plan.fittings)[number];
const spots = feelerSpots(fitting, 'metric');
const length = (x: string) => entryIn(x, 'length');
const angle = (x: string) => entryIn(x, 'angle');

describe('where the feeler goes', () => {
  test('twelve places, each once, in the order of the root', () => {
    expect(spots).toHaveLength(12);
    expect(new Set(spots.map((s) => s.name)).size).toBe(12);
    for (let i = 1; i < spots.length; i++) expect(spots[i]?.s).toBeGreaterThan(spots[i - 1]?.s as number);
    expect(spots.filter((s) => s.name.endsWith('corner')).map((s) => s.s)).toEqual(fitting.root.corners.slice(0, 4));
  });

  test('a quarter is called by the end that it lies nearer to', () => {
    for (const { s, name } of spots.filter((p) => p.name.endsWith('quarter'))) {
      const { corners } = fitting.root;
      const nearest = corners.reduce((p, c) => (Math.abs(c - s) < Math.abs(p - s) ? c : p));
      const way = /, (\w+) quarter$/.exec(name)?.[1];
      expect(spotName(fitting, nearest)).toContain(`${way} corner`);
    }
  });

  test('those felt are left out, and said back by their name', () => {
    const first = spots[0];
    if (first === undefined) throw new Error('no place');
    const taken = [{ part: 'feelers' as const, index: 0, mark: first.mark, value: length('0.4 mm') }];
    expect(unfelt(spots, taken)).toHaveLength(11);
    const called = (mark: ReturnType<typeof length>) => spotAt(spots, mark);
    expect(sayBack(taken[0] as (typeof taken)[number], undefined, called)).toBe(
      `at ${first.name}: gap zero decimal four millimetres`,
    );
    expect(inFigures(taken[0] as (typeof taken)[number], undefined, called)).toBe(`${first.name} · 0.4 mm`);
  });

  test('in inches the marks read back as the same places', () => {
    for (const spot of feelerSpots(fitting, 'us')) expect(spotAt(spots, spot.mark)).toBe(spot.name);
  });
});

describe('what is questioned', () => {
  const doubt = (...of: [Parameters<typeof doubtFitup>[0], string | null, ReturnType<typeof angle>]) => {
    const phrase = doubtFitup(of[0], of[1] === null ? null : length(of[1]), of[2], fitting, plan);
    return phrase && showPhrase(phrase, 'metric');
  };
  test('a face that stands far off the plan; a plumb stem has it at nothing', () => {
    expect(doubt('face', null, angle('0.8 deg'))).toBeUndefined();
    expect(doubt('face', null, angle('8 deg'))).toContain('off the plan');
    expect(doubt('face', null, angle('-8 deg'))).toContain('off the plan');
  });
  test('a gap over the limit for a new cut, and a mark past the end of the root', () => {
    expect(doubt('feelers', '100 mm', length('1 mm'))).toBeUndefined();
    expect(doubt('feelers', '100 mm', length('8 mm'))).toContain('limit for a new cut');
    expect(doubt('feelers', '5 m', length('1 mm'))).toContain('past the end of the root');
  });
  test('a foot turned far from its marks', () => {
    expect(doubt('turned', null, angle('2 deg'))).toBeUndefined();
    expect(doubt('turned', null, angle('-9 deg'))).toContain('turned by 9.0°');
  });
});

test('what is to be read still is counted down to nothing', () => {
  const json = (t: string) => JSON.parse(t);
  expect(fitupStanding(json(text), 0, spots).words).toBe(
    'To be read still: the face from plumb, the foot from level, 12 gaps.',
  );
  const whole = setIn(text, ['fittings', 0, 'asBuilt'], {
    face: { fromPlumb: '0.5 deg', looksUp: 'face+' },
    foot: { fromLevel: '0.5 deg', higher: 'end+' },
    gaps: spots.map((s) => ({ s: s.mark.text, gap: '0.3 mm' })),
  });
  expect(fitupStanding(json(whole), 0, spots)).toMatchObject({ words: 'All read.', enough: true });
});

test('the plan’s own figures put in to start with are told from readings', () => {
  const withBuilt = (gap: string, lean: string) =>
    planned(
      setIn(text, ['fittings', 0, 'asBuilt'], {
        face: { fromPlumb: lean, looksUp: 'face+' },
        gaps: [{ s: '100 mm', gap }],
      }),
    ).fittings[0] as typeof fitting;
  const near = fitting.joint.points.reduce((p, q) => (Math.abs(q.s - 100) < Math.abs(p.s - 100) ? q : p));
  expect(untouched(fitting)).toBe(false);
  expect(untouched(withBuilt(`${near.opening.toFixed(2)} mm`, '0 deg'))).toBe(true);
  expect(untouched(withBuilt(`${(near.opening + 1).toFixed(2)} mm`, '0 deg'))).toBe(false);
  expect(untouched(withBuilt(`${near.opening.toFixed(2)} mm`, '1 deg'))).toBe(false);
});
