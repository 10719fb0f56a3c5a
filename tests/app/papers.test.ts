import { unzipSync } from 'three/addons/libs/fflate.module.js';
import { afterEach, describe, expect, test, vi } from 'vitest';
import { allPapers } from '../../src/app/worker/allpapers.ts';
import { SlowDesk, type Thread } from '../../src/app/worker/slow.ts';
import type { SlowKinds } from '../../src/app/worker/slowkinds.ts';
import { serveSlow } from '../../src/app/worker/slowserver.ts';
import type { SlowAsk, SlowTable, SlowTell } from '../../src/app/worker/slowwork.ts';
import { planFile } from '../../src/plan/planfile.ts';
import { SHEETS, writeSheets } from '../../src/sheets/index.ts';
import { fonts, planOf, wedgeJob } from '../sheets/plans.ts';

/* All papers of a job in one archive, as the second thread of the app makes them. */

function twoLugs() {
  const job = wedgeJob(0.3);
  job.fittings.push({ ...job.fittings[0], id: 'B', at: { station: '12 m', side: 'starboard', girth: '2 m' } });
  return job;
}

const requestOf = (job: unknown) => ({
  text: JSON.stringify(job),
  files: { 'lines/hull.csv': 'st,0\n' },
  drawn: 0,
});

const open: MessagePort[] = [];
afterEach(() => {
  for (const port of open.splice(0)) port.close();
});

/** A desk whose thread is the other end of a real channel. */
function deskWith(papers: SlowTable<SlowKinds>['papers']): SlowDesk {
  return new SlowDesk(() => {
    const { port1, port2 } = new MessageChannel();
    open.push(port1, port2);
    serveSlow(port2 as unknown as Parameters<typeof serveSlow>[0], { ...({} as SlowTable<SlowKinds>), papers });
    port1.start();
    port2.start();
    return {
      postMessage: (m: SlowAsk) => port1.postMessage(m),
      addEventListener: (_: 'message', f: (event: { data: SlowTell }) => void) =>
        port1.addEventListener('message', (e) => f({ data: e.data as SlowTell })),
      terminate: () => {},
    } satisfies Thread;
  });
}

describe('all papers', () => {
  test('unpacked, the archive holds every sheet byte for byte, the plan file, the job and its files', async () => {
    const job = twoLugs();
    const plan = planOf(job);
    const told: (number | null)[] = [];
    const desk = deskWith((request) => allPapers(request, plan, fonts));
    const outcome = await desk.start('papers', requestOf(job), ({ done }) => told.push(done)).result;
    if (outcome.kind !== 'done' || outcome.value === null) throw new Error(outcome.kind);
    const { name, type, content } = outcome.value;
    expect([name, type]).toEqual(['Grating-off-lighter-Plover-papers.zip', 'application/zip']);
    const files = unzipSync(content as Uint8Array);
    const sheets = await writeSheets(plan, { fonts });
    expect(Object.keys(files).sort()).toEqual(
      ['plan.json', 'job/job.json', 'job/lines/hull.csv', ...sheets.map((sheet) => sheet.name)].sort(),
    );
    for (const sheet of sheets) {
      expect(Buffer.compare(Buffer.from(files[sheet.name] ?? []), Buffer.from(sheet.bytes)), sheet.name).toBe(0);
    }
    const text = (file: string) => Buffer.from(files[file] ?? []).toString('utf8');
    expect(JSON.parse(text('plan.json'))).toEqual(JSON.parse(JSON.stringify(planFile(plan))));
    expect(text('job/job.json')).toBe(JSON.stringify(job));
    expect(text('job/lines/hull.csv')).toBe('st,0\n');
    // From nothing to all, one step a paper.
    expect(told[0]).toBe(0);
    expect(told.at(-1)).toBe(1);
    expect(told.length).toBe(2 * SHEETS.length + 1);
    expect(told).toEqual([...told].sort((p, q) => (p ?? 0) - (q ?? 0)));
  });

  test('the same job gives the same bytes', async () => {
    const job = wedgeJob(0.3);
    const bytes = async () => {
      const work = allPapers(requestOf(job), planOf(job), fonts);
      for (;;) {
        const step = await work.next();
        if (step.done === true) return Buffer.from(step.value.content as Uint8Array);
      }
    };
    expect(Buffer.compare(await bytes(), await bytes())).toBe(0);
  });

  test('stopped, it ends at once without an archive, and makes no more papers', async () => {
    const job = twoLugs();
    const plan = planOf(job);
    let made = 0;
    const desk = deskWith(async function* (request) {
      for await (const step of allPapers(request, plan, fonts)) {
        made++;
        yield step;
      }
      return null;
    });
    let told = 0;
    const work = desk.start('papers', requestOf(job), () => told++);
    await vi.waitFor(() => expect(told).toBeGreaterThan(1), { timeout: 20_000 });
    work.cancel();
    expect(await work.result).toEqual({ kind: 'cancelled' });
    const then = made;
    await new Promise((done) => setTimeout(done, 300));
    expect(made - then).toBeLessThanOrEqual(2);
    expect(made).toBeLessThan(2 * SHEETS.length);
  });
});
