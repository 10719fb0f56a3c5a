import { showFigure, showPhrase } from '../job/show.ts';
import type { Display } from '../job/types.ts';
import { internalPer } from '../job/units.ts';
import { calculationSketch } from './calculation-sketch.ts';
import { printed, printedText } from './calculation-values.ts';
import type { Context } from './context.ts';
import { degrees, fixed, shopLength } from './figures.ts';
import type { Flow } from './flow.ts';
import { sideNames, sidesInWords } from './sides.ts';

/** How far the pull leaves the plane of the plate, and to which side. */
export function outOfPlane({ fitting }: Context, digits: number): string {
  const angle = degrees(Math.abs(fitting.load.offPlane), digits);
  if (Number.parseFloat(angle) === 0) return "in the lug's plane";
  return `${angle} out of the lug's plane towards the ${sideNames(fitting)[fitting.load.offPlane > 0 ? 'face+' : 'face-']}`;
}

/** Axes, place, stance and joint of the lug. */
export function geometrySection(flow: Flow, context: Context): void {
  const { plan, fitting } = context;
  const { display } = plan.job;
  const { frame, anchor } = fitting;
  const names = sideNames(fitting);
  const say = (mm: number) => shopLength(mm, display);
  const unit = (v: readonly number[]) => `(${v.map((x) => fixed(x, 4)).join(', ')})`;
  const place = (v: readonly number[]) => `(${v.map((x) => say(x)).join(', ')})`;
  flow.heading(1, 'Geometry');
  flow.paragraph(
    'Ship axes: x forward from the aft perpendicular, y to port from the centreline, z up from the baseline. Lug axes: A along the foot, B from foot to pin (the stem), C = A × B across the plate, origin O on the shell.',
  );
  flow.pairs(
    [
      ['O, the place on the shell', place(anchor.position)],
      ['n, outward normal of the shell', unit(anchor.normal)],
      ['A, along the foot', `${unit(frame.foot)}: towards the ${names['end+']}`],
      ['B, stem', `${unit(frame.stem)}, ${degrees(fitting.slope, 2)} from n`],
      ['C, across the plate', `${unit(frame.face)}: towards the ${names['face+']}`],
      ['up, normal of the water plane', unit(plan.up)],
      ['Pin centre', place(fitting.pin)],
      [
        'Principal curvatures of the shell',
        `${curvatureText(anchor.curvature.k1, fitting.input.lug.foot, display)}; ${curvatureText(anchor.curvature.k2, fitting.input.lug.foot, display)}`,
      ],
      ['Foot as cut', sidesInWords(fitting, showPhrase(fitting.fit.verdict, display))],
      ['Bevel of the shell along the foot', span(degrees(fitting.bevel.min, 2), degrees(fitting.bevel.max, 2))],
      ['Dihedral angle round the root', span(degrees(fitting.joint.dihedral.min), degrees(fitting.joint.dihedral.max))],
      [
        'Root line',
        `${say(fitting.joint.perimeter)} round; ${say(fitting.joint.highest.height - fitting.joint.lowest.height)} from lowest to highest`,
      ],
      [
        'Inclinometer',
        `stem ${degrees(fitting.readings.stemFromPlumb, 2)} and face ${degrees(fitting.readings.faceFromPlumb, 2)} from plumb, sight line ${degrees(fitting.readings.footFromLevel, 2)} from level`,
      ],
      [
        'Weight of the lug',
        `${showFigure({ kg: fitting.body.mass, digits: 2 }, display)}, centre at ${place(fitting.body.centre)} in lug axes`,
      ],
    ],
    0.3,
    8.5,
  );
  flow.figure(88, (sheet, x, y, width) => calculationSketch(sheet, context, { x, y, width, height: 88 }));
  if (plan.hullNotes.length > 0) {
    flow.heading(2, 'What hull and structure leave open');
    for (const note of plan.hullNotes) flow.bullet(showPhrase(note, display));
  }
}

const span = (from: string, to: string): string => (from === to ? from : `${from} to ${to}`);

/** Times the foot's length. A radius beyond is none that a foot could show: under it the shell rises by less than 1/800 of the foot. */
const NEARLY_FLAT = 100;

/** A principal curvature (1/mm, above 0 bulging) by its radius; beyond a hundred lengths of the foot two figures of it, never rounded up. */
export function curvatureText(k: number, foot: number, display: Display): string {
  if (Math.abs(k) < 1e-9) return 'flat';
  const radius = Math.abs(1 / k);
  const way = k > 0 ? 'bulging' : 'hollow';
  if (radius <= NEARLY_FLAT * foot) return `${way}, radius ${shopLength(radius, display)}`;
  const [per, unit] = display === 'us' ? [internalPer('ft'), 'ft'] : [1000, 'm'];
  const step = 10 ** (Math.floor(Math.log10(radius / per)) - 1);
  const least = Math.floor(radius / per / step + 1e-9) * step;
  return `nearly flat, ${way}, radius over ${fixed(least, step < 1 ? 1 : 0)} ${unit}`;
}

/** The pull in the axes of the lug, as given and with its factors. */
export function pullSection(flow: Flow, context: Context): void {
  const { plan, fitting } = context;
  const { display } = plan.job;
  const { load, strength } = fitting;
  const force = (newton: number) => printedText(printed(newton, 'N', display));
  flow.heading(1, 'The pull');
  flow.table(
    [
      { title: '', share: 2.4 },
      { title: 'along the stem (B)', share: 1.2, align: 'right' },
      { title: 'along the foot (A)', share: 1.2, align: 'right' },
      { title: 'across the plate (C)', share: 1.2, align: 'right' },
      { title: 'whole', share: 1.2, align: 'right' },
    ],
    [
      ['pull given in the job', force(load.alongStem), force(load.alongFoot), force(load.sideways), force(load.force)],
      [
        `as checked, factor ${fixed(strength.load.factor, 3)}`,
        force(strength.load.alongStem),
        force(strength.load.alongFoot),
        strength.load.allowanceGoverns ? `± ${force(strength.load.sidewaysAllowed)}` : force(strength.load.sideways),
        force(strength.load.force),
      ],
    ],
  );
  const { dynamic, skew, consequence, load: basis } = strength.factors;
  flow.paragraph(
    `Factor: dynamic × skew × consequence × that of the basis = ${[dynamic, skew, consequence, basis].map((f) => fixed(f.value, 3)).join(' × ')} = ${fixed(strength.load.factor, 3)}. The whole is that of the pull itself, without the allowance.`,
  );
  flow.paragraph(
    strength.load.allowanceGoverns
      ? `Across the plate the allowance of ${showFigure({ share: strength.factors.sidewaysAllowance.value }, display)} of the pull governs: ± ${force(strength.load.sidewaysAllowed)}, to either side; the direction of the pull itself gives ${force(strength.load.sidewaysActual)}. Plate, weld and shell are each checked with it to both sides, and the worse is taken.`
      : `Across the plate the direction of the pull itself governs: ${force(strength.load.sidewaysActual)}; the allowance would be ${force(strength.load.sidewaysAllowed)}.`,
  );
  flow.paragraph(
    `The pull stands ${outOfPlane(context, 2)}; in the plane ${degrees(load.inPlane, 2)} off the stem, positive towards the ${sideNames(fitting)['end+']}. Greatest line force in the weld under the pull as given, without the allowance: ${showFigure({ newtonPerMm: strength.weldGroup.worst.force, digits: 1 }, display)} on the ${sideNames(fitting)[strength.weldGroup.worst.side]}.`,
  );
}
