import type { HullSide, Shell } from '../../geometry/hull/shell.ts';
import type { Phrase } from '../../geometry/phrase.ts';
import { unlessRefused } from '../../geometry/refusal.ts';
import type { ShellSpot, Structure } from '../job/structuretypes.ts';
import type { Fitting, Job } from '../job/types.ts';

/** A place on one side of the shell, mm. */
export interface Place {
  readonly station: number;
  readonly girth: number;
  readonly side: HullSide;
}

/** Where a fitting stands on the shell. Throws `Refusal` where that is off the data. */
export function placeOfFitting({ at }: Fitting, shell: Shell): Place {
  const girth = at.by === 'girth' ? at.value : shell.girthAt(at.station, at.by, at.value, at.side);
  return { station: at.station, girth, side: at.side };
}

/** The panel behind a place, mm: the way to the frame abaft and to the longitudinal inboard are absent where nobody knows. */
export interface Behind {
  readonly frameSpacing: number;
  readonly longitudinalSpacing: number;
  readonly fromFrame?: number;
  readonly fromLongitudinal?: number;
}

/**
 * What is behind the shell where a fitting stands: as the fitting's own field says, else as the ship's structure does, else the spacings
 * alone. `place`: of the fitting's anchor.
 */
export function behindAt(job: Job, fitting: Fitting, place: Place): Behind {
  const { structure } = job.ship;
  const { frameSpacing, longitudinalSpacing } = job.steel;
  const given = fitting.behind ?? {};
  const frames = (structure?.frames ?? []).map((f) => f.station);
  const longitudinals = (structure?.longitudinals ?? [])
    .filter((l) => l.side === undefined || l.side === place.side)
    .filter((l) => (l.from ?? -Infinity) <= place.station && place.station <= (l.to ?? Infinity))
    .map((l) => l.girth);
  const alongShip = given.fromFrame === undefined ? between(frames, place.station, frameSpacing) : undefined;
  const round =
    given.fromLongitudinal === undefined ? between(longitudinals, place.girth, longitudinalSpacing) : undefined;
  const fromFrame = given.fromFrame ?? alongShip?.from;
  const fromLongitudinal = given.fromLongitudinal ?? round?.from;
  return {
    frameSpacing: alongShip?.spacing ?? frameSpacing,
    longitudinalSpacing: round?.spacing ?? longitudinalSpacing,
    ...(fromFrame === undefined ? {} : { fromFrame }),
    ...(fromLongitudinal === undefined ? {} : { fromLongitudinal }),
  };
}

/**
 * How far past the member before it x stands, and how far that is from the next one; where one of the two is not known the spacing
 * tells where it should be, and where x is farther from the known one than that, nothing is known.
 */
function between(
  members: readonly number[],
  x: number,
  spacing: number,
): { readonly from: number; readonly spacing: number } | undefined {
  let before = Number.NEGATIVE_INFINITY;
  let after = Number.POSITIVE_INFINITY;
  for (const at of members) {
    if (at <= x) before = Math.max(before, at);
    else after = Math.min(after, at);
  }
  if (Number.isFinite(before) && Number.isFinite(after)) return { from: x - before, spacing: after - before };
  if (Number.isFinite(before) && x - before < spacing) return { from: x - before, spacing };
  if (Number.isFinite(after) && after - x < spacing) return { from: spacing - (after - x), spacing };
  return undefined;
}

/** The fitting with what its own field says is behind it, after it was moved from one place to another; members evenly spaced. */
export function movedBehind(job: Job, fitting: Fitting, from: Place, to: Place): Fitting {
  const { behind } = fitting;
  if (behind === undefined) return fitting;
  const past = (x: number, spacing: number): number => ((x % spacing) + spacing) % spacing;
  const { frameSpacing, longitudinalSpacing } = job.steel;
  return {
    ...fitting,
    behind: {
      ...behind,
      ...(behind.fromFrame === undefined
        ? {}
        : { fromFrame: past(behind.fromFrame + to.station - from.station, frameSpacing) }),
      ...(behind.fromLongitudinal === undefined
        ? {}
        : { fromLongitudinal: past(behind.fromLongitudinal + to.girth - from.girth, longitudinalSpacing) }),
    },
  };
}

