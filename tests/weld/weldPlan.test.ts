import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { showPhrase } from '../../src/job/show.ts';
import { BOTTOM_TIME_DEFAULT, defaultWeldSettings, WELD_DEFAULTS } from '../../src/weld/settings.ts';
import { leastLeg } from '../../src/weld/sizes.ts';
import type { CheckInput, JointSide } from '../../src/weld/sourced.ts';
import { leastLegCheck, lengthCheck } from '../../src/weld/weldChecks.ts';
import {
  type PlannedSide,
  planWeld,
  rootOfOneElectrode,
  type WeldPlan,
  type WeldPlanInput,
  type WeldRun,
} from '../../src/weld/weldPlan.ts';
import { plumbLug } from './sample.ts';

const deg = Math.PI / 180;

const runsOf = (plan: WeldPlan): readonly WeldRun[] => plan.work.filter((item) => item.task === 'run');
const sum = (figures: readonly number[]) => figures.reduce((all, each) => all + each, 0);
const passes = (check: CheckInput) => check.demand / check.limit <= 1;
const failing = (plan: WeldPlan) => plan.checks.filter((check) => !passes(check)).map((check) => check.id);

/** The sample with other angles and openings side by side. */
function withSides(change: (side: PlannedSide, index: number) => Partial<PlannedSide>): WeldPlanInput {
  const input = plumbLug();
  return plumbLug({ sides: input.sides.map((side, index) => ({ ...side, ...change(side, index) })) });
}

const angled = (dihedral: number) => ({ dihedral, dihedralMin: dihedral, dihedralMax: dihedral });

const joints = fc
  .record({
    angles: fc.array(fc.double({ min: 40 * deg, max: 140 * deg, noNaN: true }), { minLength: 4, maxLength: 4 }),
    openings: fc.array(fc.double({ min: 0, max: 5, noNaN: true }), { minLength: 4, maxLength: 4 }),
    leg: fc.double({ min: 5, max: 22, noNaN: true }),
  })
  .map(({ angles, openings, leg }) => ({
    ...withSides((_, i) => ({ ...angled(angles[i] ?? 1), opening: openings[i] ?? 0 })),
    leg,
  }));

/** mm3 of a run on the sides that have its bead. */
const inBeads = (run: { readonly volume: number; readonly feathered: number }) => run.volume - run.feathered;

describe('the metal', () => {
  test('of all runs is the sides’ sections times their lengths: each bead laid once, on its own sides', () => {
    fc.assert(
      fc.property(joints, (input) => {
        const plan = planWeld(input);
        const wanted = sum(plan.sides.map((side) => side.sectionArea * side.length));
        expect(Math.abs(sum(runsOf(plan).map(inBeads)) / wanted - 1)).toBeLessThan(1e-9);
        expect(Math.abs(plan.totals.sidesKg - wanted * 7.85e-6)).toBeLessThan(1e-9);
      }),
      { numRuns: 40 },
    );
  });

  test('layer by layer and bead by bead the metal is where the drawing has it', () => {
    fc.assert(
      fc.property(joints, (input) => {
        const plan = planWeld(input);
        const layers = Math.max(...plan.sides.map((side) => side.layers));
        for (let layer = 1; layer <= layers; layer += 1) {
          const drawn = sum(
            plan.sides.map(
              (side) => sum(side.stack.layers[layer - 1]?.beads.map((bead) => bead.area) ?? []) * side.length,
            ),
          );
          const laid = sum(
            runsOf(plan)
              .filter((run) => run.layer === layer)
              .map(inBeads),
          );
          expect(Math.abs(laid / drawn - 1)).toBeLessThan(1e-9);
        }
      }),
      { numRuns: 40 },
    );
  });

  test('a square tee of 16 mm legs, tight: leg^2/2 x 7850 kg/m3 and four quarter cones (closed form)', () => {
    const plan = planWeld(withSides(() => angled(90 * deg)));
    expect(plan.totals.sidesKg).toBeCloseTo(128 * 680 * 7.85e-6, 12);
    expect(plan.totals.cornersKg).toBeCloseTo(((Math.PI * 16 ** 3) / 3) * 7.85e-6, 12);
    expect(plan.totals.depositKg).toBeCloseTo(plan.totals.sidesKg + plan.totals.cornersKg, 12);
    // One electrode: core of 2.4 mm, 50.8 mm of 350 thrown away, 3/4 of the rest in the joint.
    const each = (Math.PI / 4) * 2.4 ** 2 * (350 - 50.8) * 0.75 * 7.85e-6;
    expect(plan.totals.electrodes).toBe(Math.ceil(plan.totals.depositKg / each));
    expect(plan.totals.arcMin).toBeCloseTo((plan.totals.depositKg / each) * 1, 9);
  });

  test('grows with the gap that has to be made up, and not with one that is tight', () => {
    const tight = planWeld(withSides(() => ({ opening: 1.6 })));
    const open = planWeld(withSides(() => ({ opening: 3 })));
    expect(tight.totals.depositKg).toBe(planWeld(withSides(() => ({ opening: 0 }))).totals.depositKg);
    expect(open.totals.depositKg).toBeGreaterThan(tight.totals.depositKg);
    // The size of the fillet itself stays.
    expect(open.sides.map((side) => side.area)).toEqual(tight.sides.map((side) => side.area));
  });
});

