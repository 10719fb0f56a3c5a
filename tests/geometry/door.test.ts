import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import * as door from '../../geometry/index.ts';

test('the example at the public door runs as it is printed, and says what the section says', () => {
  const text = readFileSync(new URL('../../geometry/index.ts', import.meta.url), 'utf8');
  const example = /```ts\n([\s\S]*?)```/.exec(text)?.[1] ?? '';
  const code = example
    .split('\n')
    .map((line) => line.replace(/^ \* ?/, ''))
    .filter((line) => !line.startsWith('import '))
    .join('\n')
    .replace(' as const', '');
  const printed: unknown[][] = [];
  const names = Object.keys(door);
  new Function(...names, 'console', code)(...Object.values(door), { log: (...args: unknown[]) => printed.push(args) });
  const [bevel, gap, perimeter] = printed[0] as [number, number, number];
  // Closed form: the chord from (1000, 137) to (5200, 2300) of an arc of 7000 leans by the mean of its end slopes; the slope
  // at a girth follows from the arc length after the straight part. The bevel of a plumb lug is that slope, less what the
  // arc turns over half its thickness (38 mm on 7 m: within 0.2 degrees).
  const chord = Math.hypot(4200, 2163);
  const lean = Math.atan2(2163, 4200) - Math.asin(chord / 2 / 7000);
  const slope = ((lean + (2400 - Math.hypot(1000, 137)) / 7000) * 180) / Math.PI;
  expect(Math.abs(Math.abs(bevel) - slope)).toBeLessThan(0.01);
  expect(gap).toBeGreaterThan(0);
  expect(gap).toBeLessThan(0.1);
  // Two faces of 300 and two ends of 38 over the cosine of the slope.
  expect(perimeter).toBeCloseTo(600 + 76 / Math.cos((slope * Math.PI) / 180), 1);
});
