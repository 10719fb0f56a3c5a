import { readdirSync, readFileSync } from 'node:fs';
import { createElement } from 'react';
import { renderToStaticMarkup } from 'react-dom/server';
import { describe, expect, test } from 'vitest';
import { Answers } from '../../src/app/answers/Answers.tsx';
import { fiveAnswers } from '../../src/app/answers/answers.ts';
import { DiveWorking, FitWorking, HoldWorking, PullWorking, StrikeWorking } from '../../src/app/answers/Workings.tsx';
import { Statement } from '../../src/app/sentence/Statement.tsx';
import { statement } from '../../src/app/sentence/statement.ts';
import { lastStop, stopAt, withStop } from '../../src/app/sequence/stopped.ts';
import type { Json } from '../../src/app/store/jsontext.ts';
import type { Stance } from '../../src/app/store/view.ts';
import { JointStrip } from '../../src/app/strip/JointStrip.tsx';
import { stretches } from '../../src/app/strip/stretches.ts';
import { sideNames, spotPlace } from '../../src/app/text/sides.ts';
import { planRequest } from '../../src/app/worker/answer.ts';
import { readJob } from '../../src/job/read.ts';
import { showFigure } from '../../src/job/show.ts';
import { planJob } from '../../src/plan/plan.ts';
import type { PlanFile } from '../../src/plan/planfile.ts';
import { planFile } from '../../src/plan/planfile.ts';
import { orderName } from '../../src/plan/runorder.ts';
import { throatLength } from '../../src/sheets/figures.ts';

const folders = readdirSync('samples').filter((f) => /^[a-z]/.test(f));

function sample(name: string) {
  const files = Object.fromEntries(
    readdirSync(`samples/${name}`).map((f) => [f, readFileSync(`samples/${name}/${f}`, 'utf8')]),
  );
  const text = files['job.json'] as string;
  const reply = planRequest({ text, files, drawn: 0 }, '');
  if (reply.kind !== 'planned') throw new Error(`${name} is not planned: ${JSON.stringify(reply)}`);
  const reading = readJob(text, (f) => files[f]);
  if (!reading.ok) throw new Error('unread');
  return { ...reply, text, file: planFile(planJob(reading.job)) };
}

const STANCES: readonly Stance[] = ['bench', 'water', 'desk'];

