import { describe, expect, test } from 'vitest';
import { DEFAULTS } from '../../src/job/defaults.ts';
import { readJob } from '../../src/job/read.ts';
import type { Job } from '../../src/job/types.ts';
import { type Loose, plainJob } from './jobs.ts';

/** What is behind and on the plating of an invented ship. */
function structure(): Loose {
  return {
    frames: [
      { name: 'frame 13', station: '10.3 m' },
      { name: 'frame 12', station: '9.7 m' },
    ],
    longitudinals: [
      { name: 'L3', girth: '2.1 m', from: '6 m', to: '18 m' },
      { name: 'bilge keel', girth: '9 ft', side: 'starboard' },
    ],
    seams: [{ name: 'C-D', from: { station: '4 m', girth: '2.5 m' }, to: { station: '16 m', girth: '2.7 m' } }],
    keepClear: [
      { name: 'sea chest', from: { station: '11 m', girth: '2 m' }, radius: '400 mm', side: 'port' },
      {
        name: 'sounding pipe',
        from: { station: '9 m', girth: '0 m' },
        to: { station: '9 m', girth: '4 m' },
        radius: '6 in',
      },
    ],
  };
}

function reading(change: (job: Loose) => void) {
  const job = plainJob();
  change(job);
  return readJob(JSON.stringify(job), () => undefined);
}

function read(change: (job: Loose) => void): Job {
  const result = reading(change);
  if (!result.ok) throw new Error(JSON.stringify(result.faults));
  return result.job;
}

function faults(change: (job: Loose) => void): string[] {
  const result = reading(change);
  if (result.ok) throw new Error('the job was read');
  return result.faults.map((f) => `${f.path}: ${f.found} | ${f.expected}`);
}

describe('what is behind and on the plating', () => {
  test('arrives in mm, frames from aft forward, a side only where one was given', () => {
    const { ship } = read((j) => (j.ship.structure = structure()));
    expect(ship.structure).toEqual({
      frames: [
        { name: 'frame 12', station: 9700 },
        { name: 'frame 13', station: 10300 },
      ],
      longitudinals: [
        { name: 'L3', girth: 2100, from: 6000, to: 18000 },
        // 9 ft = 9 x 304.8 mm
        { name: 'bilge keel', girth: expect.closeTo(2743.2, 9), side: 'starboard' },
      ],
      seams: [{ name: 'C-D', from: { station: 4000, girth: 2500 }, to: { station: 16000, girth: 2700 } }],
      keepClear: [
        { name: 'sea chest', from: { station: 11000, girth: 2000 }, radius: 400, side: 'port' },
        {
          name: 'sounding pipe',
          from: { station: 9000, girth: 0 },
          to: { station: 9000, girth: 4000 },
          radius: expect.closeTo(152.4, 9),
        },
      ],
    });
  });

  test('a job that says nothing has none, and one that says something of one kind has the others empty', () => {
    expect(read(() => {}).ship.structure).toBeUndefined();
    const { ship } = read((j) => (j.ship.structure = { frames: [{ name: '12', station: '9.7 m' }] }));
    expect(ship.structure).toEqual({
      frames: [{ name: '12', station: 9700 }],
      longitudinals: [],
      seams: [],
      keepClear: [],
    });
  });

  test('± is read as elsewhere, and moves the figure it stands beside', () => {
    const job = read((j) => {
      j.ship.structure = structure();
      j.ship.structure.frames[1].station = '9.7 m ± 20 mm';
    });
    expect(job.ship.structure?.frames[0]?.station).toBe(9700);
    expect(job.uncertain).toEqual([
      {
        path: 'ship.structure.frames[1].station',
        kind: 'length',
        error: 20,
        leaves: [{ path: ['ship', 'structure', 'frames', 0, 'station'], step: 10 }],
      },
    ]);
  });

  const S = 'ship.structure';
  const single: readonly (readonly [string, (s: Loose) => void, string])[] = [
    [
      'bare number',
      (s) => (s.frames[0].station = 9.7),
      `${S}.frames[0].station: 9.7 | a length with its unit, like "9.5 m"`,
    ],
    ['no name', (s) => delete s.frames[0].name, `${S}.frames[0].name: nothing | a name, like "frame 12"`],
    ['empty list', (s) => (s.frames = []), `${S}.frames: an empty list | a list of at least 1 frames`],
    [
      'same name',
      (s) => (s.frames[1].name = 'frame 13'),
      `${S}.frames[1].name: "frame 13" | another name than that of frames[0]`,
    ],
    [
      'same station',
      (s) => (s.frames[1].station = '1030 cm'),
      `${S}.frames[1].station: "1030 cm" | another station than that of frames[0]`,
    ],
    [
      'back to front',
      (s) => (s.longitudinals[0].to = '5 m'),
      `${S}.longitudinals[0].to: "5 m" | a station forward of "from"`,
    ],
    [
      'girth less than nothing',
      (s) => (s.longitudinals[0].girth = '-2 m'),
      `${S}.longitudinals[0].girth: "-2 m" | a length with its unit, like "2.2 m", zero or more`,
    ],
    [
      'side',
      (s) => (s.longitudinals[1].side = 'left'),
      `${S}.longitudinals[1].side: "left" | one of "port", "starboard"`,
    ],
    [
      'a seam without length',
      (s) => (s.seams[0].to = { ...s.seams[0].from }),
      `${S}.seams[0].to: the place of "from" | another place than "from"`,
    ],
    ['a seam without end', (s) => delete s.seams[0].to, `${S}.seams[0].to: nothing | a group of fields in { }`],
    [
      'a band without length',
      (s) => (s.keepClear[1].to = { station: '900 cm', girth: '0 mm' }),
      `${S}.keepClear[1].to: the place of "from" | another place than "from"; leave it out for a disc`,
    ],
    [
      'no radius',
      (s) => (s.keepClear[0].radius = '0 mm'),
      `${S}.keepClear[0].radius: "0 mm" | a length with its unit, like "150 mm", greater than zero`,
    ],
    [
      'unknown field',
      (s) => (s.frame = []),
      `${S}.frame: "frame" | one of frames, longitudinals, seams, keepClear; did you mean frames?`,
    ],
  ];
  test.each(single)('%s', (_name, change, line) => {
    const found = faults((j) => {
      j.ship.structure = structure();
      change(j.ship.structure);
    });
    expect(found).toEqual([line]);
  });
});

