import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Basis } from '../../src/strength/basis.ts';
import type { Check } from '../../src/strength/check.ts';
import type { StrengthInput } from '../../src/strength/input.ts';
import { distanceToMember } from '../../src/strength/panel.ts';
import { strengthChecks } from '../../src/strength/strengthChecks.ts';
import { flatRoot, sampleInput } from './lug.ts';

const BASES: readonly Basis[] = ['aisc-360-asd', 'aisc-360-lrfd', 'en-1993', 'bth-1'];
const pinOwn = { steel: { yield: 640, tensile: 800 }, ear: 45, gap: 9 };
const full = (basis: Basis, change: Partial<StrengthInput> = {}): StrengthInput =>
  sampleInput({ basis, cheek: { radius: 75, thickness: 10 }, pinOwn, ...change });
const find = (checks: readonly Check[], id: string): Check => {
  const c = checks.find((x) => x.id === id);
  if (!c) throw new Error(`no check ${id}: ${checks.map((x) => x.id).join(' ')}`);
  return c;
};
const termOf = (c: Check, symbol: string): number => {
  const t = [...c.terms, ...c.steps].find((x) => x.symbol === symbol);
  if (!t) throw new Error(`${c.id}: no ${symbol}`);
  return t.value;
};
const scaled = (input: StrengthInput, k: number): StrengthInput => ({
  ...input,
  load: { alongStem: k * input.load.alongStem, alongFoot: k * input.load.alongFoot, sideways: k * input.load.sideways },
});

