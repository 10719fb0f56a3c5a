import * as z from 'zod';
import {
  angle,
  between,
  exactlyOne,
  group,
  length,
  list,
  NOT_NEGATIVE,
  number,
  oneOf,
  size,
  text,
  underRight,
} from './fields.ts';
import { expectedQuantity, readQuantity } from './quantity.ts';

/* The hull of a job file as it is written, in all its kinds, and what was read of the ship's draft marks. */

const halfBreadth = length('2.4 m', NOT_NEGATIVE);
const point = group({ y: halfBreadth, z: length('1.2 m') });
const splinePoint = group({
  y: halfBreadth,
  z: length('1.2 m'),
  knuckle: z.boolean({ error: 'true or false' }).optional(),
});
const isGroup = (payload: { readonly value: unknown }): boolean =>
  typeof payload.value === 'object' && payload.value !== null && !Array.isArray(payload.value);
const FILE = 'the name of a file beside the job file';

const segments = group({
  kind: z.literal('segments'),
  start: point,
  path: list(
    group({
      to: point,
      radius: length('2.6 m')
        .refine((t) => !isZero(t), { error: 'a radius other than zero; leave it out for a straight line' })
        .optional(),
    }),
    1,
    'lines or arcs',
  ),
});

function isZero(value: string): boolean {
  const reading = readQuantity(value, 'length');
  return reading.ok && reading.value === 0;
}

const TAPE_SLOPE = between(-Math.PI, Math.PI, 'between -180 deg and 180 deg');

const DRAWN_UNITS = ['mm', 'cm', 'm', 'in', 'ft'] as const;
const pageAxis = oneOf(['x', '-x', 'y', '-y']);
const coordinate = number('a bare number, in the numbers of the drawing', -1e9, 1e9);

/** A section from the lines, arcs, polylines or the spline of a DXF drawing. */
const drawing = group({
  kind: z.literal('drawing'),
  file: text(FILE),
  layer: text('the name of a layer of the drawing').optional(),
  unit: oneOf(DRAWN_UNITS).optional(),
  scale: number('a bare number greater than 0: true size over drawn size', 1e-6, 1e6).optional(),
  zero: z
    .tuple([coordinate, coordinate], { error: 'two bare numbers: where the drawing has centreline and baseline' })
    .optional(),
  axes: group({ out: pageAxis, up: pageAxis }).optional(),
  half: oneOf(['right', 'left']).optional(),
});

/** A section as two columns of numbers, half-breadth and height. */
const columns = exactlyOne(
  group({
    kind: z.literal('columns'),
    text: text('two numbers on each line, half-breadth and height', 100_000).optional(),
    file: text(FILE).optional(),
    unit: oneOf(DRAWN_UNITS),
  }),
  ['text', 'file'],
  'exactly one of text, file beside unit',
);

