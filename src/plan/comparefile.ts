import { showPhrase } from '../job/show.ts';
import type { Display } from '../job/types.ts';
import type { SourceComparison } from './comparison.ts';
import { degrees, finite } from './filefigures.ts';

/** `compare` of the plan file: differences are other source less the hull planned on, along the stem, outward positive. */
export function compareFile(compare: readonly SourceComparison[], display: Display) {
  return compare.map(({ name, fittings }) => ({
    name,
    fittings: fittings.map((f) => {
      if (!f.reached) return { id: f.id, reached: false as const, words: showPhrase(f.words, display) };
      const { found, errors } = f;
      return {
        id: f.id,
        reached: true as const,
        offsetMm: finite(found.offset),
        footSlopeDeg: degrees(found.footSlope),
        bevelDeg: degrees(found.bevel),
        differenceMm: { min: finite(found.least), max: finite(found.most), rms: finite(found.rms) },
        shapeMm: finite(found.shape),
        gapAsPlannedMm: finite(found.gapOwn),
        gapOnItMm: finite(found.gapOther),
        placeMm: finite(found.place),
        normalDeg: degrees(found.normal),
        standardDeviation: {
          offsetMm: finite(errors.offset),
          footSlopeDeg: degrees(errors.footSlope),
          bevelDeg: degrees(errors.bevel),
        },
        agreement: f.agreement,
        cut: f.cut,
        along: found.along.map((at) => ({
          aMm: finite(at.a),
          differenceMm: finite(at.difference),
          bevelOwnDeg: degrees(at.bevelOwn),
          bevelOtherDeg: degrees(at.bevelOther),
        })),
        words: showPhrase(f.words, display),
      };
    }),
  }));
}
