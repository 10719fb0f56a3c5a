import { showFigure } from '../job/show.ts';
import { fromFrameAt, nearestFrame } from './behind.ts';
import { CAUTIONS } from './cautions.ts';
import type { Context } from './context.ts';
import { standLines, strikeLines } from './divecard.ts';
import type { Drawing } from './drawing.ts';
import { degrees, gapLength, shopLength } from './figures.ts';
import { flatFoot } from './flatten.ts';
import { Flow, unstraggled } from './flow.ts';
import { placeName, sideNames, sideWay, spotText } from './sides.ts';
import { plainText } from './text.ts';

const TITLE = 'Record';

/**
 * The record filled in on the job: hold points in order, what to measure with the limit beside the blank, photographs, electrodes,
 * runs as welded, signatures. What is written down at fit-up is what a later plan reads as the lug as built.
 */
export const record = (context: Context): Drawing => unstraggled(context, recordPages);

function recordPages(context: Context): Drawing {
  const { fitting, plan } = context;
  const { display, limits, electrode } = plan.job;
  const { weld } = fitting;
  const names = sideNames(fitting);
  const say = (mm: number) => shopLength(mm, display);
  const gap = (mm: number) => gapLength(mm, display);
  const flow = new Flow(context, TITLE);
  flow.heading(1, `${TITLE}: lug ${context.id}`);
  flow.paragraph(
    'Written on the surface as the diver reports. A blank that was not measured is struck out, not left. Work stops at each hold point until the person named has looked and agreed.',
  );
  flow.blanks(
    ['ship, berth', 'date', 'dive supervisor', 'inspector', 'welding procedure no.', 'power source no.'],
    2,
    8,
  );

  flow.heading(3, 'Cautions');
  for (const caution of CAUTIONS) flow.bullet(caution);
  flow.heading(2, 'Before anyone dives');
  flow.table(
    CHECK,
    [
      'Propellers, rudders, thrusters locked out; who holds the keys',
      'Sea suctions, sonar, impressed-current protection shut off and locked',
      'Space behind the plating vented and proved gas-free; by whom, when',
      'Direct current; polarity at the electrode proved; knife switch tried; leads and gloves sound',
      `Test plates welded at the site, broken and examined: ${weld.testPlates.map((plate) => plate.aws).join(', ')}`,
      `Electrodes: ${electrode.kind}, ${say(electrode.diameter)}, batch no., dry and sound; ${weld.totals.electrodes} for the joint and spares`,
      'Shell: thickness by gauge, frames and seams found, clean to bright metal',
      'This record, the dive card and the template bear one digest',
    ].map((text) => [text, '', '']),
    { rowHeight: 8 },
  );

  const [fitUp, root, finished] = [weld.holds[0], weld.holds[1], weld.holds.at(-1)];
  flow.heading(2, `Hold point 1: ${fitUp?.seen ?? 'fit-up'}, before ${fitUp?.before ?? 'the root'}`, 60);
  flow.paragraph(`As planned: ${standLines(context).join('. ')}.`);
  const { readings } = fitting;
  flow.table(
    MEASURE,
    [
      [
        'Face from plumb',
        degrees(readings.faceFromPlumb, 1),
        '',
        `looks up: ${sideWay(names['face+'])} (face+) / ${sideWay(names['face-'])} (face-)`,
      ],
      ['Centre line (stem) from plumb', degrees(readings.stemFromPlumb, 1), '', ''],
      [
        'Sight line (foot) from level',
        degrees(readings.footFromLevel, 1),
        '',
        `higher: ${sideWay(names['end+'])} (end+) / ${sideWay(names['end-'])} (end-)`,
      ],
      ['Foot turned from its mark-out, about the stem', degrees(0, 1), '', 'right-handed about the stem'],
      ...placeRows(context, say),
      ['Pin centre above shell, square to it', '', '', ''],
    ],
    { rowHeight: 7.5 },
  );
  flow.paragraph(
    `Gaps by feeler gauge round the root: tight to ${gap(limits.fitGap)}, the leg makes it up to ${gap(limits.recutGap)}, over that cut again.`,
    { bold: true, keep: 40 },
  );
  const spots = gapSpots(context);
  const rows: string[][] = [];
  for (let k = 0; k < spots.length; k += 2) {
    const p = spots[k];
    const q = spots[k + 1];
    rows.push([p?.name ?? '', p?.planned ?? '', '', q?.name ?? '', q?.planned ?? '', '']);
  }
  flow.table(
    [
      { title: 'Where', share: 2.6 },
      { title: 'planned', share: 1.2, align: 'right' },
      { title: 'found', share: 1 },
      { title: 'Where', share: 2.6 },
      { title: 'planned', share: 1.2, align: 'right' },
      { title: 'found', share: 1 },
    ],
    rows,
    { rowHeight: 7 },
  );
  flow.paragraph(
    'Circle the face that looks up and the end that is higher. These readings go into the job file: asBuilt.face, asBuilt.foot, asBuilt.turned, and asBuilt.gaps with s, the place along the root. With them the plan says whether the lug as built is within limits and what must be ground off.',
    { size: 8 },
  );
  agreed(flow);

  flow.heading(2, `Hold point 2: ${root?.seen ?? 'root'}, before ${root?.before ?? 'the hot pass'}`, 60);
  flow.paragraph(strikeLines(context).join(' '));
  flow.table(
    RUNS,
    fitting.sequence.runs.map((run) => [
      String(run.run),
      `${names[run.side]}, ${run.travel.towards}`,
      spotText(fitting, run.fromS, say),
      say(Math.abs(run.toS - run.fromS)),
      '',
      '',
      '',
      '',
    ]),
    { rowHeight: 7.5, size: 7.5 },
  );
  agreed(flow);

  flow.heading(2, 'Fill and cap, dive by dive', 60);
  flow.paragraph(
    'Stringer beads only; every start and stop ground before the next bead. Where the dive ended is written so that the next diver finds it.',
  );
  const dives = weld.schedule?.kind === 'planned' ? weld.schedule.dives.length : 8;
  flow.table(
    [
      { title: 'Dive', share: 0.6 },
      { title: 'diver', share: 1.6 },
      { title: 'layer, bead, from where to where', share: 3 },
      { title: 'A', share: 0.7 },
      { title: 'rods, batch', share: 1.1 },
      { title: 'stops ground', share: 1 },
      { title: 'ended at', share: 1.6 },
    ],
    Array.from({ length: dives + 3 }, (_, k) => [k < dives ? String(k + 1) : '', '', '', '', '', '', '']),
    { rowHeight: 8 },
  );

  flow.heading(2, `Hold point 3: ${finished?.seen ?? 'finished weld'}, before ${finished?.before ?? 'any load'}`, 60);
  flow.table(
    MEASURE,
    [
      ...weld.sides.map((side) => [
        `Leg on the plate, ${names[side.side]}`,
        `not under ${say(side.calledLegAlongPlate)}`,
        '',
        '',
      ]),
      ...weld.sides.map((side) => [`Throat, ${names[side.side]}`, `not under ${say(side.throat)}`, '', '']),
      ['Cracks, porosity, undercut, overlap', 'as the procedure allows', '', ''],
      ['Face from plumb, after welding', degrees(readings.faceFromPlumb, 1), '', ''],
      ['Method of test and its report no.', '', '', ''],
    ],
    { rowHeight: 7.5 },
  );
  agreed(flow);

  flow.heading(2, 'Photographs and video', 40);
  flow.table(
    [
      { title: 'What', share: 4 },
      { title: 'file or frame no.', share: 2 },
      { title: 'seen by', share: 1.4 },
    ],
    [
      'The place before work, with tape and frame mark',
      'Shell cleaned, mark-out on it',
      'Fit-up: angle finder on the face, on the centre line, on the sight line, figures to be read',
      'Fit-up: root gap on all four sides, feeler in it',
      ...fitting.sequence.runs.map(
        (run) => `Root run ${run.run}, ${names[run.side]}, before and after grinding of its stops`,
      ),
      'Hot pass, all round',
      'Finished weld, all four sides and corners, gauge on it',
      'Shackle and hoist as hung, before load',
    ].map((text) => [text, '', '']),
    { rowHeight: 6.5 },
  );

  flow.heading(2, 'Weight taken', 40);
  flow.table(
    MEASURE,
    [
      ['Pull, as planned', showFigure({ newton: fitting.load.force }, display), '', ''],
      ['Test load, if one is asked for', '', '', 'who asked, who saw'],
      ['Weld looked at again after the first load', '', '', ''],
    ],
    { rowHeight: 7.5 },
  );
  flow.blanks(
    [
      'welder-diver',
      'date',
      'dive supervisor',
      'date',
      'inspector',
      'date',
      'engineer',
      'date',
      'for the client',
      'date',
    ],
    2,
    9,
  );
  return { title: `${TITLE} ${context.id}: ${context.title}`, pages: flow.finish() };
}

