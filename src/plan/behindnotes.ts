import type { Phrase } from '../../geometry/phrase.ts';
import { quoted } from '../job/shown.ts';
import type { Fitting, Job } from '../job/types.ts';
import { behindAt, type Place } from './structure.ts';

/** A fitting as far as the words need it. */
export interface PlacedFitting {
  readonly id: string;
  readonly input: Fitting;
  readonly anchor: Place;
}

/**
 * mm. Distances that disagree by no more than this may be a tape's error: common practice, no source.
 */
const TAPE = 10;

type Member = 'frame' | 'longitudinal';

/**
 * Where what the fittings say of the members behind them cannot all be true: two fittings whose distances to a member do not go with
 * the way between them and the spacing (frames by station; longitudinals by girth, on one side of the ship), or one whose distance does
 * not go with the members that the ship's structure lists. In words, to be said with the plan; nothing is refused. Plain geometry.
 */
export function behindNotes(job: Job, fittings: readonly PlacedFitting[]): Phrase[] {
  const notes: Phrase[] = [];
  for (const member of ['frame', 'longitudinal'] as const) {
    const listed = (job.ship.structure?.[member === 'frame' ? 'frames' : 'longitudinals'] ?? []).length > 0;
    fittings.forEach((one, k) => {
      if (listed) notes.push(...againstStructure(job, one, member));
      else for (const other of fittings.slice(k + 1)) notes.push(...againstEachOther(job, one, other, member));
    });
  }
  return notes;
}

const saidOf = ({ input }: PlacedFitting, member: Member): number | undefined =>
  member === 'frame' ? input.behind?.fromFrame : input.behind?.fromLongitudinal;

/** mm from the nearest whole number of spacings, without sign. */
const offGrid = (x: number, spacing: number): number => Math.abs(x - spacing * Math.round(x / spacing));

function againstEachOther(job: Job, one: PlacedFitting, other: PlacedFitting, member: Member): Phrase[] {
  const [a, b] = [saidOf(one, member), saidOf(other, member)];
  if (a === undefined || b === undefined) return [];
  if (member === 'longitudinal' && one.anchor.side !== other.anchor.side) return [];
  const spacing = member === 'frame' ? job.steel.frameSpacing : job.steel.longitudinalSpacing;
  const apart = member === 'frame' ? other.anchor.station - one.anchor.station : other.anchor.girth - one.anchor.girth;
  const out = offGrid(apart - (b - a), spacing);
  if (out <= TAPE) return [];
  return [
    [
      `Fittings ${quoted(one.id)} and ${quoted(other.id)} do not agree on the ${member}s behind them: they are said to stand `,
      { mm: a },
      ' and ',
      { mm: b },
      ` from a ${member} and lie `,
      { mm: Math.abs(apart) },
      member === 'frame' ? ' apart along the ship' : ' apart round the girth',
      `, with a ${member} every `,
      { mm: spacing },
      ': that is ',
      { mm: out },
      ' out. Measure again; the shell checks of both rest on it.',
    ],
  ];
}

function againstStructure(job: Job, one: PlacedFitting, member: Member): Phrase[] {
  const said = saidOf(one, member);
  if (said === undefined) return [];
  const { behind: _, ...bare } = one.input;
  const by = behindAt(job, bare, one.anchor);
  const listed = member === 'frame' ? by.fromFrame : by.fromLongitudinal;
  if (listed === undefined) return [];
  const out = offGrid(said - listed, member === 'frame' ? by.frameSpacing : by.longitudinalSpacing);
  if (out <= TAPE) return [];
  return [
    [
      `Fitting ${quoted(one.id)} is said to stand `,
      { mm: said },
      ` from a ${member}; by the ${member}s of the ship's structure it stands `,
      { mm: listed },
      " from one. The fitting's own figure is used. Measure again; its shell checks rest on it.",
    ],
  ];
}
