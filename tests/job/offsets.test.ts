import { expect, test } from 'vitest';
import { feetInchesEighths, type OffsetsUnit, readOffsets } from '../../src/job/offsets.ts';

const table = (text: string, unit: OffsetsUnit = 'm') => {
  const reading = readOffsets(text, unit, 'lines.csv');
  if (!reading.ok) throw new Error(reading.faults.map((f) => `${f.found} | ${f.expected}`).join('\n'));
  return reading.table;
};
const faults = (text: string, unit: OffsetsUnit = 'm'): string[] => {
  const reading = readOffsets(text, unit, 'lines.csv');
  if (reading.ok) throw new Error('the table was read');
  return reading.faults.map((f) => `${f.found} | ${f.expected}`);
};

const GOOD = 'st,0,0.5,1\n0,,0.2,0.4\n10,0.5,1.5,2\n20.5,0,1,1.25\n';
const READ = {
  stations: [0, 10000, 20500],
  waterlines: [0, 500, 1000],
  halfBreadths: [
    [null, 200, 400],
    [500, 1500, 2000],
    [0, 1000, 1250],
  ],
};

test('waterlines across, stations down, half-breadths inside; a blank is no shell', () => {
  expect(table(GOOD)).toEqual(READ);
});

test('the same table however a program writes it', () => {
  const semicolons = GOOD.replaceAll(',', ';');
  const forms = {
    'line ends of two': GOOD.replaceAll('\n', '\r\n'),
    'no last line end': GOOD.trimEnd(),
    'byte order mark': `\uFEFF${GOOD}`,
    quotes: GOOD.replace('0.2', '"0.2"').replace('st', '"station, m"'),
    'empty corner': GOOD.replace('st', ''),
    semicolons,
    'decimal commas': semicolons.replaceAll('.', ','),
    tabs: GOOD.replaceAll(',', '\t'),
    'tabs and decimal commas': GOOD.replaceAll(',', '\t').replaceAll('.', ','),
    'blanks round figures': GOOD.replaceAll(',', ' , '),
    'empty rows below, empty columns to the right': `${GOOD.replaceAll('\n', ',,\n')},,,,,\n,,,,,\n`,
    'stations falling': 'st,0,0.5,1\n20.5,0,1,1.25\n10,0.5,1.5,2\n0,,0.2,0.4\n',
    'waterlines falling': 'st,1,0.5,0\n0,0.4,0.2,\n10,2,1.5,0.5\n20.5,1.25,1,0\n',
  };
  for (const [name, text] of Object.entries(forms)) expect(table(text), name).toEqual(READ);
  expect(
    table(
      GOOD.replaceAll(/([\d.]+)/g, (n) => String(Number(n) * 1000)),
      'mm',
    ),
    'mm',
  ).toEqual(READ);
});

test('three decimals behind a decimal comma are no thousands where the table has no point', () => {
  const { halfBreadths } = table('st;0;1,5\n0;1,234;2,5\n1;0,5;12,345\n');
  expect(halfBreadths).toEqual([
    [1234, 2500],
    [500, 12345],
  ]);
});

test('units: a foot is 304.8 mm, an inch 25.4 mm (exact)', () => {
  expect(table('st,0,1\n0,1,2\n10,2,3\n', 'ft').halfBreadths[0]).toEqual([304.8, 609.6]);
  expect(table('st,0,1\n0,1,2\n10,2,3\n', 'in').stations[1]).toBeCloseTo(254, 10);
  expect(table('st,0,1\n0,1,2\n10,2,3\n', 'cm').stations[1]).toBeCloseTo(100, 10);
});

