import { showPhrase } from '../job/show.ts';
import { bracketWords } from './brackets.ts';
import { checkBars } from './checkbars.ts';
import type { Context } from './context.ts';
import { torchFromEdge, torchSettings } from './cut.ts';
import { CENTRE, type Drawing, HIDDEN, type Pen, Sheet } from './drawing.ts';
import { degrees, gapLength, gapUp, shopLength } from './figures.ts';
import { BODY, Flow } from './flow.ts';
import { shortened } from './fonts.ts';
import { sideNames, sidesInWords, sideWay } from './sides.ts';
import { stockFor95, type TemplateView, templateView } from './template-view.ts';
import { SQUARE, stockLength } from './template-words.ts';
import { fewestSheets, mapsHeight, type Piece, tileMaps, tilePages, tilesIn } from './tiles.ts';
import { cautionWith } from './warning.ts';

const TITLE = 'Foot template 1:1';

/** mm. Between the two faces where both stand in one drawing. */
const BETWEEN = 4;
/** mm round a face on pages, the roomier first: what it takes to save a page. */
const BORDERS = [8, 1.5];

function facePiece(view: TemplateView): Piece {
  const { width, height, avoid, clear, draw, name } = view;
  return {
    title: `${name} face`,
    width,
    height,
    avoid,
    clear,
    draw,
    outlines: [{ name: `${name} face`, x: 0, y: 0, width, height }],
  };
}

/** Both faces in one drawing, the first over the second or to the left of it. */
function bothFaces(plus: TemplateView, minus: TemplateView, way: 'over' | 'beside'): Piece {
  const over = way === 'over';
  const placed = [
    { view: plus, x: 0, y: over ? minus.height + BETWEEN : 0 },
    { view: minus, x: over ? 0 : plus.width + BETWEEN, y: 0 },
  ];
  const width = Math.max(...placed.map(({ view, x }) => x + view.width));
  const height = Math.max(...placed.map(({ view, y }) => y + view.height));
  return {
    title: 'both faces',
    width,
    height,
    avoid: placed.flatMap(({ view, x }) => view.avoid.map((each) => each + x)),
    clear: placed.flatMap(({ view, y }) => view.clear.map((each) => each + y)),
    outlines: placed.map(({ view, x, y }) => ({
      name: `${view.name} face`,
      x,
      y,
      width: view.width,
      height: view.height,
    })),
    draw: (panes) =>
      placed.map(({ view, x, y }) => ({
        kind: 'window',
        dx: x,
        dy: y,
        clip: { x: 0, y: 0, width, height },
        items: view.draw(
          panes
            .map((pane) => ({ from: Math.max(0, pane.from - x), to: Math.min(view.width, pane.to - x) }))
            .filter((pane) => pane.to > pane.from),
        ),
      })),
  };
}

/** Both faces on as few pages as hold them: one over the other, or each by itself. */
function laidOut(context: Context): ReturnType<typeof fewestSheets> {
  const ways = BORDERS.flatMap((border): Piece[][] => {
    const [plus, minus] = [templateView(context, 'face+', border), templateView(context, 'face-', border)];
    return [[facePiece(plus), facePiece(minus)], [bothFaces(plus, minus, 'over')]];
  });
  return fewestSheets(context.paper, ways);
}

