import { readdirSync, readFileSync } from 'node:fs';
import { Matrix4, Vector3 } from 'three';
import { describe, expect, test } from 'vitest';
import { rootAt } from '../../geometry/fit/rootline.ts';
import { shellFrom } from '../../geometry/hull/from.ts';
import { dot, sub } from '../../geometry/math/vec.ts';
import { sceneFromShip } from '../../src/app/scene/basis.ts';
import { headingOf, leanOf, leanStem, placeLug, swingPull, turnHeading } from '../../src/app/scene/handling.ts';
import { shipFromLug } from '../../src/app/scene/LugView.tsx';
import { rootPoints, ventOf, workAt } from '../../src/app/scene/marks.ts';
import type { Json } from '../../src/app/store/jsontext.ts';
import { setIn, valueIn } from '../../src/app/store/jsontext.ts';
import { planRequest } from '../../src/app/worker/answer.ts';
import { sharpEdges } from '../../src/app/worker/lugdrawing.ts';
import type { ShellPatch } from '../../src/app/worker/protocol.ts';

const read = (name: string) =>
  Object.fromEntries(readdirSync(`samples/${name}`).map((f) => [f, readFileSync(`samples/${name}/${f}`, 'utf8')]));
const names = readdirSync('samples').filter((f) => /^[a-z]/.test(f));

function planned(text: string, files: Record<string, string> = {}) {
  const reply = planRequest({ text, files, drawn: 0 }, '');
  if (reply.kind !== 'planned') throw new Error(JSON.stringify(reply));
  return reply;
}

describe.each(names)('the shell of %s', (name) => {
  const files = read(name);
  const reply = planned(files['job.json'] as string, files);
  const { drawing } = reply;
  if (drawing.kind !== 'drawn') throw new Error(`not drawn: ${JSON.stringify(drawing)}`);
  const shell = shellFrom(reply.plan.job.ship.hull);
  const { side } = (reply.plan.fittings[0] as (typeof reply.plan.fittings)[number]).anchor;

  test('lies on the shell, corner by corner', () => {
    const { near, origin } = drawing.drawing;
    for (let k = 0; k < near.positions.length / 3; k += 97) {
      const on = shell.pointAt(near.places[2 * k] as number, near.places[2 * k + 1] as number, side).position;
      for (let c = 0; c < 3; c++)
        expect((near.positions[3 * k + c] as number) + (origin[c] as number)).toBeCloseTo(on[c] as number, 1);
    }
  });

  test('keeps to the chord it states, near the lug', () => {
    expect(drawing.drawing.near.chord).toBeLessThan(1);
    expect(drawing.drawing.far.chord).toBeLessThan(60);
  });

  test.each(['near', 'far', 'other'] as const)('faces the water: %s', (part) => {
    const patch: ShellPatch = drawing.drawing[part];
    const at = (k: number): Vector3 => new Vector3().fromArray(patch.positions, 3 * k);
    let looked = 0;
    for (let t = 0; t < patch.index.length; t += 3) {
      const [a, b, c] = [patch.index[t], patch.index[t + 1], patch.index[t + 2]] as [number, number, number];
      const normal = at(b)
        .sub(at(a))
        .cross(at(c).sub(at(a)));
      if (normal.length() < 1) continue;
      normal.normalize();
      expect(normal.dot(new Vector3().fromArray(patch.normals, 3 * a))).toBeGreaterThan(0);
      looked++;
    }
    expect(looked).toBeGreaterThan(100);
  });

  test('is sent once for places close by', () => {
    const again = planRequest({ text: files['job.json'] as string, files, drawn: 0 }, drawing.drawing.key);
    expect(again.kind === 'planned' && again.drawing.kind).toBe('same');
  });
});

const first = read(names[0] as string)['job.json'] as string;
const fittingOf = (text: string) => {
  const f = planned(text).plan.fittings[0];
  if (f === undefined) throw new Error('no fitting');
  return f;
};