describe('what is said once for all papers', () => {
  test('arrives in mm; what is left out takes a default that is told, or nothing', () => {
    const given = { revision: 'B', date: '2024-02-29', kerf: '1/16 in', stock: '2 mm', cleanMargin: '40 mm' };
    expect(read((j) => (j.papers = { ...given, paper: 'letter' })).papers).toEqual({
      revision: 'B',
      date: '2024-02-29',
      // 25.4 / 16
      kerf: expect.closeTo(1.5875, 9),
      stock: 2,
      cleanMargin: 40,
      paper: 'letter',
    });
    const plain = read(() => {});
    expect(plain.papers).toEqual({ stock: 3, cleanMargin: 50 });
    for (const path of ['papers.stock', 'papers.cleanMargin'] as const) {
      expect(plain.assumptions.find((a) => a.path === path)?.value).toBe(DEFAULTS[path].value);
    }
  });

  test('a kerf may carry its ±', () => {
    expect(read((j) => (j.papers = { kerf: '2 mm ± 0.3 mm' })).papers.kerf).toBe(2);
  });

  const DAY = 'a day as year-month-day, like "2026-03-14"';
  test.each<readonly [Loose, string]>([
    [{ date: '2026-02-29' }, `papers.date: "2026-02-29" | ${DAY}`],
    [{ date: '1900-02-29' }, `papers.date: "1900-02-29" | ${DAY}`],
    [{ date: '14/03/2026' }, `papers.date: "14/03/2026" | ${DAY}`],
    [{ date: '2026-13-01' }, `papers.date: "2026-13-01" | ${DAY}`],
    [{ date: '2026-04-31' }, `papers.date: "2026-04-31" | ${DAY}`],
    [{ date: 20260314 }, `papers.date: 20260314 | ${DAY}`],
    [
      { revision: 'a revision as long as a line' },
      'papers.revision: "a revision as long as a line" | a revision, like "B", at most 12 characters long',
    ],
    [{ revision: 2 }, 'papers.revision: 2 | a revision, like "B"'],
    [{ kerf: '0 mm' }, 'papers.kerf: "0 mm" | a length with its unit, like "2 mm", from 0.05 mm to 12 mm'],
    [{ stock: '-1 mm' }, 'papers.stock: "-1 mm" | a length with its unit, like "3 mm", from 0 mm to 50 mm'],
    [{ cleanMargin: '2 m' }, 'papers.cleanMargin: "2 m" | a length with its unit, like "50 mm", from 0 mm to 500 mm'],
    [{ paper: 'a3' }, 'papers.paper: "a3" | one of "a4", "letter"'],
    [{ margin: '3 mm' }, 'papers.margin: "margin" | one of revision, date, kerf, stock, cleanMargin, paper'],
  ])('%j', (papers, line) => {
    expect(faults((j) => (j.papers = papers))).toEqual([line]);
  });
});

test('the record of the fit-up is read whether or not the job says what is behind the place', () => {
  const asBuilt = { gaps: [{ s: '10 mm', gap: '0.5 mm' }] };
  const plain = read((j) => (j.fittings[0].asBuilt = asBuilt));
  expect(plain.fittings[0]?.asBuilt).toEqual({ gaps: [{ s: 10, gap: 0.5 }] });
  const behind = read((j) => Object.assign(j.fittings[0], { asBuilt, behind: { fromFrame: '100 mm' } }));
  expect(behind.fittings[0]).toMatchObject({ asBuilt: { gaps: [{ s: 10, gap: 0.5 }] }, behind: { fromFrame: 100 } });
});
