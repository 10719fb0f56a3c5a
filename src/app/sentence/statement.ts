import type { Kind } from '../../job/units.ts';
import { append, type Json, type Path, pathOf, removeIn, setIn, valueIn } from '../store/jsontext.ts';
import { otherFields } from './others.ts';
import type { Group, Option, Piece } from './pieces.ts';

const q = (path: string, kind: Kind, label: string): Piece => ({ quantity: path, kind, label });
const clearable = (path: string, kind: Kind, label: string): Piece => ({ quantity: path, kind, label, clear: true });

const plainChoice = (path: string, label: string, value: string, options: readonly Option[]): Piece => ({
  choice: path,
  label,
  value,
  options,
  choose: (text, chosen) => setIn(text, pathOf(path), chosen),
});

const has = (job: Json, path: Path): boolean => valueIn(job, path) !== undefined;
const textAt = (job: Json, path: string, otherwise: string): string => {
  const value = valueIn(job, pathOf(path));
  return typeof value === 'string' ? value : otherwise;
};

export function statement(job: Json, fitting: number): Group[] {
  const told = [
    ship(job),
    hull(),
    ...lug(job, fitting),
    pull(job, fitting),
    gear(job, fitting),
    weld(job, fitting),
    crew(),
    steel(job),
    ...(has(job, ['fittings', fitting, 'behind']) ? [] : [behindUnsaid(fitting)]),
    limits(job),
    factors(),
  ];
  return [...told, ...otherFields(job, fitting, reachedBy(told))];
}

/** Paths of the fields that sentences have at hand. */
export function reachedBy(groups: readonly Group[]): ReadonlySet<string> {
  return new Set(
    groups.flatMap((g) =>
      g.sentences.flat().flatMap((p) => {
        if (typeof p === 'string' || 'action' in p) return [];
        if ('quantity' in p) return [p.quantity];
        if ('number' in p) return [p.number];
        if ('words' in p) return [p.words];
        return 'choice' in p ? [p.choice] : ['ship.hull'];
      }),
    ),
  );
}
/** Drafts at the perpendiculars, or what was read at the draft marks, one by one. */
function ship(job: Json): Group {
  const lpp = q('ship.lpp', 'length', 'Length between perpendiculars');
  const heel: Piece[] = [', heeled ', q('ship.heel', 'angle', 'Heel, starboard side down'), ' to starboard'];
  const marks = valueIn(job, ['ship', 'draftMarks']);
  if (!Array.isArray(marks))
    return {
      id: 'ship',
      title: 'the ship',
      sentences: [
        [
          'Floats at ',
          q('ship.draftAft', 'length', 'Draft aft'),
          ' aft and ',
          q('ship.draftForward', 'length', 'Draft forward'),
          ' forward, ',
          lpp,
          ' between the perpendiculars',
          ...heel,
          '.',
        ],
      ],
    };
  const read = marks.map((mark, k): Piece[] => {
    const at = `ship.draftMarks[${k}]`;
    const name = valueIn(mark, ['name']);
    const called = typeof name === 'string' ? name : `mark ${k + 1}`;
    return [
      `${called}: `,
      q(`${at}.draft`, 'length', `Draft, ${called}`),
      ' at ',
      q(`${at}.station`, 'length', `Station of the draft mark, ${called}`),
      ...(has(job, ['ship', 'draftMarks', k, 'halfBreadth'])
        ? [
            ', ',
            q(`${at}.halfBreadth`, 'length', `Out from the centreline, ${called}`),
            ` to ${textAt(job, `${at}.side`, '')}`,
          ]
        : []),
      '.',
    ];
  });
  return {
    id: 'ship',
    title: 'the ship',
    sentences: [
      [
        'Floats as its draft marks were read, ',
        lpp,
        ' between the perpendiculars',
        ...(has(job, ['ship', 'heel']) ? heel : []),
        '.',
      ],
      ...read,
    ],
  };
}

const hull = (): Group => ({ id: 'hull', title: 'the hull', folded: true, sentences: [[{ hull: true }]] });