/** The template on A4 or Letter: what to do, then both faces on as few pages as hold them; on one page with the words where that will do. */
export function tiledTemplate(context: Context): Drawing {
  const title = `${TITLE} ${context.id}: ${context.title}`;
  const cover = new Flow(context, TITLE);
  coverText(cover, context);
  const [plus, minus] = [templateView(context, 'face+', 2), templateView(context, 'face-', 2)];
  const small = (['beside', 'over'] as const)
    .map((way) => bothFaces(plus, minus, way))
    .find((piece) => piece.width <= cover.width && piece.height + BARS + 2 <= cover.left);
  cover.figure(BARS, (sheet, x, y) => checkBars(sheet, x, y + 5.5));
  if (small !== undefined) {
    cover.figure(small.height, (sheet, x, y, width) => {
      const dx = x + (width - small.width) / 2;
      const items = small.draw([{ from: 0, to: small.width }]);
      const clip = { x: dx, y, width: small.width, height: small.height };
      sheet.items.push({ kind: 'window', dx, dy: y, clip, items });
    });
    return { title, pages: cover.finish() };
  }
  const laid = laidOut(context);
  const count = laid.reduce((sum, { layout }) => sum + tilesIn(layout), 0);
  const single = laid.every(({ layout }) => tilesIn(layout) === 1);
  cover.heading(
    3,
    `Map of the pages that follow, each face seen from that face${single ? ': nothing to tape' : ''}`,
    60,
  );
  cover.figure(mapsHeight(laid, cover.width), (sheet, x, y, width) => tileMaps(laid, sheet, x, y, width));
  const pages = cover.finish(count);
  const of = pages.length + count;
  for (const { piece, layout } of laid) {
    pages.push(...tilePages(context, piece, layout, TITLE, pages.length + 1, of));
  }
  return { title, pages };
}

/** mm. The check bars on a page of text. */
const BARS = 12;

function coverText(flow: Flow, context: Context): void {
  const { fitting, plan, options } = context;
  const { display } = plan.job;
  const names = sideNames(fitting);
  flow.heading(1, TITLE);
  flow.paragraph(sidesInWords(fitting, showPhrase(fitting.fit.verdict, display)), { bold: true });
  flow.paragraph(
    'Print at 100 %, without scaling, and measure a check bar on every page before anything is marked. Pages that join are laid over one another so that the register crosses meet, and taped. Cut along the solid edge. Lay the centre line on the centre line of the plate, the sight line at its distance from the pin centre. Each face has its own template. Try the trial template on the hull before steel is cut.',
  );
  flow.paragraph(
    `At a station stand its place, the bevel of the cut and the gap g along the stem that the cut leaves on this face${display === 'us' ? ', lengths in inches' : ', lengths in mm'}. Places count from the centre line, plus towards the ${sideWay(names['end+'])} end; with a plus bevel the ${sideWay(names['face+'])} face is the shorter, with a minus bevel the ${sideWay(names['face-'])} face; with a plus slope the plate gets shorter towards the ${sideWay(names['end+'])} end. Up to ${gapLength(plan.job.limits.fitGap, display)} the fit is tight, over ${gapLength(plan.job.limits.recutGap, display)} the foot is cut again.`,
  );
  flow.paragraph(
    `${kerfWords(context)}${options.stock > 0 ? ` The plate is cut out with ${shopLength(options.stock, display)} of stock outside its net outline, for dressing; this template is net.` : ''}`,
  );
  const known = plan.uncertainty?.fittings.find((each) => each.id === fitting.id);
  if (plan.uncertainty !== undefined && known !== undefined) {
    const stock = stockFor95(context);
    flow.paragraph(
      `What the job gives with a ± is not exact. With those errors (${plan.uncertainty.samples} draws) a foot cut to the solid edge and not ground leaves no gap over ${gapLength(gapUp(known.gap95, display), display)} in 95 of 100 cases. ${
        stock > 0
          ? `Shaded, down to the dotted line: how far the shell may lie below the cut. Leave ${stockLength(stock, display)} of metal to be 95 % sure that grinding makes it fit. The band is as deep all along the foot as its worst place asks for.`
          : 'No metal need be left on for grinding.'
      }`,
      { bold: true },
    );
  }
  lineKey(flow, context);
  const settings = torchSettings(fitting);
  const { kerf } = context.options;
  if (settings.length > 0) {
    flow.table(
      [
        { title: 'Cut from', share: 2, align: 'right' },
        { title: 'to', share: 2, align: 'right' },
        { title: 'Torch off square', share: 1.5, align: 'right' },
        ...(kerf === undefined ? [] : [{ title: 'Torch middle from the edge', share: 1.6, align: 'right' } as const]),
        { title: 'Bevel at right angles to the length', share: 1.7, align: 'right' },
        { title: 'Slope along the foot', share: 1.5, align: 'right' },
        { title: 'Shorter on', share: 1.6 },
      ],
      settings.map((s) => [
        shopLength(s.fromA, display),
        shopLength(s.toA, display),
        degrees(Math.abs(s.torch), 2),
        ...(kerf === undefined ? [] : [shopLength(torchFromEdge(s, kerf), display, 2)]),
        degrees(s.bevel, 2),
        degrees(s.footSlope, 2),
        Math.abs(s.torch) < SQUARE ? 'neither: square' : `${sideWay(names[s.torch >= 0 ? 'face+' : 'face-'])} face`,
      ]),
      { size: BODY - 1 },
    );
    if (bracketWords(display) !== '') flow.paragraph(bracketWords(display), { size: 8 });
  } else flow.paragraph('A scribed cut: the bevel changes all along; take it from the stations and the bevel table.');
}

