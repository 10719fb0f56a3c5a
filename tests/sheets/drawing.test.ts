import { describe, expect, test } from 'vitest';
import { offsetPath } from '../../src/sheets/cut.ts';
import { arcOf, boundsOf, flattened, polylineOf, Sheet } from '../../src/sheets/drawing.ts';

/* The drawing model against plain geometry: closed forms in the assertions. */

describe('arcs by their bulge', () => {
  test('a quarter turn to the left from (1, 0) to (0, 1) is the unit circle about the origin', () => {
    const arc = arcOf({ x: 1, y: 0, bulge: Math.tan(Math.PI / 8) }, { x: 0, y: 1 });
    expect(arc.centre.x).toBeCloseTo(0, 12);
    expect(arc.centre.y).toBeCloseTo(0, 12);
    expect(arc.radius).toBeCloseTo(1, 12);
    expect(arc.sweep).toBeCloseTo(Math.PI / 2, 12);
  });

  test('three quarters of a turn have the same circle the other way round', () => {
    const arc = arcOf({ x: 1, y: 0, bulge: -Math.tan((3 * Math.PI) / 8) }, { x: 0, y: 1 });
    expect(arc.centre.x).toBeCloseTo(0, 12);
    expect(arc.centre.y).toBeCloseTo(0, 12);
    expect(arc.radius).toBeCloseTo(1, 12);
    expect(arc.sweep).toBeCloseTo(-1.5 * Math.PI, 12);
  });

  test('chords stay within what is asked, and every point is on the circle', () => {
    const points = polylineOf(
      [
        { x: 50, y: 0, bulge: 1 },
        { x: -50, y: 0 },
      ],
      false,
      0.01,
    );
    points.forEach((p, i) => {
      expect(Math.hypot(p.x, p.y)).toBeCloseTo(50, 9);
      const q = points[i + 1];
      if (q !== undefined) expect(50 - Math.hypot((p.x + q.x) / 2, (p.y + q.y) / 2)).toBeLessThan(0.01);
    });
  });

  test('the box of a half circle reaches its top', () => {
    const sheet = new Sheet(0, 0);
    sheet.path(
      [
        { x: 50, y: 0, bulge: 1 },
        { x: -50, y: 0 },
      ],
      { width: 1 },
      'X',
      true,
    );
    const box = boundsOf(sheet.items);
    expect(box.y1).toBeCloseTo(50, 1);
    expect([box.x0, box.x1, box.y0]).toEqual([-50, 50, 0]);
  });
});

test('windows move what is in them', () => {
  const sheet = new Sheet(0, 0);
  sheet.line(0, 0, 1, 0);
  const moved = flattened([
    { kind: 'window', dx: 5, dy: 7, clip: { x: 0, y: 0, width: 1, height: 1 }, items: sheet.items },
  ]);
  expect(moved[0]).toMatchObject({
    points: [
      { x: 5, y: 7 },
      { x: 6, y: 7 },
    ],
  });
});

test('a line beside a path with a step in it keeps its distance from either side and stays over the step', () => {
  const path = offsetPath(
    [
      { x: 0, y: 0 },
      { x: 10, y: 0 },
      { x: 10, y: 0.1 },
      { x: 20, y: 0.1 },
    ],
    3,
  );
  expect(path).toEqual([
    { x: 0, y: 3 },
    { x: 10, y: 3 },
    { x: 10, y: 3.1 },
    { x: 20, y: 3.1 },
  ]);
});

test('a line beside a bent path keeps its distance from both legs', () => {
  const path = offsetPath(
    [
      { x: 0, y: 0 },
      { x: 10, y: 0 },
      { x: 20, y: 10 },
    ],
    3,
  );
  expect(path[0]).toEqual({ x: 0, y: 3 });
  const [p, q] = [path[1], path[2]] as { x: number; y: number }[];
  if (p === undefined || q === undefined) throw new Error('no offset');
  expect(p.y).toBeCloseTo(3, 12);
  // Distance of the corner from the second leg, the line y = x - 10.
  expect(Math.abs(p.x - p.y - 10) / Math.SQRT2).toBeCloseTo(3, 12);
  expect(Math.abs(q.x - q.y - 10) / Math.SQRT2).toBeCloseTo(3, 12);
});
