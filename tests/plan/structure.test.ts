import { describe, expect, test } from 'vitest';
import type { Job } from '../../src/job/types.ts';
import { toeReach } from '../../src/plan/footroom.ts';
import { planJob, shellOf } from '../../src/plan/plan.ts';
import { PlanRefused } from '../../src/plan/refused.ts';
import { behindAt, movedBehind, tracesOn } from '../../src/plan/structure.ts';
import type { FittingPlan } from '../../src/plan/types.ts';
import type { Check } from '../../src/strength/check.ts';
import { flatJob, type OnFlat } from './flatbottom.ts';
import { sample } from './movement/jobs.ts';

/* Expected figures are plain geometry on a level flat bottom, worked in the assertion; rules are those of the job. */

function checkOf(of: OnFlat, id: string): Check | undefined {
  return planJob(flatJob(of)).fittings[0]?.checks.find((check) => check.id === id);
}

// On a flat bottom with the stem square to it the fillet's leg lies flat on the shell: the toe is a leg away from the root.
const LEG = 12;
const [HALF_FOOT, HALF_PLATE] = [150, 15];

describe('keep-clear zones', () => {
  const disc = (station: number, girth: number, radius: number): OnFlat => ({
    structure: { keepClear: [{ name: 'sea chest', from: { station, girth }, radius }] },
  });

  test('a disc abreast of the foot: from its middle to the long edge', () => {
    const check = checkOf(disc(6000, 2200, 150), 'keep-clear');
    expect(check?.limit).toBeCloseTo(200 - HALF_PLATE, 6);
    expect(check?.demand).toBeCloseTo(150 + LEG, 6);
    expect(check?.pass).toBe(true);
  });

  test('a disc off a corner of the foot: the hypotenuse', () => {
    const check = checkOf(disc(6000 + HALF_FOOT + 30, 2000 + HALF_PLATE + 40, 45), 'keep-clear');
    expect(check?.limit).toBeCloseTo(Math.hypot(30, 40), 6);
    expect(check?.pass).toBe(false);
    expect(check?.remedy.map((part) => (typeof part === 'object' && 'mm' in part ? part.mm : part))).toEqual([
      'Move the lug ',
      expect.closeTo(45 + LEG - 50, 6),
      ' or more away from “sea chest”, or turn its foot.',
    ]);
  });

  test('a disc smaller than the plate, under the foot: no room at all', () => {
    const check = checkOf(disc(6050, 2003, 5), 'keep-clear');
    expect(check?.limit).toBe(0);
    expect(check?.pass).toBe(false);
  });

  test('a band along the ship, and the nearer of two zones', () => {
    const band = {
      name: 'zinc',
      from: { station: 5000, girth: 2300 },
      to: { station: 9000, girth: 2300 },
      radius: 100,
    };
    const far = { name: 'overboard', from: { station: 6000, girth: 3000 }, radius: 100 };
    const check = checkOf({ structure: { keepClear: [far, band] } }, 'keep-clear');
    expect(check?.limit).toBeCloseTo(300 - HALF_PLATE, 6);
    expect(check?.terms[0]?.name).toContain('zinc');
  });

  test('a zone on the other side of the ship is none of its business; one on both sides, across the centreline, is', () => {
    const at = { at: { station: 6000, side: 'port', by: 'girth', value: 60 } } as const;
    const zone = { name: 'plug', from: { station: 6000, girth: 50 }, radius: 40 };
    const on = (side: 'port' | 'starboard') =>
      checkOf({ fitting: at, structure: { keepClear: [{ ...zone, side }] } }, 'keep-clear');
    expect(on('port')?.limit).toBe(0);
    // From y = -50 to the near edge of the foot at y = 60 - 15.
    expect(on('starboard')?.limit).toBeCloseTo(95, 6);
    expect(checkOf({ fitting: at, structure: { keepClear: [zone] } }, 'keep-clear')?.limit).toBe(0);
  });

  test('off the data it is said to be so, and not looked at', () => {
    const job = flatJob(disc(6000, 7000, 100));
    const plan = planJob(job);
    expect(plan.fittings[0]?.checks.some((check) => check.id === 'keep-clear')).toBe(false);
    expect(plan.hullNotes.map((note) => note.join(''))).toContainEqual(
      expect.stringMatching(/sea chest.*not looked at/),
    );
  });
});

