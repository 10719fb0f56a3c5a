import Papa from 'papaparse';
import { showPhrase } from '../job/show.ts';
import type { Context } from './context.ts';
import { chosenCut, gapAt } from './cut.ts';
import type { Drawing } from './drawing.ts';
import { degrees, fixed, inches, shopLength } from './figures.ts';
import { Flow } from './flow.ts';
import { sideNames, sidesInWords, sideWay } from './sides.ts';
import { cellText } from './text.ts';

interface BevelRow {
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

/** Shell and chosen cut at the stations of the bevel schedule; mm in the lug frame, rad. */
export function bevelRows({ fitting }: Context): BevelRow[] {
  const { surface } = chosenCut(fitting);
  const h = fitting.field.halfThickness;
  return fitting.bevel.schedule.map((station) => {
    const left = station.a > fitting.field.halfFoot - 1e-9;
    const cutMinus = surface.height(station.a, -h, left);
    const cutPlus = surface.height(station.a, h, left);
    return {
      a: station.a,
      shellMinus: station.faceMinus,
      shellPlus: station.facePlus,
      shellBevel: station.bevel,
      cutMinus,
      cutPlus,
      cutBevel: Math.atan((cutPlus - cutMinus) / (2 * h)),
      gapMinus: left ? cutMinus - station.faceMinus : gapAt(fitting, station.a, -h),
      gapPlus: left ? cutPlus - station.facePlus : gapAt(fitting, station.a, h),
    };
  });
}

/** One row a station, lengths in mm and in inches; text that a spreadsheet would take for a formula is made text. */
export function bevelCsv(context: Context): string {
  const length = (name: string, mm: number): Record<string, string> => ({
    [`${name} (mm)`]: fixed(mm, 3),
    [`${name} (in)`]: fixed(inches(mm), 4),
  });
  const rows = bevelRows(context).map((row) => ({
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

export function bevelSheet(context: Context): Drawing {
  const { fitting, plan } = context;
  const { display } = plan.job;
  const names = sideNames(fitting);
  const say = (mm: number) => shopLength(mm, display);
  const pin = fitting.input.lug.pinHeight;
  const flow = new Flow(context, 'Bevel table');
  flow.heading(1, 'Bevel table');
  flow.paragraph(sidesInWords(fitting, showPhrase(fitting.fit.verdict, display)), { bold: true });
  for (const remedy of fitting.fit.remedies) flow.bullet(sidesInWords(fitting, showPhrase(remedy, display)));
  flow.paragraph(
    `Stations along the foot from the centre line, positive to the ${sideWay(names['end+'])} end. Depth is from the pin centre down to the edge of the cut on a face. Bevel positive: the ${sideWay(names['face+'])} face is the shorter.`,
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
    bevelRows(context).map((row) => [
      say(row.a),
      say(pin - row.cutMinus),
      say(pin - row.cutPlus),
      degrees(row.cutBevel, 2),
      degrees(row.shellBevel, 2),
      display === 'us' ? `${fixed(inches(Math.max(0, row.gapMinus)), 3)} in` : `${fixed(row.gapMinus, 2)} mm`,
      display === 'us' ? `${fixed(inches(Math.max(0, row.gapPlus)), 3)} in` : `${fixed(row.gapPlus, 2)} mm`,
    ]),
  );
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
      ['square, not bevelled', say(square.maxGap), say(square.maxRootOpening), ''],
      [
        'straight: one bevel',
        say(straight.maxGap),
        say(straight.maxRootOpening),
        fitting.fit.chosen === 'straight' ? 'chosen' : '',
      ],
      [
        faceted.facets.length === 1 ? 'faceted: one bevel does' : `faceted: ${faceted.facets.length} bevels`,
        say(faceted.maxGap),
        say(faceted.maxRootOpening),
        fitting.fit.chosen === 'faceted' ? 'chosen' : '',
      ],
      [
        'scribed to the shell',
        say(scribed.maxGap),
        say(scribed.maxRootOpening),
        fitting.fit.chosen === 'scribed' ? 'chosen' : '',
      ],
    ],
  );
  return { title: `Bevel table ${context.id}: ${context.title}`, pages: flow.finish() };
}
