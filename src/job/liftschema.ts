import * as z from 'zod';
import {
  angle,
  exactlyOne,
  group,
  length,
  list,
  NOT_NEGATIVE,
  number,
  POSITIVE,
  quantity,
  size,
  text,
} from './fields.ts';

/*
 * The field `lift` of a job file: what hangs, on which lines, and what is done with it. Points are ship axes; those of the
 * load stand where they are with the load as it is drawn.
 */

export const MOST_LINES = 6;
const MOST_PARTS = 100;

const coordinate = length('-5 m');
const point = z.tuple([coordinate, coordinate, coordinate], {
  error: 'a point, three lengths like ["9.9 m", "1.6 m", "-5 m"]',
});
const component = number('a bare number between -1e9 and 1e9', -1e9, 1e9);
const name = text('a name', 60);
const share = (like: string) => quantity('share', like, POSITIVE);

const load = exactlyOne(
  group({
    name: name.optional(),
    mass: quantity('mass', '9.2 t', POSITIVE),
    volume: quantity('volume', '1.3 m3', NOT_NEGATIVE).optional(),
    massInWater: quantity('mass', '8 t', POSITIVE).optional(),
    density: quantity('density', '7850 kg/m3', POSITIVE).optional(),
    centre: point,
    buoyancyCentre: point.optional(),
    outline: z.array(point, { error: 'a list of points' }).max(24, { error: 'at most 24 points' }).optional(),
  }),
  ['volume', 'massInWater', 'density'],
  'exactly one of volume, massInWater, density beside mass',
);

const line = exactlyOne(
  group({
    id: text('a name of its own for each line', 40),
    fitting: text('the id of a fitting', 40).optional(),
    from: point.optional(),
    to: point,
    ea: quantity('force', '20 MN', POSITIVE).optional(),
    stretch: group({ by: size('12 mm'), under: quantity('force', '100 kN', POSITIVE) }).optional(),
    shortest: length('600 mm', NOT_NEGATIVE).optional(),
    longest: size('6 m').optional(),
    mass: quantity('mass', '90 kg', NOT_NEGATIVE).optional(),
  }),
  ['fitting', 'from'],
  'exactly one of fitting, from beside to',
);

const LENGTH = 'a length between pin and load without load on it, like "3.2 m", or "off"';
const step = exactlyOne(
  group({
    name,
    set: z
      .record(z.string(), z.union([size('3.2 m'), z.literal('off')], { error: LENGTH }), {
        error: 'lengths by line, like {"1": "3.2 m", "2": "off"}',
      })
      .optional(),
    to: point.optional(),
    by: point.optional(),
    lower: length('1.2 m').optional(),
    with: list(text('the id of a line', 40), 1, 'ids of lines').optional(),
    parts: number(`a whole number from 1 to ${MOST_PARTS}`, 1, MOST_PARTS)
      .int({ error: `a whole number from 1 to ${MOST_PARTS}` })
      .optional(),
  }),
  ['set', 'to', 'by', 'lower'],
  'exactly one of set, to, by, lower',
);

const push = group({
  name,
  force: quantity('force', '1.5 kN', POSITIVE),
  direction: z
    .tuple([component, component, component], { error: 'three bare numbers like [0, 1, 0]' })
    .refine((v) => v.some((n) => n !== 0), { error: 'three bare numbers, not all zero' })
    .optional(),
  at: point.optional(),
});

export const liftSchema = group({
  load,
  waterDensity: quantity('density', '1025 kg/m3', POSITIVE).optional(),
  lines: list(line, 1, 'lines').max(MOST_LINES, { error: `at most ${MOST_LINES} lines` }),
  steps: list(step, 1, 'steps').max(60, { error: 'at most 60 steps' }),
  pushes: z.array(push, { error: 'a list of pushes' }).max(6, { error: 'at most 6 pushes' }).optional(),
  keepClear: z
    .array(group({ name, from: point, to: point, radius: size('150 mm').optional() }), { error: 'a list of solids' })
    .max(40, { error: 'at most 40 solids' })
    .optional(),
  limits: group({
    clearance: length('50 mm', NOT_NEGATIVE).optional(),
    stretch: share('2 %').optional(),
    miss: size('50 mm').optional(),
    unhookShare: share('1 %').optional(),
    tilt: angle('20 deg', { over: 0, max: Math.PI, words: 'more than 0 deg, at most 180 deg' }).optional(),
  }).optional(),
});
