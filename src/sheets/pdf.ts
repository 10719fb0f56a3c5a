import type fontkit from '@pdf-lib/fontkit';
import { PDFDocument, type PDFFont, PDFName } from 'pdf-lib';
import { zlibSync } from 'three/addons/libs/fflate.module.js';
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
import { commonIn, JOINING } from './embedding.ts';
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
  // The library calls this for what belongs to the faces, which is the same in most files.
  pdf.context.flateStream = (contents, dict = {}) =>
    pdf.context.stream(compressedOnce(typeof contents === 'string' ? latin(inBlocks(contents)) : contents), {
      ...dict,
      Filter: 'FlateDecode',
    });
  // A printer driver that scales to fit would spoil every 1:1 sheet.
  pdf.catalog.getOrCreateViewerPreferences().setPrintScaling('None' as never);
  const embed = async ({ forWriting: face }: Fonts['regular'], bytes: Uint8Array): Promise<Encoder> => {
    // The face is already read: reading it again for every file would take longer than writing the file.
    pdf.registerFontkit({ create: () => face } as unknown as typeof fontkit);
    const font = await pdf.embedFont(bytes, { subset: true, features: { liga: false, kern: false } });
    return new Encoder(font, commonIn(face));
  };
  const used = textUse(drawing);
  const regular = used.regular ? await embed(fonts.regular, fonts.bytes.regular) : undefined;
  const bold = used.bold ? await embed(fonts.bold, fonts.bytes.bold) : undefined;
  for (const sheet of drawing.pages) {
    const page = pdf.addPage([sheet.width * PT, sheet.height * PT]);
    if (regular) page.node.setFontDictionary(PDFName.of('R'), regular.font.ref);
    if (bold) page.node.setFontDictionary(PDFName.of('B'), bold.font.ref);
    const stream = new Stream();
    stream.save();
    stream.push('1 J 1 j');
    put(sheet.items, 0, 0, stream, fonts, { regular, bold });
    stream.restore();
    const content = pdf.context.stream(compressed(latin(stream.text())), { Filter: 'FlateDecode' });
    page.node.addContentStream(pdf.context.register(content));
  }
  // Objects as they are: packing them would save a fiftieth of a file and take a tenth of the time.
  return pdf.save({ useObjectStreams: false, objectsPerTick: Infinity });
}

/** As the library would do it, in a quarter of the time and within a few hundredths of the size. */
const compressed = (plain: Uint8Array): Uint8Array => zlibSync(plain, { level: 4 });

/** The last few things that belong to faces, plain and compressed, the newest first. */
const lately: { readonly plain: Uint8Array; readonly packed: Uint8Array }[] = [];
const KEPT = 8;

function compressedOnce(plain: Uint8Array): Uint8Array {
  const at = lately.findIndex((one) => same(one.plain, plain));
  const [known = { plain, packed: compressed(plain) }] = at < 0 ? [] : lately.splice(at, 1);
  lately.unshift(known);
  lately.length = Math.min(lately.length, KEPT);
  return known.packed;
}

function same(a: Uint8Array, b: Uint8Array): boolean {
  if (a.length !== b.length) return false;
  for (let i = 0; i < a.length; i++) if (a[i] !== b[i]) return false;
  return true;
}

/** Most letters in one block of a list of what the letters of a face mean (the CMap format, Adobe Technical Note 5014; from memory). */
const BLOCK = 100;

/** A list of what the letters of a face mean, as the library writes it, in blocks as short as the format allows. */
function inBlocks(list: string): string {
  return list.replace(/\d+ beginbfchar\n([\s\S]*?)\nendbfchar/, (_, body: string) => {
    const rows = body.split('\n');
    const blocks: string[] = [];
    for (let i = 0; i < rows.length; i += BLOCK) {
      const block = rows.slice(i, i + BLOCK);
      blocks.push(`${block.length} beginbfchar\n${block.join('\n')}\nendbfchar`);
    }
    return blocks.join('\n');
  });
}

/** A face of a file, and what its letters are called in it. */
class Encoder {
  readonly font: PDFFont;
  private readonly codes = new Map<string, string>();

  constructor(font: PDFFont, common: readonly string[]) {
    this.font = font;
    for (const character of common) this.code(character);
  }

  private code(character: string): string {
    let code = this.codes.get(character);
    if (code === undefined) {
      code = this.font.encodeText(character).asString();
      this.codes.set(character, code);
    }
    return code;
  }

  /** Text that reads one way, as a string of the page's content. */
  encode(run: string): string {
    if (JOINING.test(run)) return this.font.encodeText(run).toString();
    let codes = '';
    for (const character of run) codes += this.code(character);
    return `<${codes}>`;
  }
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

/** A byte a character: the operators of a page are plain letters and figures. */
function latin(text: string): Uint8Array {
  const bytes = new Uint8Array(text.length);
  for (let i = 0; i < bytes.length; i++) bytes[i] = text.charCodeAt(i);
  return bytes;
}

/** Noon of the day, undefined where it is no day. */
function dayOf(text: string): Date | undefined {
  const day = new Date(`${text}T12:00:00Z`);
  return Number.isNaN(day.getTime()) ? undefined : day;
}

interface Embedded {
  readonly regular: Encoder | undefined;
  readonly bold: Encoder | undefined;
}

/** Points to four decimals, 0.04 micrometres, as the format writes numbers. */
const pt = (mm: number): string => String(Math.round(mm * PT * 1e4) / 1e4 + 0);

/** A part of a matrix or a shade, to six decimals. */
const unit = (value: number): string => String(Math.round(value * 1e6) / 1e6 + 0);

/** The content of a page, with what is set already, so as not to set it again. */
class Stream {
  private readonly lines: string[] = [];
  private set: { fill?: number; stroke?: number; width?: number; dash?: string; font?: string } = {};