const PLACE_WORDS: readonly Option[] = [
  { value: 'girth', label: 'round from the keel' },
  { value: 'height', label: 'up from the baseline' },
  { value: 'halfBreadth', label: 'out from the centreline' },
];

function lug(job: Json, i: number): Group[] {
  const f = `fittings[${i}]`;
  const at = valueIn(job, ['fittings', i, 'at']);
  const by = PLACE_WORDS.find((o) => has(at ?? null, [o.value]))?.value ?? 'girth';
  const stem = valueIn(job, ['fittings', i, 'stem']);
  const lean = typeof stem === 'object' && stem !== null;
  const place: Piece = {
    choice: `${f}.at`,
    label: 'How the place is measured',
    value: by,
    options: PLACE_WORDS,
    choose: (text, chosen) => {
      if (chosen === by) return text;
      const figure = textAt(job, `${f}.at.${by}`, '1 m');
      return setIn(removeIn(text, pathOf(`${f}.at.${by}`)), pathOf(`${f}.at.${chosen}`), figure);
    },
  };
  const stemChoice: Piece = {
    choice: `${f}.stem`,
    label: 'Stem',
    value: lean ? 'lean' : typeof stem === 'string' ? stem : '',
    options: [
      { value: 'plumb', label: 'plumb' },
      { value: 'normal', label: 'square to the shell' },
      { value: 'toward-load', label: 'aimed at the load' },
      { value: 'lean', label: 'leaned off square by' },
    ],
    choose: (text, chosen) => setIn(text, pathOf(`${f}.stem`), chosen === 'lean' ? { lean: '5 deg' } : chosen),
  };
  const cheek = has(job, ['fittings', i, 'lug', 'cheek']);
  return [
    {
      id: 'lug',
      title: `the lug`,
      sentences: [
        [
          'Lug ',
          { words: `${f}.id`, label: 'Name of the lug' },
          ' sits on the ',
          plainChoice(`${f}.at.side`, 'Side', textAt(job, `${f}.at.side`, ''), [
            { value: 'port', label: 'port' },
            { value: 'starboard', label: 'starboard' },
          ]),
          ' side, ',
          q(`${f}.at.station`, 'length', 'Station, forward of the aft perpendicular'),
          ' forward of the aft perpendicular, ',
          q(`${f}.at.${by}`, 'length', `Place, ${PLACE_WORDS.find((o) => o.value === by)?.label ?? ''}`),
          ' ',
          place,
          '.',
        ],
        ...(has(job, ['fittings', i, 'behind']) ? [behindSaid(i)] : []),
        [
          'Its stem is ',
          stemChoice,
          ...(lean ? [' ', q(`${f}.stem.lean`, 'angle', 'Lean, positive outward')] : []),
          ', its foot turned ',
          q(`${f}.heading`, 'angle', 'Heading of the foot, from fore and aft towards outboard'),
          ' from fore and aft.',
        ],
        [
          'A plate ',
          q(`${f}.lug.thickness`, 'length', 'Plate thickness'),
          ' thick, foot ',
          q(`${f}.lug.foot`, 'length', 'Length of the foot'),
          ', pin ',
          q(`${f}.lug.pinHeight`, 'length', 'Height of the pin over the foot'),
          ' up, hole ',
          q(`${f}.lug.hole`, 'length', 'Diameter of the hole'),
          ', top radius ',
          q(`${f}.lug.topRadius`, 'length', 'Top radius'),
          ', upright edges for ',
          q(`${f}.lug.shoulder`, 'length', 'Shoulder: height of the upright edges'),
          '.',
        ],
        cheek
          ? [
              'Cheek plates of radius ',
              q(`${f}.lug.cheek.radius`, 'length', 'Radius of the cheek plates'),
              ', ',
              q(`${f}.lug.cheek.thickness`, 'length', 'Thickness of one cheek plate'),
              ' thick on each face. ',
              { action: 'no cheek plates', change: (t) => removeIn(t, pathOf(`${f}.lug.cheek`)) },
            ]
          : [
              'No cheek plates. ',
              {
                action: 'add cheek plates',
                change: (t) =>
                  setIn(t, pathOf(`${f}.lug.cheek`), {
                    radius: textAt(job, `${f}.lug.hole`, '60 mm'),
                    thickness: '10 mm',
                  }),
              },
            ],
        [
          'The foot is cut ',
          plainChoice(`${f}.cut`, 'Cut of the foot', textAt(job, `${f}.cut`, 'simplest'), [
            { value: 'simplest', label: 'as simply as fits' },
            { value: 'straight', label: 'straight, one bevel' },
            { value: 'faceted', label: 'in facets' },
            { value: 'scribed', label: 'scribed to the shell' },
          ]),
          '.',
        ],
      ],
    },
  ];
}

