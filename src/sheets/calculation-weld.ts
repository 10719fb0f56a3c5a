import { showFigure, showPhrase } from '../job/show.ts';
import type { Job } from '../job/types.ts';
import { internalPer } from '../job/units.ts';
import type { FittingPlan } from '../plan/types.ts';
import { gaugeArea } from '../weld/leads.ts';
import type { PlannedSchedule } from '../weld/schedule.ts';
import { WELD_DEFAULTS } from '../weld/settings.ts';
import type { Context } from './context.ts';
import { degrees, fixed, inches, shopLength, throatLength } from './figures.ts';
import type { Flow } from './flow.ts';
import { sideNames, sidesInWords, spotText } from './sides.ts';
import { STANDINGS, sentence } from './words.ts';

/** Heat input with the figures it comes from: arc volts, the middle of the current window, travel. */
function heatText({ plan }: Context, supply: NonNullable<FittingPlan['weld']['supply']>): string {
  const { display, welding } = plan.job;
  const volts = welding.arcVolts ?? WELD_DEFAULTS.arcVolts.value;
  const travel = welding.travel ?? WELD_DEFAULTS.travel.value;
  const us = display === 'us';
  const per = us ? 'in' : 'mm';
  const speed = us ? fixed(inches(travel), 3) : fixed(travel, 1);
  const heat = supply.heatKjPerMm * (us ? internalPer('in') : 1);
  return `60 s/min × ${fixed(volts, 1)} V × ${fixed(supply.amperes, 1)} A / (1000 J/kJ × ${speed} ${per}/min) = ${fixed(heat, 2)} kJ/${per}`;
}

/** mm. What is less cannot be told from nothing. */
const NOTHING = 0.01;

/** Dives with what each of them loses, as the dive list counts them. */
function divesText(schedule: PlannedSchedule, work: number, min: (minutes: number) => string): string {
  const { dives, terms } = schedule;
  const all = dives.reduce((sum, dive) => sum + dive.minutes, 0);
  const again = all - work - dives.length * terms.overhead;
  const stops = Math.round(again) > 0 ? `, and ${min(again)} to grind stops where a dive leaves off` : '';
  const count = dives.length === 1 ? '1 dive' : `${dives.length} dives`;
  return `${count} of up to ${min(terms.bottomTime)}, each with ${min(terms.overhead)} that are not work${stops}: ${min(all)} of bottom time in all; the dive supervisor decides`;
}

/** kg. What is less is told as nothing. */
const LEAST_METAL = 0.005;

/** What of the metal lies beyond corners, where some does. */
function featheredText({ featheredKg }: FittingPlan['weld']['totals'], display: Job['display']): string {
  if (featheredKg < LEAST_METAL) return '';
  const kg = showFigure({ kg: featheredKg, digits: 2 }, display);
  return `. ${kg} of it is feathered out beyond corners by beads that a side lacks: half a bead there (a choice)`;
}

