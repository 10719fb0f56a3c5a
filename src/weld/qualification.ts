import type { AwsFilletPosition } from './position.ts';
import { degrees, type Sourced } from './sourced.ts';

/** Test plates that each welder-diver welds at the site before any job. */
export const SITE_TESTS: Sourced<readonly AwsFilletPosition[]> = {
  value: ['3F', '4F'],
  source:
    'common practice, no source: a vertical and an overhead fillet test plate at the site, broken and examined; a second failure means full requalification',
  standing: 'common-practice',
};

/** How true a test plate must stand, rad. */
export const TEST_PLATE_TOLERANCE: Sourced<{ readonly horizontal: number; readonly vertical: number }> = {
  value: { horizontal: degrees(15), vertical: degrees(5) },
  source:
    'welding-position slides after ASME QW-120: 15 degrees on horizontal planes, 5 degrees on vertical and inclined ones',
  standing: 'source',
};

export interface TestPlate {
  readonly aws: AwsFilletPosition;
  /** `site`: asked of every job; `joint`: asked by points of this joint. */
  readonly asked: readonly ('site' | 'joint')[];
  /** mm of root in this position. */
  readonly length: number;
}

const ORDER: readonly AwsFilletPosition[] = ['1F', '2F', '3F', '4F'];

/**
 * Fillet test plates the diver welds before the job: the site's own, and one for each position met along the root.
 * Common practice, no source: no position is taken to cover another; the qualified procedure may.
 *
 * @param stretches positions along the root with the length (mm) welded in each.
 */
export function testPlates(
  stretches: readonly { readonly aws: AwsFilletPosition; readonly length: number }[],
): readonly TestPlate[] {
  return ORDER.flatMap((aws) => {
    const here = stretches.filter((stretch) => stretch.aws === aws);
    const asked: ('site' | 'joint')[] = [];
    if (SITE_TESTS.value.includes(aws)) asked.push('site');
    if (here.length > 0) asked.push('joint');
    if (asked.length === 0) return [];
    return [{ aws, asked, length: here.reduce((sum, stretch) => sum + stretch.length, 0) }];
  });
}

export type HoldName = 'fit-up' | 'root' | 'finished';

export interface HoldPoint {
  readonly hold: HoldName;
  readonly before: string;
  readonly seen: string;
}

/** Hold points in order: work stops until someone has looked and agreed. Common practice, no source. */
export const HOLD_POINTS: readonly HoldPoint[] = [
  { hold: 'fit-up', before: 'the root', seen: 'fit-up seen and accepted' },
  { hold: 'root', before: 'the hot pass', seen: 'root seen and accepted' },
  { hold: 'finished', before: 'any load', seen: 'finished weld seen and accepted' },
];