/** Where corner 1 lies, by the same tapes as on the mark-out: along from the frame that the job names, round from the keel. */
function placeRows({ plan, fitting }: Context, say: (mm: number) => string): string[][] {
  const corner = flatFoot(plan, fitting).corners[0];
  if (corner === undefined) throw new Error('a foot without corners');
  const frame = nearestFrame(plan, fitting);
  const from = frame && fromFrameAt(plan, fitting, frame.name, corner);
  const round = ['Corner 1 to centreline of keel, round', say(corner.girth), '', 'see mark-out'];
  if (from === undefined) return [['Corner 1 from frame no. ____, along', '', '', 'see mark-out'], round];
  const way = from.along >= 0 ? 'forward of' : 'abaft';
  return [[`Corner 1 ${way} ${plainText(from.name)}, along`, say(Math.abs(from.along)), '', 'see mark-out'], round];
}

const CHECK = [
  { title: 'What', share: 5 },
  { title: 'found', share: 1.6 },
  { title: 'name, time', share: 1.6 },
] as const;

const MEASURE = [
  { title: 'What', share: 3 },
  { title: 'planned / limit', share: 1.8, align: 'right' },
  { title: 'found', share: 1.3 },
  { title: 'note', share: 2 },
] as const;

const RUNS = [
  { title: 'Run', share: 0.5, align: 'right' },
  { title: 'side, towards', share: 1.9 },
  { title: 'from', share: 2.4 },
  { title: 'length', share: 1.5, align: 'right' },
  { title: 'diver, dive', share: 1.3 },
  { title: 'A', share: 0.6 },
  { title: 'rods', share: 0.7 },
  { title: 'gas seen out at', share: 1.3 },
] as const;