function pull(job: Json, i: number): Group {
  const f = `fittings[${i}].load`;
  const toward = has(job, ['fittings', i, 'load', 'toward']);
  const left = !has(job, ['fittings', i, 'load']);
  const now = left ? 'movement' : toward ? 'toward' : 'direction';
  const lines = valueIn(job, ['lift', 'lines']);
  const id = valueIn(job, ['fittings', i, 'id']);
  const hung = Array.isArray(lines) && lines.some((line) => valueIn(line as Json, ['fitting']) === id);
  const way: Piece = {
    choice: f,
    label: 'How the pull is given',
    value: now,
    options: [
      { value: 'toward', label: 'towards the point' },
      { value: 'direction', label: 'in the direction' },
      ...(left || hung ? [{ value: 'movement', label: 'as the movement does at its worst' }] : []),
    ],
    choose: (text, chosen) => {
      if (chosen === now) return text;
      if (chosen === 'movement') return removeIn(text, pathOf(f));
      const other = toward ? 'toward' : 'direction';
      const value: Json =
        chosen === 'toward' ? [textAt(job, `fittings[${i}].at.station`, '0 m'), '0 m', '-5 m'] : [0, 0, -1];
      if (left) return setIn(text, pathOf(f), { [chosen]: value, force: '10 kN' });
      return setIn(removeIn(text, pathOf(`${f}.${other}`)), pathOf(`${f}.${chosen}`), value);
    },
  };
  const target: Piece[] = toward
    ? [
        q(`${f}.toward[0]`, 'length', 'Load point, forward of the aft perpendicular'),
        ' forward, ',
        q(`${f}.toward[1]`, 'length', 'Load point, to port of the centreline'),
        ' to port, ',
        q(`${f}.toward[2]`, 'length', 'Load point, above the baseline'),
        ' up',
      ]
    : [
        { number: `${f}.direction[0]`, label: 'Direction, forward' },
        ' forward, ',
        { number: `${f}.direction[1]`, label: 'Direction, to port' },
        ' to port, ',
        { number: `${f}.direction[2]`, label: 'Direction, up' },
        ' up',
      ];
  return {
    id: 'pull',
    title: 'the pull',
    sentences: [
      left
        ? ['Pulls ', way, '.']
        : ['Pulls ', way, ' ', ...target, ', with ', q(`${f}.force`, 'force', 'Force of the pull'), '.'],
    ],
  };
}

function gear(job: Json, i: number): Group {
  const f = `fittings[${i}]`;
  const shackle = has(job, ['fittings', i, 'shackle']);
  const hoist = has(job, ['fittings', i, 'hoist']);
  return {
    id: 'gear',
    title: 'shackle and hoist',
    folded: !shackle && !hoist,
    sentences: [
      shackle
        ? [
            'A shackle rated ',
            q(`${f}.shackle.wll`, 'load', 'Working load limit of the shackle'),
            ', pin ',
            q(`${f}.shackle.pin`, 'length', 'Diameter of the shackle pin'),
            ', jaw ',
            q(`${f}.shackle.jaw`, 'length', 'Width of the shackle jaw'),
            '. ',
            'Inside it is ',
            clearable(`${f}.shackle.insideLength`, 'length', 'Inside length of the shackle'),
            ' long and ',
            clearable(`${f}.shackle.bowWidth`, 'length', 'Inside width of the bow'),
            ' wide at the bow, of a bar ',
            clearable(`${f}.shackle.bar`, 'length', 'Thickness of the bow'),
            ' thick. ',
            { action: 'no shackle', change: (t) => removeIn(t, pathOf(`${f}.shackle`)) },
          ]
        : [
            'No shackle named. ',
            {
              action: 'name a shackle',
              change: (t) => setIn(t, pathOf(`${f}.shackle`), { wll: '25 t', pin: '50 mm', jaw: '74 mm' }),
            },
          ],
      hoist
        ? [
            'A hoist rated ',
            q(`${f}.hoist.wll`, 'load', 'Working load limit of the hoist'),
            '. ',
            { action: 'no hoist', change: (t) => removeIn(t, pathOf(`${f}.hoist`)) },
          ]
        : [
            'No hoist named. ',
            { action: 'name a hoist', change: (t) => setIn(t, pathOf(`${f}.hoist`), { wll: '25 tonf' }) },
          ],
    ],
  };
}