/** A seam or a zone to keep clear of, laid on the shell. */
export interface Trace {
  readonly kind: 'keep-clear' | 'seam';
  readonly name: string;
  /** mm round its line within which nothing may be welded; 0 for a seam, whose room is a limit of the job. */
  readonly radius: number;
  /** Its line in straight pieces, six numbers each (from, to), ship axes, mm: on both sides of the ship where the job names none. */
  readonly pieces: Float64Array;
}

export interface Traces {
  readonly traces: readonly Trace[];
  /** What lies off the hull's data, wholly or in part, to be said with the plan. */
  readonly notes: readonly Phrase[];
}

const NO_TRACES: Traces = { traces: [], notes: [] };

/** mm. Points of a line on the shell are not farther apart than this. */
const SPACING = 40;
/** A line of more pieces than this gets longer ones. */
const MOST_PIECES = 1000;

/** Structures laid on a shell last, by what they say: a job that is read again is the same one in other objects. */
const laid = new WeakMap<Shell, Map<string, Traces>>();
const KEPT = 4;
const asked = new WeakMap<Structure, { readonly shell: Shell; readonly traces: Traces }>();

/** Seams and keep-clear zones of the ship's structure on its shell; kept, so that replanning does not lay them anew. */
export function tracesOn(shell: Shell, structure: Structure | undefined): Traces {
  if (structure === undefined) return NO_TRACES;
  const { seams, keepClear } = structure;
  if (seams.length === 0 && keepClear.length === 0) return NO_TRACES;
  const before = asked.get(structure);
  if (before?.shell === shell) return before.traces;
  const kept = laid.get(shell) ?? new Map<string, Traces>();
  laid.set(shell, kept);
  const key = JSON.stringify([seams, keepClear]);
  let traces = kept.get(key);
  if (traces === undefined) {
    traces = tracesOf(shell, structure);
    const [oldest] = kept.keys();
    if (oldest !== undefined && kept.size >= KEPT) kept.delete(oldest);
    kept.set(key, traces);
  }
  asked.set(structure, { shell, traces });
  return traces;
}

function tracesOf(shell: Shell, { seams, keepClear }: Structure): Traces {
  const traces: Trace[] = [];
  const notes: Phrase[] = [];
  const lay = (
    kind: Trace['kind'],
    name: string,
    radius: number,
    from: ShellSpot,
    to: ShellSpot,
    side: HullSide | undefined,
  ): void => {
    const { pieces, missing } = lineOn(shell, from, to, side === undefined ? ['port', 'starboard'] : [side]);
    traces.push({ kind, name, radius, pieces: Float64Array.from(pieces) });
    if (missing) {
      const what = kind === 'seam' ? 'seam' : 'keep-clear zone';
      notes.push([`The ${what} “${name}” lies off the hull's data, in part or wholly: there it is not looked at.`]);
    }
  };
  for (const { name, radius, from, to, side } of keepClear) lay('keep-clear', name, radius, from, to ?? from, side);
  for (const { name, from, to, side } of seams) lay('seam', name, 0, from, to, side);
  return { traces, notes };
}

/** The straight pieces of a line in station and girth between two spots, on each of the sides. */
function lineOn(shell: Shell, from: ShellSpot, to: ShellSpot, sides: readonly HullSide[]) {
  const long = Math.hypot(to.station - from.station, to.girth - from.girth);
  const count = Math.min(MOST_PIECES, Math.max(1, Math.ceil(long / SPACING)));
  const pieces: number[] = [];
  let missing = false;
  // Both sides at each station: what a shell keeps of a station serves them both.
  let last = sides.map((side) => pointOn(shell, from, side));
  for (let k = 1; k <= count; k++) {
    const t = k / count;
    const at = {
      station: from.station + t * (to.station - from.station),
      girth: from.girth + t * (to.girth - from.girth),
    };
    const next = sides.map((side) => pointOn(shell, at, side));
    next.forEach((q, i) => {
      const p = last[i];
      if (p === undefined || q === undefined) missing = true;
      else pieces.push(...p, ...q);
    });
    last = next;
  }
  return { pieces, missing };
}

const pointOn = (shell: Shell, { station, girth }: ShellSpot, side: HullSide) =>
  unlessRefused(() => shell.pointAt(station, girth, side).position);