describe('seams', () => {
  test('a butt across the girth ahead of the foot, and one under it', () => {
    const butt = (station: number): OnFlat => ({
      seamClear: 50,
      structure: { seams: [{ name: 'butt 4', from: { station, girth: 1000 }, to: { station, girth: 3000 } }] },
    });
    const ahead = checkOf(butt(6000 + HALF_FOOT + 70), 'seam-clear');
    expect(ahead?.limit).toBeCloseTo(70, 6);
    expect(ahead?.demand).toBeCloseTo(50 + LEG, 6);
    expect(ahead?.standing).toBe('common-practice');
    const under = checkOf(butt(6010), 'seam-clear');
    expect(under?.limit).toBeLessThan(1e-6);
    expect(under?.pass).toBe(false);
  });

  test('on a round bilge the way is the chord, a little short of that along the skin', () => {
    // A quarter circle of 1000 mm: girth 0 at the bottom.
    const R = 1000;
    const job = flatJob({ seamClear: 50, fitting: { at: { station: 6000, side: 'port', by: 'girth', value: 500 } } });
    const round = {
      ...job,
      ship: {
        ...job.ship,
        hull: {
          kind: 'segments',
          start: { y: 0, z: 0 },
          path: [{ to: { y: R, z: R }, radius: R }],
        } as const,
        structure: {
          frames: [],
          longitudinals: [],
          keepClear: [],
          seams: [{ name: 'lap', from: { station: 5000, girth: 700 }, to: { station: 7000, girth: 700 } }],
        },
      },
    };
    const check = planJob(round).fittings[0]?.checks.find(({ id }) => id === 'seam-clear');
    // The edge of the foot at 15 mm from the stem stands on the circle at asin(15/R) from the anchor.
    const along = 200 / R - Math.asin(HALF_PLATE / R);
    expect(check?.limit).toBeCloseTo(2 * R * Math.sin(along / 2), 3);
    // The shell falls away from the plate by that angle on either side: the dihedral is square plus it, and the fillet wider, as much as
    // brings it to the next whole millimetre.
    const psi = Math.PI / 2 + Math.asin(HALF_PLATE / R);
    expect(check?.demand).toBeCloseTo(50 + Math.ceil(LEG / Math.SQRT2 / Math.cos(psi / 2)), 6);
  });
});

/*
 * The toe that is marked and welded is that of the leg called up: whole millimetres, or sixteenths of an inch (common practice, no source).
 * Square to a flat shell the leg lies along it, so that the room to a seam parallel to the foot is what is left of the distance.
 */