describe('rods, metal and beads are those of the legs that are called up', () => {
  // Two sides of a triangle and the angle between them: its area is b^2 sin(psi) / 2 (closed form).
  test.each([
    ['16.2 mm, square, whole millimetres', 16.2, 90, 'metric', 17],
    ['16.2 mm, square, sixteenths of an inch', 16.2, 90, 'us', (11 / 16) * 25.4],
    // 16 / sqrt(2) / cos(55 deg) = 19.73 mm.
    ['16 mm, blunt', 16, 110, 'metric', 20],
    // 16 / sqrt(2) / cos(35 deg) = 13.81 mm, that is 8.7 sixteenths.
    ['16 mm, sharp, sixteenths of an inch', 16, 70, 'us', (9 / 16) * 25.4],
    // Below 60 degrees 3 mm of throat are welded on top: (11.314 + 3) / cos(25 deg) = 15.79 mm.
    ['16 mm at 50 degrees, with what does not fuse', 16, 50, 'metric', 16],
  ] as const)('%s', (_, leg, angle, practice, called) => {
    const plan = planWeld({ ...withSides(() => angled(angle * deg)), leg, practice });
    const area = (called ** 2 * Math.sin(angle * deg)) / 2;
    for (const side of plan.sides) {
      expect(side.calledLegAlongPlate).toBeCloseTo(called, 9);
      expect(side.sectionArea).toBeCloseTo(area, 9);
      // The leg square to the shell is that of the same triangle.
      expect(side.calledLegSquare).toBeCloseTo(called * Math.sin(angle * deg), 9);
      expect(side.builtThroat).toBeLessThanOrEqual(called * Math.cos((angle * deg) / 2));
    }
    expect(plan.totals.sidesKg).toBeCloseTo(area * 680 * 7.85e-6, 12);
    expect(sum(runsOf(plan).map(inBeads))).toBeCloseTo(area * 680, 6);
  });

  test('and never less metal than the leg wanted takes', () => {
    fc.assert(
      fc.property(joints, fc.constantFrom('metric', 'us'), (input, practice) => {
        for (const side of planWeld({ ...input, practice }).sides) {
          expect(side.calledLegSquare).toBeGreaterThanOrEqual(side.legSquare - 1e-9);
          expect(side.sectionArea).toBeGreaterThanOrEqual(side.area - 1e-9);
        }
      }),
      { numRuns: 30 },
    );
  });
});

