import * as z from 'zod';
import {
  acute,
  angle,
  between,
  exactlyOne,
  FEELER,
  group,
  length,
  list,
  lugSize,
  NOT_NEGATIVE,
  number,
  oneOf,
  POSITIVE,
  quantity,
  RUN,
  size,
  text,
  underRight,
} from './fields.ts';
import { compare, draftMarks, hullSchema, withAttitude } from './hullschema.ts';
import { liftSchema } from './liftschema.ts';
import { papersSchema } from './papersschema.ts';
import { structureSchema } from './structureschema.ts';

/*
 * The job file as it is written: the one source for the types of a raw file, for validation and for the schema that
 * editors read. The message of every issue is what was expected; what was found is taken from the file by `faults.ts`.
 */

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
    foot: lugSize('310 mm'),
    thickness: lugSize('35 mm'),
    pinHeight: lugSize('215 mm'),
    hole: lugSize('54 mm'),
    topRadius: lugSize('95 mm'),
    shoulder: length('50 mm', { min: 0, max: 5000, words: 'zero or more, at most 5 m' }),
    cheek: group({ radius: lugSize('70 mm'), thickness: lugSize('10 mm') }).optional(),
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
  ).optional(),
  weld: group({ leg: length('16 mm', between(1, 60, 'from 1 mm to 60 mm')) }),
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
  over: oneOf(['frame', 'longitudinal']).optional(),
  stopped: list(
    group({
      run: number('the number of the run, a whole number from 1 on', 1, 10_000).int({
        error: 'the number of the run, a whole number from 1 on',
      }),
      s: length('120 mm'),
      order: text('the mark of the order of runs, as it was put there', 60).optional(),
      at: text('day and time, like 2026-03-14T10:30:00Z', 40).optional(),
      dive: number('the number of the dive, a whole number from 1 on', 1, 10_000)
        .int({ error: 'the number of the dive, a whole number from 1 on' })
        .optional(),
      note: text('a note', 300).optional(),
    }),
    1,
    'ends of dives',
  )
    .max(500, { error: 'a list of at most 500 ends of dives' })
    .optional(),
  asBuilt: group({
    face: group({ fromPlumb: angle('1.5 deg', acute), looksUp: oneOf(['face-', 'face+']) }).optional(),
    foot: group({ fromLevel: angle('0.4 deg', acute), higher: oneOf(['end-', 'end+']) }).optional(),
    turned: angle('0 deg', underRight).optional(),
    gaps: z
      .array(group({ s: length('120 mm', NOT_NEGATIVE), gap: length('0.5 mm', NOT_NEGATIVE) }), {
        error: 'a list of gaps, each with s and gap',
      })
      .max(200, { error: 'a list of at most 200 gaps' })
      .optional(),
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
    stressPresent: quantity('stress', '40 MPa', NOT_NEGATIVE).optional(),
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
  fitGap: length('1.6 mm', FEELER).optional(),
  recutGap: length('4.8 mm', FEELER).optional(),
  sidewaysShare: z.union([quantity('share', '5 %', NOT_NEGATIVE), number(SHARE, 0, 1)], { error: SHARE }).optional(),
  offPlane: angle('3 deg', acute).optional(),
  bevel: angle('45 deg', acute).optional(),
  stemToShell: angle('10 deg', { ...acute, over: 0, words: 'more than 0 deg, less than 90 deg' }).optional(),
  level: size('1 mm').optional(),
  sealedLength: length('5 mm', NOT_NEGATIVE).optional(),
  seamClear: length('50 mm', NOT_NEGATIVE).optional(),
});

const minutes = (like: string, least = 0, most = 1000) =>
  quantity('time', like, between(least, most, `from ${least} min to ${most} min`)).optional();
const factor = (min: number, max: number) => number(`a bare number from ${min} to ${max}`, min, max).optional();

