import { scaleLinear } from 'd3-scale';
import type { Display } from '../job/types.ts';
import { internalPer } from '../job/units.ts';
import { beats } from '../plan/movement/ties.ts';
import { type Pen, type Sheet, THIN } from './drawing.ts';
import { fixed } from './figures.ts';
import { type Fonts, shortened, widthOf } from './fonts.ts';
import type { Box } from './jointlayout.ts';

/** A figure at every step: null where there is none, as of a line that is off. */
export interface Series {
  readonly name: string;
  readonly values: readonly (number | null)[];
  /** The most that a push makes of it, drawn as a tick over the step. */
  readonly pushed?: readonly (number | null)[];
}

export interface Chart {
  /** What is drawn. */
  readonly title: string;
  readonly series: readonly Series[];
  /** How many there are. */
  readonly steps: number;
  /** Steps at which an item of the order of work ends, counted from 0. */
  readonly ends: readonly number[];
  /** A line across, and what it says. */
  readonly limit?: { readonly value: number; readonly text: string };
  /** Unit of the scale at the left, and what one of it is in the unit of the figures. */
  readonly unit: { readonly name: string; readonly is: number };
}

/** N. From here on US figures stand in kips. */
const KIPS = 10_000 * internalPer('lbf');

/** Scale of a chart of forces up to so many N: the unit in which its figures stand beside it. */
export const forceUnit = (display: Display, most: number): Chart['unit'] => {
  const name = display === 'metric' ? 'kN' : most < KIPS ? 'lbf' : 'kip';
  return { name, is: internalPer(name) };
};

/** Told apart on a black and white copy: by dashes, which the key names. */
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
const LEAST: Pen = { width: 0.3 };
const SIZE = 8;
/** mm. Radius of the ring round the greatest figure. */
const RING = 1.5;

/**
 * Figures over the steps of a movement as lines in a box: scale at the left, steps below, items of the order of work parted by faint
 * uprights, a ring round the greatest of all with its figure and step.
 */
