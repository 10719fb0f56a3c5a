import { describe, expect, test } from 'vitest';
import { alignLoad } from '../../../geometry/align/align.ts';
import { dot, length, scale, sub, type Vec3 } from '../../../geometry/math/vec.ts';
import { pullAt } from '../../../src/plan/movement/pulls.ts';
import { pullsOf } from '../../../src/plan/movement/stances.ts';
import { beats } from '../../../src/plan/movement/ties.ts';
import { planJob, shellOf } from '../../../src/plan/plan.ts';
import { planFile } from '../../../src/plan/planfile.ts';
import { strengthInput } from '../../../src/plan/strength.ts';
import type { FittingPlan, Plan } from '../../../src/plan/types.ts';
import { placeOf } from '../../../src/rigging/pose.ts';
import { strengthChecks } from '../../../src/strength/strengthChecks.ts';
import { sample } from './jobs.ts';

const lifted = (plan: Plan) => {
  if (plan.lift === null) throw new Error('no movement');
  return plan.lift;
};

describe('the rudder walked aft', () => {
  const plan = planJob(sample('g-rudder-walked-aft'));
  const lift = lifted(plan);

  test('every step can be done and every check of the movement passes', () => {
    expect(lift.states.flatMap((s) => s.failures)).toEqual([]);
    expect(lift.lugs.flatMap((lug) => lug.checks.filter((c) => !c.check.pass).map((c) => c.check.id))).toEqual([]);
    expect(lift.pass).toBe(true);
  });

  test('at every step the lines carry the weight in water, summed anew', () => {
    // 9 t less 1.4 m3 of water at 1025 kg/m3, times standard gravity.
    const net = (9000 - 1.4 * 1025) * 9.80665;
    expect(lift.net).toBeCloseTo(net, 6);
    for (const state of lift.states) {
      if (!state.rest.found) throw new Error(state.rest.why);
      const { lines, residual, pose } = state.rest.equilibrium;
      expect(residual).toBeLessThan(1e-6);
      let sum: Vec3 = scale(plan.up, -net);
      lift.lines.forEach((line, i) => {
        const end = placeOf(pose, lift.load.centre, line.attachment);
        const d = sub(line.pin, end);
        const tension = lines[i]?.tension as number;
        sum = sub(sum, scale(d, -tension / length(d)));
      });
      expect(length(sum) / net).toBeLessThan(1e-6);
    }
  });

  test('the weight passes from the two to the third, and nothing goes back', () => {
    const shares = lift.states.map((s) => (s.rest.found ? (s.rest.equilibrium.lines[2]?.tension ?? 0) / lift.net : 0));
    expect(shares[0]).toBe(0);
    expect(shares.at(-1)).toBeCloseTo(1, 6);
    expect(shares).toEqual(shares.toSorted((a, b) => a - b));
  });

  test('lowering is plumb: 1.6 m down the water, nothing along it', () => {
    const at = (i: number): Vec3 => {
      const rest = lift.states[i]?.rest;
      if (!rest?.found) throw new Error('no pose');
      return rest.equilibrium.pose.centre;
    };
    const gone = sub(at(4), at(0));
    expect(dot(gone, plan.up)).toBeCloseTo(-1600, 0);
    expect(length(sub(gone, scale(plan.up, dot(gone, plan.up))))).toBeLessThan(5);
  });

  test('the worst of every check over the movement is that of checking every pull one by one', () => {
    const lug = lift.lugs.find((l) => l.id === 'A');
    const fitting = plan.fittings.find((f) => f.id === 'A') as FittingPlan;
    const worst = new Map<string, number>();
    for (const { equilibrium } of lift.cases) {
      const pull = equilibrium.lines[2];
      if (!pull || pull.tension <= 0) continue;
      const load = alignLoad(fitting.frame, fitting.input.lug.pinHeight, { direction: pull.direction }, pull.tension);
      if (!load) throw new Error('no pull');
      const input = strengthInput(
        plan.job,
        fitting.input,
        fitting.anchor,
        fitting.frame,
        fitting.pin,
        fitting.root,
        load,
        plan.up,
      );
      const slack = pull.tension < (plan.job.lift?.limits.unhookShare ?? Number.NaN) * lift.net;
      for (const { id, ratio } of strengthChecks(input).checks) {
        // How a bow lies is asked of a line that pulls: a slack one hangs as it likes.
        if (slack && ['shackle-bow', 'shackle-shell'].includes(id)) continue;
        worst.set(id, Math.max(worst.get(id) ?? 0, ratio));
      }
    }
    for (const [id, ratio] of worst) {
      const swept = lug?.checks.find((c) => c.check.id === id);
      expect(swept?.check.ratio, id).toBeCloseTo(ratio, 6);
    }
    expect(worst.size).toBeGreaterThan(10);
  }, 120_000);

  test('how a bow lies is worked with an angle that the plan counts as a pull, on every lug', () => {
    for (const lug of lift.lugs) {
      for (const { check } of lug.checks) {
        const theta = check.terms.find(({ symbol }) => symbol === 'theta')?.value;
        if (!['shackle-bow', 'shackle-shell'].includes(check.id) || theta === undefined) continue;
        expect(Math.abs(theta), `${lug.id} ${check.id}`).toBeLessThanOrEqual(
          Math.abs((lug.worst as NonNullable<typeof lug.worst>).inPlane.pull.inPlane) + 1e-12,
        );
      }
    }
  });

  test('stands in the plan file, every figure finite, steps counted from one', () => {
    const file = planFile(plan);
    expect(file.lift?.steps.map((s) => s.step)).toEqual(lift.states.map((_, i) => i + 1));
    expect(file.lift?.lines.map((l) => l.id)).toEqual(['P', 'S', 'A']);
    const text = JSON.stringify(file.lift);
    expect(JSON.parse(text)).toEqual(file.lift);
    expect(file.lift?.steps[0]?.lines[2]).toMatchObject({ on: false, lengthMm: null, tensionKn: null });
    expect(file.pass).toBe(plan.pass);
  });
});

