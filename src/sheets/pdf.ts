import type fontkit from '@pdf-lib/fontkit';
import {
  appendBezierCurve,
  beginText,
  clip,
  closePath,
  endPath,
  endText,
  fillAndStroke,
  fill as fillOperator,
  lineTo,
  moveTo,
  PDFDocument,
  type PDFFont,
  PDFName,
  type PDFOperator,
  popGraphicsState,
  pushGraphicsState,
  setDashPattern,
  setFillingGrayscaleColor,
  setFontAndSize,
  setLineCap,
  setLineJoin,
  setLineWidth,
  setStrokingGrayscaleColor,
  setTextMatrix,
  showText,
  stroke,
} from 'pdf-lib';
import {
  arcOf,
  type Drawing,
  type Item,
  MM_PER_POINT,
  type Pen,
  type Point,
  type TextItem,
  type Vertex,
} from './drawing.ts';
import { type Fonts, widthOf } from './fonts.ts';
import { readingRuns } from './text.ts';

export interface PdfFacts {
  /** Day for the file's own record, `2026-03-14`; none where absent, so that the same job gives the same bytes. */
  readonly date?: string;
  readonly subject?: string;
}

/** Points per mm. */
const PT = 1 / MM_PER_POINT;

/** A drawing as a PDF at true scale: a line of 100 mm is 100 mm on paper printed without scaling. The same drawing gives the same bytes. */
export async function writePdf(drawing: Drawing, fonts: Fonts, facts: PdfFacts = {}): Promise<Uint8Array> {
  const pdf = await PDFDocument.create({ updateMetadata: false });
  pdf.setTitle(drawing.title, { showInWindowTitleBar: true });
  pdf.setProducer('Lugwright');
  pdf.setCreator('Lugwright');
  pdf.setLanguage('en');
  if (facts.subject !== undefined) pdf.setSubject(facts.subject);
  const day = facts.date === undefined ? undefined : dayOf(facts.date);
  if (day !== undefined) {
    pdf.setCreationDate(day);
    pdf.setModificationDate(day);
  }
  // A printer driver that scales to fit would spoil every 1:1 sheet.
  pdf.catalog.getOrCreateViewerPreferences().setPrintScaling('None' as never);
  const embed = async (face: Fonts['regular'], bytes: Uint8Array): Promise<PDFFont> => {
    // The face is already read: reading it again for every file would take longer than writing the file.
    pdf.registerFontkit({ create: () => face.forWriting() } as unknown as typeof fontkit);
    return pdf.embedFont(bytes, { subset: true, features: { liga: false, kern: false } });
  };
  const used = textUse(drawing);
  const regular = used.regular ? await embed(fonts.regular, fonts.bytes.regular) : undefined;
  const bold = used.bold ? await embed(fonts.bold, fonts.bytes.bold) : undefined;
  for (const sheet of drawing.pages) {
    const page = pdf.addPage([sheet.width * PT, sheet.height * PT]);
    if (regular) page.node.setFontDictionary(PDFName.of('R'), regular.ref);
    if (bold) page.node.setFontDictionary(PDFName.of('B'), bold.ref);
    const stream = new Stream();
    stream.save();
    stream.push(setLineCap(1), setLineJoin(1));
    put(sheet.items, 0, 0, stream, fonts, { regular, bold });
    stream.restore();
    page.pushOperators(...stream.operators);
  }
  return pdf.save();
}

function textUse(drawing: Drawing): { regular: boolean; bold: boolean } {
  const used = { regular: false, bold: false };
  const look = (items: readonly Item[]): void => {
    for (const item of items) {
      if (item.kind === 'window') look(item.items);
      if (item.kind === 'text') used[item.bold ? 'bold' : 'regular'] = true;
    }
  };
  for (const page of drawing.pages) look(page.items);
  return used;
}

/** Noon of the day, undefined where it is no day. */
function dayOf(text: string): Date | undefined {
  const day = new Date(`${text}T12:00:00Z`);
  return Number.isNaN(day.getTime()) ? undefined : day;
}

interface Embedded {
  readonly regular: PDFFont | undefined;
  readonly bold: PDFFont | undefined;
}

/** Points to four decimals, 0.04 micrometres: shorter files, sooner written. */
const pt = (mm: number): number => Math.round(mm * PT * 1e4) / 1e4;

/** Operators of a page, with what is set already, so as not to set it again. */
class Stream {
  readonly operators: PDFOperator[] = [];
  private set: { fill?: number; stroke?: number; width?: number; dash?: string; font?: string } = {};

  push(...operators: PDFOperator[]): void {
    for (const operator of operators) this.operators.push(operator);
  }

  save(): void {
    this.push(pushGraphicsState());
    this.set = {};
  }

  restore(): void {
    this.push(popGraphicsState());
    this.set = {};
  }

  fillGrey(grey: number): void {
    if (this.set.fill !== grey) this.push(setFillingGrayscaleColor(grey));
    this.set.fill = grey;
  }

