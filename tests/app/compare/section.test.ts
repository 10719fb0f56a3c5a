import { createElement } from 'react';
import { renderToStaticMarkup } from 'react-dom/server';
import { describe, expect, test } from 'vitest';
import { fiveAnswers } from '../../../src/app/answers/answers.ts';
import { FitWorking } from '../../../src/app/answers/Workings.tsx';
import { magnification, type Reached, sectionLines } from '../../../src/app/compare/section.ts';
import { planOnSource } from '../../../src/app/compare/swap.ts';
import { BLANK } from '../../../src/app/store/blank.ts';
import { type Json, setIn } from '../../../src/app/store/jsontext.ts';
import { planRequest } from '../../../src/app/worker/answer.ts';

/** A flat of bottom, rising outward one in ten, its first point `z` mm up; ends far enough apart for any lug. */
const flat = (z: number): Json => ({
  kind: 'segments',
  start: { y: '0 m', z: `${z} mm` },
  path: [{ to: { y: '4 m', z: `${z + 400} mm` } }],
});

function planned(others: readonly { name: string; hull: Json }[]) {
  let text = setIn(BLANK.text, ['ship', 'hull'], flat(300));
  // Level, so that a plumb stem points along z.
  text = setIn(text, ['ship', 'draftForward'], '3.5 m');
  if (others.length > 0) text = setIn(text, ['ship', 'compare'], others as unknown as Json);
  const reply = planRequest({ text, files: {}, drawn: 0 }, '');
  if (reply.kind !== 'planned') throw new Error(JSON.stringify(reply));
  return { ...reply, text };
}

describe('two sources under one foot', () => {
  // 5 mm deeper in the water: 5 mm along a plumb stem, all along the foot and across it (closed form).
  const { plan, lugs } = planned([{ name: 'lower', hull: flat(295) }]);
  const compared = plan.compare[0]?.fittings[0];
  const feet = lugs[0]?.feet;
  if (compared?.reached !== true || feet === undefined) throw new Error('nothing to compare');
  const lines = sectionLines(feet, compared as Reached, 32);

  test('are drawn where they are', () => {
    expect(lines.a[0]).toBeCloseTo(-150, 6);
    expect(lines.a.at(-1)).toBeCloseTo(150, 6);
    lines.own.forEach((b, i) => {
      expect((lines.other[i] as number) - b).toBeCloseTo(5, 2);
      // The foot runs fore and aft on a shell that does not change so: through the place all along.
      expect(b).toBeCloseTo(0, 2);
    });
    // Across: both rise one in ten over 32 mm.
    for (const [p, q] of [lines.ownAcross, lines.otherAcross]) expect(Math.abs(q - p)).toBeCloseTo(3.2, 2);
  });

  test('are shown with words, figures and their scale', () => {
    const fitting = plan.fittings[0] as (typeof plan.fittings)[number];
    const answer = fiveAnswers(plan, fitting, 'bench').find((a) => a.question === 'fit');
    if (answer === undefined) throw new Error('no answer');
    const html = renderToStaticMarkup(createElement(FitWorking, { answer, plan, fitting, feet, display: 'metric' }));
    expect(html).toContain('true to scale');
    expect(html).toContain('5.0 mm farther out along the whole foot');
    expect(html).toContain('neither says how sure it is');
    expect(html).not.toMatch(/NaN|undefined|Infinity/);
  });
});

test('a source that does not reach is said to', () => {
  const short: Json = {
    kind: 'segments',
    start: { y: '0 m', z: '0.3 m' },
    path: [{ to: { y: '0.5 m', z: '0.35 m' } }],
  };
  const { plan } = planned([{ name: 'short', hull: short }]);
  expect(plan.compare[0]?.fittings[0]?.reached).toBe(false);
});

test('heights are magnified by a round figure that keeps them in the picture', () => {
  expect(magnification(5, 1, 80)).toBe(10);
  expect(magnification(0.2, 1, 80)).toBe(100);
  expect(magnification(79, 1, 80)).toBe(1);
  expect(magnification(500, 1, 80)).toBe(1);
  for (const span of [0.01, 0.3, 1, 7, 33]) {
    const times = magnification(span, 1.1, 76);
    expect(span * 1.1 * times).toBeLessThanOrEqual(76);
  }
});

test('planned on another source, the one before stays beside it', () => {
  const { text } = planned([{ name: 'lower', hull: flat(295) }]);
  const job = JSON.parse(planOnSource(text, 0, 'before'));
  expect(job.ship.hull).toEqual(flat(295));
  expect(job.ship.compare).toEqual([{ name: 'before', hull: flat(300) }]);
  expect(planOnSource(text, 3, 'x')).toBe(text);
});
