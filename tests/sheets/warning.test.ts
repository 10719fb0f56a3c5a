import { describe, expect, test } from 'vitest';
import { bevelSheet } from '../../src/sheets/beveltable.ts';
import { calculation } from '../../src/sheets/calculation.ts';
import { type Context, contextsOf } from '../../src/sheets/context.ts';
import { diveCard } from '../../src/sheets/divecard.ts';
import { diveList } from '../../src/sheets/divelist.ts';
import type { Drawing } from '../../src/sheets/drawing.ts';
import { largeTemplate, tiledTemplate } from '../../src/sheets/foottemplate.ts';
import { templateDxf } from '../../src/sheets/foottemplate-dxf.ts';
import { liftingPlan } from '../../src/sheets/liftingplan.ts';
import { markoutDxf, markoutLarge, markoutSheet } from '../../src/sheets/markout.ts';
import { plateDrawing, plateDxf, plateSheet } from '../../src/sheets/plate.ts';
import { record } from '../../src/sheets/record.ts';
import { trialDxf, trialTemplate } from '../../src/sheets/trial.ts';
import { fonts, planOf, sampleJobs } from './plans.ts';
import { textItems } from './readback.ts';

const PAPERS: Readonly<Record<string, (context: Context) => Drawing>> = {
  diveCard,
  diveList,
  tiledTemplate,
  largeTemplate,
  plateSheet,
  plateDrawing,
  markoutSheet,
  markoutLarge,
  bevelSheet,
  trialTemplate,
  liftingPlan,
  calculation,
  record,
};
const DRAWINGS: Readonly<Record<string, (context: Context) => string>> = {
  templateDxf,
  plateDxf,
  markoutDxf,
  trialDxf,
};

const SAYS =
  /(FAIL|FAILS|DIFFER|DIFFER beyond their ±)(: do not (cut, weld or lift|cut|lift|use)(\. A planning aid\..*)?)?$/;

describe('a lug that is not to be worked from', () => {
  for (const { name, job, file } of sampleJobs()) {
    test(`${name}: said on every page of every paper where the plan fails, on none where it does not`, async () => {
      for (const display of ['metric', 'us']) {
        const plan = planOf({ ...job, display }, file);
        for (const context of await contextsOf(plan, { fonts })) {
          // From the verdicts of the plan itself, not from what the head of a page counts.
          const sources = plan.compare.some(({ fittings }) =>
            fittings.some((f) => f.id === context.fitting.id && f.reached && f.agreement === 'beyond'),
          );
          const against = !context.fitting.pass || plan.lift?.pass === false || sources;
          for (const [paper, make] of Object.entries(PAPERS)) {
            make(context).pages.forEach((page, i) => {
              const said = textItems(page).filter(({ text, bold }) => bold && SAYS.test(text));
              expect(said.length > 0, `${paper}, page ${i + 1}`).toBe(against);
              for (const { size } of said) expect(size).toBeGreaterThanOrEqual(paper === 'diveCard' ? 12 : 8);
            });
          }
          for (const [paper, make] of Object.entries(DRAWINGS)) {
            expect(/(FAILS?|DIFFER).*: do not (cut|lift)/.test(make(context)), paper).toBe(against);
          }
        }
      }
    }, 120_000);
  }
});
