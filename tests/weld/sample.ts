import { defaultWeldSettings } from '../../src/weld/settings.ts';
import type { WeldPlanInput } from '../../src/weld/weldPlan.ts';

const degrees = Math.PI / 180;

/** A plumb lug of 38 mm plate and a 300 mm foot under a bottom that rises 20 degrees: invented, in the trade's usual sizes. */
export function plumbLug(change: Partial<WeldPlanInput> = {}): WeldPlanInput {
  const side = (name: 'face-' | 'end+' | 'face+' | 'end-', fromS: number, toS: number, angle: number) => ({
    side: name,
    fromS,
    toS,
    dihedral: angle * degrees,
    dihedralMin: angle * degrees,
    dihedralMax: angle * degrees,
    opening: 0.8,
  });
  return {
    sides: [
      side('face-', 0, 300, 70),
      side('end+', 300, 340, 90),
      side('face+', 340, 640, 110),
      side('end-', 640, 680, 90),
    ],
    leg: 16,
    fitGap: 1.6,
    recutGap: 4.8,
    // From the lowest place on the acute side, up by both ends, closing on the obtuse side.
    rootRuns: [
      { fromS: 150, toS: 20 },
      { fromS: 150, toS: 280 },
      { fromS: 20, toS: -60 },
      { fromS: 280, toS: 360 },
      { fromS: 360, toS: 490 },
      { fromS: 620, toS: 490 },
    ],
    // Level, as far as what goes downhill is asked.
    profile: { s: [0, 680], height: [0, 0] },
    runLength: 150,
    lug: { thickness: 38, yield: 250 },
    shell: { thickness: 12, yield: 250, carbon: { kind: 'given', value: 0.38 } },
    electrode: { kind: 'nickel', diameter: 2.4, length: 350 },
    positions: [
      { aws: '4F', length: 600 },
      { aws: '2F', length: 80 },
    ],
    practice: 'metric',
    firstBead: 'shell',
    bottomTime: 60,
    settings: defaultWeldSettings(),
    ...change,
  };
}
