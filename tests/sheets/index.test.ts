import { describe, expect, test } from 'vitest';
import { SHEETS, type SheetFile, writeSheets } from '../../src/sheets/index.ts';
import { fonts, HOSTILE, HOSTILE_ID, planOf, wedgeJob } from './plans.ts';
import { readDxf } from './readback.ts';

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
    }
  });

  test('jobs asked for on the other paper get it; metric jobs A4, US jobs Letter where nobody says', async () => {
    const card = SHEETS.find((sheet) => sheet.name === 'record');
    if (card === undefined) throw new Error('no record');
    const size = async (display: string, paper?: 'a4' | 'letter') => {
      const plan = planOf({ ...wedgeJob(0.3), display });
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
  });
});
