import { STEEL_DENSITY } from '../../geometry/lug/body.ts';
import { showFigure } from '../job/show.ts';
import { bracketWords } from './brackets.ts';
import type { Context } from './context.ts';
import { torchFromEdge, torchSettings } from './cut.ts';
import { boundsOf, type Drawing, Sheet, scaled, THIN } from './drawing.ts';
import { writeDxf } from './dxf.ts';
import { atLeast, degrees, fixed, inches, shopLength } from './figures.ts';
import { Flow } from './flow.ts';
import { cornerRows } from './plate-corners.ts';
import { bevelledFaces, outermost, PLATE_LAYERS, plateItems } from './plate-items.ts';
import { drawPlate, fitted, givenLength } from './plate-picture.ts';
import { areaInside, plateOutline, stockOf, torchOutside } from './plate-shape.ts';
import { sideNames, sideWay } from './sides.ts';
import { cautionWith } from './warning.ts';

/** kg of the plate cut square along its net outline, the hole bored, with its cheek plates: before the foot is bevelled. */
export function massCutSquare(context: Context): number {
  const { thickness, hole, cheek } = context.fitting.input.lug;
  const bore = (Math.PI * hole * hole) / 4;
  const cheeks = cheek ? 2 * cheek.thickness * (Math.PI * cheek.radius ** 2 - bore) : 0;
  return STEEL_DENSITY * ((areaInside(plateOutline(context)) - bore) * thickness + cheeks);
}

/** Rectangle that a plate with its stock, and with the cut round it, is nested in, mm. */
export function nestingSize(context: Context): { width: number; height: number } {
  const sheet = new Sheet(0, 0);
  sheet.path(plateOutline(context, outermost(context)), THIN, 'CUT_WITH_STOCK', true);
  const { x0, y0, x1, y1 } = boundsOf(sheet.items);
  return { width: x1 - x0, height: y1 - y0 };
}

/** Size of the fillet round each cheek plate: the leg that the calculation takes; where that fails, over the movement too, what it lacks. */
function ringWeldWords({ plan, fitting }: Context): string {
  const { display } = plan.job;
  const swept = plan.lift?.lugs.find(({ id }) => id === fitting.id)?.checks.map(({ check }) => check) ?? [];
  const checks = [...fitting.strength.checks, ...swept].filter(({ id }) => id === 'cheek-weld');
  const leg = checks[0]?.terms.find(({ symbol }) => symbol === 'z')?.value;
  if (leg === undefined) return 'not worked out: the engineer gives its size';
  // In decimals: the nearest fraction may be more than the edge takes, or less than what was reckoned with.
  const taken = `fillet all round, leg ${display === 'us' ? `${fixed(inches(leg), 3)} in` : givenLength(leg, display)} as calculated: the most that its edge takes`;
  if (checks.every(({ pass }) => pass)) return taken;
  const steps = checks.flatMap((check) => check.steps.filter(({ symbol }) => symbol === 'z_needed'));
  return `${taken}; NOT ENOUGH, ${atLeast(Math.max(...steps.map(({ value }) => value)), display)} needed`;
}

/** What the lines outside the net outline are, or that there is none. */
function torchWords(context: Context): string {
  const { display } = context.plan.job;
  const { kerf } = context.options;
  const stock = stockOf(context);
  const dashed = stock > 0 ? `stock on the dashed outline ${shopLength(stock, display)}` : 'no stock';
  const torch = torchOutside(context);
  if (kerf === undefined || torch === undefined) return `${dashed}; kerf is the cutter’s to allow for`;
  return `${dashed}; kerf ${shopLength(kerf, display)}: middle of the torch ${shopLength(torch, display)} outside the net outline`;
}

