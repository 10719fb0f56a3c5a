import * as z from 'zod';
import { expectedQuantity, readQuantity } from './quantity.ts';
import type { Kind } from './units.ts';

/*
 * The job file as it is written: the one source for the types of a raw file, for validation and for the schema that
 * editors read. The message of every issue is what was expected; what was found is taken from the file by `faults.ts`.
 */

interface Range {
  /** Least value in internal units, itself allowed. */
  readonly min?: number;
  /** Greater than this. */
  readonly over?: number;
  /** Less than this. */
  readonly under?: number;
  readonly max?: number;
  /** The range in words. */
  readonly words: string;
}

const POSITIVE: Range = { over: 0, words: 'greater than zero' };
const NOT_NEGATIVE: Range = { min: 0, words: 'zero or more' };

function within(value: number, range: Range): boolean {
  return (
    value >= (range.min ?? -Infinity) &&
    value > (range.over ?? -Infinity) &&
    value < (range.under ?? Infinity) &&
    value <= (range.max ?? Infinity)
  );
}

function quantity(kind: Kind, like: string, range?: Range) {
  const expected = expectedQuantity(kind, like);
  return z
    .string({ error: expected })
    .superRefine((text, ctx) => {
      const reading = readQuantity(text, kind, like);
      if (!reading.ok) ctx.addIssue({ code: 'custom', message: reading.expected });
      else if (range !== undefined && !within(reading.value, range)) {
        ctx.addIssue({ code: 'custom', message: `${expected}, ${range.words}` });
      }
    })
    .meta({ description: expected, examples: [like] });
}

const length = (like: string, range?: Range) => quantity('length', like, range);
const size = (like: string) => length(like, POSITIVE);
const angle = (like: string, range?: Range) => quantity('angle', like, range);
const underRight: Range = { over: -Math.PI / 2, under: Math.PI / 2, words: 'between -90 deg and 90 deg' };
const acute: Range = { min: 0, under: Math.PI / 2, words: 'from 0 deg to less than 90 deg' };

/** Message of an unknown field: the known ones, which `faults.ts` takes apart again. */
export const KNOWN_FIELDS = 'known fields: ';

function group<S extends z.core.$ZodLooseShape>(shape: S) {
  const known = KNOWN_FIELDS + Object.keys(shape).join(', ');
  return z.strictObject(shape, {
    error: (issue) => (issue.code === 'unrecognized_keys' ? known : 'a group of fields in { }'),
  });
}

function oneOf<const T extends readonly [string, ...string[]]>(values: T) {
  return z.enum(values, { error: `one of ${values.map((v) => `"${v}"`).join(', ')}` });
}

function list<T extends z.ZodType>(item: T, least: number, what: string) {
  const expected = `a list of at least ${least} ${what}`;
  return z.array(item, { error: expected }).min(least, { error: expected });
}

function text(expected: string, most = 200) {
  return z
    .string({ error: expected })
    .min(1, { error: expected })
    .max(most, { error: `${expected}, at most ${most} characters long` });
}

function number(expected: string, min: number, max: number) {
  return z.number({ error: expected }).min(min, { error: expected }).max(max, { error: expected });
}

/** Exactly one of these optional fields is there. Looked at even where other fields of the group are wrong. */
function exactlyOne<T extends z.ZodObject>(shape: T, names: readonly string[], expected: string) {
  return shape
    .refine((value) => names.filter((n) => value[n as keyof typeof value] !== undefined).length === 1, {
      error: expected,
      params: { names },
      when: (payload) => typeof payload.value === 'object' && payload.value !== null && !Array.isArray(payload.value),
    })
    .meta({ oneOf: names.map((name) => ({ required: [name] })) });
}

const halfBreadth = length('2.4 m', NOT_NEGATIVE);
const point = group({ y: halfBreadth, z: length('1.2 m') });
const splinePoint = group({
  y: halfBreadth,
  z: length('1.2 m'),
  knuckle: z.boolean({ error: 'true or false' }).optional(),
});
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

const hull = z.discriminatedUnion(
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
    }),
    group({
      kind: z.literal('readings'),
      start: point,
      girth: list(group({ at: length('250 mm'), slope: angle('14.5 deg') }), 2, 'readings along the girth'),
      fore: group({
        gaps: list(group({ at: length('-500 mm'), gap: length('2 mm', NOT_NEGATIVE) }), 1, 'gaps under the bar'),
        touch: oneOf(['middle', 'ends']).optional(),
      }),
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
    }),
  ],
  {
    error: (issue) =>
      issue.code === 'invalid_union'
        ? 'one of "segments", "spline", "sections", "offsets", "readings", "mesh"'
        : 'a group of fields in { } that starts with its "kind"',
  },
);

