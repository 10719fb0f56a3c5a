import type { Phrase } from '../../geometry/phrase.ts';
import { fromAftPerpendicular, showFigure, showPhrase } from '../job/show.ts';
import { escaped } from '../job/shown.ts';
import type { Display, Fitting } from '../job/types.ts';
import { pullRemedy } from '../plan/pullremedy.ts';
import type { FittingPlan, Plan } from '../plan/types.ts';
import { cardLength } from '../sheets/figures.ts';
import { shopPhrase } from '../sheets/shopphrase.ts';
import { sideNames, sidesInWords } from '../sheets/sides.ts';
import { withTakeOff } from '../sheets/takeoff.ts';
import { CAUTIONS } from './cautions.ts';
import { compareLines } from './comparetext.ts';
import { block, table } from './layout.ts';
import { liftChecks, liftLines } from './liftreport.ts';
import { failedLines, holdsLines } from './strengthtext.ts';
import { uncertaintyLines } from './uncertaintytext.ts';
import { weldLines } from './weldtext.ts';

/** The short report: what a person wants to know first, in the units of the job's display. */
export function report(plan: Plan): string {
  const { display } = plan.job;
  const checks = [...plan.fittings.flatMap((fitting) => fitting.checks), ...liftChecks(plan.lift)];
  const failed = checks.filter((check) => !check.pass).length;
  const count = plan.fittings.length === 1 ? '1 fitting' : `${plan.fittings.length} fittings`;
  const verdict = failed === 0 ? 'every check passes' : `${failed} ${failed === 1 ? 'check FAILS' : 'checks FAIL'}`;
  const lines = [
    escaped(plan.job.title),
    `${count} planned: ${verdict}.`,
    ...plan.fittings.flatMap((fitting) => ['', ...fittingLines(fitting, plan)]),
    ...(plan.lift === null ? [] : ['', ...liftLines(plan.lift, plan.offers ?? [], display)]),
    '',
    ...assumptionLines(plan),
    ...plan.hullNotes.flatMap((note) => block('Hull', escaped(showPhrase(note, display)))),
    '',
    ...CAUTIONS.flatMap((caution) => block('!', caution)),
  ];
  return `${lines.join('\n')}\n`;
}

function fittingLines(fitting: FittingPlan, plan: Plan): string[] {
  const { display } = plan.job;
  const say = (...phrase: Phrase) => sidesInWords(fitting, showPhrase(phrase, display));
  const names = sideNames(fitting);
  const { input, bevel, fit, joint, readings, load, body, sequence, checks } = fitting;
  const failed = checks.filter((check) => !check.pass);
  return [
    ...block(escaped(input.id), placeText(fitting, display)),
    ...block('Sides', sidesText(fitting)),
    ...block('Fit', say(...fit.verdict)),
    ...fit.remedies.flatMap((remedy) => block('', withTakeOff(fitting, say(...remedy), display))),
    ...block(
      'Bevel',
      say(
        { rad: bevel.min },
        ' to ',
        { rad: bevel.max },
        ` along the foot${minusText(bevel.min, names)}; dihedral angle `,
        {
          rad: joint.dihedral.min,
        },
      ) + say(' to ', { rad: joint.dihedral.max }, ' round the root'),
    ),
    ...block(
      'Readings',
      say(
        'stem ',
        { rad: readings.stemFromPlumb },
        ' from plumb, face ',
        { rad: readings.faceFromPlumb },
        ' from plumb, foot ',
      ) +
        say({ rad: readings.footFromLevel }, ' from level') +
        (readings.higherEnd === 'level' ? '' : `, ${names[readings.higherEnd]} the higher`),
    ),
    ...block(
      'Pull',
      say({ newton: load.force }, ', ', { rad: Math.abs(load.offPlane), digits: 2 }, ' off the plane of the plate: ') +
        say({ newton: Math.abs(load.sideways) }, ' sideways (', { share: load.sidewaysShare }, '). ') +
        correctionText(fitting, display),
    ),
    ...block('Weight', say({ kg: body.mass }, ' in air, ', { kg: body.massInWater }, ' in sea water')),
    ...block('Strike', strikeText(fitting, display)),
    ...table(
      ['run', 'side', 'from s', 'to s', 'going', 'climb', 'gas comes out'],
      sequence.runs.map((run) => [
        String(run.run),
        names[run.side],
        cardLength(run.fromS, display),
        cardLength(run.toS, display),
        run.travel.towards,
        say({ rad: run.travel.climb }),
        ventText(run, display),
      ]),
    ),
    ...weldLines(fitting, plan.job.welding, display),
    ...holdsLines(fitting, display),
    ...asBuiltLines(fitting, display),
    ...compareLines(plan.compare, plan.fittings.indexOf(fitting), display),
    ...uncertaintyLines(plan.uncertainty, plan.fittings.indexOf(fitting), plan.job),
    ...block('Checks', `${checks.length - failed.length} of ${checks.length} pass`),
    ...failed.flatMap((check) => failedLines(fitting, check, display)),
  ];
}