test('a slack line is named, and what it leaves to the others fails their hoists', () => {
  const plan = planJob(sample('h-slack-line'));
  const lift = lifted(plan);
  expect(lift.pass).toBe(false);
  const slack = lift.states.map((s) => s.rest.found && (s.rest.equilibrium.lines[2]?.tension ?? 0) === 0);
  expect(slack.at(-1)).toBe(true);
  expect(slack[0]).toBe(false);
  const notes = lift.notes.map((note) => note.join(''));
  expect(notes).toContainEqual(expect.stringMatching(/line F hangs slack/));
  // Without an outline nobody looked how near the load comes to anything.
  expect(notes).toContainEqual(expect.stringMatching(/no outline of the load: .* itself is NOT/));
  expect(lifted(planJob(sample('g-rudder-walked-aft'))).notes.join(' ')).not.toContain('no outline');
  const failed = lift.lugs.flatMap((lug) =>
    lug.checks.filter((c) => !c.check.pass).map((c) => `${lug.id} ${c.check.id}`),
  );
  expect(failed).toEqual(['P hoist-wll', 'S hoist-wll']);
});

test('a job without a movement has no lift in its plan or its file', () => {
  const plan = planJob(sample('a-plumb-lug-rounded-bottom'));
  expect(plan.lift).toBeNull();
  expect(planFile(plan).lift).toBeNull();
});

