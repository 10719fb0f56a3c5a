import { type Behind, type BehindKind, type FromFrame, framesAbout } from './behind.ts';
import type { Context } from './context.ts';
import { shopLength } from './figures.ts';
import type { FlatFoot } from './flatten.ts';
import type { Flow } from './flow.ts';
import { behindOf } from './markout-drawing.ts';
import { roundWords } from './markout-ways.ts';
import { plainText } from './text.ts';

/** The place from the frames about it, by name; a line to write in where the job names none. */
export function fromFramePairs({ plan, fitting }: Context, tape: (mm: number) => string): [string, string][] {
  const { abaft, fore } = framesAbout(plan, fitting);
  const words = [abaft, fore].flatMap((frame) => (frame === undefined ? [] : [frameWords(frame, tape)]));
  if (words.length === 0) {
    const taken = fitting.input.behind?.fromFrame;
    const place =
      taken === undefined
        ? '______ forward of it'
        : `${taken < 0.05 ? 'over it' : `${tape(taken)} forward of it`}, as the job has it`;
    return [['From frame no. ____ (write in)', `O is ${place}; found by ______`]];
  }
  return [['From the frames', `O is ${words.join(', ')}; found by ______`]];
}

/** `240.0 mm forward of frame 12`. */
export function frameWords({ name, along, onShell }: FromFrame, tape: (mm: number) => string): string {
  const named = plainText(name);
  if (Math.abs(along) < 0.05) return `at ${named}`;
  const way = along > 0 ? 'forward of' : 'abaft';
  return `${tape(Math.abs(along))} ${way} ${named}${onShell ? '' : ' (along the ship, not the shell)'}`;
}

/** mm. Two tapes to the same frame differ by less. */
const SAME_FRAME = 25;

/** Where the job says one thing of the frame abaft the place beside the fitting and another in the ship's structure. */
export function quarrelWith({ plan, fitting }: Context, tape: (mm: number) => string): string | undefined {
  const { abaft } = framesAbout(plan, fitting);
  const taken = fitting.input.behind?.fromFrame;
  if (abaft === undefined || taken === undefined || Math.abs(taken - abaft.along) <= SAME_FRAME) return undefined;
  return `THE JOB SAYS TWO THINGS: ${plainText(abaft.name)} is ${tape(abaft.along)} abaft O by its station, the calculation takes a frame ${tape(taken)} abaft. Find out which is true.`;
}

/** `frame 12`, whether the job calls it `12` or `frame 12`. */
export function named({ kind, name }: Behind): string {
  const plain = plainText(name);
  return plain.toLowerCase().startsWith(kind) ? plain : `${kind} ${plain}`;
}

/** Of each kind as many as may matter: all that come into the clean metal, and the nearest few beside them. */
const NEAREST = 3;

/** What is behind and on the plating with its distances, and a column for what is found; nothing where the job names nothing. */
export function behindTable(flow: Flow, context: Context, flat: FlatFoot): void {
  const { display } = context.plan.job;
  const say = (mm: number) => shopLength(mm, display);
  const ways = roundWords(context.fitting);
  const counts = new Map<BehindKind, number>();
  const rows = behindOf(context, flat).filter(({ kind, crosses }) => {
    const n = (counts.get(kind) ?? 0) + 1;
    counts.set(kind, n);
    return crosses !== null || n <= NEAREST;
  });
  const { structure } = context.plan.job.ship;
  if (structure === undefined) return;
  if (rows.length === 0) {
    flow.paragraph('Of what the job names behind and on the plating, nothing lies within reach of the place.');
    return;
  }
  // As the plan's own checks have it: nothing in a zone, a new weld off an old one by what the job asks for.
  const room = context.plan.job.limits.seamClear ?? 0;
  const alarming = ({ kind, crosses, clear }: Behind) =>
    (kind === 'seam' && (crosses === 'footprint' || crosses === 'weld' || clear < room)) ||
    (kind === 'keep clear' && clear <= 0);
  if (rows.some(alarming)) {
    const names = rows.filter(alarming).map((row) => (row.kind === 'seam' ? named(row) : plainText(row.name)));
    flow.paragraph(`IN THE WAY: ${names.join(', ')}. Move the lug, or the engineer agrees in writing.`, { bold: true });
  }
  const off = (mm: number | undefined, forward: string, back: string) =>
    mm === undefined ? '' : Math.abs(mm) < 0.05 ? 'at O' : `${say(Math.abs(mm))} ${mm >= 0 ? forward : back}`;
  flow.table(
    [
      { title: 'As the job has it', share: 2.2 },
      { title: 'along from O', share: 1.85, align: 'right' },
      { title: 'round from O', share: 1.85, align: 'right' },
      { title: 'from the weld toes', share: 1.9 },
      { title: 'found', share: 1.2 },
    ],
    rows.map((row) => [
      `${row.kind === 'keep clear' ? `keep clear of ${plainText(row.name)}, ${say(row.radius)} about it` : named(row)}`,
      row.kind === 'longitudinal' ? '' : off(row.along, 'fwd', 'aft'),
      row.kind === 'frame' ? '' : off(row.round, ways.out, ways.in),
      row.crosses === null
        ? `${say(row.clear)} clear`
        : row.crosses === 'clean zone'
          ? `${say(row.clear)}: IN THE CLEAN METAL`
          : `CROSSES THE ${row.crosses.toUpperCase()}`,
      '',
    ]),
    { rowHeight: 8.4, boldRow: (r) => alarming(rows[r] as Behind) },
  );
}
