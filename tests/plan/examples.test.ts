import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { readJob } from '../../src/job/read.ts';
import { planJob } from '../../src/plan/plan.ts';

/**
 * Two jobs with figures computed by an independent program from the written conventions (dense sampling, a general linear
 * programme solver, a general root finder). Agreement: positions and gaps 0.05 mm, angles 0.05 degrees, forces 0.1 %.
 */
const folder = new URL('../../../shared/examples/', import.meta.url);
const deg = (rad: number) => (rad * 180) / Math.PI;
const MM = 0.05;
const DEG = 0.05;

describe.skipIf(!existsSync(folder))('independent examples', () => {
  for (const name of ['heron', 'tern']) {
    const text = existsSync(folder) ? readFileSync(new URL(`${name}.job.json`, folder), 'utf8') : '';
    const expected = existsSync(folder)
      ? JSON.parse(readFileSync(new URL(`${name}.expected.json`, folder), 'utf8'))
      : [];
    test(name, () => {
      const job = readJob(text, () => undefined);
      if (!job.ok) throw new Error(JSON.stringify(job.faults));
      const plan = planJob(job.job);
      const off: string[] = [];
      const near = (what: string, got: number, want: number, tolerance: number) => {
        if (!(Math.abs(got - want) <= tolerance)) off.push(`${what}: ${got}, expected ${want}`);
      };
      const nearVec = (what: string, got: readonly number[], want: readonly number[], tolerance: number) =>
        want.forEach((w, i) => {
          near(`${what}[${i}]`, got[i] as number, w, tolerance);
        });
      plan.fittings.forEach((f, i) => {
        const e = expected[i];
        expect(f.id).toBe(e.id);
        nearVec('anchor', f.anchor.position, e.anchorMm, MM);
        nearVec('normal', f.anchor.normal, e.hullNormal, 1e-6);
        nearVec('foot', f.frame.foot, e.frame.foot, 1e-6);
        nearVec('stem', f.frame.stem, e.frame.stem, 1e-6);
        nearVec('face', f.frame.face, e.frame.face, 1e-6);
        near('slope', deg(f.slope), e.slopeDeg, DEG);
        near('bevel min', deg(f.bevel.min), e.bevel.minDeg, DEG);
        near('bevel max', deg(f.bevel.max), e.bevel.maxDeg, DEG);
        near('straight gap', f.fit.straight.maxGap, e.fit.straightCut.maxGapMm, MM);
        near('straight bevel', deg(f.fit.straight.bevel), e.fit.straightCut.bevelDeg, DEG);
        near('straight slope', deg(f.fit.straight.footSlope), e.fit.straightCut.footSlopeDeg, DEG);
        near('scribed gap', f.fit.scribed.maxGap, e.fit.scribedCut.maxGapMm, MM);
        expect(f.fit.faceted.facets.length).toBe(e.fit.facetCount);
        near('perimeter', f.joint.perimeter, e.joint.perimeterMm, MM);
        near('dihedral min', deg(f.joint.dihedral.min), e.joint.dihedral.minDeg, DEG);
        near('dihedral max', deg(f.joint.dihedral.max), e.joint.dihedral.maxDeg, DEG);
        near('lowest', f.joint.lowest.height, e.joint.lowest.heightMm, MM);
        near('highest', f.joint.highest.height, e.joint.highest.heightMm, MM);
        near('stem reading', deg(f.readings.stemFromPlumb), e.readings.stemFromPlumbDeg, DEG);
        near('face reading', deg(f.readings.faceFromPlumb), e.readings.faceFromPlumbDeg, DEG);
        near('off plane', deg(f.load.offPlane), e.load.offPlaneDeg, DEG);
        near('in plane', deg(f.load.inPlane), e.load.inPlaneDeg, DEG);
        const F = f.load.force / 1000;
        near('along stem', f.load.alongStem / 1000, e.load.alongStemKn, 1e-3 * F);
        near('along foot', f.load.alongFoot / 1000, e.load.alongFootKn, 1e-3 * F);
        near('sideways', f.load.sideways / 1000, e.load.sidewaysKn, 1e-3 * F);
        near('weld length', f.strength.weldGroup.length, e.strength.weldGroup.lengthMm, MM);
        const worst = e.strength.weldGroup.worst.forceNPerMm;
        near('weld worst', f.strength.weldGroup.worst.force, worst, 1e-3 * worst);
        for (const [k, w] of e.weldSides.entries()) {
          const got = f.weld.sides[k];
          expect(got?.side).toBe(w.side);
          near(`${w.side} dihedral`, deg(got?.dihedral ?? 0), w.dihedralDeg, DEG);
          near(`${w.side} throat`, got?.throat ?? 0, w.throatMm, MM);
          near(`${w.side} leg`, got?.legAlongPlate ?? 0, w.legAlongPlateMm, MM);
          near(`${w.side} square`, got?.legSquare ?? 0, w.legSquareMm, MM);
          near(`${w.side} area`, got?.area ?? 0, w.areaMm2, 1e-3 * w.areaMm2);
        }
      });
      expect(off).toEqual([]);
    });
  }
});