const station = length('9.5 m');
const PLACE = ['girth', 'height', 'halfBreadth'] as const;
const LOAD = ['toward', 'direction'] as const;
const coordinate = length('-5 m');
const component = number('a bare number between -1e9 and 1e9', -1e9, 1e9);

const fitting = group({
  id: text('a name of its own for each fitting', 40),
  at: exactlyOne(
    group({
      station,
      side: oneOf(['port', 'starboard']),
      girth: length('2.2 m', NOT_NEGATIVE).optional(),
      height: length('0.4 m').optional(),
      halfBreadth: length('1.8 m', NOT_NEGATIVE).optional(),
    }),
    PLACE,
    'exactly one of girth, height, halfBreadth beside station and side',
  ),
  lug: group({
    foot: size('310 mm'),
    thickness: size('35 mm'),
    pinHeight: size('215 mm'),
    hole: size('54 mm'),
    topRadius: size('95 mm'),
    shoulder: length('50 mm', NOT_NEGATIVE),
    cheek: group({ radius: size('70 mm'), thickness: size('10 mm') }).optional(),
  }),
  stem: z.union([oneOf(['normal', 'plumb', 'toward-load']), group({ lean: angle('6 deg', underRight) })], {
    error: 'one of "normal", "plumb", "toward-load", {"lean": "6 deg"}',
  }),
  heading: angle('0 deg'),
  load: exactlyOne(
    group({
      toward: z
        .tuple([coordinate, coordinate, coordinate], {
          error: 'a point, three lengths like ["9.9 m", "1.6 m", "-5 m"]',
        })
        .optional(),
      direction: z
        .tuple([component, component, component], { error: 'three bare numbers like [0, 0.1, -1]' })
        .refine((v) => v.some((n) => n !== 0), { error: 'three bare numbers, not all zero' })
        .optional(),
      force: quantity('force', '110 kN', POSITIVE),
    }),
    LOAD,
    'exactly one of toward, direction beside force',
  ),
  weld: group({ leg: size('16 mm') }),
  cut: oneOf(['simplest', 'straight', 'faceted', 'scribed']).optional(),
  shackle: group({
    wll: quantity('load', '25 t', POSITIVE),
    pin: size('50 mm'),
    jaw: size('74 mm'),
    insideLength: size('178 mm').optional(),
    bowWidth: size('126 mm').optional(),
    bar: size('45 mm').optional(),
  }).optional(),
  hoist: group({ wll: quantity('load', '25 tonf', POSITIVE) }).optional(),
  behind: group({
    fromFrame: length('120 mm', NOT_NEGATIVE).optional(),
    fromLongitudinal: length('200 mm', NOT_NEGATIVE).optional(),
  }).optional(),
});

/** Elements that carbon-equivalent formulas ask for, and those that mill sheets print beside them. */
const ELEMENTS = ['C', 'Mn', 'Si', 'P', 'S', 'Cr', 'Mo', 'V', 'Ni', 'Cu', 'Nb', 'Ti', 'Al', 'N', 'B'] as const;
const percent = number('a bare number of per cent by weight, from 0 to 100', 0, 100);
const composition = group(
  Object.fromEntries(ELEMENTS.map((e) => [e, percent.optional()])) as Record<
    (typeof ELEMENTS)[number],
    z.ZodOptional<typeof percent>
  >,
).refine((value) => value.C !== undefined, { error: 'a composition that gives at least C' });

const stress = (like: string) => quantity('stress', like, POSITIVE).optional();

const steel = group({
  lug: group({ yield: stress('250 MPa'), tensile: stress('400 MPa') }).optional(),
  shell: group({
    yield: stress('250 MPa'),
    tensile: stress('400 MPa'),
    thickness: size('12 mm').optional(),
    carbonEquivalent: z
      .union([number('a bare number from 0 to 2, like 0.38', 0, 2), z.literal('unknown')], {
        error: 'a bare number from 0 to 2, like 0.38, or "unknown"',
      })
      .optional(),
    composition: z
      .union([composition, z.literal('unknown')], {
        error: 'per cent by weight, like {"C": 0.15, "Mn": 1.2}, or "unknown"',
      })
      .optional(),
  })
    .refine((value) => value.carbonEquivalent === undefined || value.composition === undefined, {
      error: 'at most one of carbonEquivalent, composition',
      params: { names: ['carbonEquivalent', 'composition'] },
      when: (payload) => typeof payload.value === 'object' && payload.value !== null && !Array.isArray(payload.value),
    })
    .optional(),
  frameSpacing: size('600 mm').optional(),
  longitudinalSpacing: size('700 mm').optional(),
});

