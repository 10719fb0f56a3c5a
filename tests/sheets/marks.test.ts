import { spawnSync } from 'node:child_process';
import { PDFDocument } from 'pdf-lib';
import { describe, expect, test } from 'vitest';
import { digestOf } from '../../src/sheets/digest.ts';
import { SHEETS, type SheetFile, writeSheets } from '../../src/sheets/index.ts';
import { fonts, planOf, sampleJobs, wedgeJob } from './plans.ts';

/* Every file that leaves with a job says of which job it is, and of which revision: read out of the file as it was written. */

const latin = (bytes: Uint8Array): string => Buffer.from(bytes).toString('latin1');
const utf8 = (bytes: Uint8Array): string => Buffer.from(bytes).toString('utf8');
const reads = spawnSync('pdftotext', ['-v']).error === undefined;

/** Where each kind of file carries its marks. */
const MARKS: Readonly<Record<string, (bytes: Uint8Array) => Promise<string>>> = {
  pdf: async (bytes) => {
    const pdf = await PDFDocument.load(bytes, { updateMetadata: false });
    const subject = pdf.getSubject() ?? '';
    if (!reads) return subject;
    const { stdout } = spawnSync('pdftotext', ['-', '-'], { input: bytes });
    // Each page bears them: one that does not empties the answer.
    const pages = stdout.toString('utf8').split('\f').slice(0, pdf.getPageCount());
    const [digest] = /[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}/.exec(subject) ?? [''];
    return pages.every((page) => page.includes(digest) && page.includes('rev C'))
      ? subject
      : 'a page without its marks';
  },
  svg: async (bytes) => utf8(bytes),
  // Text of the drawing, group code 1.
  dxf: async (bytes) => [...utf8(bytes).matchAll(/^ *1\r?\n(.*)$/gm)].map((match) => match[1]).join('\n'),
  csv: async (bytes) => utf8(bytes).split('\r\n')[1] ?? '',
  glb: async (bytes) => {
    const long = new DataView(bytes.buffer, bytes.byteOffset).getUint32(12, true);
    const gltf = JSON.parse(utf8(bytes.subarray(20, 20 + long)));
    return JSON.stringify([gltf.scenes, gltf.nodes]);
  },
  stl: async (bytes) => latin(bytes.subarray(0, 80)),
};

async function unmarked(files: readonly SheetFile[], digest: string): Promise<string[]> {
  const out: string[] = [];
  for (const { name, bytes } of files) {
    const marks = await MARKS[name.split('.').at(-1) ?? '']?.(bytes);
    if (!marks?.includes(digest)) out.push(`${name}: no digest`);
    if (!marks?.includes('rev C')) out.push(`${name}: no revision`);
  }
  return out;
}

describe('digest and revision in every file of every kind', () => {
  for (const { name, job, file } of sampleJobs()) {
    test(name, async () => {
      const plan = planOf({ ...job, papers: { revision: 'C' } }, file);
      const files = await writeSheets(plan, { fonts });
      expect(new Set(files.map((each) => each.name.split('.').at(-1)))).toEqual(new Set(Object.keys(MARKS)));
      expect(files.length).toBeGreaterThanOrEqual(SHEETS.length * plan.fittings.length);
      expect(await unmarked(files, await digestOf(plan.job))).toEqual([]);
    });
  }

  test('a check that cannot fail is none: the same files against the digest of another job', async () => {
    const files = await writeSheets(planOf({ ...wedgeJob(0.3), papers: { revision: 'B' } }), { fonts });
    const other = await digestOf(planOf(wedgeJob(0.31)).job);
    expect((await unmarked(files, other)).length).toBe(2 * files.length);
  });
});
