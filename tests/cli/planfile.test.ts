import { describe, expect, test } from 'vitest';
import { plainFitting, plainJob } from '../job/jobs.ts';
import { runJob } from './system.ts';

/*
 * The plan file against its description: the keys that are promised, and relations between its figures that hold by
 * definition (right-handed unit frames, a root line that closes, ratios that are demand over limit).
 */

type Shape = string | { readonly [key: string]: Shape } | readonly [Shape];

/** `number`, `text`, `bool`, `vector`; a list of one shape; a group of shapes. `number?` may be null. */
const FITTING: Shape = {
  id: 'text',
  anchorMm: 'vector',
  hullNormal: 'vector',
  frame: { foot: 'vector', stem: 'vector', face: 'vector' },
  slopeDeg: 'number',
  bevel: {
    minDeg: 'number',
    maxDeg: 'number',
    schedule: [{ aMm: 'number', faceMinusMm: 'number', facePlusMm: 'number', bevelDeg: 'number' }],
  },
  fit: {
    straightCut: { maxGapMm: 'number', maxRootOpeningMm: 'number', bevelDeg: 'number', footSlopeDeg: 'number' },
    facetedCut: {
      maxGapMm: 'number',
      facets: [{ fromAMm: 'number', toAMm: 'number', bevelDeg: 'number', footSlopeDeg: 'number' }],
    },
    scribedCut: { maxGapMm: 'number', maxRootOpeningMm: 'number' },
    toleranceMm: 'number',
    verdict: 'text',
  },
  joint: {
    perimeterMm: 'number',
    dihedral: { minDeg: 'number', maxDeg: 'number' },
    lowest: { sMm: 'number', heightMm: 'number' },
    highest: { sMm: 'number', heightMm: 'number' },
    points: [
      {
        sMm: 'number',
        side: 'text',
        positionMm: 'vector',
        heightMm: 'number',
        dihedralDeg: 'number',
        axisInclinationDeg: 'number',
        faceRotationDeg: 'number?',
        position: { aws: 'text', iso: 'text' },
      },
    ],
  },
  readings: { stemFromPlumbDeg: 'number', faceFromPlumbDeg: 'number' },
  load: {
    offPlaneDeg: 'number',
    inPlaneDeg: 'number',
    alongStemKn: 'number',
    alongFootKn: 'number',
    sidewaysKn: 'number',
  },
  sequence: {
    start: { sMm: 'number', side: 'text' },
    finish: { sMm: 'number', side: 'text' },
    root: [
      {
        run: 'number',
        fromSMm: 'number',
        toSMm: 'number',
        side: 'text',
        travel: 'text',
        ventSMm: 'number?',
        ventOpen: 'bool',
      },
    ],
    sealedLengthMm: 'number',
  },
  strength: { weldGroup: { lengthMm: 'number', worst: { sMm: 'number', side: 'text', forceNPerMm: 'number' } } },
  weld: {
    sides: [
      {
        side: 'text',
        dihedralDeg: 'number',
        throatMm: 'number',
        legAlongPlateMm: 'number',
        legSquareMm: 'number',
        addedForGapMm: 'number',
        areaMm2: 'number',
        layers: 'number',
        beads: 'number',
      },
    ],
    depositKg: 'number',
    featheredKg: 'number',
    electrodes: 'number',
    arcMin: 'number',
    dives: 'number',
  },
  checks: [
    {
      id: 'text',
      title: 'text',
      demand: 'number',
      limit: 'number',
      unit: 'text',
      ratio: 'number',
      pass: 'bool',
      basis: 'text',
      source: 'text',
    },
  ],
};

