import { segmentPieces, splinePieces } from './curve.ts';
import { LoftShell, loftSections } from './loft.ts';
import { MeshShell } from './mesh.ts';
import { offsetSections } from './offsets.ts';
import { PrismaticShell } from './prismatic.ts';
import { ReadingsShell } from './readings.ts';
import type { Shell } from './shell.ts';
import type { HullSpec } from './spec.ts';

/** How each kind of hull becomes a shell. A new kind is one line here and one file beside it. */
const KINDS: { readonly [K in HullSpec['kind']]: (spec: Extract<HullSpec, { kind: K }>) => Shell } = {
  segments: (spec) =>
    new PrismaticShell(segmentPieces(spec), [['One section of lines and arcs stands for the hull at every station.']]),
  spline: (spec) =>
    new PrismaticShell(splinePieces(spec.points), [
      [
        'One section through ',
        { count: spec.points.length },
        ' points, smooth between knuckles, stands for the hull at every station.',
      ],
    ]),
  sections: (spec) =>
    new LoftShell(loftSections(spec.sections), [
      [
        'Between the ',
        { count: spec.sections.length },
        ' sections the shell is a smooth surface through them, knuckles joined in order from the keel outward. Nothing else is known of it there.',
      ],
    ]),
  offsets: (spec) => {
    const { sections, notes } = offsetSections(spec);
    return new LoftShell(sections, notes);
  },
  readings: (spec) => new ReadingsShell(spec),
  mesh: (spec) => new MeshShell(spec),
};

/** The shell of a hull. Throws `Refusal` (field `hull...`) where the data makes no surface. */
export function shellFrom(spec: HullSpec): Shell {
  const make = KINDS[spec.kind] as (spec: HullSpec) => Shell;
  return make(spec);
}
