import { describe, expect, it } from 'vitest';
import { ringWeldLineForce, shareByThickness } from '../../src/strength/cheek.ts';
import { dishingForce } from '../../src/strength/dishing.ts';
import {
  type LugOutline,
  reachAlong,
  sectionStress,
  tangentDirection,
  widthAt,
  worstNeck,
} from '../../src/strength/lugsection.ts';
import { reachToShell, roomInBow } from '../../src/strength/shackle.ts';

const lug: LugOutline = { foot: 310, thickness: 35, pinHeight: 215, hole: 54, topRadius: 95, shoulder: 50 };

describe('Outline of the lug, plane geometry', () => {
  it('width is the foot up to the shoulder, touches the arc, and ends at the top', () => {
    expect(widthAt(lug, 0)).toBe(310);
    expect(widthAt(lug, 50)).toBe(310);
    expect(widthAt(lug, 50.001)).toBeCloseTo(310, 1);
    const phi = tangentDirection(lug);
    const y = 215 + 95 * Math.sin(phi);
    expect(widthAt(lug, y)).toBeCloseTo(2 * 95 * Math.cos(phi), 9);
    expect(widthAt(lug, 215 + 95)).toBe(0);
    // The tangent is square to the radius at the point where it touches.
    const touch = [95 * Math.cos(phi), y] as const;
    const along = [touch[0] - 155, touch[1] - 50] as const;
    expect(along[0] * Math.cos(phi) + along[1] * Math.sin(phi)).toBeCloseTo(0, 9);
  });

  it('a lug of straight sides (foot = 2R): width 2R all the way to the pin', () => {
    const straight = { ...lug, foot: 190 };
    expect(widthAt(straight, 120)).toBeCloseTo(190, 9);
    expect(widthAt(straight, 215)).toBeCloseTo(190, 9);
  });

  it('reach from the pin: R over the top, foot/2 square across a straight lug, the pin height straight down', () => {
    expect(reachAlong(lug, 0)).toBe(95);
    expect(reachAlong({ ...lug, foot: 190 }, Math.PI / 2)).toBeCloseTo(95, 9);
    expect(reachAlong(lug, Math.PI)).toBeCloseTo(215, 9);
  });

  it('reach marched along the direction meets the width there', () => {
    for (let k = 0; k <= 60; k++) {
      const theta = -Math.PI + (k * Math.PI) / 30;
      const r = reachAlong(lug, theta);
      const b = 215 + r * Math.cos(theta);
      const x = Math.abs(r * Math.sin(theta));
      if (b > 1e-6) expect.soft(x, `theta ${theta}`).toBeCloseTo(widthAt(lug, b) / 2, 5);
      else expect.soft(x).toBeLessThanOrEqual(155);
    }
  });
});

describe('Elastic stress on a section, closed form', () => {
  it('P/A, M/S in both planes, V/A, and their sum after von Mises', () => {
    const s = sectionStress({ alongStem: -90_000, alongFoot: 20_000, sideways: -5000 }, 200, 300, 30);
    expect(s.direct).toBeCloseTo(90_000 / 9000, 12);
    expect(s.inPlane).toBeCloseTo((20_000 * 200) / ((30 * 300 ** 2) / 6), 12);
    expect(s.outOfPlane).toBeCloseTo((5000 * 200) / ((300 * 30 ** 2) / 6), 12);
    expect(s.shear).toBeCloseTo(Math.hypot(20_000, 5000) / 9000, 12);
    expect(s.equivalent).toBeCloseTo(Math.sqrt((s.direct + s.inPlane + s.outOfPlane) ** 2 + 3 * s.shear ** 2), 12);
  });

  it('no side force, no bending across', () => {
    expect(sectionStress({ alongStem: 1000, alongFoot: 0, sideways: 0 }, 200, 300, 30).outOfPlane).toBe(0);
  });

  it('a plain pull on a tapering lug: the neck below the hole is the worst place', () => {
    const neck = worstNeck(lug, { alongStem: 100_000, alongFoot: 0, sideways: 0 });
    expect(neck.height).toBeCloseTo(215 - 27, 9);
    expect(neck.stress.equivalent).toBeCloseTo(100_000 / (widthAt(lug, 188) * 35), 9);
  });

  it('a straight lug under a side load: the shoulder, for the arm is longest there', () => {
    expect(worstNeck({ ...lug, foot: 190 }, { alongStem: 0, alongFoot: 0, sideways: 5000 }).height).toBe(50);
  });
});

describe('Cheek plates and dishing', () => {
  it('shares by thickness add up to the pull', () => {
    const [lugShare, a, b] = shareByThickness(110_000, [30, 10, 15]) as [number, number, number];
    expect(lugShare + a + b).toBeCloseTo(110_000, 9);
    expect(lugShare).toBeCloseTo(60_000, 9);
    expect(b / a).toBeCloseTo(1.5, 12);
  });

  it('ring weld: thin cheek gives F/(2 pi r); the half-thickness moment adds square to it', () => {
    expect(ringWeldLineForce(20_000, 75, 0)).toBeCloseTo(20_000 / (2 * Math.PI * 75), 12);
    const v = 20_000 / (2 * Math.PI * 75);
    const m = (20_000 * 5) / (Math.PI * 75 ** 2);
    expect(ringWeldLineForce(20_000, 75, 10)).toBeCloseTo(Math.hypot(v, m), 12);
  });

  it('dishing force grows with the square of the thickness', () => {
    expect(dishingForce(20, 200)).toBe(2 * 20 * 80 * 200);
    expect(dishingForce(40, 200) / dishingForce(20, 200)).toBe(4);
  });
});

describe('Room for the shackle', () => {
  it('a bow 178 mm long on R = 95, hole 54: 110 mm of room along the stem; less where the pull leans to the taper', () => {
    expect(roomInBow(lug, 0, 178)).toBeCloseTo(178 - (95 - 27), 9);
    expect(roomInBow(lug, 1.4, 178)).toBeLessThan(roomInBow(lug, 0, 178));
  });
  it('a bow that stands along the stem does not reach towards the shell; across it its half breadth does', () => {
    const size = { pin: 50, bar: 45, bowWidth: 126 };
    expect(reachToShell(0, size, 178)).toBe(0);
    expect(reachToShell(Math.PI / 2, size, 178)).toBeCloseTo(63 + 45, 9);
    expect(reachToShell(Math.PI, size, 178)).toBeCloseTo(25 + 178 + 45, 9);
  });
});