function misfits(value: unknown, shape: Shape, path: string): string[] {
  if (typeof shape === 'string') {
    const isNumber = typeof value === 'number' && Number.isFinite(value);
    const fine: Readonly<Record<string, boolean>> = {
      number: isNumber,
      'number?': isNumber || value === null,
      text: typeof value === 'string' && value !== '',
      bool: typeof value === 'boolean',
      vector: Array.isArray(value) && value.length === 3 && value.every((x) => typeof x === 'number'),
    };
    return fine[shape] === true ? [] : [`${path} is no ${shape}`];
  }
  if (Array.isArray(shape)) {
    if (!Array.isArray(value) || value.length === 0) return [`${path} is no list`];
    return value.flatMap((item, i) => misfits(item, (shape as readonly [Shape])[0], `${path}[${i}]`));
  }
  if (typeof value !== 'object' || value === null) return [`${path} is no group`];
  return Object.entries(shape).flatMap(([key, inner]) =>
    misfits((value as Record<string, unknown>)[key], inner as Shape, `${path}.${key}`),
  );
}

/** Every null in the file, by key. */
function nulls(value: unknown, key = ''): string[] {
  if (value === null) return [key];
  if (Array.isArray(value)) return value.flatMap((item) => nulls(item, key));
  if (typeof value !== 'object') return [];
  return Object.entries(value).flatMap(([k, v]) => nulls(v, k));
}

type V = readonly [number, number, number];
const dot = (p: V, q: V) => p[0] * q[0] + p[1] * q[1] + p[2] * q[2];
const cross = (p: V, q: V): V => [p[1] * q[2] - p[2] * q[1], p[2] * q[0] - p[0] * q[2], p[0] * q[1] - p[1] * q[0]];
const minus = (p: V, q: V): V => [p[0] - q[0], p[1] - q[1], p[2] - q[2]];

async function plannedFile() {
  const job = plainJob();
  job.fittings.push({
    ...plainFitting('B'),
    at: { station: '12 m', side: 'starboard', height: '0.2 m' },
    stem: { lean: '3 deg' },
    heading: '90 deg',
    load: { direction: [0.02, -0.3, -1], force: '45 kN' },
  });
  const { out, status } = await runJob(job, ['--json']);
  expect([0, 1]).toContain(status);
  return { job, file: JSON.parse(out) };
}

