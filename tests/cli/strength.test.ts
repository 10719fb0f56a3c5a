import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { plainFitting, plainJob } from '../job/jobs.ts';
import { runJob } from './system.ts';

/** A pull along the stem of a lug in the middle of a thin panel: nothing fails but the shell. */
function thinShell() {
  const job = plainJob();
  job.fittings = [{ ...plainFitting('A'), stem: 'toward-load', load: { direction: [0, 0.2, -1], force: '60 kN' } }];
  job.steel = { shell: { thickness: '6 mm' } };
  return job;
}

interface FileCheck {
  readonly id: string;
  readonly pass: boolean;
  readonly screening: boolean;
  readonly remedy: string;
  readonly steps: readonly { readonly symbol: string }[];
}

describe('does it hold, in what the command gives', () => {
  test('a failed screening is a failed check: status 1, everything is written all the same', async () => {
    const { status, out, err, written } = await runJob(thinShell(), ['--out', 'x']);
    expect([status, err]).toEqual([1, '']);
    const names = written.map((file) => file.name);
    expect(names).toEqual(expect.arrayContaining(['plan.json', 'report.txt', 'A-bevel-table.csv']));
    const plan = JSON.parse(String(written.find((file) => file.name === 'plan.json')?.content));
    expect(plan.pass).toBe(false);
    const failed: FileCheck[] = plan.fittings[0].checks.filter((c: FileCheck) => !c.pass);
    expect(failed.map((c) => c.id)).toContain('shell-bending');
    for (const check of failed) {
      expect(check.screening).toBe(true);
      expect(check.remedy).toMatch(/doubler/);
      expect(check.steps.map((s) => s.symbol)).toEqual(expect.arrayContaining(['sigma_d', 'sigma_m']));
    }
    const text = out.replaceAll(/\s+/g, ' ');
    expect(text).toContain('Holds NO; worst: Shell panel');
    expect(text).toContain('Screening: an engineer works it out');
    expect(plan.fittings[0].strength.shell.stillToDo).toContain('The engineer has still to judge');
  });

  test('methods side by side, toes in order, the load as checked', async () => {
    const { out } = await runJob(thinShell(), ['--json']);
    const { strength, checks } = JSON.parse(out).fittings[0];
    const own = strength.methods.filter((m: { isCheck: boolean }) => m.isCheck);
    expect(own).toHaveLength(1);
    const weld = checks.find((c: FileCheck) => c.id === 'weld');
    expect(own[0].ratio).toBeCloseTo(weld.ratio, 9);
    expect(strength.methods.map((m: { id: string }) => m.id)).toEqual([
      'elastic',
      'aisc-directional',
      'en-directional',
      'en-simplified',
      'instantaneous-centre',
    ]);
    const ratios = strength.toes.order.map((toe: { ratio: number }) => toe.ratio);
    expect(ratios).toHaveLength(4);
    expect([...ratios].sort((a, b) => b - a)).toEqual(ratios);
    expect(strength.checkedLoad.forceKn).toBeCloseTo(60, 9);
    expect(strength.checkedLoad.sidewaysAllowanceKn).toBeCloseTo(3, 9);
  });
});

