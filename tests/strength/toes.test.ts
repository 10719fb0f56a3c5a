import { describe, expect, it } from 'vitest';
import type { Vec3 } from '../../geometry/math/vec.ts';
import { showPhrase } from '../../src/job/show.ts';
import type { StrengthInput } from '../../src/strength/input.ts';
import { strengthChecks } from '../../src/strength/strengthChecks.ts';
import { sampleInput } from './lug.ts';

const noAllowance = { sidewaysAllowance: { value: 0, reason: 'shut off', standing: 'choice' } } as const;
const [b, t] = [310, 35];
const L = 2 * (b + t);
// Section moduli of a rectangle of lines (Blodgett; Unsworth Table 9.1: bd + d^2/3).
const aboutLong = b * t + t ** 2 / 3;
const aboutShort = b * t + b ** 2 / 3;
const toesOf = (input: StrengthInput) => strengthChecks(input).toes;

describe('Which toe goes first', () => {
  it('no sideways part, no allowance: the two toes of an end go together, and none of it is owed to the side', () => {
    const { toes, overNext, sidewaysShare, text } = toesOf(
      sampleInput({ load: { alongStem: 108_000, alongFoot: 18_000, sideways: 0 }, offPlane: 0, factors: noAllowance }),
    );
    expect(overNext).toBe(0);
    expect(sidewaysShare).toBeCloseTo(0, 12);
    // Pulled towards +A at the pin, the foot is lifted at its other end.
    expect([toes[0]?.corner, toes[1]?.corner].sort()).toEqual(['end-/face-', 'face+/end-']);
    expect(text.join('')).toContain('go together');
  });

  it('by hand: rectangle of lines, pull, bending in the plane and across it', () => {
    const load = { alongStem: 108_000, alongFoot: 18_000, sideways: 9000 };
    const toes = toesOf(sampleInput({ load, factors: noAllowance }));
    const [pull, along, across] = [108_000 / L, (18_000 * 215) / aboutShort, (9000 * 215) / aboutLong];
    const shear = Math.hypot(18_000 / L, 9000 / L);
    expect(toes.withSideways).toBeCloseTo(Math.hypot(pull + along + across, shear), 6);
    expect(toes.withoutSideways).toBeCloseTo(Math.hypot(pull + along, 18_000 / L), 6);
    expect(toes.sidewaysShare).toBeCloseTo(1 - toes.withoutSideways / toes.withSideways, 12);
    const at = (i: number, j: number) => Math.hypot(pull + i * along + j * across, shear);
    const forces = [at(1, 1), at(1, -1), at(-1, 1), at(-1, -1)].sort((p, q) => q - p);
    toes.toes.forEach((toe, i) => {
      expect(toe.force).toBeCloseTo(forces[i] as number, 6);
    });
    expect(toes.overNext).toBeCloseTo((forces[0] as number) / (forces[1] as number) - 1, 9);
  });

  it('the mirrored pull moves it to the mirrored toe', () => {
    const first = (sideways: number) =>
      toesOf(sampleInput({ load: { alongStem: 108_000, alongFoot: 18_000, sideways } })).toes[0]?.corner;
    // The pull leans towards +C, so the weld on face-, away from it, is the one that is pulled.
    expect([first(9000), first(-9000)]).toEqual(['end-/face-', 'face+/end-']);
  });

  it('turning lug, shell and pull together changes nothing', () => {
    // A turn about (1, 1, 1)/sqrt3 by 120 degrees sends x to y, y to z, z to x.
    const turned = ([x, y, z]: Vec3): Vec3 => [z, x, y];
    const list = (xs: Float64Array) => {
      const out = new Float64Array(xs.length);
      for (let i = 0; i < xs.length; i += 3)
        out.set(turned([xs[i] as number, xs[i + 1] as number, xs[i + 2] as number]), i);
      return out;
    };
    const input = sampleInput();
    const { root, frame, panel } = input;
    const other: StrengthInput = {
      ...input,
      pin: turned(input.pin),
      frame: { foot: turned(frame.foot), stem: turned(frame.stem), face: turned(frame.face) },
      root: {
        ...root,
        position: list(root.position),
        normal: list(root.normal),
        quadrature: { position: list(root.quadrature.position), weight: root.quadrature.weight },
      },
      panel: {
        ...panel,
        anchor: turned(panel.anchor),
        normal: turned(panel.normal),
        fore: turned(panel.fore),
        girth: turned(panel.girth),
      },
    };
    const [p, q] = [strengthChecks(input), strengthChecks(other)];
    expect(q.toes.toes.map((toe) => toe.corner)).toEqual(p.toes.toes.map((toe) => toe.corner));
    expect(q.toes.withSideways).toBeCloseTo(p.toes.withSideways, 9);
    p.checks.forEach((c, i) => {
      expect(q.checks[i]?.ratio, c.id).toBeCloseTo(c.ratio, 9);
    });
    p.methods.methods.forEach((m, i) => {
      expect(q.methods.methods[i]?.ratio, m.id).toBeCloseTo(m.ratio, 9);
    });
  });
});