test('two lines on one lug pull along their resultant, each hoist against its own line', () => {
  const job = sample('g-rudder-walked-aft', (raw) => {
    raw.lift.lines[1].fitting = 'P';
    raw.lift.steps = raw.lift.steps.slice(0, 2);
    raw.lift.steps[0].to = ['2.10 m', '0.42 m', '2.20 m'];
    raw.lift.lines = raw.lift.lines.slice(0, 2);
    raw.lift.pushes = [];
    raw.lift.limits = { miss: '500 mm', tilt: '90 deg' };
  });
  const lift = lifted(planJob(job));
  const state = lift.states[0];
  if (!state?.rest.found) throw new Error('no pose');
  const [p, s] = state.rest.equilibrium.lines;
  if (!p || !s) throw new Error('no lines');
  const sum = sub(scale(p.direction, p.tension), scale(s.direction, -s.tension));
  expect(lift.lugs[0]?.pulls[0]?.force).toBeCloseTo(length(sum), 4);
  // All the weight hangs from that lug: the resultant is the weight, and it is plumb.
  expect(length(sum)).toBeCloseTo(lift.net, 1);
  const hoist = lift.lugs[0]?.checks.find((c) => c.check.id === 'hoist-wll');
  const most = Math.max(...lift.lines.map((l) => l.greatest?.tension ?? 0));
  expect(hoist?.check.demand).toBeCloseTo(1.1 * most, 4);
});

test('a movement through the hull, or with a line too short, fails by step and name', () => {
  const through = lifted(
    planJob(
      sample('g-rudder-walked-aft', (raw) => {
        // The stock still stands on the rudder: 0.4 m higher it is in the hull.
        raw.lift.load.outline.push(['2.10 m', '0 m', '4.35 m']);
        for (const line of raw.lift.lines) line.shortest = '50 mm';
        raw.lift.steps.splice(1, 0, { name: 'heave up', lower: '-0.4 m' });
      }),
    ),
  );
  const heave = through.states.filter((s) => s.label === 'heave up').flatMap((s) => s.failures.map((f) => f.kind));
  expect(heave).toContain('touches');
  const check = through.checks.find((c) => c.id === 'lift-steps');
  expect(check?.pass).toBe(false);
  expect(check?.remedy.join('')).toMatch(/heave up/);
  const short = lifted(
    planJob(
      sample('g-rudder-walked-aft', (raw) => {
        raw.lift.steps = [{ name: 'too short', set: { P: '700 mm', S: '700 mm', A: '700 mm' } }];
      }),
    ),
  );
  expect(short.states[0]?.failures.map((f) => f.kind)).toContain('line-too-short');
});

test('a lighter water carries the load less: the difference is its volume times that of the densities', () => {
  const net = (density: string) =>
    lifted(
      planJob(
        sample('g-rudder-walked-aft', (raw) => {
          raw.lift.waterDensity = density;
        }),
      ),
    );
  // 1.4 m3; standard gravity by definition.
  expect(net('1000 kg/m3').net - net('1025 kg/m3').net).toBeCloseTo(1.4 * 25 * 9.80665, 6);
  expect(net('62.4 lb/ft3').net).toBeCloseTo((9000 - (1.4 * 62.4 * 0.45359237) / 0.3048 ** 3) * 9.80665, 6);
});

describe('what lines weigh themselves', () => {
  const own = 120 * 9.80665;
  const heavy = sample('g-rudder-walked-aft', (raw) => {
    for (const line of raw.lift.lines) line.mass = '120 kg';
  });
  const plain = lifted(planJob(sample('g-rudder-walked-aft')));
  const lift = lifted(planJob(heavy));

  test('hangs from the pin beside the pull, straight down, and leaves the load as it hangs', () => {
    const { up } = planJob(heavy);
    let looked = 0;
    for (const { state, push, equilibrium } of lift.cases) {
      if (push !== null) continue;
      const without = plain.states[state];
      if (!without?.rest.found) throw new Error('no pose');
      equilibrium.lines.forEach((line, i) => {
        expect(line.tension).toBeCloseTo(without.rest.found ? (without.rest.equilibrium.lines[i]?.tension ?? 0) : 0, 6);
        const lug = lift.lugs.find(({ id }) => id === lift.lines[i]?.fitting);
        const pull = lug?.pulls[state];
        if (line.tension <= 0 || !pull) return;
        // Law of cosines: the line pulls at an angle to plumb.
        const cos = -dot(line.direction, up);
        expect(pull.force ** 2).toBeCloseTo(line.tension ** 2 + own ** 2 + 2 * line.tension * own * cos, -1);
        looked += 1;
      });
    }
    expect(looked).toBeGreaterThan(10);
    expect(
      lift.notes[0]?.some(
        (part) => typeof part === 'object' && 'newton' in part && Math.abs(part.newton - 3 * own) < 1e-6,
      ),
    ).toBe(true);
  });

  test('goes into the pulls that a stance is looked for under: with the lug where it stands they are those of the plan', () => {
    const plan = planJob(heavy);
    const shell = shellOf(heavy.ship.hull);
    plan.fittings.forEach((fitting, i) => {
      for (const one of pullsOf(heavy, shell, plan.up)[i] ?? []) {
        if (one.push !== null) continue;
        const pull = lift.lugs.find(({ id }) => id === fitting.id)?.pulls[one.state];
        expect(length(pullAt(one, fitting.pin))).toBeCloseTo(pull?.force ?? 0, 4);
      }
    });
  });
});