const weld = (job: Json, i: number): Group => ({
  id: 'weld',
  title: 'the weld',
  sentences: [
    [
      'A fillet as strong as ',
      q(`fittings[${i}].weld.leg`, 'length', 'Leg of the fillet at 90 degrees with the throat wanted'),
      ' leg at a square corner.',
    ],
    [
      'Wet, with ',
      plainChoice('electrode.kind', 'Kind of electrode', textAt(job, 'electrode.kind', 'nickel'), [
        { value: 'nickel', label: 'nickel-type' },
        { value: 'ferritic', label: 'ferritic' },
        { value: 'austenitic', label: 'austenitic' },
      ]),
      ' electrodes ',
      clearable('electrode.diameter', 'length', 'Electrode diameter'),
      ' thick, ',
      clearable('electrode.length', 'length', 'Electrode length'),
      ' long, ',
      clearable('electrode.tensile', 'stress', 'Tensile strength of the deposit'),
      ' tensile. No run longer than ',
      clearable('welding.runLength', 'length', 'Longest run without a stop'),
      '.',
    ],
  ],
});

function steel(job: Json): Group {
  const given = has(job, ['steel', 'shell', 'carbonEquivalent']);
  const byParts = has(job, ['steel', 'shell', 'composition']);
  const known = given && typeof valueIn(job, ['steel', 'shell', 'carbonEquivalent']) === 'number';
  const parts = valueIn(job, ['steel', 'shell', 'composition']);
  const carbon: Piece = {
    choice: 'steel.shell.carbonEquivalent',
    label: 'How readily the shell steel hardens',
    value: byParts ? 'composition' : known ? 'given' : 'unknown',
    options: [
      { value: 'unknown', label: 'unknown' },
      { value: 'given', label: 'known' },
      { value: 'composition', label: 'worked out from its composition' },
    ],
    choose: (text, chosen) => {
      const clean = removeIn(removeIn(text, ['steel', 'shell', 'carbonEquivalent']), ['steel', 'shell', 'composition']);
      if (chosen === 'given') return setIn(clean, ['steel', 'shell', 'carbonEquivalent'], 0.4);
      if (chosen === 'composition') return setIn(clean, ['steel', 'shell', 'composition'], { C: 0.18, Mn: 1 });
      return setIn(clean, ['steel', 'shell', 'carbonEquivalent'], 'unknown');
    },
  };
  const elements =
    typeof parts === 'object' && parts !== null && !Array.isArray(parts)
      ? Object.keys(parts).flatMap((e): Piece[] => [
          ` ${e} `,
          { number: `steel.shell.composition.${e}`, label: `${e}, per cent` },
          ' %',
        ])
      : [];
  return {
    id: 'steel',
    title: 'the steel',
    folded: true,
    sentences: [
      [
        'The lug yields at ',
        clearable('steel.lug.yield', 'stress', 'Yield strength of the lug'),
        ' and breaks at ',
        clearable('steel.lug.tensile', 'stress', 'Tensile strength of the lug'),
        '.',
      ],
      [
        'The shell is ',
        clearable('steel.shell.thickness', 'length', 'Thickness of the shell plating'),
        ' thick, yields at ',
        clearable('steel.shell.yield', 'stress', 'Yield strength of the shell'),
        ' and breaks at ',
        clearable('steel.shell.tensile', 'stress', 'Tensile strength of the shell'),
        '; frames every ',
        clearable('steel.frameSpacing', 'length', 'Frame spacing'),
        ', longitudinals every ',
        clearable('steel.longitudinalSpacing', 'length', 'Spacing of longitudinals'),
        '. Stressed already: ',
        clearable('steel.shell.stressPresent', 'stress', 'Stress already in the shell at the lug'),
        '.',
      ],
      [
        'Its carbon equivalent is ',
        carbon,
        ...(known ? [': ', { number: 'steel.shell.carbonEquivalent', label: 'Carbon equivalent' } as Piece] : []),
        ...elements,
        '.',
      ],
    ],
  };
}