/** What a minus before a bevel says, where there is one. */
const minusText = (least: number, names: ReturnType<typeof sideNames>): string =>
  least < 0 ? `, minus where the ${names['face-']} is the shorter` : '';

/** What was built, where the job says so. */
function asBuiltLines(fitting: FittingPlan, display: Display): string[] {
  const { asBuilt } = fitting;
  if (!asBuilt) return [];
  const say = (...phrase: Phrase) => sidesInWords(fitting, showPhrase(phrase, display));
  return [
    ...block(
      'As built',
      say(
        ...asBuilt.verdict,
        ' Stem ',
        { rad: asBuilt.offPlanned, digits: 1 },
        ' from where it was planned; the pull lies ',
      ) + say({ rad: Math.abs(asBuilt.load.offPlane), digits: 2 }, ' off the plate.'),
    ),
    ...asBuilt.orders.flatMap((order) => block('', sidesInWords(fitting, shopPhrase(order, display)))),
  ];
}

function placeText({ input, anchor }: FittingPlan, display: Display): string {
  const say = (...phrase: Phrase) => showPhrase(phrase, display);
  const { at } = input;
  const by = { girth: 'round the girth', height: 'above the baseline', halfBreadth: 'from the centreline' }[at.by];
  const girth = at.by === 'girth' ? '' : say(' (girth ', { mm: anchor.girth }, ')');
  const place = `${fromAftPerpendicular(at.station, (mm) => say({ mm }))}, ${at.side}, ${say({ mm: at.value })} ${by}`;
  return `${place}${girth}; heading ${say({ rad: input.heading })}, stem ${stemText(input, display)}`;
}

function stemText({ stem }: Fitting, display: Display): string {
  switch (stem.kind) {
    case 'normal':
      return 'square to the shell';
    case 'plumb':
      return 'plumb';
    case 'toward-load':
      return 'towards the load';
    case 'lean':
      return `leaning ${showFigure({ rad: stem.angle }, display)}`;
  }
}

/** Sides by where they face, with the names that the plan file and the job give them. */
function sidesText(fitting: FittingPlan): string {
  const names = sideNames(fitting);
  const each = (['face-', 'end+', 'face+', 'end-'] as const).map((side) => `${names[side]} (${side})`);
  return `${each.join(', ')}; s runs that way round from the corner of ${names['end-']} and ${names['face-']}`;
}

function correctionText({ corrections, load, anchor, frame, input }: FittingPlan, display: Display): string {
  if (Math.abs(load.offPlane) < 5e-4) return 'It lies in the plane of the plate.';
  return showPhrase(pullRemedy(corrections, { anchor, stem: frame.stem, heading: input.heading }), display);
}

function strikeText(fitting: FittingPlan, display: Display): string {
  const { sequence, joint } = fitting;
  const names = sideNames(fitting);
  const at = (s: number) => cardLength(s, display);
  const { start, finish } = sequence;
  const order = `first on the ${names[start.side]} at s ${at(start.s)}, close on the ${names[finish.side]} at s ${at(finish.s)}`;
  if (joint.level) return `${order}; the root lies level: no way up for gas to rely on`;
  const rise = showFigure({ mm: joint.highest.height - joint.lowest.height }, display);
  const sealed =
    sequence.sealedLength > 0
      ? `; ${at(sequence.sealedLength)} is welded against a closed way out`
      : '; no run closes the way out of another';
  const trapped =
    sequence.trap === null ? '' : `; gas is TRAPPED under the foot: notch it at s ${at(sequence.trap.notchS)}`;
  return `${order}; the root climbs ${rise}${sealed}${trapped}`;
}

function ventText(run: FittingPlan['sequence']['runs'][number], display: Display): string {
  const where = run.ventS === null ? '' : `at s ${cardLength(run.ventS, display)}`;
  if (run.ventOpen) return where === '' ? 'level' : `${where}, open`;
  if (run.trapped > 0) return 'TRAPPED';
  return `${where}${where === '' ? '' : ', '}CLOSED over ${cardLength(run.sealed, display)}`;
}

/** Defaults that decide whether it holds: these a reader has to see; the others stand in the plan file. */
const DECIDES = /^(?:steel|factors|coefficients|electrode\.tensile|basis)/;

function assumptionLines({ assumptions }: Plan): string[] {
  if (assumptions.length === 0) return [];
  const shown = assumptions.filter(({ path }) => DECIDES.test(path));
  const rest = assumptions.length - shown.length;
  const list = shown.map(({ path, value }) => `${path} ${value}`).join(', ');
  const others = rest === 0 ? '' : `${list === '' ? '' : '; and '}${rest} more`;
  return block('Taken', `by default, not from this ship: ${list}${others} (plan.json has them all, with reasons)`);
}
