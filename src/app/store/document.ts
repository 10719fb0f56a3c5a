import { temporal } from 'zundo';
import { create, createStore, useStore } from 'zustand';
import type { JobFileSet } from './heldfile.ts';
import { append, type Json, type Path, removeIn, setIn } from './jsontext.ts';

/**
 * What a person works on: the text of the job file itself, so that saving what was opened gives back the same bytes,
 * the files it names, and where dives ended. All of it can be undone.
 */
export interface DocumentState {
  /** The job file, as text. Valid JSON in all states but one: a file that was dropped in and cannot be read. */
  readonly text: string;
  /** Files named in the job (tables of offsets, drawings, scans, models), by name. */
  readonly files: JobFileSet;
  /** Where dives ended on each fitting, newest last. */
  readonly stops: readonly Stop[];
  /** Under which name it would be written to a folder. */
  readonly fileName: string;
}

/** "Stopped here": the end of a dive, on the root of one fitting. */
export interface Stop {
  readonly fitting: string;
  /** Run number as the plan counts them, from 1. */
  readonly run: number;
  /** mm along the root. */
  readonly s: number;
  /** The order it was marked on: another order makes the mark void. */
  readonly order: string;
  /** Time of the mark, ISO 8601. */
  readonly at: string;
}

export const EMPTY: DocumentState = { text: '{}', files: {}, stops: [], fileName: 'job.json' };

export const useDocument = create<DocumentState>()(
  temporal((): DocumentState => EMPTY, {
    limit: 500,
    equality: (a, b) => a.text === b.text && a.files === b.files && a.stops === b.stops && a.fileName === b.fileName,
  }),
);

const history = () => useDocument.temporal.getState();

/** A document that has just been opened: nothing to undo yet. */
export function openDocument(doc: DocumentState): void {
  history().pause();
  useDocument.setState(doc, true);
  history().resume();
  history().clear();
}

/** A document put in place of another, as one step that can be undone. */
export const replaceDocument = (doc: DocumentState): void => useDocument.setState(doc, true);

export const edit = (change: (text: string) => string): void => {
  const { text } = useDocument.getState();
  let next: string;
  try {
    next = change(text);
  } catch {
    return; // not JSON: there is no figure to edit, the faults say so
  }
  if (next !== text) useDocument.setState({ text: next });
};

export const setField = (path: Path, value: Json): void => edit((t) => setIn(t, path, value));
export const setFields = (changes: readonly (readonly [Path, Json])[]): void =>
  edit((t) => changes.reduce((text, [path, value]) => setIn(text, path, value), t));
export const removeField = (path: Path): void => edit((t) => removeIn(t, path));
export const appendTo = (path: Path, value: Json): void => edit((t) => append(t, path, value));

export const undo = (): void => history().undo();
export const redo = (): void => history().redo();

/** How far one can go back and forth. */
export const useSteps = (): { past: number; future: number } => {
  const past = useStore(useDocument.temporal, (s) => s.pastStates.length);
  const future = useStore(useDocument.temporal, (s) => s.futureStates.length);
  return { past, future };
};

const drags = createStore<{ readonly under: number }>()(() => ({ under: 0 }));

/** Whether a hand has hold of something: what nobody can look at meanwhile may wait. */
export const dragging = (): boolean => drags.getState().under > 0;
export const useDragging = (): boolean => useStore(drags, (s) => s.under > 0);
/** Calls when the last hand lets go. */
export const onLetGo = (call: () => void): (() => void) =>
  drags.subscribe((now, before) => {
    if (now.under === 0 && before.under > 0) call();
  });

/**
 * A drag is one step of history however many figures pass by: the first change is recorded, the others are not.
 * Returns what ends it.
 */
export function beginDrag(): { move: (change: (text: string) => string) => void; end: () => void } {
  let first = true;
  let held = true;
  drags.setState((s) => ({ under: s.under + 1 }));
  return {
    move(change) {
      const before = useDocument.getState().text;
      edit(change);
      if (first && useDocument.getState().text !== before) {
        first = false;
        history().pause();
      }
    },
    end() {
      history().resume();
      if (!held) return;
      held = false;
      drags.setState((s) => ({ under: s.under - 1 }));
    },
  };
}