const bare = (path: string, label: string): Piece => ({ number: path, label });

const crew = (): Group => ({
  id: 'crew',
  title: 'the crew and the dive',
  folded: true,
  sentences: [
    [
      'A dive gives ',
      clearable('welding.bottomTime', 'time', 'Time on the bottom of one dive, set by the dive supervisor'),
      ' on the bottom, of which ',
      clearable('welding.diveOverhead', 'time', 'Time of each dive that is not work'),
      ' is not work. The dive supervisor sets it.',
    ],
    [
      'An electrode burns ',
      clearable('welding.burn', 'time', 'Burning time of one electrode'),
      ', leaves a stub of ',
      clearable('welding.stub', 'length', 'Length of the stub'),
      ', and takes ',
      clearable('welding.change', 'time', 'Time to change an electrode'),
      ' to change; ',
      bare('welding.recovery', 'Share of the core that ends in the weld'),
      ' of its metal stays in the weld. The arc travels ',
      clearable('welding.travelPerMinute', 'length', 'Travel of the arc in a minute'),
      ' a minute at ',
      clearable('welding.arcVolts', 'potential', 'Arc voltage'),
      '.',
    ],
    [
      'Grinding a stop takes ',
      clearable('welding.grindStop', 'time', 'Time to grind a start or stop'),
      ', cleaning a metre ',
      clearable('welding.cleanMetre', 'time', 'Time to clean one metre of bead'),
      ', a hold point ',
      clearable('welding.hold', 'time', 'Time a hold point takes'),
      '. Stops keep ',
      clearable('welding.stagger', 'length', 'Distance between stops of beads that touch'),
      ' from those beside and below and ',
      clearable('welding.cornerClear', 'length', 'Distance of stops from corners'),
      ' from corners.',
    ],
    [
      'Leads are ',
      clearable('welding.leadLength', 'length', 'Length of the welding leads'),
      ' long and may lose ',
      clearable('welding.leadDrop', 'potential', 'Voltage the leads may lose'),
      '.',
    ],
  ],
});

/**
 * What the lug's own field says stands behind it: beside its place, since one without the other would mislead. A hand that drags the lug
 * counts these on; a place that is typed anew leaves them as they are.
 */
const behindSaid = (i: number): Piece[] => [
  'The frame abaft is ',
  clearable(`fittings[${i}].behind.fromFrame`, 'length', 'Distance from the nearest frame'),
  ' away, the longitudinal inboard ',
  clearable(`fittings[${i}].behind.fromLongitudinal`, 'length', 'Distance from the nearest longitudinal'),
  '.',
];

const behindUnsaid = (i: number): Group => ({
  id: 'behind',
  title: 'behind the plating',
  folded: true,
  sentences: [
    [
      'Where frame and longitudinal stand behind the lug is not said. ',
      {
        action: 'say it',
        change: (t) => setIn(t, pathOf(`fittings[${i}].behind`), { fromFrame: '0 mm', fromLongitudinal: '0 mm' }),
      },
    ],
  ],
});