export const hullSchema = z.discriminatedUnion(
  'kind',
  [
    segments,
    group({ kind: z.literal('spline'), points: list(splinePoint, 2, 'points') }),
    group({
      kind: z.literal('sections'),
      sections: list(
        group({ station: length('9 m'), points: list(splinePoint, 2, 'points') }),
        2,
        'sections; for one section take the kind "spline"',
      ),
    }),
    group({
      kind: z.literal('offsets'),
      file: text(FILE),
      unit: oneOf(['mm', 'cm', 'm', 'in', 'ft', 'ft-in-8']),
      keel: list(group({ station: length('0 m'), z: length('0 m') }), 2, 'heights of the keel').optional(),
      deck: list(
        group({ station: length('0 m'), y: halfBreadth, z: length('5.2 m') }),
        2,
        'places of the deck at side',
      ).optional(),
      flatBottom: list(group({ station: length('0 m'), y: halfBreadth }), 2, 'edges of the flat of bottom').optional(),
      flatSide: list(group({ station: length('0 m'), z: length('2 m') }), 2, 'edges of the flat of side').optional(),
    }).refine((hull) => hull.flatBottom === undefined || hull.keel !== undefined, {
      error: 'keel beside flatBottom: the height at which the bottom is flat',
      params: { names: ['flatBottom'] },
      when: isGroup,
    }),
    group({
      kind: z.literal('readings'),
      start: point,
      girth: list(group({ at: length('250 mm'), slope: angle('14.5 deg', TAPE_SLOPE) }), 1, 'readings along the girth'),
      fore: group({
        gaps: list(group({ at: length('-500 mm'), gap: length('2 mm', NOT_NEGATIVE) }), 1, 'gaps under the bar'),
        touch: oneOf(['middle', 'ends']).optional(),
        slope: angle('1.5 deg', underRight).optional(),
        length: size('1.2 m').optional(),
      }),
      station: length('9.5 m').optional(),
      side: oneOf(['port', 'starboard']).optional(),
    }),
    group({
      kind: z.literal('mesh'),
      file: text(FILE),
      unit: oneOf(['mm', 'cm', 'm', 'in', 'ft']),
      axes: group({
        forward: oneOf(['x', '-x', 'y', '-y', 'z', '-z']),
        port: oneOf(['x', '-x', 'y', '-y', 'z', '-z']),
        up: oneOf(['x', '-x', 'y', '-y', 'z', '-z']),
      }),
      origin: z.tuple([length('0 m'), length('0 m'), length('0 m')], {
        error: 'three lengths, like ["0 m", "0 m", "0 m"]',
      }),
      half: z.boolean({ error: 'true or false' }),
      patch: length('300 mm', between(100, 5000, 'from 100 mm to 5 m')).optional(),
    }),
    drawing,
    columns,
  ],
  {
    error: (issue) =>
      issue.code === 'invalid_union'
        ? 'one of "segments", "spline", "sections", "offsets", "readings", "mesh", "drawing", "columns"'
        : 'a group of fields in { } that starts with its "kind"',
  },
);

/** A draft read at a mark: on the centreline where nothing is said of how far from it. */
const draftMark = group({
  name: text('a name for the mark').optional(),
  station: length('2 m'),
  side: oneOf(['port', 'starboard']).optional(),
  halfBreadth: length('4.5 m', NOT_NEGATIVE).optional(),
  draft: size('3.40 m'),
})
  .refine((mark) => (mark.side === undefined) === (mark.halfBreadth === undefined), {
    error: 'side and halfBreadth together, or neither for a mark on the centreline',
    params: { names: ['side', 'halfBreadth'] },
    when: isGroup,
  })
  .meta({ dependentRequired: { side: ['halfBreadth'], halfBreadth: ['side'] } });
export const draftMarks = list(draftMark, 2, 'draft marks').max(100, { error: 'at most 100 draft marks' });

/** Other sources for the same shell, laid over the hull of the job. */
export const compare = list(
  group({ name: text('a name for the source, like "builder\'s drawing"', 60), hull: hullSchema }),
  1,
  'other sources of the hull',
).max(8, { error: 'at most 8 other sources' });

/** What the attitude is read from where there are no draft marks: the kind of each, and how a good one looks. */
const ATTITUDE = {
  draftAft: ['length', '3.40 m'],
  draftForward: ['length', '3.05 m'],
  heel: ['angle', '0.7 deg'],
} as const;

/** Drafts at the perpendiculars and heel, or draft marks: one of the two. Heel may stand beside marks that leave it open. */
export function withAttitude<T extends z.ZodObject>(ship: T): T {
  let checked = ship;
  for (const [name, [kind, like]] of Object.entries(ATTITUDE)) {
    const given = (value: Record<string, unknown>) => value[name] !== undefined;
    const marked = (value: Record<string, unknown>) => value.draftMarks !== undefined;
    checked = checked.refine((value) => given(value) || marked(value), {
      error: expectedQuantity(kind, like),
      path: [name],
      when: isGroup,
    });
    if (name === 'heel') continue;
    checked = checked.refine((value) => !(given(value) && marked(value)), {
      error: 'nothing beside draftMarks, which tell it',
      path: [name],
      when: isGroup,
    });
  }
  return checked.meta({
    oneOf: [
      { required: Object.keys(ATTITUDE) },
      { required: ['draftMarks'], properties: { draftAft: false, draftForward: false } },
    ],
  });
}