describe('the screen stands upright', () => {
  const { plan } = planned(first);
  const f = fittingOf(first);
  const matrix = sceneFromShip(plan.up, f.anchor.position);

  test('up in the water is up on the screen, port to the right of who looks aft', () => {
    const up = new Vector3(...plan.up).transformDirection(matrix);
    expect(up.distanceTo(new Vector3(0, 1, 0))).toBeLessThan(1e-12);
    expect(new Vector3(0, 1, 0).transformDirection(matrix).x).toBeGreaterThan(0.99);
    expect(new Vector3(1, 0, 0).transformDirection(matrix).z).toBeGreaterThan(0.99);
    expect(matrix.determinant()).toBeGreaterThan(0);
  });

  test('the place of the lug is the middle, a metre is a metre', () => {
    const p = f.anchor.position;
    expect(new Vector3(...p).applyMatrix4(matrix).length()).toBeLessThan(1e-9);
    expect(new Vector3(p[0] + 1000, p[1], p[2]).applyMatrix4(matrix).length()).toBeCloseTo(1, 12);
  });

  test('the pin of the drawn lug is where the plan has it', () => {
    const pin = new Vector3(0, f.input.lug.pinHeight, 0).applyMatrix4(shipFromLug(f.frame));
    expect(pin.distanceTo(new Vector3(...f.pin))).toBeLessThan(1e-9);
    expect(shipFromLug(f.frame).determinant()).toBeCloseTo(1, 9);
    expect(new Matrix4().copy(matrix).invert().determinant()).toBeGreaterThan(0);
  });
});

describe('a hand on the scene writes the job file', () => {
  const f = fittingOf(first);

  test('a lug set down elsewhere is planned there', () => {
    const girth = f.anchor.girth + 123;
    const text = placeLug(
      first,
      0,
      { station: f.anchor.station - 240, girth, point: f.anchor.position },
      f.input.at.by,
      'metric',
      false,
    );
    const moved = fittingOf(text);
    expect(moved.anchor.station).toBeCloseTo(f.anchor.station - 240, 6);
    expect(Math.abs(moved.anchor.girth - girth)).toBeLessThanOrEqual(0.5);
    // Held to whole steps of 10 mm.
    const snapped = placeLug(
      first,
      0,
      { station: 5003, girth: 1407, point: f.anchor.position },
      f.input.at.by,
      'metric',
      true,
    );
    expect(fittingOf(snapped).anchor.station).toBeCloseTo(5000, 6);
    expect(fittingOf(snapped).anchor.girth).toBeCloseTo(1410, 6);
  });

  test('a heading that is turned is the heading of the foot', () => {
    const text = turnHeading(first, 0, (30 * Math.PI) / 180, 'metric', true);
    const turned = fittingOf(text);
    expect(turned.input.heading).toBeCloseTo(Math.PI / 6, 12);
    // A foot square to the shell runs along the heading itself; the angle is read off the frame.
    const square = fittingOf(text.replace(/"stem":\s*"[a-z-]+"/, '"stem": "normal"'));
    expect(headingOf(square, square.frame.foot)).toBeCloseTo(Math.PI / 6, 9);
  });

  test.each([0, 40, 90, 135, -120])('a lean is the lean of the stem, heading %i', (heading) => {
    for (const lean of [-12, 0, 9]) {
      const turned = turnHeading(first, 0, (heading * Math.PI) / 180, 'metric', true);
      const leaned = fittingOf(leanStem(turned, 0, (lean * Math.PI) / 180, 'metric', true));
      expect((leanOf(leaned, leaned.frame.stem) * 180) / Math.PI).toBeCloseTo(lean, 6);
    }
  });

  test('a pull that is swung goes that way, the load no farther than it was', () => {
    const way = [0.3, 0.1, -Math.sqrt(1 - 0.1)] as const;
    const text = swingPull(first, 0, f, way, 'metric', false);
    const swung = fittingOf(text);
    expect(Math.acos(Math.min(1, dot(swung.load.direction, way)))).toBeLessThan(1e-3);
    const reach = (g: typeof f) => ('toward' in g.input.load ? Math.hypot(...sub(g.input.load.toward, g.pin)) : 1);
    expect(Math.abs(reach(swung) - reach(f))).toBeLessThan(2);
    const byDirection = text.replace(/"toward":\s*\[[^\]]*\]/, '"direction": [0, 0, -1]');
    const again = fittingOf(swingPull(byDirection, 0, fittingOf(byDirection), way, 'metric', false));
    expect(Math.acos(Math.min(1, dot(again.load.direction, way)))).toBeLessThan(2e-3);
  });

  test('figures stay in the unit they were written in', () => {
    const before = valueIn(JSON.parse(first) as Json, ['fittings', 0, 'at', 'station']);
    const text = placeLug(first, 0, { station: 6100, girth: 2000, point: [0, 0, 0] }, f.input.at.by, 'metric', true);
    const after = valueIn(JSON.parse(text) as Json, ['fittings', 0, 'at', 'station']);
    expect(String(before)).toMatch(/ m$/);
    expect(after).toBe('6.1 m');
  });
});

