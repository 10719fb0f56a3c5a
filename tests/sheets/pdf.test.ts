import { inflateSync } from 'node:zlib';
import fontkit from '@pdf-lib/fontkit';
import { PDFArray, PDFDict, type PDFDocument, PDFName, PDFNumber, PDFRawStream } from 'pdf-lib';
import { describe, expect, test } from 'vitest';
import { type Drawing, Sheet } from '../../src/sheets/drawing.ts';
import { fontsFrom } from '../../src/sheets/fonts.ts';
import { writePdf } from '../../src/sheets/pdf.ts';
import { faceFacts } from '../../src/sheets/truetype.ts';
import { fonts as bytes } from './plans.ts';
import { contentOf, openPdf } from './readback.ts';

const fonts = fontsFrom(bytes);
const faces = { regular: fontkit.create(bytes.regular), bold: fontkit.create(bytes.bold) };

function drawing(texts: readonly string[], bold = false): Drawing {
  const sheet = new Sheet(210, 297);
  for (const [i, text] of texts.entries()) sheet.text(text, 20, 250 - 10 * i, { bold });
  return { title: 'letters', pages: [sheet] };
}

const plain = (stream: unknown): string => {
  if (!(stream instanceof PDFRawStream)) throw new Error('no stream');
  return inflateSync(Buffer.from(stream.getContents())).toString('latin1');
};

/** The one face of a file: what its codes mean, how wide its letters are, and its own bytes. */
function faceOf(pdf: PDFDocument) {
  const objects = pdf.context.enumerateIndirectObjects().map(([, object]) => object);
  const dict = (type: string) =>
    objects.find((o): o is PDFDict => o instanceof PDFDict && o.get(PDFName.of('Subtype'))?.toString() === type);
  const composite = dict('/Type0') as PDFDict;
  const list = plain(pdf.context.lookup(composite.get(PDFName.of('ToUnicode'))));
  const meaning = new Map<string, string>();
  const blocks = [...list.matchAll(/(\d+) beginbfchar\n([\s\S]*?)\nendbfchar/g)];
  for (const [, count, rows = ''] of blocks) {
    expect(rows.split('\n').length).toBe(Number(count));
    for (const [, code = '', letters = ''] of rows.matchAll(/<([0-9a-f]+)> <([0-9a-f]+)>/gi)) {
      const units = letters.match(/.{4}/g) ?? [];
      meaning.set(code.toLowerCase(), String.fromCharCode(...units.map((unit) => Number.parseInt(unit, 16))));
    }
  }
  const descendant = dict('/CIDFontType2') as PDFDict;
  const widths = new Map<number, number>();
  const w = descendant.lookup(PDFName.of('W'), PDFArray);
  for (let i = 0; i < w.size(); i += 2) {
    const first = w.lookup(i, PDFNumber).asNumber();
    const row = w.lookup(i + 1, PDFArray);
    for (let k = 0; k < row.size(); k++) widths.set(first + k, row.lookup(k, PDFNumber).asNumber());
  }
  const descriptor = descendant.lookup(PDFName.of('FontDescriptor'), PDFDict);
  const file = descriptor.lookup(PDFName.of('FontFile2'));
  if (!(file instanceof PDFRawStream)) throw new Error('no file of the face');
  return { blocks, meaning, widths, descriptor, file: inflateSync(Buffer.from(file.getContents())) };
}

/** Lines of text as a reader gets them: the codes of each through the file's own list. */
function linesOf(pdf: PDFDocument, meaning: ReadonlyMap<string, string>): string[] {
  const shown = [...contentOf(pdf.getPages()[0] as never).matchAll(/<([0-9a-f]+)> Tj/gi)];
  return shown.map(([, codes = '']) =>
    (codes.toLowerCase().match(/.{4}/g) ?? []).map((code) => meaning.get(code) ?? '?').join(''),
  );
}

describe('letters in a PDF', () => {
  const usual = ['Plate 38.0 mm, 1 off: ⌀ 44 × 2 at 90° ≤ limit', 'σ = α β / τ'];
  const others = ['Жук Œuvre ½ Ω ﬂ', 'Ship “Æolus”'];

  test('what is read back is what was written, common letters and others, regular and bold', async () => {
    for (const bold of [false, true]) {
      for (const texts of [usual, others, [...usual, ...others]]) {
        const pdf = await openPdf(await writePdf(drawing(texts, bold), fonts));
        expect(linesOf(pdf, faceOf(pdf).meaning)).toEqual(texts);
      }
    }
  });

  test('a list of meanings comes in blocks of 100 at the most', async () => {
    const { blocks } = faceOf(await openPdf(await writePdf(drawing(usual), fonts)));
    expect(blocks.length).toBeGreaterThan(1);
    for (const [, count] of blocks) expect(Number(count)).toBeLessThanOrEqual(100);
  });

  test('each letter is as wide, and has the outline, that the whole face gives it (read by the library)', async () => {
    for (const [bold, whole] of [
      [false, faces.regular],
      [true, faces.bold],
    ] as const) {
      const pdf = await openPdf(await writePdf(drawing([...usual, ...others], bold), fonts));
      const { meaning, widths, file } = faceOf(pdf);
      const part = fontkit.create(file);
      expect(meaning.size).toBeGreaterThan(120);
      for (const [code, text] of meaning) {
        const id = Number.parseInt(code, 16);
        const letter = whole.glyphForCodePoint(text.codePointAt(0) ?? 0);
        expect(widths.get(id)).toBeCloseTo((letter.advanceWidth * 1000) / whole.unitsPerEm, 6);
        const drawn = (part as never as { getGlyph(id: number): typeof letter }).getGlyph(id);
        expect(drawn.advanceWidth).toBe(letter.advanceWidth);
        expect(drawn.path.toSVG()).toBe(letter.path.toSVG());
      }
    }
  });

  test('files whose letters are all common ones carry the very same face; the order of writing changes nothing', async () => {
    const first = await writePdf(drawing(['Plate']), fonts);
    const strange = await writePdf(drawing(others), fonts);
    const again = await writePdf(drawing(['Plate']), fonts);
    expect(again).toEqual(first);
    expect(await writePdf(drawing(others), fonts)).toEqual(strange);
    expect(await writePdf(drawing(others), fontsFrom({ ...bytes }))).toEqual(strange);
    const [a, b] = await Promise.all([first, await writePdf(drawing(usual), fonts)].map(openPdf));
    expect(Buffer.compare(faceOf(a as PDFDocument).file, faceOf(b as PDFDocument).file)).toBe(0);
  });

  test('what is said of a face is what the library reads in it', () => {
    for (const name of ['regular', 'bold'] as const) {
      const face = faces[name];
      const facts = faceFacts(bytes[name]);
      expect(facts.postscriptName).toBe(face.postscriptName);
      expect(facts.italicAngle).toBe(face.italicAngle);
      expect(facts.fixedPitch).toBe(Boolean((face as never as { post: { isFixedPitch: number } }).post.isFixedPitch));
    }
    // A face that leans, made by writing -12 degrees (16.16) into the table; found at another place in its buffer as well.
    const leaning = new Uint8Array(bytes.regular.length + 7).fill(0);
    leaning.set(bytes.regular, 7);
    const at = (fontkit.create(bytes.regular) as never as { directory: { tables: { post: { offset: number } } } })
      .directory.tables.post.offset;
    new DataView(leaning.buffer, 7).setInt32(at + 4, -12 * 0x10000);
    expect(faceFacts(leaning.subarray(7)).italicAngle).toBe(-12);
  });
});