export function liftChart(sheet: Sheet, fonts: Fonts, box: Box, chart: Chart): void {
  const all = chart.series.flatMap((s) => [...s.values, ...(s.pushed ?? [])]).map((v) => v ?? 0);
  const most = 1.2 * Math.max(chart.limit?.value ?? 0, ...all);
  // The key stands beside the title, or below it where it is too long for that.
  const title = widthOf(fonts, chart.title, SIZE + 0.5, true);
  const keyed = chart.series.reduce((sum, { name }) => sum + widthOf(fonts, name, SIZE, true) + SAMPLE, 0);
  const beside = chart.series.length < 2 || title + 4 + keyed <= box.width;
  const high = box.y + box.height - (beside ? 7 : 11);
  const scale = scaleLinear([0, most > 0 ? most : 1], [box.y + 8, high]);
  const inUnit = scaleLinear([0, (most > 0 ? most : 1) / chart.unit.is], [0, 1]);
  const tick = inUnit.tickFormat(4);
  const marks = inUnit
    .ticks(4)
    .map((value) => ({ value: value * chart.unit.is, text: `${tick(value)} ${chart.unit.name}` }));
  const left = box.x + 2 + Math.max(...marks.map(({ text }) => widthOf(fonts, text, SIZE))) + 2;
  const right = box.x + box.width - 12;
  // A ring about the first or last figure stays clear of the scale.
  const x = (i: number): number => left + RING + ((i + 0.5) * (right - left - 2 * RING)) / chart.steps;
  sheet.text(chart.title, box.x, box.y + box.height - 3, { size: SIZE + 0.5, bold: true });
  if (chart.series.length > 1) {
    key(sheet, fonts, chart.series, box.x + box.width, beside ? box.y + box.height - 3 : high + 1.6, box.width);
  }
  for (const { value, text } of marks) {
    sheet.line(left, scale(value), right, scale(value), value === 0 ? THIN : FAINT);
    sheet.text(text, left - 1.5, scale(value) - 1, { size: SIZE, align: 'right' });
  }
  for (const end of chart.ends.slice(0, -1)) {
    const at = (x(end) + x(end + 1)) / 2;
    sheet.line(at, scale(0), at, high, FAINT);
  }
  const every = Math.ceil(chart.steps / 25);
  for (let i = 0; i < chart.steps; i += every) {
    sheet.text(String(i + 1), x(i), box.y + 4.2, { size: SIZE, align: 'centre' });
  }
  sheet.text('step', right + 1, box.y + 4.2, { size: SIZE });
  if (chart.limit !== undefined) {
    const y = scale(chart.limit.value);
    sheet.line(left, y, right, y, LIMIT);
    const wide = widthOf(fonts, chart.limit.text, SIZE);
    sheet.rect(right - 1.4 - wide, y + 0.3, wide + 0.8, 3.3, undefined, 1, 'PAPER');
    sheet.text(chart.limit.text, right - 1, y + 0.8, { size: SIZE, align: 'right' });
  }
  chart.series.forEach((series, k) => {
    const pen = PENS[k % PENS.length] as Pen;
    for (const stretch of stretches(series.values)) {
      sheet.path(
        stretch.map(({ i, value }) => ({ x: x(i), y: scale(value) })),
        pen,
        'FIGURES',
      );
      for (const { i, value } of stretch) sheet.circle(x(i), scale(value), 0.55, undefined, 0);
    }
    series.pushed?.forEach((value, i) => {
      const rest = series.values[i] ?? 0;
      if (value === null || value <= rest) return;
      sheet.line(x(i), scale(rest), x(i), scale(value), THIN);
      sheet.line(x(i) - 0.8, scale(value), x(i) + 0.8, scale(value), { width: 0.35 });
    });
  });
  const top = greatestOf(chart);
  if (top === undefined) return;
  const at = { x: x(top.step), y: scale(top.value) };
  sheet.circle(at.x, at.y, RING, LEAST, undefined, 'GREATEST');
  const figure = top.value / chart.unit.is;
  const digits = chart.unit.name === 'lbf' ? 0 : figure < 10 ? 2 : 1;
  const text = `greatest ${fixed(figure, digits)} ${chart.unit.name}, step ${top.step + 1}`;
  const half = widthOf(fonts, text, SIZE) / 2;
  // Over its ring, unless the limit stands there.
  const middle = Math.min(Math.max(at.x, left + half + 0.5), right - half - 0.5);
  const room = chart.limit === undefined ? 9 : scale(chart.limit.value) - at.y;
  const base = room < 0 || room > 6.6 ? at.y + RING + 1.5 : at.y - RING - 3.9;
  sheet.rect(middle - half - 0.4, base - 0.7, 2 * half + 0.8, 3.4, undefined, 1, 'PAPER');
  sheet.text(text, middle, base, { size: SIZE, align: 'centre' });
}

/** The greatest figure of all, pushes included, the first of equal ones; undefined where nothing is more than nothing. */
export function greatestOf({ series }: Pick<Chart, 'series'>): { step: number; value: number } | undefined {
  let best: { step: number; value: number } | undefined;
  for (const { values, pushed } of series) {
    values.forEach((rest, step) => {
      const value = Math.max(rest ?? 0, pushed?.[step] ?? 0);
      if (beats(value, best?.value ?? 0)) best = { step, value };
    });
  }
  return best;
}

/** mm. A line of the key with the air about it. */
const SAMPLE = 14;

/** Which pen is which, from the right, names shortened where all together would not fit. */
function key(sheet: Sheet, fonts: Fonts, series: readonly Series[], right: number, y: number, width: number): void {
  let at = right;
  for (const [k, { name }] of [...series.entries()].reverse()) {
    const text = shortened(fonts, name, SIZE, Math.max(width / series.length - SAMPLE, 6), true);
    at -= widthOf(fonts, text, SIZE, true);
    sheet.text(text, at, y, { size: SIZE, bold: true });
    sheet.line(at - 11, y + 1, at - 1, y + 1, PENS[k % PENS.length] as Pen, 'KEY');
    at -= SAMPLE;
  }
}

/** Runs of steps that follow one another and have a figure. */
function stretches(values: readonly (number | null)[]): { i: number; value: number }[][] {
  const out: { i: number; value: number }[][] = [[]];
  values.forEach((value, i) => {
    if (value === null) out.push([]);
    else out.at(-1)?.push({ i, value });
  });
  return out.filter((stretch) => stretch.length > 0);
}