export const jobSchema = group({
  /** Where an editor finds this schema; of no meaning to a plan. */
  $schema: z.string({ error: 'the address of a schema' }).optional(),
  format: z.literal('lugwright.job', { error: '"lugwright.job"' }),
  version: z.literal(1, { error: '1' }),
  title: text('a title for the job'),
  display: oneOf(['metric', 'us']),
  ship: withAttitude(
    group({
      lpp: size('62 m'),
      draftAft: size('3.40 m').optional(),
      draftForward: size('3.05 m').optional(),
      heel: angle('0.7 deg', underRight).optional(),
      draftMarks: draftMarks.optional(),
      hull: hullSchema,
      compare: compare.optional(),
      structure: structureSchema.optional(),
    }),
  ),
  fittings: list(fitting, 1, 'fittings'),
  basis: oneOf(['aisc-360-asd', 'aisc-360-lrfd', 'en-1993', 'bth-1']).optional(),
  limits: limits.optional(),
  steel: steel.optional(),
  electrode: group({
    kind: oneOf(['nickel', 'ferritic', 'austenitic']).optional(),
    diameter: length('2.4 mm', between(1, 10, 'from 1 mm to 10 mm')).optional(),
    length: length('350 mm', between(100, 1000, 'from 100 mm to 1 m')).optional(),
    tensile: stress('480 MPa'),
  }).optional(),
  welding: group({
    class: oneOf(['A', 'B', 'O', 'C']).optional(),
    edition: oneOf(['1999', '2010', '2017']).optional(),
    runLength: length('150 mm', RUN).optional(),
    bottomTime: minutes('60 min', 1),
    quality: factor(0, 1),
    startStop: factor(0, 1),
    directional: z.boolean({ error: 'true or false' }).optional(),
    stub: length('50 mm', between(0, 900, 'from 0 mm to 900 mm')).optional(),
    recovery: factor(0.1, 1),
    burn: minutes('1 min', 0.1, 10),
    travelPerMinute: length('150 mm', between(10, 1000, 'from 10 mm to 1 m')).optional(),
    change: minutes('1.5 min'),
    grindStop: minutes('1 min'),
    cleanMetre: minutes('3 min'),
    hold: minutes('10 min'),
    diveOverhead: minutes('10 min'),
    stagger: length('25 mm', between(0, 500, 'from 0 mm to 500 mm')).optional(),
    cornerClear: length('25 mm', between(0, 500, 'from 0 mm to 500 mm')).optional(),
    arcVolts: quantity('potential', '26 V', POSITIVE).optional(),
    leadLength: size('120 m').optional(),
    leadDrop: quantity('potential', '8 V', POSITIVE).optional(),
  })
    .refine((value) => value.class !== 'C' || value.edition === '1999', {
      error: 'class A, B or O; C stands in the edition of 1999 alone: "edition": "1999" beside it',
      path: ['class'],
      when: (payload) => typeof payload.value === 'object' && payload.value !== null && !Array.isArray(payload.value),
    })
    .meta({
      if: { properties: { class: { const: 'C' } }, required: ['class'] },
      // biome-ignore lint/suspicious/noThenProperty: a word of JSON Schema
      then: { properties: { edition: { const: '1999' } }, required: ['edition'] },
    })
    .optional(),
  factors: group({
    dynamic: factor(1, 10),
    skew: factor(1, 10),
    consequence: factor(1, 10),
    load: factor(1, 10),
    sidewaysAllowance: z
      .union([quantity('share', '5 %', NOT_NEGATIVE), number(SHARE, 0, 1)], { error: SHARE })
      .optional(),
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
  lift: liftSchema.optional(),
  papers: papersSchema.optional(),
});

/** A job file as it is written: every quantity still text. */
export type RawJob = z.output<typeof jobSchema>;
export type RawHull = RawJob['ship']['hull'];
export type RawFitting = RawJob['fittings'][number];
export type RawLift = NonNullable<RawJob['lift']>;