describe('the order of runs, as it is played', () => {
  const f = fittingOf(first);
  const { runs } = f.sequence;

  test('each run from its start to its end', () => {
    runs.forEach((r, i) => {
      expect(workAt(runs, i)).toMatchObject({ run: r, s: r.fromS });
      expect(workAt(runs, i + 0.5).s).toBeCloseTo((r.fromS + r.toS) / 2, 9);
      const points = rootPoints(f, r.fromS, r.toS, 0);
      expect(points.length).toBeGreaterThan(1);
    });
    expect(workAt(runs, runs.length).run).toBeUndefined();
  });

  test('gas comes out no lower than it was freed', () => {
    const { up } = planned(first).plan;
    const height = (s: number) => dot(rootAt(f.root, s).position, up);
    const { elements } = f.sequence;
    let looked = 0;
    for (let e = 0; e < elements.count; e++) {
      const s = ((elements.s0[e] as number) + (elements.s1[e] as number)) / 2;
      const vent = ventOf(f, s);
      if (vent === undefined) continue;
      // A path of steepest ascent ends no lower than it began; 0.1 mm for its steps.
      expect(height(vent)).toBeGreaterThan(height(s) - 0.1);
      looked++;
    }
    expect(looked).toBeGreaterThan(10);
  });
});

// A box has twelve edges, each sharp: plain geometry.
test('sharp edges of a box are its twelve', () => {
  const p = [0, 0, 0, 1, 0, 0, 1, 1, 0, 0, 1, 0, 0, 0, 1, 1, 0, 1, 1, 1, 1, 0, 1, 1];
  const quads = [
    [0, 3, 2, 1],
    [4, 5, 6, 7],
    [0, 1, 5, 4],
    [1, 2, 6, 5],
    [2, 3, 7, 6],
    [3, 0, 4, 7],
  ] as const;
  const triangles = quads.flatMap(([a, b, c, d]) => [a, b, c, a, c, d]);
  expect(sharpEdges(p, triangles).length).toBe(12 * 6);
});

test('a pull that is mended by the turn the plan gives lies in the plane of the lug', () => {
  // A shoulder tall enough for the foot that the turned lug asks for.
  const sideways = setIn(read('e-pulled-sideways')['job.json'] as string, ['fittings', 0, 'lug', 'shoulder'], '90 mm');
  const f = fittingOf(sideways);
  const { heading } = f.corrections;
  expect(heading.found).toBe(true);
  if (!heading.found) return;
  const mended = fittingOf(turnHeading(sideways, 0, f.input.heading + heading.angle, 'metric', 'exact'));
  // The heading is written to a tenth of a degree.
  expect(Math.abs(mended.load.offPlane)).toBeLessThan(0.2 * (Math.PI / 180));
  expect(Math.abs(f.load.offPlane)).toBeGreaterThan(5 * (Math.PI / 180));
});