const factors = (): Group => ({
  id: 'factors',
  title: 'factors of the checks',
  folded: true,
  sentences: [
    [
      'The pull is multiplied by ',
      bare('factors.dynamic', 'Dynamic factor'),
      ' for its dynamics, ',
      bare('factors.skew', 'Skew factor'),
      ' for skew, ',
      bare('factors.consequence', 'Consequence factor'),
      ' for consequence and ',
      bare('factors.load', 'Load factor of the design basis'),
      ' for the basis; at least ',
      clearable('factors.sidewaysAllowance', 'share', 'Least share of the pull taken across the plate'),
      ' of it is taken across the plate.',
    ],
    [
      'Of a wet weld ',
      bare('welding.quality', 'Share of the strength of a dry weld'),
      ' of the strength counts for its quality and ',
      bare('welding.startStop', 'Share left for starts and stops'),
      ' for starts and stops.',
    ],
    [
      'By ASME BTH-1: design factor ',
      bare('coefficients.bth.designFactor', 'BTH-1 design factor'),
      ', edge ',
      bare('coefficients.bth.fractureEdge', 'BTH-1 coefficient of the edge in fracture'),
      ', net ',
      bare('coefficients.bth.fractureNet', 'BTH-1 coefficient of the net section in fracture'),
      ', bearing ',
      bare('coefficients.bth.bearing', 'BTH-1 coefficient of bearing'),
      '. By EN 1993: gamma M0 ',
      bare('coefficients.en.gammaM0', 'EN 1993 gamma M0'),
      ', gamma M2 ',
      bare('coefficients.en.gammaM2', 'EN 1993 gamma M2'),
      ', gamma M6,ser ',
      bare('coefficients.en.gammaM6ser', 'EN 1993 gamma M6,ser'),
      '.',
    ],
  ],
});

const limits = (job: Json): Group => ({
  id: 'limits',
  title: 'what it is judged by',
  folded: true,
  sentences: [
    [
      'Strength by ',
      plainChoice('basis', 'Design basis', textAt(job, 'basis', 'aisc-360-asd'), [
        { value: 'aisc-360-asd', label: 'AISC 360, allowable strength' },
        { value: 'aisc-360-lrfd', label: 'AISC 360, load and resistance factors' },
        { value: 'en-1993', label: 'EN 1993' },
        { value: 'bth-1', label: 'ASME BTH-1' },
      ]),
      '.',
    ],
    [
      'A gap is tight up to ',
      clearable('limits.fitGap', 'length', 'Gap up to which a fit is tight'),
      '; beyond ',
      clearable('limits.recutGap', 'length', 'Gap beyond which the foot is cut again'),
      ' the foot is cut again.',
    ],
    [
      'Across the plate at most ',
      clearable('limits.sidewaysShare', 'share', 'Share of the pull allowed across the plate'),
      ' of the pull',
      ...(has(job, ['limits', 'offPlane'])
        ? [
            ', and at most ',
            clearable('limits.offPlane', 'angle', 'Angle allowed between pull and plate'),
            ' off the plane.',
          ]
        : [
            '. ',
            {
              action: 'limit the angle too',
              change: (t: string) => setIn(t, ['limits', 'offPlane'], '3 deg'),
            } as Piece,
          ]),
    ],
    [
      'The stem stands at least ',
      clearable('limits.stemToShell', 'angle', 'Least angle between stem and shell'),
      ' off the shell. Root heights within ',
      clearable('limits.level', 'length', 'Height difference that counts as level'),
      ' are level; ',
      clearable('limits.sealedLength', 'length', 'Length of root that may be welded against a closed vent'),
      ' of root may close on itself.',
    ],
  ],
});

/** A fitting like the one at `i`, with a name of its own, a little forward of it. */
export function copyFitting(text: string, i: number): string {
  const job = JSON.parse(text.replace(/^\uFEFF/, '')) as Json;
  const list = valueIn(job, ['fittings']);
  const source = valueIn(job, ['fittings', i]);
  if (!Array.isArray(list) || source === undefined) return text;
  const ids = new Set(list.map((f) => valueIn(f, ['id'])));
  const old = String(valueIn(source, ['id']) ?? 'lug');
  const stemOfName = old.replace(/\d+$/, '') || 'lug';
  let n = 1;
  while (ids.has(`${stemOfName}${n}`)) n++;
  return append(text, ['fittings'], { ...(source as { [key: string]: Json }), id: `${stemOfName}${n}` });
}