describe('a seam parallel to the foot, at the leg that is called up', () => {
  const along = (leg: number, display: Job['display'], abreast = 80): Check | undefined => {
    const job = flatJob({
      seamClear: 50,
      structure: {
        seams: [
          {
            name: 'lap',
            from: { station: 4000, girth: 2000 + HALF_PLATE + abreast },
            to: { station: 8000, girth: 2000 + HALF_PLATE + abreast },
          },
        ],
      },
      fitting: { weld: { leg } },
    });
    return planJob({ ...job, display }).fittings[0]?.checks.find(({ id }) => id === 'seam-clear');
  };

  test.each([
    [12, 'metric', 12],
    [12.3, 'metric', 13],
    [12, 'us', (8 / 16) * 25.4],
    [(7 / 16) * 25.4, 'us', (7 / 16) * 25.4],
  ] as const)('a leg of %f mm in %s is called up as %f mm', (leg, display, called) => {
    const check = along(leg, display);
    expect(check?.limit).toBeCloseTo(80, 6);
    expect(check?.demand).toBeCloseTo(50 + called, 6);
  });

  test('half a millimetre that only the bare leg would leave is not there', () => {
    expect(along(12.3, 'metric', 50 + 13.01)?.pass).toBe(true);
    expect(along(12.3, 'metric', 50 + 12.5)?.pass).toBe(false);
  });

  test('the toe of the check is the one of the weld as planned, side by side, sharp sides and wide ones', () => {
    for (const name of ['a-plumb-lug-rounded-bottom', 'b-athwartships-on-the-bilge', 'l-one-hull-four-ways']) {
      const { fittings, job } = planJob(sample(name));
      for (const { root, frame, input, weld } of fittings) {
        const widest = Math.max(...weld.sides.map((side) => side.calledLegAlongPlate));
        const toe = toeReach(root, frame, input.weld.leg, job.display);
        // Where a side bends its widest place may ask for a step more than its mean, which is called up.
        expect(toe, name).toBeGreaterThanOrEqual(widest - 1e-9);
        expect(toe, name).toBeLessThanOrEqual(widest + (job.display === 'us' ? 25.4 / 16 : 1) + 1e-9);
      }
    }
  });

  test('a gap of 3 mm under a square fillet moves its toe 3 mm out, under one of 120 degrees 3/sin 120', () => {
    const [{ root, frame }] = planJob(flatJob()).fittings as [FittingPlan];
    const side = { calledLegAlongPlate: LEG, addedForGap: 0, dihedral: Math.PI / 2 };
    const reach = (second: typeof side): number => toeReach(root, frame, LEG, 'metric', [side, second, side, side]);
    expect(reach(side)).toBeCloseTo(LEG, 6);
    expect(reach({ ...side, addedForGap: 3 })).toBeCloseTo(LEG + 3, 6);
    const wide = { calledLegAlongPlate: 17, addedForGap: 3, dihedral: (2 * Math.PI) / 3 };
    expect(reach(wide)).toBeCloseTo(17 + 3 / (Math.sqrt(3) / 2), 6);
  });
});

describe('the member that a foot is to stand over', () => {
  const frames = [5400, 6060, 6700].map((station, i) => ({ name: `frame ${10 + i}`, station }));

  test('a frame 60 mm forward of the stem: a fore-and-aft foot crosses it, an athwartships one does not', () => {
    const along = checkOf({ structure: { frames }, fitting: { over: 'frame' } }, 'over-member');
    expect([along?.demand, along?.limit]).toEqual([expect.closeTo(60, 6), expect.closeTo(HALF_FOOT, 6)]);
    expect(along?.pass).toBe(true);
    const across = checkOf({ structure: { frames }, fitting: { over: 'frame', heading: Math.PI / 2 } }, 'over-member');
    expect(across?.limit).toBeCloseTo(HALF_PLATE, 6);
    expect(across?.pass).toBe(false);
    expect(across?.remedy).toEqual([
      'Move the lug ',
      { mm: expect.closeTo(45, 6), digits: 0, bound: 'least' },
      ' or more forward, or turn its foot.',
    ]);
  });

  test('a longitudinal that ends before the lug is not there; without any the job is refused', () => {
    const longitudinals = [
      { name: 'L4', girth: 1990, to: 5000 },
      { name: 'L5', girth: 2010 },
      { name: 'L5 starboard', girth: 2001, side: 'starboard' as const },
    ];
    const check = checkOf({ structure: { longitudinals }, fitting: { over: 'longitudinal' } }, 'over-member');
    expect(check?.demand).toBeCloseTo(10, 6);
    const job = flatJob({ fitting: { over: 'longitudinal' } });
    const refused = (): unknown => {
      try {
        return planJob(job);
      } catch (e) {
        return e;
      }
    };
    const e = refused();
    expect(e).toBeInstanceOf(PlanRefused);
    expect((e as PlanRefused).faults[0]?.path).toBe('fittings[0].over');
  });
});