describe('what the weld takes, in what the command gives', () => {
  test('layers, beads, electrodes, current, passes, work, dives, tests and holds agree with one another', async () => {
    const { out } = await runJob({ ...thinShell(), welding: { bottomTime: '75 min' } }, ['--json']);
    const { weld, joint } = JSON.parse(out).fittings[0];
    for (const side of weld.sides) {
      expect(side.beadsByLayer).toHaveLength(side.layers);
      const beads: number[] = side.beadsByLayer.flatMap((layer: { beadAreasMm2: number[] }) => layer.beadAreasMm2);
      expect(beads).toHaveLength(side.beads);
      expect(beads.reduce((a, b) => a + b, 0)).toBeCloseTo(side.depositAreaMm2, 6);
    }
    const runs = weld.work.filter((item: { task: string }) => item.task === 'run');
    const burnt = runs.reduce((sum: number, run: { electrodes: number }) => sum + run.electrodes, 0);
    expect(weld.electrodes).toBe(Math.ceil(burnt));
    const minutes = weld.work.reduce((sum: number, item: { bottomTimeMin: number }) => sum + item.bottomTimeMin, 0);
    expect(weld.workMin).toBeCloseTo(minutes, 6);
    expect(weld.workMin).toBeCloseTo(weld.arcMin + weld.changeMin + weld.grindMin + weld.cleanMin + weld.holdMin, 6);
    expect(weld.dives).toBe(weld.schedule.length);
    for (const dive of weld.schedule) expect(dive.bottomTimeMin).toBeLessThanOrEqual(75 + 1e-9);
    for (const pass of weld.passes) {
      const length = pass.runs.reduce(
        (sum: number, run: { fromSMm: number; toSMm: number }) => sum + Math.abs(run.toSMm - run.fromSMm),
        0,
      );
      // As laid: over the sides that have the bead, and where others lack it feathered out beyond the corners.
      const { layer, bead } = runs.find((run: { pass: number }) => run.pass === pass.pass);
      const having = weld.sides.filter(
        (side: { beadsByLayer: { beadAreasMm2: number[] }[] }) =>
          side.beadsByLayer[layer - 1]?.beadAreasMm2[bead - 1] !== undefined,
      );
      const own = having.reduce((sum: number, side: { lengthMm: number }) => sum + side.lengthMm, 0);
      if (having.length === 4) expect(length).toBeCloseTo(joint.perimeterMm, 6);
      else {
        expect(length).toBeGreaterThan(own);
        expect(length).toBeLessThanOrEqual(joint.perimeterMm + 1e-6);
      }
    }
    // The root's runs are the sequence's; every later one is laid with one electrode.
    const later = runs.filter((run: { layer: number }) => run.layer > 1);
    expect(later.length).toBeGreaterThan(0);
    for (const run of later) expect(run.electrodes).toBeLessThanOrEqual(1 + 1e-6);
    expect(weld.current.polarity).toBe('DCEP');
    expect(weld.current.leastAmperes).toBeLessThan(weld.current.mostAmperes);
    expect(weld.testPlates.map((p: { position: string }) => p.position)).toEqual(expect.arrayContaining(['3F', '4F']));
    expect(weld.holds.map((h: { hold: string }) => h.hold)).toEqual(['fit-up', 'root', 'finished']);
  });

  test('nickel-type metal weighs more than steel by 8.47 to 7.85', async () => {
    const kg = async (kind: string) => {
      const { out } = await runJob({ ...thinShell(), electrode: { kind } }, ['--json']);
      return JSON.parse(out).fittings[0].weld.depositKg as number;
    };
    expect((await kg('nickel')) / (await kg('ferritic'))).toBeCloseTo(8.47 / 7.85, 9);
  });

  test('a dive too short for the least step: no number of dives, and how long it takes is said', async () => {
    const { out } = await runJob({ ...thinShell(), welding: { bottomTime: '5 min' } }, ['--json']);
    const { weld } = JSON.parse(out).fittings[0];
    expect([weld.dives, weld.bottomTimeMin, weld.schedule]).toEqual([null, null, null]);
    expect(weld.leastBottomTimeMin).toBeGreaterThan(5);
    const again = await runJob({ ...thinShell(), welding: { bottomTime: `${weld.leastBottomTimeMin + 0.01} min` } }, [
      '--json',
    ]);
    expect(JSON.parse(again.out).fittings[0].weld.dives).toBeGreaterThan(0);
    const { out: text } = await runJob({ ...thinShell(), welding: { bottomTime: '5 min' } });
    expect(text.replaceAll(/\s+/g, ' ')).toContain('NO DIVE of the time given holds the least step of work');
  });

  test('class of AWS D3.6M: shown where asked for; class C only with the edition of 1999', async () => {
    const { out } = await runJob({ ...thinShell(), welding: { class: 'B' } }, ['--json']);
    expect(JSON.parse(out).fittings[0].weld.class).toEqual({ class: 'B' });
    const c = await runJob({ ...thinShell(), welding: { class: 'C', edition: '1999' } });
    expect(c.out.replaceAll(/\s+/g, ' ')).toContain('class C of AWS D3.6M:1999');
    for (const welding of [{ class: 'C' }, { class: 'C', edition: '2017' }, { class: 'D' }]) {
      const { status, err } = await runJob({ ...thinShell(), welding });
      expect(status).toBe(2);
      expect(err).toMatch(/^job\.json: welding\.class: found "[CD]", expected /);
      expect(err.trimEnd().split('\n')).toHaveLength(1);
    }
  });
});

test('samples that fail and samples that hold say so', async () => {
  const run = async (sample: string) => {
    const folder = new URL(`../../samples/${sample}/`, import.meta.url);
    return runJob(JSON.parse(readFileSync(new URL('job.json', folder), 'utf8')), ['--json']);
  };
  const failedOf = (out: string): string[] =>
    JSON.parse(out).fittings.flatMap((f: { checks: FileCheck[] }) => f.checks.filter((c) => !c.pass).map((c) => c.id));
  const [a, j, k] = [
    await run('a-plumb-lug-rounded-bottom'),
    await run('j-shell-too-thin-behind'),
    await run('k-shackle-will-not-go-on'),
  ];
  expect([a.status, j.status, k.status]).toEqual([0, 1, 1]);
  expect(failedOf(a.out)).toEqual([]);
  expect(failedOf(j.out)).toContain('shell-bending');
  expect(failedOf(k.out).some((id) => id.startsWith('shackle-'))).toBe(true);
});
