import type { FittingPlan, Plan } from '../plan/types.ts';
import { bevelCsv, bevelSheet } from './beveltable.ts';
import { calculation } from './calculation.ts';
import { type Context, contextsOf } from './context.ts';
import { diveCard } from './divecard.ts';
import { diveList } from './divelist.ts';
import type { Drawing, Page } from './drawing.ts';
import { largeTemplate, tiledTemplate } from './foottemplate.ts';
import { templateDxf } from './foottemplate-dxf.ts';
import { liftingPlan } from './liftingplan.ts';
import { markoutDxf, markoutLarge, markoutSheet } from './markout.ts';
import { modelGlb, modelStl } from './model.ts';
import type { SheetOptions } from './options.ts';
import { writePdf } from './pdf.ts';
import { plateDrawing, plateDxf, plateSheet } from './plate.ts';
import { record } from './record.ts';
import { writeSvg } from './svg.ts';
import { trialDxf, trialTemplate } from './trial.ts';

export { belongsTo, digestOf } from './digest.ts';
export type { FontBytes } from './fonts.ts';
export type { Paper, SheetOptions } from './options.ts';

/** A file to be handed out: its name, without a folder, and all of it. */
export interface SheetFile {
  readonly name: string;
  readonly bytes: Uint8Array;
}

export interface SheetKind {
  /** Middle of the file names. */
  readonly name: string;
  /** What it is called on the screen. */
  readonly title: string;
  /** One line on who takes it where. */
  readonly use: string;
  /** One of the whole job: the same files, by the same names, whichever fitting it is made for. */
  readonly ofJob?: true;
  make(plan: Plan, fitting: FittingPlan, options: SheetOptions): Promise<SheetFile[]>;
}

type Maker = (context: Context, file: (ending: string, bytes: Uint8Array) => SheetFile) => Promise<SheetFile[]>;

const bytesOf = (text: string): Uint8Array => new TextEncoder().encode(text);

const pdf = (drawing: Drawing, context: Context): Promise<Uint8Array> =>
  writePdf(drawing, context.fonts, {
    subject: `job digest ${context.digest} ${context.revision}`,
    ...(context.options.date === undefined ? {} : { date: context.options.date }),
  });

const svg = (drawing: Drawing): Uint8Array => bytesOf(writeSvg(drawing.pages[0] as Page, drawing.title));

function kind(name: string, title: string, use: string, maker: Maker): SheetKind {
  return {
    name,
    title,
    use,
    async make(plan, fitting, options) {
      const context = (await contextsOf(plan, options)).find((each) => each.fitting === fitting);
      if (context === undefined) throw new Error(`the plan has no such fitting: ${fitting.id}`);
      return maker(context, (ending, bytes) => ({ name: `${context.stem}-${name}${ending}`, bytes }));
    },
  };
}

const ofJob = (sheet: SheetKind): SheetKind => ({ ...sheet, ofJob: true });

/** All that leaves with a job, in the order it is needed. A new sheet is one line here. */
export const SHEETS: readonly SheetKind[] = [
  kind('dive-card', 'Dive card', 'into the water, one side a fitting', async (c, file) => [
    file('.pdf', await pdf(diveCard(c), c)),
  ]),
  kind('dive-list', 'Dive list', 'for the dive supervisor', async (c, file) => [
    file('.pdf', await pdf(diveList(c), c)),
  ]),
  kind('foot-template', 'Foot template 1:1', 'to the shop: mark and cut the foot', async (c, file) => {
    const large = largeTemplate(c);
    return [
      file('.pdf', await pdf(tiledTemplate(c), c)),
      file('-one-page.pdf', await pdf(large, c)),
      file('-one-page.svg', svg(large)),
      file('.dxf', bytesOf(templateDxf(c))),
    ];
  }),
  kind('plate', 'Plate cutting file', 'to the shop: outline, hole, cheek plates', async (c, file) => [
    file('.pdf', await pdf(plateSheet(c), c)),
    file('.svg', svg(plateDrawing(c))),
    file('.dxf', bytesOf(plateDxf(c))),
  ]),
  kind('hull-mark-out', 'Hull mark-out', 'to the hull: where the lug goes', async (c, file) => [
    file('.pdf', await pdf(markoutSheet(c), c)),
    file('-one-page.pdf', await pdf(markoutLarge(c), c)),
    file('.dxf', bytesOf(markoutDxf(c))),
  ]),
  kind('bevel-table', 'Bevel table', 'to the shop: bevel and gap along the foot', async (c, file) => [
    file('.csv', bytesOf(bevelCsv(c))),
    file('.pdf', await pdf(bevelSheet(c), c)),
  ]),
  kind('trial-template', 'Trial template 1:1', 'to the hull before steel is cut', async (c, file) => [
    file('.pdf', await pdf(trialTemplate(c), c)),
    file('.dxf', bytesOf(trialDxf(c))),
  ]),
  ofJob(
    kind('lifting-plan', 'Lifting plan', 'for the supervisor and the riggers, one of the whole job', async (c) => [
      {
        name: 'lifting-plan.pdf',
        bytes: await pdf(liftingPlan(c), c),
      },
    ]),
  ),
  kind('calculation', 'Calculation', 'to the engineer who signs', async (c, file) => [
    file('.pdf', await pdf(calculation(c), c)),
  ]),
  kind('record', 'Record', 'filled in on the job', async (c, file) => [file('.pdf', await pdf(record(c), c))]),
  kind('model', 'Model', 'lug and shell in depth', async (c, file) => [
    file('.glb', await modelGlb(c)),
    file('.stl', modelStl(c)),
  ]),
];

/** Every sheet of every fitting: names and bytes, the same bytes for the same job and options. In Node and in a browser's worker. */
export async function writeSheets(plan: Plan, options: SheetOptions): Promise<SheetFile[]> {
  const files: SheetFile[] = [];
  const of = SHEETS.length * plan.fittings.length;
  let done = 0;
  for (const fitting of plan.fittings) {
    for (const sheet of SHEETS) {
      if (sheet.ofJob === undefined || fitting === plan.fittings[0])
        files.push(...(await sheet.make(plan, fitting, options)));
      options.progress?.(++done, of);
    }
  }
  return files;
}
