import { inflateSync } from 'node:zlib';
import DxfParser, { type IDxf, type ILwpolylineEntity } from 'dxf-parser';
import { PDFArray, PDFDocument, PDFName, type PDFPage, PDFRawStream } from 'pdf-lib';
import { type Drawing, flattened, type Page, type TextItem } from '../../src/sheets/drawing.ts';

/** What was written, read by someone else. */

export function readDxf(text: string): IDxf {
  const dxf = new DxfParser().parseSync(text);
  if (dxf === null) throw new Error('no DXF');
  return dxf;
}

export const polylinesOn = (dxf: IDxf, layer: string): ILwpolylineEntity[] =>
  dxf.entities.filter((e): e is ILwpolylineEntity => e.type === 'LWPOLYLINE' && e.layer === layer);

export const layersOf = (dxf: IDxf): string[] => Object.keys(dxf.tables.layer.layers);

/** Height of a polyline without arcs at x, as a function of x: linear between its corners, `undefined` outside. */
export function heightAt(line: ILwpolylineEntity, x: number): number | undefined {
  for (let i = 0; i + 1 < line.vertices.length; i++) {
    const p = line.vertices[i];
    const q = line.vertices[i + 1];
    if (p === undefined || q === undefined || q.x - p.x < 1e-9) continue;
    if (x >= p.x && x <= q.x) return p.y + ((q.y - p.y) * (x - p.x)) / (q.x - p.x);
  }
  return undefined;
}

/** Operators of a page's content, as text. */
export function contentOf(page: PDFPage): string {
  const contents = page.node.Contents();
  const streams =
    contents instanceof PDFArray ? contents.asArray().map((ref) => page.doc.context.lookup(ref)) : [contents];
  return streams
    .map((stream) => {
      if (!(stream instanceof PDFRawStream)) throw new Error('no stream');
      const bytes = Buffer.from(stream.getContents());
      return stream.dict.get(PDFName.of('Filter')) === undefined
        ? bytes.toString('latin1')
        : inflateSync(bytes).toString('latin1');
    })
    .join('\n');
}

/** Straight lines of two points that are stroked on a page: their lengths in mm. */
export function strokedLines(page: PDFPage): { x0: number; y0: number; x1: number; y1: number; length: number }[] {
  const out: { x0: number; y0: number; x1: number; y1: number; length: number }[] = [];
  const mm = 25.4 / 72;
  const pattern = /(-?[\d.]+) (-?[\d.]+) m\s+(-?[\d.]+) (-?[\d.]+) l\s+(?:[^mlcSfBhn]*\s)?S/g;
  for (const match of contentOf(page).matchAll(pattern)) {
    const [x0, y0, x1, y1] = match.slice(1, 5).map((text) => Number(text) * mm) as [number, number, number, number];
    out.push({ x0, y0, x1, y1, length: Math.hypot(x1 - x0, y1 - y0) });
  }
  return out;
}

export const openPdf = (bytes: Uint8Array): Promise<PDFDocument> => PDFDocument.load(bytes, { updateMetadata: false });

/** Every text of a page, those of drawings within it too. */
export const textItems = ({ items }: Pick<Page, 'items'>): TextItem[] =>
  flattened(items).filter((item): item is TextItem => item.kind === 'text');

/** All that a drawing says, page by page, with single spaces. */
export const wordsOf = ({ pages }: Drawing): string =>
  pages
    .flatMap((page) => textItems(page).map(({ text }) => text))
    .join(' ')
    .replaceAll(/\s+/g, ' ');