describe('What would help the shell', () => {
  const input = sampleInput();

  it('a doubler as thick as the shell halves it: two plates of one stiffness share the moment', () => {
    for (const gain of strengthChecks(input).shell.gains) expect(gain.doubled).toBeCloseTo(gain.stress / 2, 9);
  });

  it('the bare plate that a remedy names passes, a millimetre less does not', () => {
    const load = { alongStem: 300_000, alongFoot: 40_000, sideways: 20_000 };
    const at = (thickness: number) =>
      strengthChecks({
        ...input,
        load,
        steel: { ...input.steel, shell: { ...input.steel.shell, thickness } },
      }).checks.find((c) => c.id === 'shell-bending');
    const now = at(input.steel.shell.thickness);
    expect(now?.pass).toBe(false);
    const named = Number(/about (\d+) mm of plate/.exec(showPhrase(now?.remedy ?? [], 'metric'))?.[1]);
    expect(at(named)?.pass).toBe(true);
    expect(at(named - 1)?.pass).toBe(false);
  });

  it('over the member along the foot: what the check gives for a lug that stands there', () => {
    // The foot runs fore and aft, so the member is a longitudinal.
    const heavy = { alongStem: 300_000, alongFoot: 40_000, sideways: 20_000 };
    const { shell } = strengthChecks({ ...input, load: heavy });
    expect(shell.member).toBe('longitudinal');
    const moved = strengthChecks({ ...input, load: heavy, panel: { ...input.panel, fromLongitudinal: 0 } }).shell;
    shell.gains.forEach((gain, i) => {
      expect(gain.overMember).toBeCloseTo(moved.gains[i]?.stress ?? Number.NaN, 9);
      expect(gain.overMember).toBeLessThan(gain.stress);
    });
  });

  it('a lug across a frame stands on two panels: mirrored fore and aft, the same', () => {
    const load = { alongStem: 100_000, alongFoot: 15_000, sideways: 0 };
    const at = (fromFrame: number, alongFoot: number) =>
      strengthChecks({
        ...input,
        load: { ...load, alongFoot },
        inPlane: Math.atan2(alongFoot, load.alongStem),
        panel: { ...input.panel, fromFrame, fromLongitudinal: 300 },
      }).shell.gains.map((gain) => gain.stress);
    const [p, q] = [at(40, 15_000), at(560, -15_000)];
    p.forEach((stress, i) => {
      expect(Math.abs(stress / (q[i] as number) - 1)).toBeLessThan(1e-6);
    });
  });

  it('the engineer’s part is said with it', () => {
    expect(strengthChecks(input).shell.stillToDo).toContain('The engineer has still to judge');
  });
});