describe('the panel behind', () => {
  test('frames and longitudinals of the ship give the panel that the fitting would have been told', () => {
    const bare = flatJob({ fitting: { behind: {} } });
    const ship = flatJob({
      fitting: { behind: {} },
      structure: {
        frames: [
          { name: '9', station: 5900 },
          { name: '10', station: 6650 },
        ],
        longitudinals: [
          { name: 'a', girth: 1700 },
          { name: 'b', girth: 2340 },
        ],
      },
    });
    const told = {
      ...bare,
      steel: { ...bare.steel, frameSpacing: 750, longitudinalSpacing: 640 },
      fittings: bare.fittings.map((f) => ({ ...f, behind: { fromFrame: 100, fromLongitudinal: 300 } })),
    };
    const ratios = (job: typeof bare) => planJob(job).fittings[0]?.checks.map(({ id, ratio }) => [id, ratio]);
    expect(ratios(ship)).toEqual(ratios(told));
    expect(ratios(ship)).not.toEqual(ratios(bare));
  });

  test('what the fitting itself says goes first; one member known, the spacing tells the other; far off, nothing is known', () => {
    const job = flatJob({
      fitting: { behind: { fromFrame: 20 } },
      structure: { frames: [{ name: '1', station: 5900 }] },
    });
    const fitting = job.fittings[0] as (typeof job.fittings)[0];
    const place = { station: 6000, girth: 2000, side: 'port' } as const;
    expect(behindAt(job, fitting, place)).toMatchObject({ fromFrame: 20, frameSpacing: 600 });
    const { behind: _, ...bare } = fitting;
    expect(behindAt(job, bare, place)).toEqual({ fromFrame: 100, frameSpacing: 600, longitudinalSpacing: 700 });
    expect(behindAt(job, bare, { ...place, station: 5800 })).toMatchObject({ fromFrame: 500 });
    expect(behindAt(job, bare, { ...place, station: 8000 })).toEqual({ frameSpacing: 600, longitudinalSpacing: 700 });
  });

  test('a lug that is moved takes what is behind it along, from member to member', () => {
    const job = flatJob({ fitting: { behind: { fromFrame: 500, fromLongitudinal: 50 } } });
    const fitting = job.fittings[0] as (typeof job.fittings)[0];
    const from = { station: 6000, girth: 2000, side: 'port' } as const;
    expect(movedBehind(job, fitting, from, { ...from, station: 6250, girth: 1900 }).behind).toEqual({
      fromFrame: 150,
      fromLongitudinal: 650,
    });
  });
});

test('traces lie on the shell: every end of every piece, on either side, on a hull that bends both ways', () => {
  const job = sample('f-offsets-from-a-lines-plan');
  const shell = shellOf(job.ship.hull);
  const { station, value } = (job.fittings[0] as (typeof job.fittings)[0]).at;
  const girth = shell.girthAt(station, 'height', value);
  const { traces } = tracesOn(shell, {
    frames: [],
    longitudinals: [],
    keepClear: [],
    seams: [{ name: 's', from: { station: station - 900, girth: girth - 300 }, to: { station: station + 900, girth } }],
  });
  const pieces = traces[0]?.pieces ?? new Float64Array();
  expect(pieces.length).toBeGreaterThan(2 * 6 * 45);
  let port = 0;
  for (let i = 0; i < pieces.length; i += 3) {
    const p = [pieces[i] as number, pieces[i + 1] as number, pieces[i + 2] as number] as const;
    if (p[1] > 0) port += 1;
    expect(shell.closest(p).distance).toBeLessThan(0.05);
  }
  expect(port).toBe(pieces.length / 6);
});

test('as it stands in a job file: the member, the room beside seams with its default, and what is no member', () => {
  const seams = [{ name: 'K', from: { station: '5 m', girth: '3 m' }, to: { station: '8 m', girth: '3 m' } }];
  const bare = sample('a-plumb-lug-rounded-bottom');
  expect(bare.limits.seamClear).toBeUndefined();
  expect(bare.fittings[0]?.over).toBeUndefined();
  const job = sample('a-plumb-lug-rounded-bottom', (raw) => {
    raw.ship.structure = { seams };
    raw.fittings[0].over = 'frame';
  });
  expect(job.limits.seamClear).toBe(50);
  expect(job.assumptions.find((a) => a.path === 'limits.seamClear')?.standing).toBe('common-practice');
  expect(job.fittings[0]?.over).toBe('frame');
  const given = sample('a-plumb-lug-rounded-bottom', (raw) => {
    raw.ship.structure = { seams };
    raw.limits = { seamClear: '3 in' };
  });
  expect(given.limits.seamClear).toBeCloseTo(76.2, 9);
  expect(() =>
    sample('a-plumb-lug-rounded-bottom', (raw) => {
      raw.fittings[0].over = 'keel';
    }),
  ).toThrow(/fittings\[0\]\.over/);
});
