import { describe, expect, test } from 'vitest';
import { bevelSheet } from '../../src/sheets/beveltable.ts';
import { textBox } from '../../src/sheets/fonts.ts';
import { tiledTemplate } from '../../src/sheets/foottemplate.ts';
import { contextOf, wedgeJob } from './plans.ts';
import { textItems } from './readback.ts';

describe('the name of the job stands whole on every page, as long as the page is wide', () => {
  const NAMES = [
    'Grating off, lighter Plover',
    'Stern frame lowering, trawler Corn Marigold: from the lines drawing',
    'Stern frame lowering and rudder stock drawn, trawler Corn Marigold, second docking: from the lines plan',
  ];
  for (const paper of ['a4', 'letter'] as const) {
    for (const [title, force] of NAMES.flatMap((name) => [
      [name, '20 kN'],
      [name, '20000 kN'],
    ])) {
      test(`${paper}, ${force}: ${title}`, async () => {
        const job = wedgeJob(0.2, { job: { title, papers: { paper, revision: 'B', date: '2031-05-04' } } });
        job.fittings[0].load.force = force;
        const context = await contextOf(job);
        for (const page of [...bevelSheet(context).pages, ...tiledTemplate(context).pages]) {
          const texts = textItems(page);
          const named = texts.filter(({ text }) => text.includes(title as string));
          expect(named.length).toBe(1);
          for (const { text } of texts) expect(text).not.toContain('…');
          const box = textBox(context.fonts, named[0] as never);
          expect(box.x0).toBeGreaterThan(5);
          expect(box.x1).toBeLessThan(page.width - 5);
          // On no other word.
          for (const other of texts) {
            if (other === named[0]) continue;
            const at = textBox(context.fonts, other);
            const over = at.x0 < box.x1 && at.x1 > box.x0 && at.y0 < box.y1 && at.y1 > box.y0;
            expect(over, other.text).toBe(false);
          }
        }
      });
    }
  }
});
