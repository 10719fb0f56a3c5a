import Papa from 'papaparse';
import { newHit } from '../../geometry/hull/shell.ts';
import { showPhrase } from '../job/show.ts';
import { bracketWords } from './brackets.ts';
import type { Context } from './context.ts';
import { chosenCut } from './cut.ts';
import type { Drawing } from './drawing.ts';
import { degrees, fixed, inches, shopLength } from './figures.ts';
import { Flow } from './flow.ts';
import { sideNames, sidesInWords, sideWay } from './sides.ts';
import { stationsOf } from './stations.ts';
import { withTakeOff as takenOff } from './takeoff.ts';
import { cellText } from './text.ts';

export interface BevelRow {
  readonly a: number;
  readonly shellMinus: number;
  readonly shellPlus: number;
  readonly shellBevel: number;
  readonly cutMinus: number;
  readonly cutPlus: number;
  readonly cutBevel: number;
  readonly gapMinus: number;
  readonly gapPlus: number;
}

/** Shell and chosen cut at the stations of the sheets (`stationsOf`); mm in the lug frame, rad. */
export function bevelRows(context: Context): BevelRow[] {
  const { fitting } = context;
  const { surface } = chosenCut(fitting);
  const h = fitting.field.halfThickness;
  const hit = newHit();
  const shellAt = (a: number, c: number): number => {
    if (!fitting.field.cast(a, c, hit)) throw new Error(`the foot line at ${a}, ${c} meets no shell`);
    return hit.f;
  };
  return stationsOf(context).map((a) => {
    const left = a > fitting.field.halfFoot - 1e-9;
    const [shellMinus, shellPlus] = [shellAt(a, -h), shellAt(a, h)];
    const [cutMinus, cutPlus] = [surface.height(a, -h, left), surface.height(a, h, left)];
    return {
      a,
      shellMinus,
      shellPlus,
      shellBevel: Math.atan((shellPlus - shellMinus) / (2 * h)),
      cutMinus,
      cutPlus,
      cutBevel: Math.atan((cutPlus - cutMinus) / (2 * h)),
      gapMinus: cutMinus - shellMinus,
      gapPlus: cutPlus - shellPlus,
    };
  });
}

/**
 * One row a station, lengths in mm and in inches. First in every row, whichever is copied out, what stands against working from it: the line
 * at the head of the sheets, empty where nothing does. Text that a spreadsheet would take for a formula is made text.
 */
export function bevelCsv(context: Context): string {
  const length = (name: string, mm: number): Record<string, string> => ({
    [`${name} (mm)`]: fixed(mm, 3),
    [`${name} (in)`]: fixed(inches(mm), 4),
  });
  const warning = cellText(context.warning[0] ?? '');
  const rows = bevelRows(context).map((row) => ({
    warning,
    job: cellText(context.title),
    digest: context.digest,
    revision: cellText(context.revision),
    fitting: cellText(context.id),
    ...length('along foot a', row.a),
    ...length('shell at face-', row.shellMinus),
    ...length('shell at face+', row.shellPlus),
    'shell bevel (deg)': fixed((row.shellBevel * 180) / Math.PI, 3),
    ...length('cut at face-', row.cutMinus),
    ...length('cut at face+', row.cutPlus),
    'cut bevel (deg)': fixed((row.cutBevel * 180) / Math.PI, 3),
    ...length('gap at face-', row.gapMinus),
    ...length('gap at face+', row.gapPlus),
  }));
  return `${Papa.unparse(rows, { newline: '\r\n' })}\r\n`;
}

/** A remedy of the fit with what comes off a square foot said by the depths that the bevel table prints. */
export const withTakeOff = ({ fitting, plan }: Context, remedy: string): string =>
  takenOff(fitting, remedy, plan.job.display);

export function bevelSheet(context: Context): Drawing {
  const { fitting, plan } = context;
  const { display } = plan.job;
  const names = sideNames(fitting);
  const say = (mm: number) => shopLength(mm, display);
  const gap = (mm: number) =>
    display === 'us' ? `${fixed(inches(Math.max(0, mm)), 3)} in` : `${fixed(Math.max(0, mm), 2)} mm`;
  const pin = fitting.input.lug.pinHeight;
  const flow = new Flow(context, 'Bevel table');
  flow.heading(1, 'Bevel table');
  flow.paragraph(sidesInWords(fitting, showPhrase(fitting.fit.verdict, display)), { bold: true });
  const rows = bevelRows(context);
  for (const remedy of fitting.fit.remedies)
    flow.bullet(sidesInWords(fitting, withTakeOff(context, showPhrase(remedy, display))));
  flow.paragraph(
    `Stations along the foot from the centre line, plus towards the ${sideWay(names['end+'])} end. Depth is from the pin centre down to the edge of the cut on a face. A plus bevel: the ${sideWay(names['face+'])} face is the shorter; a minus bevel: the ${sideWay(names['face-'])} face.`,
  );
  const [minus, plus] = [sideWay(names['face-']), sideWay(names['face+'])];
  flow.table(
    [
      { title: 'Station', share: 1.5, align: 'right' },
      { title: `depth, ${minus} face`, share: 1.5, align: 'right' },
      { title: `depth, ${plus} face`, share: 1.5, align: 'right' },
      { title: 'bevel of the cut', share: 1, align: 'right' },
      { title: 'bevel of the shell', share: 1, align: 'right' },
      { title: `gap, ${minus}`, share: 1.1, align: 'right' },
      { title: `gap, ${plus}`, share: 1.1, align: 'right' },
    ],
    rows.map((row) => [
      say(row.a),
      say(pin - row.cutMinus),
      say(pin - row.cutPlus),
      degrees(row.cutBevel, 2),
      degrees(row.shellBevel, 2),
      gap(row.gapMinus),
      gap(row.gapPlus),
    ]),
  );
  if (bracketWords(display) !== '') flow.paragraph(bracketWords(display), { size: 8 });
  flow.heading(3, 'The cuts compared');
  const { square, straight, faceted, scribed } = fitting.fit;
  flow.table(
    [
      { title: 'Cut', share: 2.4 },
      { title: 'largest gap along the stem', share: 1.4, align: 'right' },
      { title: 'largest root opening', share: 1.4, align: 'right' },
      { title: '', share: 1 },
    ],
    [
      ['square, not bevelled', gap(square.maxGap), gap(square.maxRootOpening), ''],
      [
        'straight: one bevel',
        gap(straight.maxGap),
        gap(straight.maxRootOpening),
        fitting.fit.chosen === 'straight' ? 'chosen' : '',
      ],
      [
        faceted.facets.length === 1 ? 'faceted: one bevel does' : `faceted: ${faceted.facets.length} facets`,
        gap(faceted.maxGap),
        gap(faceted.maxRootOpening),
        fitting.fit.chosen === 'faceted' ? 'chosen' : '',
      ],
      [
        'scribed to the shell',
        gap(scribed.maxGap),
        gap(scribed.maxRootOpening),
        fitting.fit.chosen === 'scribed' ? 'chosen' : '',
      ],
    ],
  );
  return { title: `Bevel table ${context.id}: ${context.title}`, pages: flow.finish() };
}
