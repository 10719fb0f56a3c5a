import type { Papers } from '../job/types.ts';
import type { FittingPlan, Plan } from '../plan/types.ts';
import { digestOf } from './digest.ts';
import { type Fonts, fontsFrom } from './fonts.ts';
import { type PaperSize, paperOf, type SheetOptions, withPapers } from './options.ts';
import { fileStems, plainText } from './text.ts';
import { warningOf } from './warning.ts';

/** What all sheets of one fitting have in common. */
export interface Context {
  readonly plan: Plan;
  readonly fitting: FittingPlan;
  readonly index: number;
  /** As asked for, else as the job says. */
  readonly options: SheetOptions & Papers;
  readonly fonts: Fonts;
  readonly paper: PaperSize;
  /** Title of the job and id of the fitting as they may stand on paper. */
  readonly title: string;
  readonly id: string;
  /** Beginning of the names of this fitting's files. */
  readonly stem: string;
  readonly digest: string;
  /** `rev B`, or a blank to fill in. */
  readonly revision: string;
  readonly date: string;
  /** What stands against working from this lug's sheets, the fullest wording first; empty where nothing does. */
  readonly warning: readonly string[];
  /** How much closer than usual lines and rows stand, in steps of about 3 %: see `unstraggled`. */
  readonly tight?: number;
}

export async function contextsOf(plan: Plan, asked: SheetOptions): Promise<Context[]> {
  const options = withPapers(asked, plan.job.papers);
  const digest = await digestOf(plan.job);
  const stems = fileStems(plan.fittings.map((fitting) => fitting.id));
  return plan.fittings.map((fitting, index) => ({
    plan,
    fitting,
    index,
    options,
    fonts: fontsFrom(options.fonts),
    paper: paperOf(options, plan.job.display),
    title: plainText(plan.job.title),
    id: plainText(fitting.id),
    stem: stems[index] as string,
    digest,
    revision: options.revision === undefined ? 'rev ____' : `rev ${plainText(options.revision)}`,
    date: options.date === undefined ? '' : plainText(options.date),
    warning: warningOf(plan, [fitting]),
  }));
}