export function plateDxf(context: Context): string {
  const { plan, fitting, id, title, digest, revision, date } = context;
  const { display } = plan.job;
  const { lug } = fitting.input;
  const sheet = new Sheet(0, 0);
  sheet.add(plateItems(context));
  const names = sideNames(fitting);
  const words = [
    `${id}: plate ${givenLength(lug.thickness, display)}, 1 off, ${showFigure({ kg: massCutSquare(context), digits: 2 }, display)} cut square${lug.cheek ? ' with cheek plates' : ''}`,
    ...(lug.cheek ? [`cheek plates ${givenLength(lug.cheek.thickness, display)}, 2 off`] : []),
    `seen from the ${sideWay(names['face+'])} face; right is the ${sideWay(names['end+'])} end`,
    torchWords(context),
    `${title}; job digest ${digest} ${revision} ${date}`,
    cautionWith(context),
  ];
  const below = boundsOf(sheet.items).y0 - 15;
  words.forEach((text, i) => {
    sheet.text(text, -lug.foot / 2, below - 6 * i, { size: 9 });
  });
  return writeDxf(sheet.items, PLATE_LAYERS, display === 'us' ? 'in' : 'mm');
}

/** The plate on paper, to read; the cutting file is the DXF. Scaled to fit, and said so. */
export function plateSheet(context: Context): Drawing {
  const { fitting, plan } = context;
  const { display, steel } = plan.job;
  const { lug } = fitting.input;
  const names = sideNames(fitting);
  const flow = new Flow(context, 'Plate');
  flow.heading(1, lug.cheek ? 'Plate and cheek plates' : 'Plate');
  const nest = nestingSize(context);
  const stress = (mpa: number) => showFigure({ mpa }, display);
  const weight = (kg: number) => showFigure({ kg, digits: 2 }, display);
  const [square, bevelled] = [weight(massCutSquare(context)), weight(fitting.body.mass)];
  const { kerf } = context.options;
  flow.pairs([
    ['Thickness, number off', `${givenLength(lug.thickness, display)}, 1 off`],
    ...(lug.cheek
      ? [
          [
            'Cheek plates',
            `${givenLength(lug.cheek.thickness, display)}, 2 off, ⌀ ${givenLength(2 * lug.cheek.radius, display)}`,
          ] as const,
          ['Ring weld of each cheek plate', ringWeldWords(context)] as const,
        ]
      : []),
    [
      'Steel taken in the calculation',
      `yield ${stress(steel.lug.yield)}, tensile ${stress(steel.lug.tensile)}: check the mill sheet`,
    ],
    [
      lug.cheek ? 'Weight with cheek plates' : 'Weight',
      `${square === bevelled ? '' : `${square} cut square, `}${bevelled}${square === bevelled ? '' : ' with the foot bevelled'}; in sea water ${weight(fitting.body.massInWater)}`,
    ],
    [
      `Least rectangle to nest, with stock${kerf === undefined ? '' : ' and kerf'}`,
      `${atLeast(nest.width, display, 0)} × ${atLeast(nest.height, display, 0)}${lug.cheek ? `; a cheek plate ${atLeast(2 * (lug.cheek.radius + outermost(context)), display, 0)} square` : ''}`,
    ],
    ['Stock and kerf', torchWords(context)],
  ]);
  const corners = cornerRows(context);
  const settings = torchSettings(fitting);
  const bevels = settings.some(({ torch }) => degrees(Math.abs(torch), 2) !== degrees(0, 2));
  // As high as leaves what stands under it room on the page.
  const under = (display === 'us' ? 37 : 32) + TABLE_ROW * (corners.length + (bevels ? settings.length + 2 : 1));
  const most = Math.max(LEAST_HEIGHT, Math.min(MOST_HEIGHT, flow.left - under));
  const picture = fitted(context, flow.width, most);
  flow.figure(picture.height, (sheet, x, y) => drawPlate(context, sheet, picture, x, y, flow.width));
  flow.paragraph(solidWords(context, picture.torch));
  if (bracketWords(display) !== '') flow.paragraph(bracketWords(display), { size: 8 });
  flow.table(
    [
      { title: 'Corner', share: 0.5, align: 'centre', bold: true },
      { title: 'of the net outline', share: 1.3 },
      { title: 'from the centre line', share: 1.4 },
      { title: 'from the pin centre, along the centre line', share: 2 },
    ],
    corners,
  );
  if (bevels) {
    const from = (a: number) =>
      `${shopLength(Math.abs(a), display)}${fixed(a, 3) === fixed(0, 3) ? '' : ` ${sideWay(names[a < 0 ? 'end-' : 'end+'])}`}`;
    flow.table(
      [
        { title: 'Foot from', share: 1.1 },
        { title: 'to, from the centre line', share: 1.1 },
        { title: 'torch off square', share: 0.8, align: 'right' },
        ...(kerf === undefined ? [] : [{ title: 'torch middle from the edge', share: 1.2, align: 'right' } as const]),
        { title: 'shorter on', share: 0.8 },
      ],
      settings.map((s) => {
        const level = degrees(Math.abs(s.torch), 2) === degrees(0, 2);
        return [
          from(s.fromA),
          from(s.toA),
          level ? 'square' : degrees(Math.abs(s.torch), 2),
          ...(kerf === undefined ? [] : [shopLength(torchFromEdge(s, kerf), display, 2)]),
          level ? 'neither face' : `${sideWay(names[s.torch >= 0 ? 'face+' : 'face-'])} face`,
        ];
      }),
    );
  } else if (settings.length > 0) flow.paragraph('The foot is cut square to the plate all along: no bevel.');
  else flow.paragraph('The foot is scribed: cut and ground to the foot template, bevel by the bevel table.');
  if (lug.cheek)
    flow.paragraph(
      'Cheek plates are cut without the hole: short dashes show where it comes to lie. It is bored through all three plates after they are welded.',
    );
  return { title: `Plate ${context.id}: ${context.title}`, pages: flow.finish() };
}