/** What each kind of line on the template is. */
function lineKey(flow: Flow, context: Context): void {
  const rows: readonly (readonly [Pen, string])[] = [
    [{ width: 0.5 }, 'edge of the cut on this face'],
    [HIDDEN, 'edge of the cut on the face behind'],
    [{ width: 0.25, dash: [1.5, 1] }, 'leg line: toe of the fillet, to be scribed'],
    [CENTRE, 'centre line'],
    [{ width: 0.25 }, 'sight line, for the angle finder'],
    ...(torchSettings(context.fitting).length > 1
      ? [[{ width: 0.3, dash: [4, 1, 1, 1] }, 'the torch is set anew'] as const]
      : []),
    ...(stockFor95(context) > 0 ? [[{ width: 0.35, dash: [0.6, 1.2] }, 'metal left on for grinding'] as const] : []),
  ];
  const high = 4.6;
  flow.figure(Math.ceil(rows.length / 2) * high + 1, (sheet, x, y, width) => {
    const top = y + Math.ceil(rows.length / 2) * high - 2;
    rows.forEach(([pen, words], i) => {
      const left = x + (i % 2) * (width / 2);
      const at = top - Math.floor(i / 2) * high;
      sheet.line(left, at, left + 22, at, pen);
      sheet.text(words, left + 25, at - 1, { size: 8 });
    });
  });
}

/** Whether the edges allow for the torch. */
export function kerfWords({ plan, fitting, options }: Context): string {
  const { kerf } = options;
  if (kerf === undefined) return 'The edges are net: kerf is the cutter’s to allow for.';
  return `The edges are net: with a kerf of ${shopLength(kerf, plan.job.display)} the middle of the torch runs outside them, on the side that falls off, ${torchSettings(fitting).length > 0 ? 'as far as the table says' : 'by half of it, square to the bevel'}.`;
}

/** Both faces on one page as large as they need. */
export function largeTemplate(context: Context): Drawing {
  const views = [templateView(context, 'face+'), templateView(context, 'face-')];
  const margin = 15;
  const width = Math.max(...views.map((each) => each.width), 190) + 2 * margin;
  const foot = 34;
  const height = views.reduce((sum, each) => sum + each.height + 8, 0) + foot + margin;
  const sheet = new Sheet(width, height);
  let y = height - margin;
  for (const each of views) {
    y -= each.height;
    const x = (width - each.width) / 2;
    sheet.items.push({
      kind: 'window',
      dx: x,
      dy: y,
      clip: { x: 0, y: 0, width, height },
      items: each.items,
    });
    sheet.rect(x, y, each.width, each.height, { width: 0.1, grey: 0.55 }, undefined, 'TEXT');
    y -= 8;
  }
  checkBars(sheet, margin, foot - 10);
  const mark = [context.id, TITLE, `job digest ${context.digest}`, context.revision, context.date, context.title];
  const words = mark.filter((part) => part !== '').join('   ');
  sheet.text(shortened(context.fonts, words, 8, width - 2 * margin), margin, 10, { size: 8 });
  sheet.text(cautionWith(context, ' Print at 100 %, measure a bar first.'), margin, 5.5, {
    size: 8,
    bold: context.warning.length > 0,
  });
  return { title: `${TITLE} ${context.id}: ${context.title}`, pages: [sheet] };
}