describe('time', () => {
  test('the work’s minutes are its parts', () => {
    const { totals } = planWeld(plumbLug());
    expect(totals.workMin).toBeCloseTo(
      totals.arcMin + totals.changeMin + totals.grindMin + totals.cleanMin + totals.holdMin,
      9,
    );
  });

  test('no dives are counted where nobody has given a bottom time', () => {
    expect(planWeld(plumbLug({ bottomTime: null })).schedule).toBeNull();
    expect(BOTTOM_TIME_DEFAULT.standing).toBe('choice');
  });

  test('shorter dives are more dives, never fewer', () => {
    const dives = [40, 60, 90, 180, 1000].map((bottomTime) => {
      const { schedule } = planWeld(plumbLug({ bottomTime }));
      return schedule?.kind === 'planned' ? schedule.dives.length : Number.NaN;
    });
    expect(dives).toEqual([...dives].sort((a, b) => b - a));
    expect(dives.at(-1)).toBe(1);
  });
});

describe('the order', () => {
  test('fit-up, the whole root, the root’s hold point, hot pass, fills, cap, the finished weld', () => {
    const { work } = planWeld(plumbLug());
    const holds = work.flatMap((item) => (item.task === 'hold' ? [item.hold] : []));
    expect(holds).toEqual(['fit-up', 'root', 'finished']);
    expect(work[0]).toMatchObject({ task: 'hold', hold: 'fit-up' });
    expect(work.at(-1)).toMatchObject({ task: 'hold', hold: 'finished' });
    const at = work.findIndex((item) => item.task === 'hold' && item.hold === 'root');
    const kinds = (items: WeldPlan['work']) =>
      new Set(items.flatMap((item) => (item.task === 'run' ? [item.kind] : [])));
    expect(kinds(work.slice(0, at))).toEqual(new Set(['root']));
    expect(kinds(work.slice(at))).toEqual(new Set(['hot pass', 'fill', 'cap']));
    expect(work.map((item) => item.no)).toEqual(work.map((_, i) => i + 1));
    const layers = work.flatMap((item) => (item.task === 'run' ? [item.layer] : []));
    expect(layers).toEqual([...layers].sort((a, b) => a - b));
  });

  test('the root’s runs are welded as the sequence gave them', () => {
    const input = plumbLug();
    const root = runsOf(planWeld(input)).filter((run) => run.layer === 1);
    expect(root.map(({ fromS, toS }) => ({ fromS, toS }))).toEqual(input.rootRuns);
  });

  test('a weld of one layer is root and finished weld in one: two hold points', () => {
    // Called up as 2 mm on every side: about as much as one bead.
    const { work } = planWeld(plumbLug({ leg: 1.6 }));
    expect(work.flatMap((item) => (item.task === 'hold' ? [item.hold] : []))).toEqual(['fit-up', 'finished']);
    expect(new Set(work.flatMap((item) => (item.task === 'run' ? [item.layer] : [])))).toEqual(new Set([1]));
  });

  test('a bead that only wider sides have ends beyond the corner, not at it', () => {
    const plan = planWeld(plumbLug());
    const corners = [0, 300, 340, 640, 680];
    for (const run of runsOf(plan).filter((each) => each.layer > 1)) {
      for (const s of [run.fromS, run.toS]) {
        // It is carried 25 mm on, or to the end of its run where that comes sooner.
        const wrapped = ((s % 680) + 680) % 680;
        expect(Math.min(...corners.map((corner) => Math.abs(corner - wrapped)))).toBeGreaterThan(5);
      }
    }
  });
});

