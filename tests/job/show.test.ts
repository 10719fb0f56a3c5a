import { expect, test } from 'vitest';
import type { Figure } from '../../geometry/phrase.ts';
import { showFigure, showPhrase } from '../../src/job/show.ts';

/*
 * Expected texts: the figure divided by the exact size of the unit (1 in = 25.4 mm, 1 lb = 0.45359237 kg,
 * 1 lbf = 4.4482216152605 N, 1 ksi = 6.894757293168 MPa; NIST SP 811), rounded by hand.
 */
const shown: readonly (readonly [Figure, string, string])[] = [
  [{ mm: 0 }, '0.0 mm', '0 in'],
  [{ mm: -0.01 }, '0.0 mm', '0 in'],
  [{ mm: 1.6 }, '1.6 mm', '0.063 in'],
  [{ mm: 3.175 }, '3.2 mm', '1/8 in'],
  [{ mm: 25.4 }, '25.4 mm', '1 in'],
  [{ mm: 38.1 }, '38.1 mm', '1 1/2 in'],
  [{ mm: 310 }, '310.0 mm', '12 7/32 in'],
  [{ mm: 310, digits: 0 }, '310 mm', '12.20 in'],
  [{ mm: 1.6, digits: 1 }, '1.6 mm', '0.063 in'],
  [{ mm: 999.96 }, '1.000 m', '3 ft 3 3/8 in'],
  [{ mm: 5791.2 }, '5.791 m', '19 ft'],
  [{ mm: -1689.1 }, '-1.689 m', '-5 ft 6 1/2 in'],
  [{ mm: 1828.7 }, '1.829 m', '6 ft'],
  [{ mm: 19.42, digits: 0, bound: 'least' }, '20 mm', '0.77 in'],
  [{ mm: 19, digits: 0, bound: 'least' }, '19 mm', '0.75 in'],
  [{ mm: 12.74, bound: 'least' }, '12.8 mm', '17/32 in'],
  [{ mm: 12.76, bound: 'most' }, '12.7 mm', '1/2 in'],
  [{ mm: 1234.1, bound: 'least' }, '1.235 m', '4 ft 0 19/32 in'],
  [{ mpa: 149.7, digits: 0, bound: 'most' }, '149 MPa', '21.7 ksi'],
  [{ mpa: 149.3, digits: 0, bound: 'least' }, '150 MPa', '21.7 ksi'],
  [{ rad: Math.PI / 8 }, '22.5°', '22.5°'],
  [{ rad: -1e-6 }, '0.0°', '0.0°'],
  [{ newton: 110_000 }, '110.0 kN', '24.7 kip'],
  [{ newton: 4448.2216152605 }, '4.45 kN', '1000 lbf'],
  [{ newtonPerMm: 458.28 }, '458 N/mm', '2.62 kip/in'],
  [{ mpa: 250 }, '250 MPa', '36.3 ksi'],
  [{ kg: 22 }, '22.0 kg', '48.5 lb'],
  [{ minutes: 45.2 }, '45 min', '45 min'],
  [{ minutes: 59.7 }, '1 h', '1 h'],
  [{ minutes: 150 }, '2 h 30 min', '2 h 30 min'],
  [{ share: 0.05 }, '5.0 %', '5.0 %'],
  [{ count: 3 }, '3', '3'],
];

test('figures in metric and US units', () => {
  for (const [figure, metric, us] of shown) {
    expect([showFigure(figure, 'metric'), showFigure(figure, 'us')], JSON.stringify(figure)).toEqual([metric, us]);
  }
});

test('a phrase keeps its words and shows its figures', () => {
  expect(showPhrase(['gap ', { mm: 3.2 }, ' at ', { rad: Math.PI / 6 }], 'metric')).toBe('gap 3.2 mm at 30.0°');
});

test('a figure that is no number never becomes text', () => {
  for (const display of ['metric', 'us'] as const) {
    for (const bad of [Number.NaN, Infinity]) {
      expect(() => showFigure({ mm: bad }, display)).toThrow(RangeError);
      expect(() => showFigure({ newton: bad }, display)).toThrow(RangeError);
      expect(() => showFigure({ minutes: bad }, display)).toThrow(RangeError);
    }
  }
});
