import { spawnSync } from 'node:child_process';
import { describe, expect, test } from 'vitest';
import { calculation } from '../../src/sheets/calculation.ts';
import { contextsOf } from '../../src/sheets/context.ts';
import { writePdf } from '../../src/sheets/pdf.ts';
import { fonts, planOf, sampleJobs } from './plans.ts';

/** The calculation of a sample as the written file says it, read by a tool of its own (pdftotext). */
async function written(letter: string, display: 'metric' | 'us', change: object = {}) {
  const sample = sampleJobs().find(({ name }) => name.startsWith(`${letter}-`));
  if (sample === undefined) throw new Error(`no sample ${letter}`);
  const fittings = (sample.job.fittings as object[]).map((fitting) => ({ ...fitting, ...change }));
  const plan = planOf({ ...sample.job, fittings, display }, sample.file);
  const [context] = await contextsOf(plan, { fonts });
  if (context === undefined) throw new Error(`no fitting of ${letter}`);
  const read = spawnSync('pdftotext', ['-layout', '-', '-'], {
    input: await writePdf(calculation(context), context.fonts),
  });
  if (read.error) throw read.error;
  return { text: read.stdout.toString(), fitting: context.fitting };
}

describe.skipIf(spawnSync('pdftotext', ['-v']).error !== undefined)('strength in the written calculation', () => {
  test.each(['metric', 'us'] as const)('the allowance is ±, and each toe has its worse side, %s', async (display) => {
    const { text, fitting } = await written('d', display);
    const { load, toes } = fitting.strength;
    expect(load.allowanceGoverns).toBe(true);
    const unit = display === 'us' ? 'kip' : 'kN';
    const across = load.sidewaysAllowed / (display === 'us' ? 4448.2216152605 : 1000);
    const row = /as checked, factor.*± ([\d.]+) (\S+)/.exec(text);
    expect([Number(row?.[1]), row?.[2]]).toEqual([expect.closeTo(across, 2), unit]);
    // N/mm to kip/in: 25.4 mm to the inch over 4448.22 N to the kip.
    const perLength = display === 'us' ? 25.4 / 4448.2216152605 : 1;
    const table = text.slice(text.lastIndexOf('Toes of the weld, worst first'));
    const rows = [...table.matchAll(/^\s*\w+ \/ \w+\s+([\d.]+) (?:N\/mm|kip\/in)\s+([\d.]+)$/gm)].slice(0, 4);
    expect(rows).toHaveLength(4);
    rows.forEach((found, i) => {
      const toe = toes.toes[i];
      expect(Number(found[1])).toBeCloseTo((toe?.force ?? Number.NaN) * perLength, display === 'us' ? 2 : 0);
      expect(Number(found[2])).toBeCloseTo(toe?.utilisation ?? Number.NaN, 1);
    });
    // A pull that leans off the stem along the foot by itself: the two toes of an end differ by the side of the allowance alone.
    expect(Number(rows[0]?.[1])).toBeCloseTo(Number(rows[1]?.[1]), display === 'us' ? 2 : 0);
  });

  test('dishing works its stress out, and names the clause that the stress is of', async () => {
    const { text } = await written('d', 'metric');
    const part = text.slice(text.lastIndexOf('Dishing of a thin plate past the pin'));
    expect(part.slice(0, 2500)).toMatch(/=\s*200\.0 MPa/);
    expect(part.slice(0, 2500)).toMatch(/held with the limit of\s+rupture, AISC 360 D5\.1\(a\), eq\. D5-1/);
  });

  test('what is not known of a panel is said to be taken, beside the figure and among the assumptions', async () => {
    const { text } = await written('a', 'metric', { behind: { fromLongitudinal: '60 mm' } });
    expect(text).toMatch(/behind\.fromFrame\s+mid-panel/);
    expect(text).not.toMatch(/behind\.fromLongitudinal\s+mid-panel/);
    // Once for each of the two bounds: of the distance that is given nothing of the kind is said.
    expect(text.replaceAll(/\s+/g, ' ').match(/taken at mid-panel/g)).toHaveLength(2);
  });
});