describe('the stops', () => {
  /** mm round the joint. */
  const apart = (a: number, b: number, perimeter: number) => {
    const d = (((a - b) % perimeter) + perimeter) % perimeter;
    return Math.min(d, perimeter - d);
  };

  test('of no layer lie nearer to those of the two layers under it, or to a corner, than is said (runs as laid)', () => {
    fc.assert(
      fc.property(joints, (input) => {
        const plan = planWeld(input);
        const { stagger, cornerClear } = input.settings;
        const later = plan.passes.slice(1);
        const said = Math.min(...later.map((pass) => pass.apart));
        const off = Math.min(...later.map((pass) => pass.cornerDistance));
        const runs = runsOf(plan);
        const perimeter = input.sides.at(-1)?.toS ?? 0;
        let nearest = Number.POSITIVE_INFINITY;
        let corner = Number.POSITIVE_INFINITY;
        for (const run of runs) {
          if (run.pass === 1) continue;
          for (const s of [run.fromS, run.toS]) {
            for (const side of input.sides) corner = Math.min(corner, apart(s, side.fromS, perimeter));
            for (const under of runs) {
              if (under.pass >= run.pass || run.layer - under.layer > 2) continue;
              nearest = Math.min(nearest, apart(s, under.fromS, perimeter), apart(s, under.toS, perimeter));
            }
          }
        }
        expect(Math.abs(nearest - said)).toBeLessThan(1e-6);
        expect(Math.abs(corner - off)).toBeLessThan(1e-6);
        // Where the beads of three layers are not past counting, never one over another.
        const most = Math.max(
          ...plan.sides.map((side) => Math.max(...side.stack.layers.map((layer) => layer.beads.length))),
        );
        if (most <= 5) expect(nearest).toBeGreaterThan(1);
        // Where less than is wanted was reached, a note says so with the figure.
        const notes = plan.notes.map((note) =>
          note.map((part) => (typeof part === 'string' ? part : 'mm' in part ? part.mm : '')),
        );
        const figures = notes.flat();
        // Told in tenths of a millimetre, never farther apart than they are.
        const told = (mm: number) =>
          figures.some((figure) => typeof figure === 'number' && figure <= mm + 1e-6 && figure > mm - 0.1 - 1e-6);
        if (nearest < 0.15 * stagger - 1e-6) expect(told(said)).toBe(true);
        if (corner < cornerClear - 1e-6) expect(told(off)).toBe(true);
      }),
      { numRuns: 60 },
    );
  });

  test('of beads that touch are an inch apart where one bead makes a layer and the foot has room', () => {
    // A long foot on a leg of three single beads.
    const sides = [0, 600, 700, 1300].map((fromS, k) => ({
      ...(plumbLug().sides[k] as PlannedSide),
      ...angled(90 * deg),
      fromS,
      toS: [600, 700, 1300, 1400][k] as number,
      opening: 0,
    }));
    const rootRuns = [
      { fromS: 0, toS: 140 },
      { fromS: 140, toS: 280 },
      { fromS: 280, toS: 420 },
      { fromS: 420, toS: 560 },
      { fromS: 560, toS: 700 },
      { fromS: 1400, toS: 1260 },
      { fromS: 1260, toS: 1120 },
      { fromS: 1120, toS: 980 },
      { fromS: 980, toS: 840 },
      { fromS: 840, toS: 700 },
    ];
    const plan = planWeld(plumbLug({ sides, rootRuns, leg: 6 }));
    expect(plan.passes.length).toBeGreaterThan(2);
    for (const pass of plan.passes.slice(1)) expect(pass.stagger).toBeGreaterThanOrEqual(25 - 1e-6);
    expect(plan.notes.filter((note) => note.join('').includes('apart'))).toEqual([]);
  });
});

describe('a run above the root', () => {
  /** Length of the run that lies on sides which have its bead, mm: turn by turn. */
  const beadOf = (plan: WeldPlan, input: WeldPlanInput, run: WeldRun) => {
    const perimeter = input.sides.at(-1)?.toS ?? 0;
    const [from, to] = [Math.min(run.fromS, run.toS), Math.max(run.fromS, run.toS)];
    return sum(
      input.sides.flatMap((side, k) => {
        if (plan.sides[k]?.stack.layers[run.layer - 1]?.beads[run.bead - 1] === undefined) return [];
        return [-2, -1, 0, 1, 2].map((turn) =>
          Math.max(0, Math.min(to, side.toS + turn * perimeter) - Math.max(from, side.fromS + turn * perimeter)),
        );
      }),
    );
  };

  test('takes no more than one electrode and lays an inch of bead or more, on sides of an inch and more', () => {
    fc.assert(
      fc.property(joints, (input) => {
        const plan = planWeld(input);
        for (const run of runsOf(plan)) {
          if (run.layer === 1) continue;
          expect(run.electrodes).toBeLessThanOrEqual(1 + 1e-6);
          expect(beadOf(plan, input, run)).toBeGreaterThanOrEqual(25 - 0.01);
        }
      }),
      { numRuns: 60 },
    );
  });
});