  pen(pen: Pen): void {
    const grey = pen.grey ?? 0;
    if (this.set.stroke !== grey) this.push(setStrokingGrayscaleColor(grey));
    if (this.set.width !== pen.width) this.push(setLineWidth(pt(pen.width)));
    const dash = (pen.dash ?? []).map(pt);
    if (this.set.dash !== dash.join()) this.push(setDashPattern(dash, 0));
    this.set.stroke = grey;
    this.set.width = pen.width;
    this.set.dash = dash.join();
  }

  font(name: string, size: number): void {
    if (this.set.font !== `${name} ${size}`) this.push(setFontAndSize(name, size));
    this.set.font = `${name} ${size}`;
  }
}

function put(items: readonly Item[], dx: number, dy: number, out: Stream, fonts: Fonts, embedded: Embedded): void {
  for (const item of items) {
    switch (item.kind) {
      case 'window': {
        const { x, y, width, height } = item.clip;
        out.save();
        out.push(...rectangle(x + dx, y + dy, width, height), clip(), endPath());
        put(item.items, dx + item.dx, dy + item.dy, out, fonts, embedded);
        out.restore();
        break;
      }
      case 'path':
        paint(trace(item.points, item.closed, dx, dy), item.pen, item.fill, out);
        break;
      case 'circle': {
        const { centre, radius } = item;
        const ring = [
          { x: centre.x + radius, y: centre.y, bulge: 1 },
          { x: centre.x - radius, y: centre.y, bulge: 1 },
        ];
        paint(trace(ring, true, dx, dy), item.pen, item.fill, out);
        break;
      }
      case 'text':
        write(item, dx, dy, out, fonts, embedded);
    }
  }
}

const rectangle = (x: number, y: number, width: number, height: number): PDFOperator[] => [
  moveTo(pt(x), pt(y)),
  lineTo(pt(x + width), pt(y)),
  lineTo(pt(x + width), pt(y + height)),
  lineTo(pt(x), pt(y + height)),
  closePath(),
];

function trace(points: readonly Vertex[], closed: boolean, dx: number, dy: number): PDFOperator[] {
  const out: PDFOperator[] = [];
  const first = points[0];
  if (first === undefined) return out;
  const X = (p: Point) => pt(p.x + dx);
  const Y = (p: Point) => pt(p.y + dy);
  out.push(moveTo(X(first), Y(first)));
  points.forEach((p, i) => {
    const q = points[i + 1] ?? (closed ? first : undefined);
    if (q === undefined) return;
    if (p.bulge === undefined || p.bulge === 0) {
      if (i + 1 < points.length) out.push(lineTo(X(q), Y(q)));
      return;
    }
    const { centre, radius, start, sweep } = arcOf(p, q);
    // Cubics over at most an eighth of a turn: off the circle by less than 5e-6 of the radius.
    const n = Math.max(1, Math.ceil(Math.abs(sweep) / (Math.PI / 4)));
    const step = sweep / n;
    const k = (4 / 3) * Math.tan(step / 4) * radius;
    for (let j = 0; j < n; j++) {
      const a = start + j * step;
      const b = a + step;
      const from = { x: centre.x + radius * Math.cos(a), y: centre.y + radius * Math.sin(a) };
      const to = { x: centre.x + radius * Math.cos(b), y: centre.y + radius * Math.sin(b) };
      const c1 = { x: from.x - k * Math.sin(a), y: from.y + k * Math.cos(a) };
      const c2 = { x: to.x + k * Math.sin(b), y: to.y - k * Math.cos(b) };
      out.push(appendBezierCurve(X(c1), Y(c1), X(c2), Y(c2), X(to), Y(to)));
    }
  });
  if (closed) out.push(closePath());
  return out;
}

/** Colour and pen first: between a path and its painting the format allows nothing to be set. */
function paint(path: readonly PDFOperator[], pen: Pen | undefined, fill: number | undefined, out: Stream): void {
  if (fill !== undefined) out.fillGrey(fill);
  if (pen !== undefined) out.pen(pen);
  out.push(...path);
  if (pen !== undefined && fill !== undefined) out.push(fillAndStroke());
  else if (pen !== undefined) out.push(stroke());
  else if (fill !== undefined) out.push(fillOperator());
  else out.push(endPath());
}

/** Slant of italic text: the face has none of its own, upright letters are leaned. */
const SLANT = Math.tan((11 * Math.PI) / 180);

function write(item: TextItem, dx: number, dy: number, out: Stream, fonts: Fonts, embedded: Embedded): void {
  const font = item.bold ? embedded.bold : embedded.regular;
  if (font === undefined) throw new Error('text in a face that was not embedded');
  const width = widthOf(fonts, item.text, item.size, item.bold);
  const back = item.align === 'left' ? 0 : item.align === 'centre' ? width / 2 : width;
  const c = Math.cos(item.rotation);
  const s = Math.sin(item.rotation);
  let along = -back;
  out.push(beginText());
  out.fillGrey(item.grey);
  out.font(item.bold ? 'B' : 'R', item.size);
  for (const run of readingRuns(item.text)) {
    const x = pt(item.at.x + dx + along * c);
    const y = pt(item.at.y + dy + along * s);
    const lean = item.italic ? SLANT : 0;
    out.push(setTextMatrix(c, s, c * lean - s, s * lean + c, x, y), showText(font.encodeText(run)));
    along += widthOf(fonts, run, item.size, item.bold);
  }
  out.push(endText());
}