  push(line: string): void {
    this.lines.push(line);
  }

  text(): string {
    return `${this.lines.join('\n')}\n`;
  }

  save(): void {
    this.push('q');
    this.set = {};
  }

  restore(): void {
    this.push('Q');
    this.set = {};
  }

  fillGrey(grey: number): void {
    if (this.set.fill !== grey) this.push(`${unit(grey)} g`);
    this.set.fill = grey;
  }

  pen(pen: Pen): void {
    const grey = pen.grey ?? 0;
    const dash = (pen.dash ?? []).map(pt).join(' ');
    if (this.set.stroke !== grey) this.push(`${unit(grey)} G`);
    if (this.set.width !== pen.width) this.push(`${pt(pen.width)} w`);
    if (this.set.dash !== dash) this.push(`[${dash}] 0 d`);
    this.set.stroke = grey;
    this.set.width = pen.width;
    this.set.dash = dash;
  }

  font(name: string, size: number): void {
    if (this.set.font !== `${name} ${size}`) this.push(`/${name} ${unit(size)} Tf`);
    this.set.font = `${name} ${size}`;
  }
}

function put(items: readonly Item[], dx: number, dy: number, out: Stream, fonts: Fonts, embedded: Embedded): void {
  for (const item of items) {
    switch (item.kind) {
      case 'window': {
        const { x, y, width, height } = item.clip;
        out.save();
        out.push(`${pt(x + dx)} ${pt(y + dy)} ${pt(width)} ${pt(height)} re W n`);
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

function trace(points: readonly Vertex[], closed: boolean, dx: number, dy: number): string {
  const first = points[0];
  if (first === undefined) return '';
  const at = (x: number, y: number) => `${pt(x + dx)} ${pt(y + dy)}`;
  const out = [`${at(first.x, first.y)} m`];
  points.forEach((p, i) => {
    const q = points[i + 1] ?? (closed ? first : undefined);
    if (q === undefined) return;
    if (p.bulge === undefined || p.bulge === 0) {
      if (i + 1 < points.length) out.push(`${at(q.x, q.y)} l`);
      return;
    }
    out.push(...curves(p, q, at));
  });
  if (closed) out.push('h');
  return out.join('\n');
}

/** An arc as cubics over at most an eighth of a turn: off the circle by less than 5e-6 of the radius. */
function curves(p: Vertex, q: Point, at: (x: number, y: number) => string): string[] {
  const { centre, radius, start, sweep } = arcOf(p, q);
  const n = Math.max(1, Math.ceil(Math.abs(sweep) / (Math.PI / 4)));
  const step = sweep / n;
  const k = (4 / 3) * Math.tan(step / 4) * radius;
  return Array.from({ length: n }, (_, j) => {
    const a = start + j * step;
    const b = a + step;
    const from = { x: centre.x + radius * Math.cos(a), y: centre.y + radius * Math.sin(a) };
    const to = { x: centre.x + radius * Math.cos(b), y: centre.y + radius * Math.sin(b) };
    const c1 = at(from.x - k * Math.sin(a), from.y + k * Math.cos(a));
    const c2 = at(to.x + k * Math.sin(b), to.y - k * Math.cos(b));
    return `${c1} ${c2} ${at(to.x, to.y)} c`;
  });
}

/** Colour and pen first: between a path and its painting the format allows nothing to be set. */
function paint(path: string, pen: Pen | undefined, fill: number | undefined, out: Stream): void {
  if (fill !== undefined) out.fillGrey(fill);
  if (pen !== undefined) out.pen(pen);
  out.push(path);
  out.push(pen === undefined ? (fill === undefined ? 'n' : 'f') : fill === undefined ? 'S' : 'B');
}

/** Slant of italic text: the face has none of its own, upright letters are leaned. */
const SLANT = Math.tan((11 * Math.PI) / 180);

function write(item: TextItem, dx: number, dy: number, out: Stream, fonts: Fonts, embedded: Embedded): void {
  const font = item.bold ? embedded.bold : embedded.regular;
  if (font === undefined) throw new Error('text in a face that was not embedded');
  const width = item.align === 'left' ? 0 : widthOf(fonts, item.text, item.size, item.bold);
  const back = item.align === 'centre' ? width / 2 : width;
  const c = Math.cos(item.rotation);
  const s = Math.sin(item.rotation);
  const lean = item.italic ? SLANT : 0;
  const matrix = `${unit(c)} ${unit(s)} ${unit(c * lean - s)} ${unit(s * lean + c)}`;
  let along = -back;
  out.push('BT');
  out.fillGrey(item.grey);
  out.font(item.bold ? 'B' : 'R', item.size);
  const runs = readingRuns((item.bold ? fonts.bold : fonts.regular).printable(item.text));
  for (const run of runs) {
    const place = `${pt(item.at.x + dx + along * c)} ${pt(item.at.y + dy + along * s)}`;
    out.push(`${matrix} ${place} Tm ${font.encode(run)} Tj`);
    if (runs.length > 1) along += widthOf(fonts, run, item.size, item.bold);
  }
  out.push('ET');
}