describe('a run of the root', () => {
  /** The sample's root in equal runs no longer than `most` between its corners and turning points, climbed from s = 150 to s = 490. */
  const rootOf = (most: number) =>
    [
      [150, 300],
      [300, 340],
      [340, 490],
      [150, 0],
      [0, -40],
      [640, 490],
    ].flatMap(([from = 0, to = 0]) => {
      const runs = Math.ceil(Math.abs(to - from) / most - 1e-9);
      const at = (k: number) => from + ((to - from) * k) / runs;
      return Array.from({ length: runs }, (_, k) => ({ fromS: at(k), toS: at(k + 1) }));
    });

  test('of a square tee of 16 mm legs: an electrode lays 150 mm, less what goes to the corners (closed form)', () => {
    const share = ((Math.PI / 3) * 16 ** 3) / (128 * 680);
    expect(rootOfOneElectrode(withSides(() => angled(90 * deg)))).toBeCloseTo(150 / (1 + share), 9);
  });

  test('no longer than that takes one electrode at most, and a longer one takes more', () => {
    fc.assert(
      fc.property(joints, (input) => {
        const root = (most: number) =>
          runsOf(planWeld({ ...input, rootRuns: rootOf(most) })).filter((run) => run.pass === 1);
        const most = Math.min(300, rootOfOneElectrode(input));
        for (const run of root(most)) expect(run.electrodes).toBeLessThanOrEqual(1 + 1e-9);
        // The faces are in halves, the ends whole: what is longer than an electrode lays takes more than one.
        if (most < 150) expect(Math.max(...root(150).map((run) => run.electrodes))).toBeGreaterThan(1);
      }),
      { numRuns: 15 },
    );
  });
});

describe('notes on stops', () => {
  test.each([
    ['metric', /^[\d.]+ mm$/, 1, 25],
    ['us', /^0\.\d\d\d in$/, 25.4, 0.984],
  ] as const)('%s: one spelling, wanted as everywhere, reached never larger', (practice, spelling, inch, wanted) => {
    const plan = planWeld(plumbLug({ practice }));
    const stops = plan.notes.filter((note) => showPhrase(note, practice).includes('wanted'));
    expect(stops).toHaveLength(2);
    const told = stops.map((note) =>
      note.flatMap((part) => (typeof part === 'string' ? [] : [showPhrase([part], practice)])),
    );
    for (const figure of told.flat()) expect(figure).toMatch(spelling);
    const later = plan.passes.slice(1);
    const least = (of: (pass: WeldPlan['passes'][number]) => number) => Math.min(...later.map(of));
    const [touching, asked, overlap, apart] = (told[0] ?? []).map(Number.parseFloat);
    const [corner, clear] = (told[1] ?? []).map(Number.parseFloat);
    // 25 mm is 0.9843 in.
    expect([asked, clear]).toEqual([wanted, wanted]);
    for (const [said = Number.NaN, is] of [
      [touching, least((pass) => pass.stagger)],
      [overlap, least((pass) => pass.overlap)],
      [apart, least((pass) => pass.apart)],
      [corner, least((pass) => pass.cornerDistance)],
    ] as const) {
      expect(said * inch).toBeLessThanOrEqual(is + 1e-6);
      expect(said * inch).toBeGreaterThan(is - (practice === 'us' ? 0.0254 : 0.1) - 1e-6);
    }
  });
});