const SHARE = 'a share with its sign, like "5 %", or a bare number from 0 to 1';
const limits = group({
  fitGap: size('1.6 mm').optional(),
  recutGap: size('4.8 mm').optional(),
  sidewaysShare: z.union([quantity('share', '5 %', NOT_NEGATIVE), number(SHARE, 0, 1)], { error: SHARE }).optional(),
  offPlane: angle('3 deg', acute).optional(),
  stemToShell: angle('10 deg', { ...acute, over: 0, words: 'more than 0 deg, less than 90 deg' }).optional(),
  level: size('1 mm').optional(),
  sealedLength: length('5 mm', NOT_NEGATIVE).optional(),
});

const minutes = (like: string) => quantity('time', like, NOT_NEGATIVE).optional();
const factor = (min: number, max: number) =>
  number(`a bare number from ${min} to ${max}`, min, max).optional();

export const jobSchema = group({
  /** Where an editor finds this schema; of no meaning to a plan. */
  $schema: z.string({ error: 'the address of a schema' }).optional(),
  format: z.literal('lugwright.job', { error: '"lugwright.job"' }),
  version: z.literal(1, { error: '1' }),
  title: text('a title for the job'),
  display: oneOf(['metric', 'us']),
  ship: group({
    lpp: size('62 m'),
    draftAft: size('3.40 m'),
    draftForward: size('3.05 m'),
    heel: angle('0.7 deg', underRight),
    hull,
  }),
  fittings: list(fitting, 1, 'fittings'),
  basis: oneOf(['aisc-360-asd', 'aisc-360-lrfd', 'en-1993', 'bth-1']).optional(),
  limits: limits.optional(),
  steel: steel.optional(),
  electrode: group({
    kind: oneOf(['nickel', 'ferritic', 'austenitic']).optional(),
    diameter: size('2.4 mm').optional(),
    length: size('350 mm').optional(),
    tensile: stress('480 MPa'),
  }).optional(),
  welding: group({
    runLength: size('150 mm').optional(),
    bottomTime: minutes('60 min'),
    quality: factor(0, 1),
    startStop: factor(0, 1),
    directional: z.boolean({ error: 'true or false' }).optional(),
    stub: length('50 mm', NOT_NEGATIVE).optional(),
    recovery: factor(0.01, 1),
    burn: minutes('1 min'),
    travelPerMinute: size('150 mm').optional(),
    change: minutes('1.5 min'),
    grindStop: minutes('1 min'),
    cleanMetre: minutes('3 min'),
    hold: minutes('10 min'),
    diveOverhead: minutes('10 min'),
    stagger: length('25 mm', NOT_NEGATIVE).optional(),
    cornerClear: length('25 mm', NOT_NEGATIVE).optional(),
    arcVolts: quantity('potential', '26 V', POSITIVE).optional(),
    leadLength: size('120 m').optional(),
    leadDrop: quantity('potential', '8 V', POSITIVE).optional(),
  }).optional(),
  factors: group({
    dynamic: factor(1, 10),
    skew: factor(1, 10),
    consequence: factor(1, 10),
    load: factor(1, 10),
    sidewaysAllowance: z.union([quantity('share', '5 %', NOT_NEGATIVE), number(SHARE, 0, 1)], { error: SHARE }).optional(),
  }).optional(),
  coefficients: group({
    bth: group({
      designFactor: factor(1, 20),
      fractureEdge: factor(0.01, 10),
      fractureNet: factor(0.01, 10),
      bearing: factor(0.01, 10),
    }).optional(),
    en: group({ gammaM0: factor(0.5, 5), gammaM2: factor(0.5, 5), gammaM6ser: factor(0.5, 5) }).optional(),
  }).optional(),
});

/** A job file as it is written: every quantity still text. */
export type RawJob = z.output<typeof jobSchema>;
export type RawHull = RawJob['ship']['hull'];
export type RawFitting = RawJob['fittings'][number];
