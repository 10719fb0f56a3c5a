import Papa from 'papaparse';
import { describe, expect, test } from 'vitest';
import { SHEETS, type SheetFile, writeSheets } from '../../src/sheets/index.ts';
import { fonts, HOSTILE, HOSTILE_ID, planOf, wedgeJob } from './plans.ts';
import { polylinesOn, readDxf } from './readback.ts';

const same = (p: readonly SheetFile[], q: readonly SheetFile[]): string[] =>
  p.flatMap((file, i) => {
    const other = q[i];
    return other?.name === file.name && Buffer.compare(Buffer.from(file.bytes), Buffer.from(other.bytes)) === 0
      ? []
      : [file.name];
  });

describe('all sheets', () => {
  test('the same job gives the same bytes, planned anew, whatever the day', async () => {
    const job = wedgeJob(0.3);
    const first = await writeSheets(planOf(job), { fonts });
    const second = await writeSheets(planOf(structuredClone(job)), {
      fonts: { regular: fonts.regular.slice(), bold: fonts.bold.slice() },
    });
    expect(same(first, second)).toEqual([]);
    expect(second.length).toBe(first.length);
    const dated = await writeSheets(planOf(job), { fonts, date: '2026-03-14', revision: 'B' });
    expect(same(dated, await writeSheets(planOf(job), { fonts, date: '2026-03-14', revision: 'B' }))).toEqual([]);
    expect(same(first, dated).length).toBeGreaterThan(10);
  });

  test('a file a name, none empty, no folder in a name; progress counts to the end', async () => {
    const job = wedgeJob(0.3);
    job.fittings.push({ ...job.fittings[0], id: 'a', at: { station: '12 m', side: 'starboard', girth: '2 m' } });
    const told: number[] = [];
    const files = await writeSheets(planOf(job), { fonts, progress: (done, of) => told.push(done / of) });
    const names = files.map((file) => file.name.toLowerCase());
    expect(new Set(names).size).toBe(names.length);
    for (const file of files) {
      expect(file.name).not.toMatch(/[\\/:*?"<>|]/);
      expect(file.bytes.length).toBeGreaterThan(100);
    }
    expect(told.at(-1)).toBe(1);
    expect(told.length).toBe(2 * SHEETS.length);
    for (const { name } of SHEETS) expect(files.some((file) => file.name.includes(name))).toBe(true);
  });

  test('hostile text breaks no file: DXF still parses with its layers, SVG is well formed, names are tame', async () => {
    const job = wedgeJob(0.3, { fitting: { id: HOSTILE_ID }, job: { title: HOSTILE } });
    const name = HOSTILE_ID;
    job.ship.structure = {
      frames: [{ name, station: '9.9 m' }],
      longitudinals: [{ name, girth: '2.02 m' }],
      seams: [{ name, from: { station: '9 m', girth: '2 m' }, to: { station: '11 m', girth: '2 m' } }],
      keepClear: [{ name, from: { station: '10.1 m', girth: '2 m' }, radius: '100 mm' }],
    };
    const files = await writeSheets(planOf(job), { fonts, revision: HOSTILE, date: '2026-03-14' });
    for (const file of files) {
      expect(file.name).toMatch(/^[\p{L}\p{N}-]+(\.[a-z]+)$/u);
      const text = Buffer.from(file.bytes).toString('utf8');
      if (file.name.endsWith('.dxf')) {
        const dxf = readDxf(text);
        expect(dxf.entities.length).toBeGreaterThan(3);
        expect(text).not.toContain('%%');
        expect(text).toContain('"Aft"; 0 SECTION');
      }
      if (file.name.endsWith('.svg')) {
        expect(text).toContain('&lt;b&gt;&amp;amp;');
        expect(text).not.toContain('<b>');
      }
      if (file.name.endsWith('.csv')) {
        const { data, errors } = Papa.parse<string[]>(text, { skipEmptyLines: true });
        expect(errors).toEqual([]);
        expect(new Set(data.map((row) => row.length)).size).toBe(1);
        for (const cell of data.flat()) expect(cell).not.toMatch(/^\s*[=+@\t\r]/);
      }
      if (file.name.endsWith('.glb')) {
        const long = new DataView(file.bytes.buffer, file.bytes.byteOffset).getUint32(12, true);
        const gltf = JSON.parse(Buffer.from(file.bytes.subarray(20, 20 + long)).toString('utf8'));
        expect(JSON.stringify(gltf)).toContain('<b>&amp;');
        expect(JSON.stringify(gltf)).not.toContain('\u202e');
      }
      if (file.name.endsWith('.stl')) {
        const head = Buffer.from(file.bytes.subarray(0, 80)).toString('latin1');
        expect(head).toMatch(/^Lugwright[\x20-\x7e]*\0*$/);
        expect(file.bytes.length).toBe(84 + 50 * new DataView(file.bytes.buffer).getUint32(80, true));
      }
    }
  });

  test('every DXF at true scale in its own unit: bars of 100 mm and 4 in, lines on known layers, outlines closed', async () => {
    for (const display of ['metric', 'us'] as const) {
      const files = await writeSheets(planOf({ ...wedgeJob(0.3), display, papers: { kerf: '2 mm' } }), { fonts });
      const drawings = files.filter((file) => file.name.endsWith('.dxf'));
      expect(drawings.map((file) => file.name).sort()).toEqual(
        ['foot-template', 'hull-mark-out', 'plate', 'trial-template'].map((kind) => `A-${kind}.dxf`),
      );
      for (const { name, bytes } of drawings) {
        const dxf = readDxf(Buffer.from(bytes).toString('utf8'));
        const unit = dxf.header.$INSUNITS === 1 ? 25.4 : 1;
        expect(dxf.header.$INSUNITS).toBe(display === 'us' ? 1 : 4);
        const layers = Object.keys(dxf.tables.layer.layers);
        for (const entity of dxf.entities) expect(layers).toContain(entity.layer);
        for (const layer of [
          'CUT_NET',
          'CUT_WITH_STOCK',
          'TORCH_CENTRE',
          'FOOTPRINT',
          'WELD_TOES',
          'CLEAN_ZONE',
          'BOARD',
        ]) {
          for (const line of polylinesOn(dxf, layer)) expect(line.shape, `${name} ${layer}`).toBe(true);
        }
        if (name.includes('plate.')) continue;
        const bars = polylinesOn(dxf, 'CHECK_BAR').map(({ vertices: [p, q] }) =>
          Math.round(Math.hypot((q?.x ?? 0) - (p?.x ?? 0), (q?.y ?? 0) - (p?.y ?? 0)) * unit * 1e4),
        );
        expect(bars, name).toEqual(expect.arrayContaining([1_000_000, 1_016_000]));
      }
    }
  });

  test('jobs asked for on the other paper get it; metric jobs A4, US jobs Letter where nobody says', async () => {
    const card = SHEETS.find((sheet) => sheet.name === 'record');
    if (card === undefined) throw new Error('no record');
    const size = async (display: string, paper?: 'a4' | 'letter', papers?: object) => {
      const plan = planOf({ ...wedgeJob(0.3), display, ...(papers === undefined ? {} : { papers }) });
      const fitting = plan.fittings[0];
      if (fitting === undefined) throw new Error('no fitting');
      const [file] = await card.make(plan, fitting, { fonts, ...(paper === undefined ? {} : { paper }) });
      const { openPdf } = await import('./readback.ts');
      const page = (await openPdf(file?.bytes ?? new Uint8Array())).getPages()[0];
      return Math.round(((page?.getWidth() ?? 0) * 25.4) / 7.2) / 10;
    };
    expect(await size('metric')).toBe(210);
    expect(await size('us')).toBe(215.9);
    expect(await size('metric', 'letter')).toBe(215.9);
    // What the job says stands before the display, what is asked for before both.
    expect(await size('metric', undefined, { paper: 'letter' })).toBe(215.9);
    expect(await size('us', undefined, { paper: 'a4' })).toBe(210);
    expect(await size('us', 'letter', { paper: 'a4' })).toBe(215.9);
  });

  test('what the job says of its papers is as good as an option, which stands before it', async () => {
    const papers = { revision: 'B', date: '2026-03-14', kerf: '2 mm', stock: '2 mm', cleanMargin: '40 mm' };
    const said = await writeSheets(planOf({ ...wedgeJob(0.3), papers }), { fonts });
    const over = { ...papers, revision: 'A', date: '2025-01-01' };
    const asked = await writeSheets(planOf({ ...wedgeJob(0.3), papers: over }), {
      fonts,
      revision: 'B',
      date: '2026-03-14',
    });
    // Revision and date are no part of the digest: the same files to the byte.
    expect(same(said, asked)).toEqual([]);
    const { openPdf } = await import('./readback.ts');
    const pdf = await openPdf(said.find((file) => file.name === 'A-record.pdf')?.bytes ?? new Uint8Array());
    expect(pdf.getCreationDate()?.toISOString().slice(0, 10)).toBe('2026-03-14');
    expect(pdf.getSubject()).toMatch(/rev B$/);
  });
});