describe('mirrored', () => {
  test('port and starboard: the same metal, beads and minutes', () => {
    fc.assert(
      fc.property(joints, (input) => {
        const other = planWeld(mirrored(input));
        const one = planWeld(input);
        const laid = ({ totals }: typeof one) => totals.depositKg - totals.featheredKg;
        expect(laid(other)).toBeCloseTo(laid(one), 9);
        // How far past a corner a bead is feathered out goes by stops, which take the first of two places that are as good.
        expect(Math.abs(other.totals.arcMin / one.totals.arcMin - 1)).toBeLessThan(0.02);
        const swap: Record<JointSide, JointSide> = {
          'face-': 'face-',
          'end+': 'end-',
          'face+': 'face+',
          'end-': 'end+',
        };
        for (const side of one.sides) {
          const twin = other.sides.find((each) => each.side === swap[side.side]);
          expect(twin).toMatchObject({ layers: side.layers, beads: side.beads, legSquare: side.legSquare });
        }
      }),
      { numRuns: 30 },
    );
  });
});

describe('checks', () => {
  test('the usual lug passes them all', () => {
    expect(failing(planWeld(plumbLug()))).toEqual([]);
  });

  test.each([
    ['sharper than 60 degrees', withSides((_, i) => (i === 0 ? angled(59.9 * deg) : {})), ['weld.angle.least']],
    ['60 degrees', withSides((_, i) => (i === 0 ? angled(60 * deg) : {})), []],
    ['135 degrees', withSides((_, i) => (i === 2 ? angled(135 * deg) : {})), []],
    ['blunter than 135 degrees', withSides((_, i) => (i === 2 ? angled(135.1 * deg) : {})), ['weld.angle.most']],
    ['a gap beyond what a leg may make up', withSides((_, i) => (i === 1 ? { opening: 5 } : {})), ['weld.opening']],
    ['a leg too small for the shell', plumbLug({ leg: 4 }), ['weld.leg.least']],
    [
      'ordinary electrodes on steel that hardens',
      plumbLug({
        electrode: { kind: 'ferritic', diameter: 3.2, length: 350 },
        shell: { thickness: 12, yield: 250, carbon: { kind: 'unknown' } },
      }),
      ['weld.electrode'],
    ],
  ] as const)('%s: %#', (_, input, ids) => {
    expect(failing(planWeld(input))).toEqual(ids);
  });

  test('the thinner part sets the least leg (AISC 360, Table J2.4): 5 mm for 12 mm, 8 mm for 38 mm', () => {
    expect(passes(leastLegCheck(6, 38, 12, 'metric'))).toBe(true);
    expect(passes(leastLegCheck(6, 12, 38, 'metric'))).toBe(true);
    expect(passes(leastLegCheck(6, 38, 38, 'metric'))).toBe(false);
  });

  // AISC 360, Table J2.4: to 1/4 in, over 1/4 to 1/2, over 1/2 to 3/4, over 3/4: 1/8, 3/16, 1/4, 5/16 in.
  test.each([
    [1 / 4, 1 / 8, 3 / 16],
    [1 / 2, 3 / 16, 1 / 4],
    [3 / 4, 1 / 4, 5 / 16],
  ])(
    'a plate of %d in is in the lower row, however its thickness was typed; a thousandth more is not',
    (t, leg, next) => {
      const least = (inch: number) => leastLeg(inch * 25.4, 'us') / 25.4;
      for (const typed of [t * (1 - 1e-9), t, t * (1 + 1e-12), t * (1 + 9e-7)])
        expect(least(typed)).toBeCloseTo(leg, 12);
      expect(least(t * (1 + 2e-6))).toBeCloseTo(next, 12);
      expect(least(t + 0.001)).toBeCloseTo(next, 12);
    },
  );

  test('a lug of high-strength naval steel asks for nickel-type electrodes, however mild the shell', () => {
    const electrode = { kind: 'ferritic', diameter: 3.2, length: 350 } as const;
    expect(failing(planWeld(plumbLug({ electrode })))).toEqual([]);
    expect(failing(planWeld(plumbLug({ electrode, lug: { thickness: 38, yield: 690 } })))).toEqual(['weld.electrode']);
  });

  test('an electrode that will do has nothing to mend; one that will not is named with the reason', () => {
    const remedyOf = (input: WeldPlanInput) =>
      planWeld(input)
        .checks.find((check) => check.id === 'weld.electrode')
        ?.remedy.join('');
    // Nickel-type on a shell that asks for nothing better than an ordinary electrode.
    expect(remedyOf(plumbLug())).toBe('');
    const electrode = { kind: 'ferritic', diameter: 3.2, length: 350 } as const;
    expect(remedyOf(plumbLug({ electrode }))).toBe('');
    const unknown = { thickness: 12, yield: 250, carbon: { kind: 'unknown' } } as const;
    expect(remedyOf(plumbLug({ electrode, shell: unknown }))).toContain('Weld it with nickel-type electrodes');
  });

  test('a foot shorter than four legs of weld fails', () => {
    expect(passes(lengthCheck(16, 64))).toBe(true);
    expect(passes(lengthCheck(16, 63.9))).toBe(false);
  });

  test('angles are judged where the side is sharpest, not by its mean', () => {
    const input = withSides((side, i) => (i === 0 ? { ...side, dihedralMin: 58 * deg } : {}));
    expect(failing(planWeld(input))).toEqual(['weld.angle.least']);
    expect(planWeld(input).sides[0]?.zLoss).toBe(3);
  });

  test('below 30 degrees the remedy says that no throat is credited', () => {
    const plan = planWeld(withSides((_, i) => (i === 0 ? angled(29 * deg) : {})));
    const check = plan.checks.find((each) => each.id === 'weld.angle.least');
    expect(check?.remedy.join('')).toContain('no throat is credited');
    expect(plan.sides[0]?.band).toBe('none');
  });

  test('each can be redone by hand: source, standing, formula, terms', () => {
    for (const check of planWeld(plumbLug()).checks) {
      expect(check.source.length).toBeGreaterThan(10);
      expect(['source', 'common-practice']).toContain(check.standing);
      expect(check.formula).toContain('<=');
      expect(check.terms.map((term) => term.value)).toEqual(expect.arrayContaining([check.limit]));
    }
  });
});