describe('the plan file', async () => {
  const { file } = await plannedFile();

  test('holds every key that is promised, each of its kind', () => {
    expect(file.format).toBe('lugwright.plan');
    expect(file.version).toBe(1);
    expect(file.title).toBe('Grating off, lighter Plover');
    expect(file.fittings.map((f: { id: string }) => f.id)).toEqual(['A', 'B']);
    for (const fitting of file.fittings) expect(misfits(fitting, FITTING, fitting.id)).toEqual([]);
  });

  test('has null only where a figure does not exist', () => {
    const may = ['faceRotationDeg', 'ventSMm', 'headingDeg', 'leanDeg', 'trap', 'lift'];
    expect(nulls(file).filter((key) => !may.includes(key))).toEqual([]);
  });

  test('frames are right-handed and of unit length, and the slope lies between stem and normal', () => {
    for (const { frame, hullNormal, slopeDeg } of file.fittings) {
      for (const v of [frame.foot, frame.stem, frame.face, hullNormal]) expect(dot(v, v)).toBeCloseTo(1, 12);
      expect(dot(cross(frame.foot, frame.stem), frame.face)).toBeCloseTo(1, 12);
      expect(Math.cos((slopeDeg * Math.PI) / 180)).toBeCloseTo(dot(frame.stem, hullNormal), 12);
    }
  });

  test('forces are the parts of the pull, and the angles are theirs', () => {
    for (const { load } of file.fittings) {
      const { alongStemKn, alongFootKn, sidewaysKn, forceKn, offPlaneDeg, inPlaneDeg } = load;
      expect(Math.hypot(alongStemKn, alongFootKn, sidewaysKn)).toBeCloseTo(forceKn, 9);
      expect(Math.sin((offPlaneDeg * Math.PI) / 180)).toBeCloseTo(sidewaysKn / forceKn, 12);
      expect(Math.tan((inPlaneDeg * Math.PI) / 180)).toBeCloseTo(alongFootKn / alongStemKn, 9);
    }
    expect(file.fittings.map((f: { load: { forceKn: number } }) => f.load.forceKn)).toEqual([60, 45]);
  });

  test('root points close the line, no farther apart than 10 mm, at the heights of their places', () => {
    for (const { joint } of file.fittings) {
      const { points, perimeterMm } = joint;
      let before = 0;
      for (const point of points) {
        expect(point.sMm - before).toBeLessThanOrEqual(10 + 1e-9);
        expect(point.sMm).toBeGreaterThanOrEqual(before);
        before = point.sMm;
        expect(dot(point.positionMm, file.up)).toBeCloseTo(point.heightMm, 6);
      }
      expect(perimeterMm - before).toBeLessThanOrEqual(10 + 1e-9);
      const sides: string[] = points.map((p: { side: string }) => p.side);
      const order = sides.filter((side, i) => side !== sides[i - 1]);
      expect(order).toEqual(['face-', 'end+', 'face+', 'end-']);
      const ends = minus(points[0].positionMm, points.at(-1).positionMm);
      expect(Math.sqrt(dot(ends, ends))).toBeLessThanOrEqual(10 + 1e-9);
    }
  });

  test('the runs of the root cover the perimeter once', () => {
    for (const { sequence, joint } of file.fittings) {
      const spans: [number, number][] = sequence.root.map((run: { fromSMm: number; toSMm: number }) =>
        run.fromSMm < run.toSMm ? [run.fromSMm, run.toSMm] : [run.toSMm, run.fromSMm],
      );
      spans.sort((p, q) => p[0] - q[0]);
      let total = 0;
      spans.forEach(([from, to], i) => {
        total += to - from;
        const next = spans[i + 1]?.[0] ?? (spans[0]?.[0] ?? 0) + joint.perimeterMm;
        expect(next).toBeCloseTo(to, 6);
        expect(to).toBeGreaterThan(from);
      });
      expect(total).toBeCloseTo(joint.perimeterMm, 6);
      expect(sequence.root.map((run: { run: number }) => run.run)).toEqual(spans.map((_, i) => i + 1));
      // s = 0 and s = perimeter are one place.
      const apart = (p: number, q: number) => Math.abs(p - q) % joint.perimeterMm;
      expect(apart(sequence.start.sMm, sequence.root[0].fromSMm)).toBe(0);
      expect(apart(sequence.finish.sMm, sequence.root.at(-1).toSMm)).toBe(0);
    }
  });

  test('legs and areas follow from throat and dihedral angle', () => {
    // Plain geometry of a fillet with throat t and dihedral psi: t / cos(psi/2), 2 t sin(psi/2), t^2 tan(psi/2).
    for (const { weld } of file.fittings) {
      for (const side of weld.sides) {
        const half = (side.dihedralDeg * Math.PI) / 360;
        expect(side.throatMm).toBeCloseTo(14 / Math.SQRT2, 9);
        expect(side.legAlongPlateMm).toBeCloseTo(side.throatMm / Math.cos(half), 9);
        expect(side.legSquareMm - side.addedForGapMm).toBeCloseTo(2 * side.throatMm * Math.sin(half), 9);
        expect(side.areaMm2).toBeCloseTo(side.throatMm ** 2 * Math.tan(half), 9);
      }
    }
  });

  test('a check is its own working: ratio is demand over limit, pass is ratio at most 1', () => {
    for (const { checks } of file.fittings) {
      for (const { demand, limit, ratio, pass, source } of checks) {
        expect(ratio).toBeCloseTo(demand / limit, 9);
        expect(pass).toBe(ratio <= 1);
        expect(source.length).toBeGreaterThan(5);
      }
    }
    const all = file.fittings.every((f: { checks: { pass: boolean }[] }) => f.checks.every((c) => c.pass));
    expect(file.pass).toBe(all);
  });

  test('defaults stand in it with their reasons', () => {
    const paths = file.assumptions.map((a: { path: string }) => a.path);
    expect(paths).toContain('steel.shell.thickness');
    for (const { reason, standing } of file.assumptions) expect(reason && standing).toBeTruthy();
  });
});