test('feet-inches-eighths as lines plans print them', () => {
  // 3-4-7 is 3 ft 4 7/8 in = 40.875 in; + adds a sixteenth, - takes one off (the printed convention).
  const inches: readonly (readonly [string, number])[] = [
    ['3-4-7', 40.875],
    ['3-4-7+', 40.9375],
    ['3-4-7-', 40.8125],
    ['0-0-0', 0],
    ['0', 0],
    ['12-11-0', 155],
    ['0-0-1', 1 / 8],
    ['-1-6-4', -18.5],
    [' 3 - 4 - 7 + ', 40.9375],
    ['3\u20134\u20137', 40.875],
  ];
  for (const [text, expected] of inches) expect(feetInchesEighths(text), text).toBeCloseTo(expected * 25.4, 9);
  for (const text of ['3-4-8', '3-12-0', '3-4', '3.5', '3-4-7++', '3-4-7+-', 'x', '', '1-2-3-4']) {
    expect(feetInchesEighths(text), text).toBeUndefined();
  }
  const read = table('sta,0-0-0,3-0-0\n0-0-0,0-6-0,3-4-7+\n10-0-0,,4-0-0\n', 'ft-in-8');
  expect(read.waterlines[1]).toBeCloseTo(36 * 25.4, 9);
  expect(read.halfBreadths[0]?.[1]).toBeCloseTo(40.9375 * 25.4, 9);
  expect(read.halfBreadths[1]?.[0]).toBeNull();
});

test('each fault names file, row and column, all in one go', () => {
  const found = faults('st,0,0.5,wl\n0,,abc,0.4\nx,0.5,-1.5,2\n20.5,0,1,1.25\n');
  expect(found).toHaveLength(4);
  for (const place of [
    'row 1, column 4: "wl"',
    'row 2, column 3: "abc"',
    'row 3, column 1: "x"',
    'row 3, column 3: "-1.5"',
  ]) {
    expect(found.join('\n')).toContain(`"lines.csv", ${place} | `);
  }
});

test('what is no table of offsets is refused', () => {
  const one = (text: string, unit?: OffsetsUnit) => faults(text, unit).join('\n');
  expect(one('')).toContain('at least 2 stations by 2 waterlines');
  expect(one('st,0,1\n0,1,2\n')).toContain('at least 2 stations');
  expect(one('st,0\n0,1\n1,2\n')).toContain('by 2 waterlines');
  expect(one('st,0,1\n0,1,2\n0,1,2\n')).toContain('row 3, column 1: "0" | stations strictly rising');
  expect(one('st,0,1\n0,1,2\n5,1,2\n3,1,2\n7,1,2\n')).toContain('row 4, column 1: "3"');
  expect(one('st,2,3,1\n0,1,2,3\n5,1,2,3\n')).toContain('row 1, column 3: "3" | waterlines strictly falling');
  expect(one('st,0,1,SAR\n0,1,2,0.5\n1,1,2,0.5\n')).toContain('row 1, column 4: "SAR"');
  expect(one('st,0,1\n0,1,2,7\n1,1,2\n')).toContain('row 2, column 4: "7"');
  expect(one('st,0,1\n0,1,2\n1,1,2\nMaxBm,1,1\n')).toContain('row 4, column 1: "MaxBm"');
  expect(one('st,0,1\n0,,\n1,1,2\n')).toContain('row 2: no half-breadth');
  expect(one('st,0,1\n0,1,2\n1,"1,2\n')).toContain('lines.csv');
  expect(one('st,0,1\n0,1e9,2\n1,1,2\n')).toContain('row 2, column 2');
  expect(one('st,0,1\n0,1,2\n1,3-4-7,2\n')).toContain('a bare number of m');
  expect(one('st,0,1\n0,1,2\n1,3-4-7,2\n', 'ft-in-8')).toContain('feet-inches-eighths, like 3-4-7');
  expect(one('st,0,1\n0,NaN,2\n1,Infinity,2\n').split('\n')).toHaveLength(2);
});

test('a table full of faults is cut off, and says how many more there are', () => {
  const rows = Array.from({ length: 50 }, (_, i) => `${i},a,b`);
  const found = faults(['st,0,1', ...rows].join('\n'));
  expect(found).toHaveLength(21);
  expect(found.at(-1)).toContain('80 more faults');
});