describe.each(folders)('%s', (name) => {
  const { plan, text, file, lugs } = sample(name);
  const { display } = plan.job;

  test('what crosses to the screen can be cloned, and nothing was lost on the way', () => {
    const copy = structuredClone(plan);
    expect(copy.fittings.map((f) => f.id)).toEqual(file.fittings.map((f) => f.id));
    expect(lugs).toHaveLength(plan.fittings.length);
  });

  test('five answers in each stance, all five and each once', () => {
    for (const f of plan.fittings)
      for (const stance of STANCES) {
        const answers = fiveAnswers(plan, f, stance);
        expect(new Set(answers.map((a) => a.question)).size).toBe(5);
        for (const a of answers) {
          expect(a.line).not.toMatch(/NaN|undefined|Infinity/);
          expect(a.bound).not.toMatch(/NaN|undefined|Infinity/);
        }
      }
  });

  test('a check that fails is in an answer that fails', () => {
    for (const f of plan.fittings) {
      const answers = fiveAnswers(plan, f, 'bench');
      for (const c of f.checks) {
        const home = answers.filter((a) => a.checks.some((x) => x.id === c.id && x.title === c.title));
        expect(home, c.id).toHaveLength(1);
        if (!c.pass) expect(home[0]?.state, c.id).toBe('fail');
      }
    }
  });

  test("figures on the screen are the plan file's", () => {
    plan.fittings.forEach((f, i) => {
      const out = file.fittings[i] as PlanFile['fittings'][number];
      const answers = fiveAnswers(plan, f, 'bench');
      const of = (q: string) => answers.find((a) => a.question === q) as (typeof answers)[number];
      const html = [
        createElement(FitWorking, { answer: of('fit'), plan, fitting: f, feet: lugs[i]?.feet, display }),
        createElement(PullWorking, { answer: of('pull'), plan, fitting: f, index: i, display }),
        createElement(HoldWorking, { answer: of('hold'), plan, fitting: f, display }),
        createElement(StrikeWorking, { answer: of('strike'), fitting: f, display }),
        createElement(DiveWorking, { answer: of('dive'), plan, fitting: f, display }),
        createElement(Answers, { plan, fitting: f, stance: 'bench' as const, display }),
      ]
        .map((e) => renderToStaticMarkup(e))
        .join('\n');
      const deg = (x: number) => showFigure({ rad: (x * Math.PI) / 180 }, display);
      const mm = (x: number) => showFigure({ mm: x }, display);
      const fine = (x: number) => showFigure({ mm: x, digits: 2 }, display);
      const kn = (x: number) => showFigure({ newton: x * 1000 }, display);
      const expected = [
        fine(out.fit.straightCut.maxGapMm),
        fine(out.fit.straightCut.maxRootOpeningMm),
        deg(out.fit.straightCut.bevelDeg),
        fine(out.fit.facetedCut.maxGapMm),
        fine(out.fit.scribedCut.maxGapMm),
        deg(out.joint.dihedral.minDeg),
        deg(out.joint.dihedral.maxDeg),
        deg(Math.abs(out.load.offPlaneDeg)),
        // A minus is said by the side that the pull goes to.
        `${deg(Math.abs(out.load.inPlaneDeg))} from the stem`,
        kn(out.load.alongStemKn),
        kn(Math.abs(out.load.alongFootKn)),
        kn(Math.abs(out.load.sidewaysKn)),
        deg(out.readings.stemFromPlumbDeg),
        deg(out.readings.faceFromPlumbDeg),
        showFigure({ newtonPerMm: out.strength.weldGroup.worst.forceNPerMm }, display),
        ...out.bevel.schedule.flatMap((r) => [mm(r.faceMinusMm), deg(r.bevelDeg)]),
        ...out.sequence.root.flatMap((r) => [mm(r.fromSMm), mm(r.toSMm)]),
        ...out.weld.sides.map((s) => throatLength(s.throatMm, display)),
      ];
      for (const figure of expected) expect(html).toContain(figure);
      expect(html.match(/<th scope="row">\d+<\/th><td>[a-z]+ (side|end)/g)).toHaveLength(out.sequence.root.length);
    });
  });

  test('the strip covers the root once and shows its corners', () => {
    for (const f of plan.fittings) {
      const list = stretches(f.joint.points);
      expect(list[0]?.from).toBeCloseTo(0, 9);
      expect(list.at(-1)?.to).toBeCloseTo(f.joint.perimeter, 6);
      for (let i = 1; i < list.length; i++) expect(list[i]?.from).toBeCloseTo(list[i - 1]?.to as number, 6);
      const html = renderToStaticMarkup(createElement(JointStrip, { fitting: f, display, stance: 'bench' }));
      expect(html).not.toContain('NaN');
      for (const side of Object.values(sideNames(f))) expect(html).toContain(side);
    }
  });

  test('the statement reaches every field the job file has', () => {
    const job = JSON.parse(text) as Json;
    const reached = new Set(
      plan.fittings.flatMap((_, i) =>
        statement(job, i).flatMap((g) =>
          g.sentences.flat().flatMap((p) => {
            if (typeof p === 'string' || 'action' in p) return [];
            if ('quantity' in p) return [p.quantity];
            if ('number' in p) return [p.number];
            if ('words' in p) return [p.words];
            return 'choice' in p ? [p.choice] : ['ship.hull'];
          }),
        ),
      ),
    );
    const leaves: string[] = [];
    const walk = (value: Json, path: string): void => {
      if (typeof value === 'object' && value !== null && !path.startsWith('ship.hull')) {
        for (const [k, v] of Object.entries(value))
          walk(v, Array.isArray(value) ? `${path}[${k}]` : path === '' ? k : `${path}.${k}`);
      } else leaves.push(path);
    };
    walk(job, '');
    const elsewhere = ['format', 'version', 'title', 'display']; // the line on top
    const covered = (leaf: string) =>
      elsewhere.includes(leaf) ||
      [...reached].some((r) => leaf === r || leaf.startsWith(`${r}.`) || leaf.startsWith(`${r}[`));
    expect(leaves.filter((l) => !covered(l))).toEqual([]);
    const html = renderToStaticMarkup(
      createElement(Statement, {
        text,
        fitting: 0,
        display,
        faults: [],
        assumptions: plan.assumptions,
        onFitting: () => {},
      }),
    );
    expect(html).toMatch(/aria-label="Draft(?: aft|, )/);
  });
});

describe('where a dive stopped', () => {
  const { plan } = sample(folders[0] as string);
  const fitting = plan.fittings[0] as (typeof plan.fittings)[number];

  test('is found again where it was marked', () => {
    for (const laid of [0, 0.5, 1, 2.25, fitting.sequence.runs.length]) {
      const stop = stopAt(fitting, laid, new Date(0));
      expect(stop.order).toBe(orderName(fitting.sequence.runs));
      const standing = lastStop(fitting, [stop]);
      expect(standing.kind).toBe('stands');
      if (standing.kind === 'stands') expect(standing.laid).toBeCloseTo(laid, 9);
    }
  });

  test('is void once the order has changed', () => {
    const stop = { ...stopAt(fitting, 1.5, new Date(0)), order: 'another' };
    expect(lastStop(fitting, [stop]).kind).toBe('void');
    expect(lastStop(fitting, []).kind).toBe('none');
    expect(lastStop(fitting, [{ ...stop, fitting: 'someone else' }]).kind).toBe('none');
  });
});

test('where a dive stopped is kept in the job file, and is void there too once the order has changed', () => {
  const folder = folders[0] as string;
  const text = readFileSync(`samples/${folder}/job.json`, 'utf8');
  const planned = (job: string) => {
    const reply = planRequest({ text: job, files: {}, drawn: 0 }, '');
    if (reply.kind !== 'planned') throw new Error(JSON.stringify(reply));
    return reply.plan.fittings[0] as (typeof reply.plan.fittings)[number];
  };
  const first = planned(text);
  const marked = withStop(text, 0, first, 1.5, new Date(0));
  const entry = JSON.parse(marked).fittings[0].stopped[0];
  expect(entry).toMatchObject({ run: 2, at: '1970-01-01T00:00:00.000Z' });
  const again = planned(marked);
  const standing = lastStop(again, []);
  expect(standing.kind).toBe('stands');
  // Its place is written to a tenth of a millimetre.
  if (standing.kind === 'stands') expect(standing.laid).toBeCloseTo(1.5, 2);
  const foot = JSON.parse(marked);
  foot.fittings[0].lug.foot = '250 mm';
  expect(lastStop(planned(JSON.stringify(foot)), []).kind).toBe('void');
  const byHand = JSON.parse(text);
  byHand.fittings[0].stopped = [{ run: 2, s: entry.s, dive: 3, note: 'rods short' }];
  expect(lastStop(planned(JSON.stringify(byHand)), []).kind).toBe('stands');
});

test('a spot is named by its side and its distance from a corner', () => {
  const { plan } = sample(folders[0] as string);
  const f = plan.fittings[0] as (typeof plan.fittings)[number];
  const names = sideNames(f);
  expect(spotPlace(f, 0, 'metric')).toBe(`${names['face-']}, ${names['end-'].replace(' end', '')} corner`);
  expect(spotPlace(f, 100, 'metric')).toBe(
    `${names['face-']}, 100.0 mm from the ${names['end-'].replace(' end', '')} corner`,
  );
});