function agreed(flow: Flow): void {
  flow.blanks(['seen by', 'agreed: yes / no', 'date, time'], 3, 9);
}

/** Where the feeler goes: the corners and two places between them on the faces, one on the ends. */
function gapSpots({ fitting, plan }: Context): { name: string; planned: string }[] {
  const { root, joint } = fitting;
  const names = sideNames(fitting);
  const out: { name: string; planned: string }[] = [];
  const named = (name: string, s: number) => `${name}\n(s ${showFigure({ mm: s, digits: 0 }, plan.job.display)})`;
  const near = (s: number) => joint.points.reduce((best, p) => (Math.abs(p.s - s) < Math.abs(best.s - s) ? p : best));
  (['face-', 'end+', 'face+', 'end-'] as const).forEach((side, k) => {
    const from = root.corners[k] as number;
    const to = root.corners[k + 1] as number;
    out.push({ name: named(placeName(fitting, from), from), planned: gapLength(near(from).opening, plan.job.display) });
    const shares = side.startsWith('face') ? [0.25, 0.5, 0.75] : [0.5];
    for (const share of shares) {
      const s = from + share * (to - from);
      const words =
        share === 0.5 ? 'middle' : `${share < 0.5 === k < 2 ? sideWay(names['end-']) : sideWay(names['end+'])} quarter`;
      out.push({ name: named(`${names[side]}, ${words}`, s), planned: gapLength(near(s).opening, plan.job.display) });
    }
  });
  return out;
}