describe('a load that comes out of the water', () => {
  const raised = (change: (raw: { lift: { load: Record<string, unknown> } }) => void = () => undefined) =>
    lifted(
      planJob(
        sample('g-rudder-walked-aft', (raw) => {
          // Water 1.2 m over the baseline: the rudder, drawn between 0.4 and 3.9 m, stands out of it.
          raw.ship.draftAft = '1.2 m';
          raw.ship.draftForward = '1.2 m';
          raw.ship.heel = '0 deg';
          change(raw);
        }),
      ),
    );

  test('fails, by as much as its highest point stands out', () => {
    const lift = raised();
    const check = lift.checks.find((c) => c.id === 'lift-under-water');
    expect(check?.pass).toBe(false);
    expect(lift.pass).toBe(false);
    // Level water: the height is z itself, of any point that the job knows of.
    let most = Number.NEGATIVE_INFINITY;
    const { load, lines, states } = lift;
    const known = [load.centre, load.buoyancyCentre, ...lines.map((l) => l.attachment)];
    const { outline } = sample('g-rudder-walked-aft').lift?.load ?? { outline: [] };
    for (const { rest } of states) {
      if (!rest.found) continue;
      for (const p of [...known, ...outline])
        most = Math.max(most, placeOf(rest.equilibrium.pose, load.centre, p)[2] - 1200);
    }
    expect(check?.demand).toBeCloseTo(most, 6);
  });

  test('is no matter where nothing of it floats', () => {
    const lift = raised(({ lift: { load } }) => {
      delete load.volume;
      load.massInWater = load.mass;
    });
    expect(lift.net).toBeCloseTo(lift.load.weight, 6);
    expect(lift.checks.map(({ id }) => id)).not.toContain('lift-under-water');
  });
});

describe('of steps that are alike the first is named', () => {
  test('a lone plumb line carries the whole weight in water wherever it does (statics): the greatest pull is that of step 1', () => {
    const lift = lifted(planJob(sample('i-no-heading-saves-it')));
    const hoist = lift.lines.findIndex(({ id }) => id === 'hoist');
    const whole = lift.cases.flatMap(({ state, equilibrium }) =>
      Math.abs((equilibrium.lines[hoist]?.tension ?? 0) / lift.net - 1) < 1e-6 ? [state] : [],
    );
    expect(whole).toEqual([0, 8, 9]);
    expect(lift.lines[hoist]?.greatest?.state).toBe(0);
    expect(lift.lugs[0]?.worst?.tension.state).toBe(0);
    expect(lift.lugs[0]?.checks.find(({ check }) => check.id === 'weld')?.state).toBe(13);
  });

  test('a figure beats another by more than a millionth of the greater', () => {
    expect(beats(1 + 2e-6, 1)).toBe(true);
    expect(beats(1 + 0.5e-6, 1)).toBe(false);
    // Of angles that may be nothing: a millionth of a radian.
    expect(beats(1e-7, 0, 1)).toBe(false);
    expect(beats(1e-5, 0, 1)).toBe(true);
  });
});