/** mm. Row of a table, and how high the picture may be. */
const TABLE_ROW = 5.6;
const LEAST_HEIGHT = 75;
const MOST_HEIGHT = 128;

/** What the lines of the picture mean. */
function solidWords(context: Context, torch: boolean): string {
  const names = sideNames(context.fitting);
  const faces = bevelledFaces(context).map(
    (face) =>
      `${face === 'face+' ? 'a thin line' : 'short dashes'} where its edge comes to lie on the ${sideWay(names[face])} face`,
  );
  const foot =
    faces.length === 0 ? 'The foot stays square to the plate.' : `In the foot, after bevelling: ${faces.join(', ')}.`;
  const next = stockOf(context) > 0 ? 'the dashed outline' : 'the net outline';
  const dots =
    context.options.kerf === undefined
      ? ''
      : torch
        ? ' Dots: the middle of the torch.'
        : ` The middle of the torch is not drawn: to this scale it would lie on ${next}; the cutting file has it.`;
  const cheek = context.fitting.input.lug.cheek ? ' Short dashes round the hole: the cheek plates.' : '';
  return `Solid: net outline, cut square through the plate at ${faces.length === 0 ? 'the edge of the foot' : 'the lower of the two foot edges'}; the hole is bored to size. ${foot}${cheek}${dots} Chain lines are marked on both faces and punched: centre line, pin centre, sight line.`;
}

/** The plate alone on a page as large as it needs, true size, for a plotter. */
export function plateDrawing(context: Context): Drawing {
  const items = plateItems(context);
  const { x0, y0, x1, y1 } = boundsOf(items);
  const margin = 15;
  const sheet = new Sheet(Math.max(x1 - x0, 160) + 2 * margin, y1 - y0 + 2 * margin + 14);
  sheet.add(scaled(items, 1, margin - x0, margin + 14 - y0));
  const mark = [context.id, 'plate 1:1', `job digest ${context.digest}`, context.revision, context.date, context.title];
  sheet.text(mark.filter((part) => part !== '').join('   '), margin, 10, { size: 8 });
  sheet.text(cautionWith(context), margin, 6, { size: 8, bold: context.warning.length > 0 });
  return { title: `Plate ${context.id}: ${context.title}`, pages: [sheet] };
}