/** What the weld takes: sizes by side, order of the root, metal, current, leads, time. */
export function weldSection(flow: Flow, context: Context): void {
  const { plan, fitting } = context;
  const { display } = plan.job;
  const { weld, sequence } = fitting;
  const names = sideNames(fitting);
  const say = (mm: number) => shopLength(mm, display);
  const orNone = (mm: number) => (mm < NOTHING ? 'none' : say(mm));
  flow.heading(1, 'The weld');
  flow.paragraph(
    'Throat wanted: that of a 90° fillet of the leg given. Z-loss: what of a throat does not count because the rod does not reach the root of an acute corner; it is welded on top. Along the plate a leg is (throat + Z-loss) / cos(ψ/2), square to the plate it is 2 (throat + Z-loss) sin(ψ/2); a root opening over the tight fit adds itself to the square leg. As welded: along the plate rounded up to the next size that is called for, square to it what then comes of that.',
  );
  flow.table(
    [
      { title: 'Side', share: 1.5 },
      { title: 'mean dihedral ψ', share: 1.3, align: 'right' },
      { title: 'throat without Z-loss, at least', share: 1.2, align: 'right' },
      { title: 'Z-loss', share: 1.1, align: 'right' },
      { title: 'leg along the plate, as welded', share: 1.4, align: 'right' },
      { title: 'leg square to it, as welded', share: 1.4, align: 'right' },
      { title: 'for gap', share: 1.1, align: 'right' },
      { title: 'layers', share: 0.85, align: 'right' },
      { title: 'beads', share: 0.8, align: 'right' },
    ],
    weld.sides.map((side) => [
      names[side.side],
      degrees(side.dihedral),
      throatLength(side.throat, display),
      orNone(side.zLoss),
      say(side.calledLegAlongPlate),
      say(side.calledLegSquare),
      orNone(side.addedForGap),
      String(side.layers),
      String(side.beads),
    ]),
    { size: 8 },
  );
  const { totals, current, supply } = weld;
  const min = (minutes: number) => showFigure({ minutes }, display);
  flow.pairs([
    [
      'Weld metal',
      `${showFigure({ kg: totals.depositKg, digits: 2 }, display)}: ${totals.electrodes} electrodes ${plan.job.electrode.kind} ${say(plan.job.electrode.diameter)} × ${say(plan.job.electrode.length)}; what is left of a rod when a dive ends, spares and trial beads come on top${featheredText(totals, display)}`,
    ],
    [
      'Arc time',
      `${min(totals.arcMin)}; with changing, grinding, cleaning and hold points ${min(totals.workMin)} of work`,
    ],
    [
      'Dives',
      weld.schedule === null
        ? 'not counted: no bottom time given'
        : weld.schedule.kind === 'planned'
          ? divesText(weld.schedule, totals.workMin, min)
          : `a dive is too short: one step of the work needs ${min(weld.schedule.least)}`,
    ],
    [
      'Current',
      current.kind === 'window'
        ? `${current.row.value.amperes[0]} to ${current.row.value.amperes[1]} A, ${current.row.value.polarity}, direct current only (${STANDINGS[current.row.standing]})`
        : 'no window known for this electrode: the maker’s sheet decides',
    ],
    ['Heat input at the middle of it', supply === null ? 'not known' : heatText(context, supply)],
    [
      'Leads',
      supply === null
        ? 'not known'
        : supply.lead.kind === 'gauge'
          ? `AWG ${supply.lead.gauge}${display === 'us' ? '' : ` (${fixed(gaugeArea(supply.lead.gauge), 0)} mm² of copper or more)`}, losing ${fixed(supply.lead.drop, 1)} V`
          : `no single lead is thick enough: ${fixed(supply.lead.drop, 1)} V lost; shorten or double them`,
    ],
    ['Electrode and steel', sentence(showPhrase(weld.steel.ruling.reason, display))],
    ['Test plates at the site', weld.testPlates.map((plate) => plate.aws).join(', ')],
  ]);
  for (const note of weld.notes) flow.bullet(sentence(sidesInWords(fitting, showPhrase(note, display))));
  flow.heading(2, 'Order of the root');
  flow.table(
    [
      { title: 'Run', share: 0.5, align: 'right' },
      { title: 'side', share: 1.4 },
      { title: 'from', share: 2.2 },
      { title: 'to', share: 2.2 },
      { title: 'length', share: 1.3, align: 'right' },
      { title: 'towards', share: 1 },
      { title: 'gas', share: 1.3 },
    ],
    sequence.runs.map((run) => [
      String(run.run),
      names[run.side],
      spotText(fitting, run.fromS, say, run.side),
      spotText(fitting, run.toS, say, run.side),
      say(Math.abs(run.toS - run.fromS)),
      run.travel.towards,
      run.ventS === null ? 'level or trapped' : run.ventOpen ? 'way out open' : `SEALED ${say(run.sealed)}`,
    ]),
    { size: 8 },
  );
}
