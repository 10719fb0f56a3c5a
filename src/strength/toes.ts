import type { Phrase } from '../../geometry/phrase.ts';
import type { Case } from './case.ts';
import { at, pullOf, type WeldUse } from './checks-weld.ts';
import { lineForceAt, loadWeldBed } from './weldgroup.ts';

/** The sides of the root in its order, as everything here calls them. */
const SIDE_NAMES = ['face-', 'end+', 'face+', 'end-'] as const;

/** A corner of the foot, where two toes of the weld meet. */
export interface Toe {
  readonly corner: string;
  /** The worse of its two samples: index into the root, place along it (mm) and side (0..3). */
  readonly index: number;
  readonly s: number;
  readonly side: number;
  /** N/mm, and its share of the weld's limit there: under the sense of the sideways allowance that is worse for this toe. */
  readonly force: number;
  readonly utilisation: number;
}

/** Which toe goes first, by how much, and how much of it the sideways part of the pull makes. */
export interface ToeVerdict {
  /** The four corners, the one that goes first in front. */
  readonly toes: readonly Toe[];
  /** Share by which the first lies over the next, 0 where they go together. */
  readonly overNext: number;
  /** N/mm at the first, with the sideways part and with none. */
  readonly withSideways: number;
  readonly withoutSideways: number;
  /** Share of its line force that is owed to the sideways part alone; below 0 where that part eases it. */
  readonly sidewaysShare: number;
  readonly text: Phrase;
}

/** Toes closer than this, as a share, go together: round-off of a symmetric weld. */
const TOGETHER = 1e-9;

/**
 * Sorts the corners by the use of the weld at their samples (each under the sense of the sideways allowance that is worse for it), the last of one side and the first of the next. Under a linear line
 * force a straight side is worst at an end; where the shell curves so that a place between is worse, the text says so.
 */
export function toeVerdict(c: Case, use: WeldUse): ToeVerdict {
  const { root, pin } = c.input;
  const n = root.s.length;
  const worst: number[] = [];
  for (let k = 0; k < n; k++) {
    const before = (k + n - 1) % n;
    if (root.side[k] === root.side[before]) continue;
    const more = (use.utilisation[before] as number) > (use.utilisation[k] as number) ? before : k;
    worst[root.side[k] as number] = more;
  }
  // The sense in which the weld is used more at a sample: each toe has its own.
  const size = (k: number): number => {
    const worse = use.senses.reduce((p, q) => ((q.utilisation[k] as number) > (p.utilisation[k] as number) ? q : p));
    return Math.hypot(...at(worse.lineForce, k));
  };
  const toes = worst
    .map((index, corner): Toe => {
      const before = SIDE_NAMES[(corner + 3) % 4] as string;
      const after = SIDE_NAMES[corner] as string;
      return {
        corner: `${before}/${after}`,
        index,
        s: root.s[index] as number,
        side: root.side[index] as number,
        force: size(index),
        utilisation: use.utilisation[index] as number,
      };
    })
    .sort((p, q) => q.utilisation - p.utilisation);
  const [first, next] = toes as unknown as [Toe, Toe];
  const between = (use.utilisation[use.worst.index] as number) > first.utilisation * (1 + TOGETHER);
  const over = next.utilisation > 0 ? first.utilisation / next.utilisation - 1 : 0;
  const overNext = over > TOGETHER ? over : 0;
  const alone = loadWeldBed(c.prepared.bed, pullOf(c, 0), pin);
  const withoutSideways = Math.hypot(...lineForceAt(alone, at(root.position, first.index)));
  const sidewaysShare = first.force > 0 ? 1 - withoutSideways / first.force : 0;
  return {
    toes,
    overNext,
    withSideways: first.force,
    withoutSideways,
    sidewaysShare,
    text: [
      ...inWords(c, first, next, overNext, withoutSideways, sidewaysShare),
      ...(between
        ? [
            ' The weld is used still more between corners, ',
            { mm: use.worst.s },
            ' along the root from the corner face-/end-, by way of face-.',
          ]
        : []),
    ],
  };
}

/** Share by which one toe is over the next, below which they are told to go together: half a per cent. */
const TOLD = 0.005;

function inWords(c: Case, first: Toe, next: Toe, over: number, without: number, share: number): Phrase {
  const who: Phrase =
    over >= TOLD
      ? [
          `The toe at ${first.corner} goes first, `,
          { newtonPerMm: first.force, digits: 0 },
          ', ',
          { share: over, digits: 0 },
          ` over the next, ${next.corner}.`,
        ]
      : [`The toes at ${first.corner} and ${next.corner} go together, `, { newtonPerMm: first.force, digits: 0 }, '.'];
  const allowance = c.load.allowanceGoverns
    ? ' (the allowance, which may act to either side: each toe has the worse of the two)'
    : '';
  const owed: Phrase =
    share > 0
      ? [
          ' ',
          { share, digits: 0 },
          ` of it is owed to the sideways part alone${allowance}: with no sideways part at all `,
          { newtonPerMm: without, digits: 0 },
          '.',
        ]
      : [
          ' The sideways part takes nothing more from it: with no sideways part at all ',
          { newtonPerMm: without, digits: 0 },
          '.',
        ];
  return [...who, ...owed];
}
