import { scaleLinear } from 'd3-scale';
import type { Display } from '../job/types.ts';
import { internalPer } from '../job/units.ts';
import { type Pen, type Sheet, THIN } from './drawing.ts';
import { type Fonts, widthOf } from './fonts.ts';
import type { Box } from './jointlayout.ts';

/** A figure at every place of the load: null where there is none, as of a line that is off. */
export interface Series {
  readonly name: string;
  readonly values: readonly (number | null)[];
  /** The most that a push makes of it, drawn as a tick over the place. */
  readonly pushed?: readonly (number | null)[];
}

export interface Chart {
  /** What is drawn. */
  readonly title: string;
  readonly series: readonly Series[];
  /** Number under each place. */
  readonly places: number;
  /** Places at which a step of the movement ends, counted from 0. */
  readonly ends: readonly number[];
  /** A line across, and what it says. */
  readonly limit?: { readonly value: number; readonly text: string };
  /** Unit of the scale at the left, and what one of it is in the unit of the figures. */
  readonly unit: { readonly name: string; readonly is: number };
}

/** Scale of a chart of forces in N. */
export const forceUnit = (display: Display): Chart['unit'] => {
  const name = display === 'us' ? 'kip' : 'kN';
  return { name, is: internalPer(name) };
};

/** Told apart on a black and white copy: by dashes, and by the name at its highest place. */
const PENS: readonly Pen[] = [
  { width: 0.6 },
  { width: 0.6, dash: [3, 1.2] },
  { width: 0.6, dash: [0.8, 1] },
  { width: 0.6, dash: [5, 1, 1, 1] },
  { width: 0.35 },
  { width: 0.35, dash: [2, 2] },
];
const FAINT: Pen = { width: 0.15, grey: 0.65 };
const LIMIT: Pen = { width: 0.35, dash: [5, 1.5] };
const SIZE = 7;

/** Figures over the places of a movement as lines in a box: scale at the left, places below, ends of steps as faint uprights. */
export function liftChart(sheet: Sheet, fonts: Fonts, box: Box, chart: Chart): void {
  const all = chart.series.flatMap((s) => [...s.values, ...(s.pushed ?? [])]).map((v) => v ?? 0);
  const most = 1.08 * Math.max(chart.limit?.value ?? 0, ...all);
  const scale = scaleLinear([0, most > 0 ? most : 1], [box.y + 8, box.y + box.height - 7]);
  const inUnit = scaleLinear([0, (most > 0 ? most : 1) / chart.unit.is], [0, 1]);
  const tick = inUnit.tickFormat(4);
  const marks = inUnit
    .ticks(4)
    .map((value) => ({ value: value * chart.unit.is, text: `${tick(value)} ${chart.unit.name}` }));
  const left = box.x + 2 + Math.max(...marks.map(({ text }) => widthOf(fonts, text, SIZE))) + 2;
  const right = box.x + box.width - 12;
  const x = (i: number): number => left + ((i + 0.5) * (right - left)) / chart.places;
  sheet.text(chart.title, box.x, box.y + box.height - 3, { size: SIZE + 1, bold: true });
  for (const { value, text } of marks) {
    sheet.line(left, scale(value), right, scale(value), value === 0 ? THIN : FAINT);
    sheet.text(text, left - 1.5, scale(value) - 0.9, { size: SIZE, align: 'right' });
  }
  for (const end of chart.ends.slice(0, -1)) {
    const at = (x(end) + x(end + 1)) / 2;
    sheet.line(at, scale(0), at, box.y + box.height - 7, FAINT);
  }
  const every = Math.ceil(chart.places / 25);
  for (let i = 0; i < chart.places; i += every) {
    sheet.text(String(i + 1), x(i), box.y + 4.6, { size: SIZE, align: 'centre' });
  }
  sheet.text('place', right + 1, box.y + 4.6, { size: SIZE });
  if (chart.limit !== undefined) {
    const y = scale(chart.limit.value);
    sheet.line(left, y, right, y, LIMIT);
    sheet.text(chart.limit.text, right - 1, y + 0.8, { size: SIZE, align: 'right' });
  }
  const taken: { x: number; y: number }[] = [];
  chart.series.forEach((series, k) => {
    const pen = PENS[k % PENS.length] as Pen;
    for (const stretch of stretches(series.values)) {
      sheet.path(
        stretch.map(({ i, value }) => ({ x: x(i), y: scale(value) })),
        pen,
      );
      for (const { i, value } of stretch) sheet.circle(x(i), scale(value), 0.55, undefined, 0);
    }
    series.pushed?.forEach((value, i) => {
      const rest = series.values[i] ?? 0;
      if (value === null || value <= rest) return;
      sheet.line(x(i), scale(rest), x(i), scale(value), THIN);
      sheet.line(x(i) - 0.8, scale(value), x(i) + 0.8, scale(value), { width: 0.35 });
    });
    const last = series.values.findLastIndex((value) => value !== null);
    if (chart.series.length === 1 || last < 0) return;
    // The name to the right of the last place, below those that stand there already.
    const at = { x: x(last) + 1.5, y: scale(series.values[last] ?? 0) - 0.9 };
    const near = () => taken.find((t) => Math.abs(t.x - at.x) < 8 && Math.abs(t.y - at.y) < 2.8);
    for (let t = near(); t !== undefined; t = near()) at.y = t.y + 3;
    taken.push({ ...at });
    sheet.text(series.name, at.x, at.y, { size: SIZE, bold: true });
  });
}

/** Runs of places that follow one another and have a figure. */
function stretches(values: readonly (number | null)[]): { i: number; value: number }[][] {
  const out: { i: number; value: number }[][] = [[]];
  values.forEach((value, i) => {
    if (value === null) out.push([]);
    else out.at(-1)?.push({ i, value });
  });
  return out.filter((stretch) => stretch.length > 0);
}