describe('settings', () => {
  test('every one has a source that says how well it is known, and what is from memory is said to be', () => {
    expect(Object.keys(defaultWeldSettings()).sort()).toEqual(Object.keys(WELD_DEFAULTS).sort());
    for (const each of Object.values(WELD_DEFAULTS)) {
      expect(each.source.length).toBeGreaterThan(5);
      if (each.source.includes('from memory')) expect(each.standing).toBe('not-verified');
    }
  });

  test('whose electrode has no window gets none, and no supply is worked out for it', () => {
    const plan = planWeld(plumbLug({ electrode: { kind: 'nickel', diameter: 1.6, length: 300 } }));
    expect(plan.current.kind).toBe('no-window');
    expect(plan.supply).toBeNull();
  });
});

test('sides that do not follow one another, or have no length, are refused', () => {
  expect(() => planWeld(withSides((side, i) => (i === 1 ? { fromS: side.fromS + 5 } : {})))).toThrow(RangeError);
  expect(() => planWeld(withSides((side, i) => (i === 3 ? { toS: side.fromS } : {})))).toThrow(RangeError);
});

/** The root line run the other way about: s becomes perimeter - s shifted so that face- still comes first. */
function mirrored(input: WeldPlanInput): WeldPlanInput {
  const [faceMinus, endPlus, facePlus, endMinus] = input.sides as [PlannedSide, PlannedSide, PlannedSide, PlannedSide];
  const length = (side: PlannedSide) => side.toS - side.fromS;
  let at = 0;
  const place = (side: PlannedSide, name: JointSide): PlannedSide => {
    const fromS = at;
    at += length(side);
    return { ...side, side: name, fromS, toS: at };
  };
  const sides = [place(faceMinus, 'face-'), place(endMinus, 'end+'), place(facePlus, 'face+'), place(endPlus, 'end-')];
  const turn = length(faceMinus);
  return {
    ...input,
    sides,
    rootRuns: input.rootRuns.map((run) => ({ fromS: turn - run.fromS, toS: turn - run.toS })),
  };
}