describe.each(BASES)('%s: what every check must have', (basis) => {
  const { checks } = strengthChecks(full(basis));

  it('an id of its own, a formula in text and TeX, a source, finite figures, a remedy where it fails', () => {
    expect(new Set(checks.map((c) => c.id)).size).toBe(checks.length);
    for (const c of checks) {
      expect.soft(c.formula, c.id).not.toBe('');
      expect.soft(c.tex, c.id).not.toBe('');
      expect.soft(c.source, c.id).not.toBe('');
      expect.soft(c.terms.length, c.id).toBeGreaterThan(0);
      for (const v of [c.demand, c.limit, c.ratio, ...c.terms.map((t) => t.value), ...c.steps.map((s) => s.value)]) {
        expect.soft(Number.isFinite(v), `${c.id} ${c.demand} ${c.limit}`).toBe(true);
      }
      expect.soft([basis, 'trade'], c.id).toContain(c.basis);
      if (!c.pass) expect.soft(c.remedy.length, c.id).toBeGreaterThan(0);
    }
  });

  it('a check with room enough has no remedy, one that fails has', () => {
    for (const k of [0.2, 1, 3])
      for (const c of strengthChecks(scaled(full(basis), k)).checks) {
        if (c.ratio <= 0.8) expect.soft(c.remedy, c.id).toEqual([]);
        if (!c.pass) expect.soft(c.remedy.length, c.id).toBeGreaterThan(0);
      }
  });

  it('no length is typed with its unit: a page in inches says inches', () => {
    const { advice } = strengthChecks(full(basis));
    const texts = checks.flatMap((c) => [
      c.title,
      c.source,
      c.formula,
      c.tex,
      ...c.terms.map((x) => x.name),
      ...c.steps.map((x) => x.formula),
      ...c.remedy.filter((part) => typeof part === 'string'),
    ]);
    const said = advice.flatMap((a) => [a.title, a.source, ...a.text.filter((part) => typeof part === 'string')]);
    for (const text of [...texts, ...said]) expect.soft(text).not.toMatch(/\d\s*(\\,\s*\\mathrm\{)?mm\b/);
  });

  it('every check can fail: a pull a thousand times as great, or a shackle that does not go on', () => {
    const heavy = strengthChecks(scaled(full(basis), 1000)).checks;
    const misfit = strengthChecks(
      full(basis, {
        shackle: { wll: 25 * 9806.65, pin: 60, jaw: 40, insideLength: 30, bowWidth: 600, bar: 45 },
        inPlane: Math.PI / 2,
      }),
    ).checks;
    for (const c of checks) {
      const failed = [...heavy, ...misfit].some((x) => x.id === c.id && !x.pass);
      expect.soft(failed, c.id).toBe(true);
    }
  });

  it('doubling the pull doubles every demand of force and stress', () => {
    // Not those of plain geometry; contact pressure and the pin's interaction grow by root and square, as their formulas say.
    const twice = strengthChecks(scaled(full(basis), 2)).checks;
    for (const c of checks) {
      const d = find(twice, c.id).demand / c.demand;
      if (['shackle-pin', 'shackle-jaw', 'shackle-bow', 'shackle-shell'].includes(c.id)) expect.soft(d, c.id).toBe(1);
      else if (c.id === 'lug-contact') expect.soft(d, c.id).toBeCloseTo(Math.SQRT2, 9);
      else if (c.id === 'pin-both') expect.soft(d, c.id).toBeCloseTo(4, 9);
      else if (c.id === 'lug-end' || c.id === 'lug-side') expect.soft(d, c.id).toBeGreaterThan(1);
      else expect.soft(d, c.id).toBeCloseTo(2, 9);
    }
  });

  it('stands and falls with the steel: stronger lug, shell and deposit never raise a ratio', () => {
    const strong = strengthChecks(
      full(basis, {
        steel: { lug: { yield: 350, tensile: 560 }, shell: { yield: 329, tensile: 560, thickness: 12 } },
        weld: { throat: 16 / Math.SQRT2, electrode: 690 },
      }),
    ).checks;
    // EN's beta_w grows with the grade, so the tensile strength is raised by more than beta_w.
    for (const c of checks) expect.soft(find(strong, c.id).ratio, c.id).toBeLessThanOrEqual(c.ratio + 1e-12);
  });

  it('the mirrored pull on the mirrored lug gives the same ratios', () => {
    const input = full(basis);
    const other = strengthChecks({
      ...input,
      load: { ...input.load, sideways: -input.load.sideways },
      offPlane: -input.offPlane,
    }).checks;
    for (const c of checks) expect.soft(find(other, c.id).ratio, c.id).toBeCloseTo(c.ratio, 6);
  });
});

describe('Redone by hand', () => {
  const asd = strengthChecks(sampleInput()).checks;

  it('AISC ASD, lug 35 mm, R 95, hole 54, pin 50, Fy 250, Fu 400', () => {
    const edge = 95 - 27;
    expect(find(asd, 'lug-tension').limit).toBeCloseTo((400 * 2 * 35 * (edge / 1.33)) / 2, 6);
    expect(find(asd, 'lug-shear').limit).toBeCloseTo((0.6 * 400 * 2 * 35 * (edge + 25)) / 2, 6);
    expect(find(asd, 'lug-bearing').limit).toBeCloseTo((1.8 * 250 * 50 * 35) / 2, 6);
    expect(find(asd, 'lug-gross').limit).toBeCloseTo((250 * 190 * 35) / 1.67, 6);
    expect(find(asd, 'lug-tension').demand).toBeCloseTo(Math.hypot(108_000, 18_000, 9000), 6);
  });

  it('the foot: 47.5 MPa against 250/1.67', () => {
    const c = find(asd, 'lug-foot');
    const sigma = 108_000 / (310 * 35) + (18_000 * 215 * 6) / (35 * 310 ** 2) + (9000 * 215 * 6) / (310 * 35 ** 2);
    const tau = Math.hypot(18_000, 9000) / (310 * 35);
    expect(c.demand).toBeCloseTo(Math.sqrt(sigma ** 2 + 3 * tau ** 2), 9);
    expect(c.limit).toBeCloseTo(250 / 1.67, 9);
  });

  it('the weld: rectangle of lines, worst corner from section moduli, against 0.60 x 490 x 16/sqrt2/2.00', () => {
    const [b, t] = [310, 35];
    const L = 2 * (b + t);
    const Sx = b * t + t ** 2 / 3; // about the long axis
    const Sy = b * t + b ** 2 / 3; // about the short axis
    const n = 108_000 / L + (18_000 * 215) / Sy + (9000 * 215) / Sx;
    const c = find(asd, 'weld');
    expect(c.demand).toBeCloseTo(Math.hypot(n, 18_000 / L, 9000 / L), 6);
    expect(c.limit).toBeCloseTo((0.6 * 490 * (16 / Math.SQRT2)) / 2, 9);
    expect(find(asd, 'shell-punching').demand).toBeCloseTo(n / 12, 6);
    expect(find(asd, 'shell-punching').limit).toBeCloseTo((0.6 * 235) / 1.5, 9);
  });

  it('the terms of each AISC pin check give back its limit', () => {
    const c = find(asd, 'lug-tension');
    expect(c.limit).toBeCloseTo(termOf(c, 'k') * termOf(c, 'F_u') * 2 * termOf(c, 't') * termOf(c, 'b_e'), 6);
    const s = find(asd, 'lug-shear');
    expect(s.limit).toBeCloseTo(
      termOf(s, 'k') * 0.6 * termOf(s, 'F_u') * 2 * termOf(s, 't') * (termOf(s, 'a') + termOf(s, 'd') / 2),
      6,
    );
  });

  // 4 t a side: b_eff of ASME BTH-1 3-3.3.1. Stress: AISC 360 eq. D5-1 with phi 0.75, Omega 2.00; EN 1993-1-1 6.2.1; BTH-1 eq. 3-47.
  it.each([
    ['aisc-360-asd', 400 / 2, /AISC 360 D5\.1\(a\), eq\. D5-1/],
    ['aisc-360-lrfd', 0.75 * 400, /AISC 360 D5\.1\(a\), eq\. D5-1/],
    ['en-1993', 250 / 1, /EN 1993-1-1 6\.2\.1/],
    ['bth-1', 400 / (1.2 * 3), /^ASME BTH-1 3-3\.3\.1/],
  ] as const)(
    'dishing, %s: 8 t^2 at the stress of the clause it names, and the stress is worked out',
    (basis, f, clause) => {
      const c = find(strengthChecks(sampleInput({ basis })).checks, 'lug-dishing');
      expect(c.limit).toBeCloseTo(8 * 35 ** 2 * f, 6);
      expect(termOf(c, 'f')).toBeCloseTo(f, 9);
      expect(c.source).toMatch(clause);
      expect(c.source).not.toMatch(/D2\(a\)/);
    },
  );

  it('cheek plates add to tension, shear and bearing; the ring weld carries their share', () => {
    const with2 = strengthChecks(full('aisc-360-asd')).checks;
    expect(find(with2, 'lug-bearing').limit).toBeCloseTo((1.8 * 250 * 50 * 55) / 2, 6);
    const c = find(with2, 'cheek-weld');
    const share = (Math.hypot(108_000, 18_000, 9000) * 10) / 55;
    expect(c.demand).toBeCloseTo(Math.hypot(share / (2 * Math.PI * 75), (share * 5) / (Math.PI * 75 ** 2)), 6);
  });

  it('EN: load factor 1.5 on strength, none on service load', () => {
    const en = strengthChecks(full('en-1993')).checks;
    const pull = Math.hypot(108_000, 18_000, 9000);
    expect(find(en, 'lug-bearing').demand).toBeCloseTo(1.5 * pull, 6);
    expect(find(en, 'lug-bearing-service').demand).toBeCloseTo(pull, 6);
    expect(find(en, 'shackle-wll').demand).toBeCloseTo(pull, 6);
    // One plate, no cheeks: the standard's own expression.
    const plain = strengthChecks(sampleInput({ basis: 'en-1993' })).checks;
    expect(find(plain, 'lug-end').demand).toBeCloseTo((1.5 * pull) / (2 * 35 * 250) + (2 * 54) / 3, 6);
    expect(find(plain, 'lug-side').demand).toBeCloseTo((1.5 * pull) / (2 * 35 * 250) + 54 / 3, 6);
  });
});

describe('Side load', () => {
  it('none given: 5 % is taken, to either side, and both toes come out alike', () => {
    const input = sampleInput({ load: { alongStem: 100_000, alongFoot: 0, sideways: 0 }, inPlane: 0, offPlane: 0 });
    const r = strengthChecks(input);
    expect(r.basis.load.sideways).toBeCloseTo(5000, 9);
    expect(find(r.checks, 'lug-foot').terms.find((t) => t.symbol === 'H')?.value).toBeCloseTo(5000, 9);
    const none = strengthChecks({
      ...input,
      factors: { sidewaysAllowance: { value: 0, reason: 'shut off', standing: 'choice' } },
    });
    const { utilisation } = none.weld;
    const { side } = input.root;
    const most = (k: number): number => Math.max(...Array.from(utilisation).filter((_, i) => side[i] === k));
    expect(most(0)).toBeCloseTo(most(2), 9);
    expect(most(1)).toBeCloseTo(most(3), 9);
  });

  it('more side load, more bending of the plate and more on the weld', () => {
    fc.assert(
      fc.property(fc.double({ min: 6000, max: 40_000, noNaN: true }), (h) => {
        const at = (sideways: number) => {
          const load = { alongStem: 100_000, alongFoot: 5000, sideways };
          return strengthChecks(sampleInput({ load })).checks;
        };
        const a = at(h);
        const b = at(h * 1.1);
        for (const id of ['lug-foot', 'weld', 'shell-punching'])
          expect(find(b, id).ratio).toBeGreaterThan(find(a, id).ratio);
      }),
      { seed: 77, numRuns: 8, verbose: true },
    );
  });

  it('a pull off the plane costs the shackle its share: 0 deg all, 10 deg 70 %', () => {
    const wll = 25 * 9806.65;
    expect(find(strengthChecks(sampleInput({ offPlane: 0 })).checks, 'shackle-wll').limit).toBeCloseTo(wll, 6);
    expect(find(strengthChecks(sampleInput({ offPlane: 0.1745 })).checks, 'shackle-wll').limit).toBeCloseTo(
      0.7 * wll,
      6,
    );
    expect(find(strengthChecks(sampleInput({ offPlane: 1.6 })).checks, 'shackle-wll').pass).toBe(false);
  });
});

describe('Weld along the root', () => {
  it('directional methods never give a higher ratio than the plain ones', () => {
    for (const basis of ['aisc-360-asd', 'aisc-360-lrfd', 'en-1993'] as const) {
      const plain = strengthChecks(sampleInput({ basis }));
      const input = sampleInput({ basis });
      const directed = strengthChecks({ ...input, weld: { ...input.weld, directional: true } });
      plain.weld.utilisation.forEach((u, i) => {
        // EN's second limit, 0.9 f_u, binds only near s_perp alone; the tolerance is round-off.
        expect.soft(directed.weld.utilisation[i], `${basis} ${i}`).toBeLessThanOrEqual(u * (1 + 1e-12));
      });
    }
  });

  it('a wet-weld factor of 0.8 raises the weld by a quarter and leaves the plate alone', () => {
    const input = sampleInput();
    const wet = strengthChecks({ ...input, weld: { ...input.weld, wet: { quality: 0.8, startStop: 1 } } }).checks;
    const dry = strengthChecks(input).checks;
    expect(find(wet, 'weld').ratio / find(dry, 'weld').ratio).toBeCloseTo(1.25, 12);
    expect(find(wet, 'lug-foot').ratio).toBe(find(dry, 'lug-foot').ratio);
  });

  it('a throat that differs along the root is taken where it stands', () => {
    const input = sampleInput();
    const n = input.root.s.length;
    const throat = new Float64Array(n).fill(12);
    const even = strengthChecks({ ...input, weld: { ...input.weld, throat } });
    const k = even.weld.worst.index;
    throat[k] = 6;
    const thin = strengthChecks({ ...input, weld: { ...input.weld, throat } });
    expect(thin.weld.worst.index).toBe(k);
    expect(find(thin.checks, 'weld').ratio).toBeCloseTo(2 * find(even.checks, 'weld').ratio, 9);
  });

  it('a finer root does not change the answer: straight pieces are exact', () => {
    const coarse = strengthChecks(sampleInput({ root: flatRoot(310, 35, 4) })).checks;
    const fine = strengthChecks(sampleInput({ root: flatRoot(310, 35, 200) })).checks;
    expect(find(coarse, 'weld').ratio).toBeCloseTo(find(fine, 'weld').ratio, 9);
  });
});

describe('Shell', () => {
  it('is a screening and says so', () => {
    const { checks } = strengthChecks(sampleInput());
    for (const id of ['shell-bending', 'shell-bending-clamped']) {
      expect(find(checks, id).screening).toBe(true);
      expect(find(checks, id).source).toContain('Screening only');
    }
    expect(checks.filter((c) => c.screening).length).toBe(2);
  });

  it('the middle of the panel is the worst place for free edges; a foot across a frame leaves its rest to the next panel', () => {
    const input = sampleInput();
    const mid = find(strengthChecks(input).checks, 'shell-bending');
    const off = find(strengthChecks({ ...input, panel: { ...input.panel, fromFrame: 60 } }).checks, 'shell-bending');
    expect(off.demand).toBeLessThan(mid.demand);
    expect(termOf(mid, 'share')).toBe(1);
    expect(termOf(off, 'share')).toBeLessThan(1);
  });

  it('the distances are those from the members of the panel that governs: mirrored fore and aft, they add to a spacing', () => {
    const input = sampleInput();
    const at = (fromFrame: number, alongFoot: number) => {
      const { checks } = strengthChecks({
        ...input,
        load: { alongStem: 100_000, alongFoot, sideways: 0 },
        panel: { ...input.panel, fromFrame },
      });
      return ['shell-bending', 'shell-bending-clamped'].map((id) => find(checks, id));
    };
    let crossed = 0;
    for (const [x, along] of [
      [40, 40_000],
      [40, -40_000],
      [130, 15_000],
    ] as const) {
      const [p, q] = [at(x, along), at(600 - x, -along)];
      p.forEach((check, i) => {
        const x0 = termOf(check, 'x_0');
        expect(x0 + termOf(q[i] as Check, 'x_0')).toBeCloseTo(600, 9);
        // The foot reaches into the panel named, and the greatest stress lies on that panel.
        expect(x0).toBeGreaterThan(-155);
        expect(x0).toBeLessThan(755);
        if (x0 !== x) crossed++;
        expect(termOf(check, 'x')).toBeGreaterThanOrEqual(0);
        expect(termOf(check, 'x')).toBeLessThanOrEqual(600);
      });
    }
    // Of a foot across a frame the panel abaft governs at least once: there the lug is a spacing farther on.
    expect(crossed).toBeGreaterThan(0);
  });

  it('each distance stands for itself: what is not given is said to be taken at mid-panel', () => {
    const input = sampleInput();
    const names = (behind: Partial<StrengthInput['panel']>) =>
      ['shell-bending', 'shell-bending-clamped'].flatMap((id) => {
        const { terms } = find(strengthChecks({ ...input, panel: { ...input.panel, ...behind } }).checks, id);
        return ['x_0', 'y_0'].map((s) => /taken at mid-panel/.test(terms.find((x) => x.symbol === s)?.name ?? ''));
      });
    expect(names({})).toEqual([true, true, true, true]);
    expect(names({ fromFrame: 300 })).toEqual([false, true, false, true]);
    expect(names({ fromLongitudinal: 350 })).toEqual([true, false, true, false]);
    expect(names({ fromFrame: 300, fromLongitudinal: 350 })).toEqual([false, false, false, false]);
  });

  it('a panel that reaches past the keel says so where its distance stands', () => {
    const input = sampleInput();
    const said = (fromKeel: number | undefined) => {
      const panel = { ...input.panel, fromLongitudinal: 350, ...(fromKeel === undefined ? {} : { fromKeel }) };
      const { terms } = find(strengthChecks({ ...input, panel }).checks, 'shell-bending');
      const y = terms.find((x) => x.symbol === 'y_0');
      return { past: /PAST THE KEEL/.test(y?.name ?? ''), y: y?.value ?? Number.NaN };
    };
    const { y } = said(undefined);
    expect(said(undefined).past).toBe(false);
    expect(said(y + 5).past).toBe(false);
    expect(said(y).past).toBe(false);
    expect(said(y - 5).past).toBe(true);
    expect(said(50).past).toBe(true);
  });

  it('a remedy says whether it would do', () => {
    const said = (k: number) => {
      const c = find(strengthChecks(scaled(sampleInput(), k)).checks, 'shell-bending');
      const [member, doubler] = [termOf(c, 'sigma_m'), termOf(c, 'sigma_d')].map((stress) => stress <= c.limit);
      const would = (passes: boolean | undefined) => (passes ? 'would pass' : 'would still be over the limit');
      expect(c.remedy.join('')).toMatch(new RegExp(`would come to .* and ${would(member)}.*and ${would(doubler)}`));
      return doubler;
    };
    // One and a half times the limit, which a doubler halves; and three times, which it does not bring under.
    const once = find(strengthChecks(sampleInput()).checks, 'shell-bending').ratio;
    expect([said(1.5 / once), said(3 / once)]).toEqual([true, false]);
  });

  it('stress goes with 1/t^2 and what is already in the shell is added', () => {
    const input = sampleInput();
    const at = (thickness: number, stressPresent = 0) =>
      find(
        strengthChecks({
          ...input,
          steel: { ...input.steel, shell: { ...input.steel.shell, thickness } },
          panel: { ...input.panel, stressPresent },
        }).checks,
        'shell-bending',
      ).demand;
    expect(at(12) / at(24)).toBeCloseTo(4, 9);
    expect(at(12, 50) - at(12)).toBeCloseTo(50, 9);
  });

  it('distance to the nearest frame', () => {
    expect(distanceToMember(9500, 600)).toBe(100);
    expect(distanceToMember(9700, 600)).toBe(-100);
    expect(distanceToMember(9600, 600)).toBe(0);
    expect(distanceToMember(250, 600, 200)).toBe(-50);
  });
});

describe('What is a rule of other lifts, or only good practice, is advice and no verdict', () => {
  it('hole clearance and jaw filling: advice by default, a check once the job sets the limit', () => {
    const plain = strengthChecks(sampleInput());
    expect(plain.advice.map((a) => a.id)).toEqual(['hole-clearance', 'jaw-filled']);
    expect(plain.advice.every((a) => a.source !== '' && !a.within)).toBe(true);
    expect(plain.checks.some((c) => c.id === 'hole-clearance')).toBe(false);
    const set = strengthChecks(sampleInput({ fitLimits: { holeClearanceShare: 0.1, jawFilledShare: 0.4 } }));
    expect(find(set.checks, 'hole-clearance').pass).toBe(true);
    expect(find(set.checks, 'jaw-filled').pass).toBe(true);
    expect(find(strengthChecks(sampleInput({ fitLimits: { jawFilledShare: 0.6 } })).checks, 'jaw-filled').pass).toBe(
      false,
    );
  });

  it('a plate wider than the jaw is not within, and is told that it does not go in', () => {
    const [wide, fits] = [28, 40].map((jaw) =>
      strengthChecks(sampleInput({ shackle: { wll: 25 * 9806.65, pin: 50, jaw } })),
    );
    const filled = wide?.advice.find((a) => a.id === 'jaw-filled');
    expect(filled).toMatchObject({ value: 35 / 28, within: false, usual: 1, source: 'Plain geometry' });
    expect(filled?.text.join('')).toContain('does not go between the jaws');
    expect(find(wide?.checks ?? [], 'shackle-jaw').pass).toBe(false);
    expect(fits?.advice.find((a) => a.id === 'jaw-filled')).toMatchObject({ value: 35 / 40, within: true });
    // With a limit of the job on the filling, the width of the jaw alone fails: no filling passes beside it.
    const own = sampleInput({ shackle: { wll: 25 * 9806.65, pin: 50, jaw: 28 }, fitLimits: { jawFilledShare: 0.6 } });
    expect(strengthChecks(own).checks.some((c) => c.id === 'jaw-filled')).toBe(false);
  });

  it('a hoist that hangs plumb is off it by nothing, and is not told to hang nearer to plumb', () => {
    const at = (fromPlumb: number) =>
      find(strengthChecks(sampleInput({ fromPlumb, hoist: { wll: 50_000 } })).checks, 'hoist-wll');
    const plumb = at(2e-8);
    expect(termOf(plumb, 'alpha')).toBe(0);
    expect(termOf(plumb, 'F_v')).toBe(plumb.demand);
    expect(plumb.remedy.join('')).not.toMatch(/plumb/);
    // cos 60 deg = 1/2: half the pull lifts.
    const aslant = at(Math.PI / 3);
    expect(termOf(aslant, 'F_v')).toBeCloseTo(aslant.demand / 2, 6);
    expect(aslant.remedy.join('')).toMatch(/nearer to plumb/);
  });

  it('BTH-1 rests on recalled coefficients: every plate and weld check says so', () => {
    for (const c of strengthChecks(sampleInput({ basis: 'bth-1' })).checks) {
      if (c.basis === 'bth-1') expect.soft(c.standing, c.id).toBe('not-verified');
    }
  });

  it('no shackle in the job: said, and the pin taken as 0.90 of the hole', () => {
    const { shackle: _, ...bare } = sampleInput();
    const r = strengthChecks(bare);
    expect(r.advice.some((a) => a.id === 'shackle-missing')).toBe(true);
    expect(find(r.checks, 'lug-bearing').terms.find((t) => t.symbol === 'd')?.value).toBeCloseTo(48.6, 9);
  });
});
