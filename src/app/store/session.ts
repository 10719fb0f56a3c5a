import { create } from 'zustand';
import { type DocumentState, dragging, EMPTY, onLetGo, openDocument, useDocument } from './document.ts';
import { listJobs, loadJob, saveJob, sweepFiles } from './keep.ts';

/**
 * One tab, one job. The tab that has a job open holds a lock on it for as long as it lives; a second tab that comes
 * to the same job goes on with a copy of its own. Should a lock not be had at all, the revision in the record still
 * keeps one tab from writing over the other.
 */
export interface SessionState {
  readonly id: string;
  readonly saving: Saving;
  /** Things to say to the person, newest last. */
  readonly notices: readonly Notice[];
}

export type Saving =
  | { readonly kind: 'saved' }
  | { readonly kind: 'changed' }
  | { readonly kind: 'failed'; readonly reason: string };

export interface Notice {
  readonly key: number;
  readonly text: string;
  readonly grave: boolean;
}

export const useSession = create<SessionState>()(() => ({ id: '', saving: { kind: 'saved' }, notices: [] }));

let noticeKey = 0;
export function notify(text: string, grave = false): void {
  const { notices } = useSession.getState();
  if (notices.some((n) => n.text === text)) return;
  noticeKey++;
  useSession.setState({ notices: [...notices, { key: noticeKey, text, grave }] });
}
export const dismiss = (key: number): void =>
  useSession.setState((s) => ({ notices: s.notices.filter((n) => n.key !== key) }));

const newId = (): string => crypto.randomUUID();

/** A tab that comes back to its own job (a reload) waits this long for itself, just closing, to let go of it. ms */
const OWN_LET_GO = 8000;
/** For a job of another tab there is nothing to wait for but a tab that was closed a moment ago. ms */
const OTHER_LET_GO = 700;

/** Takes the lock on a job; false where another tab has it. */
function claim(id: string, patience = OTHER_LET_GO): Promise<boolean> {
  if (navigator.locks === undefined) return Promise.resolve(true);
  return new Promise((resolve) => {
    const stop = new AbortController();
    const timer = setTimeout(() => stop.abort(), patience);
    navigator.locks
      .request(`lugwright-job-${id}`, { signal: stop.signal }, () => {
        clearTimeout(timer);
        resolve(true);
        return new Promise<void>(() => {}); // held until the tab goes
      })
      .catch(() => resolve(false));
  });
}

let revision = 0;
let writing: Promise<void> = Promise.resolve();
let timer: ReturnType<typeof setTimeout> | undefined;
let lastSaved: DocumentState | undefined;

/** Changes are written this long after the last one. ms */
const QUIET = 300;
/** While a hand drags it is the end of the drag that is worth keeping; should the drag last, it is written this often. ms */
const QUIET_DRAGGING = 3000;

const MINE = 'lugwright-job';
const LAST = 'lugwright-last-job';

function remember(id: string): void {
  try {
    sessionStorage.setItem(MINE, id);
    localStorage.setItem(LAST, id);
  } catch {
    // forbidden storage: `saveJob` will say so
  }
}

/** Whether this very page was open on the job before it was loaded again. A page opened anew, or copied, was not. */
function wasMine(id: string): boolean {
  const [visit] = performance.getEntriesByType('navigation') as PerformanceNavigationTiming[];
  try {
    return visit?.type === 'reload' && sessionStorage.getItem(MINE) === id;
  } catch {
    return false;
  }
}

function recall(): string | null {
  try {
    return sessionStorage.getItem(MINE) ?? localStorage.getItem(LAST);
  } catch {
    return null;
  }
}

/** Opens what this tab had open, else what was open last, else `first`. */
export async function startSession(first: DocumentState): Promise<void> {
  const wanted = recall();
  const loaded = wanted === null ? ({ kind: 'none' } as const) : await loadJob(wanted);
  if (wanted !== null && loaded.kind === 'read') {
    if (await claim(wanted, wasMine(wanted) ? OWN_LET_GO : OTHER_LET_GO)) {
      revision = loaded.record.revision;
      adopt(wanted, loaded.record.document, true);
    } else {
      const id = newId();
      await claim(id);
      revision = 0;
      adopt(id, loaded.record.document, false);
      notify('This job is open in another tab. Here you work on a copy of it; neither writes over the other.');
    }
  } else {
    const id = newId();
    await claim(id);
    revision = 0;
    adopt(id, first, false);
    if (loaded.kind === 'corrupt')
      notify(
        `What the browser had kept of the last job is damaged (${loaded.reason}). It was set aside, not deleted.`,
        true,
      );
    if (loaded.kind === 'newer')
      notify('The last job was kept by a newer version of this program. It was left untouched.', true);
    if (loaded.kind === 'failed') notKept(loaded.reason);
  }
  void sweepFiles();
  useDocument.subscribe((state) => {
    if (state === lastSaved) return;
    if (useSession.getState().saving.kind !== 'changed') useSession.setState({ saving: { kind: 'changed' } });
    if (dragging()) {
      timer ??= setTimeout(() => void flush(), QUIET_DRAGGING);
      return;
    }
    clearTimeout(timer);
    timer = setTimeout(() => void flush(), QUIET);
  });
  onLetGo(() => {
    if (useDocument.getState() === lastSaved) return;
    clearTimeout(timer);
    timer = setTimeout(() => void flush(), QUIET);
  });
  document.addEventListener('visibilitychange', () => {
    if (document.visibilityState === 'hidden') void flush();
  });
  window.addEventListener('pagehide', () => void flush());
  // What could not be kept would be lost with the tab: the browser asks first.
  window.addEventListener('beforeunload', (e) => {
    if (useSession.getState().saving.kind === 'failed') e.preventDefault();
  });
}

function adopt(id: string, doc: DocumentState, kept: boolean): void {
  openDocument(doc);
  lastSaved = kept ? doc : undefined;
  useSession.setState({ id, saving: { kind: kept ? 'saved' : 'changed' } });
  remember(id);
  if (!kept) void flush();
}

/** Opens a job as a new one beside those kept. */
export async function openAsNew(doc: DocumentState): Promise<void> {
  await flush();
  const id = newId();
  await claim(id);
  revision = 0;
  adopt(id, doc, false);
}

/** Opens a job that the browser has kept. */
export async function openKept(id: string): Promise<void> {
  if (id === useSession.getState().id) return;
  await flush();
  const loaded = await loadJob(id);
  if (loaded.kind !== 'read') {
    notify('That job could not be read back.', true);
    return;
  }
  if (await claim(id)) {
    revision = loaded.record.revision;
    adopt(id, loaded.record.document, true);
  } else {
    await openAsNew(loaded.record.document);
    notify('That job is open in another tab. Here you work on a copy of it.');
  }
}

export { listJobs };

function notKept(reason: string): void {
  notify(`Not kept in the browser: ${reason}. Save the job to a file before you close this tab.`, true);
}

/** Writes what has changed, now. One write at a time. */
export function flush(): Promise<void> {
  clearTimeout(timer);
  timer = undefined;
  writing = writing.then(async () => {
    const doc = useDocument.getState();
    if (doc === lastSaved || doc === EMPTY) return;
    const { id } = useSession.getState();
    const result = await saveJob(id, revision, plain(doc));
    if (result.kind === 'saved') {
      revision = result.revision;
      lastSaved = doc;
      if (useDocument.getState() === doc) useSession.setState({ saving: { kind: 'saved' } });
    } else if (result.kind === 'overtaken') {
      const copy = newId();
      await claim(copy);
      revision = 0;
      useSession.setState({ id: copy });
      remember(copy);
      notify(
        'Another tab has written this job meanwhile. Your state goes on as a copy; nothing was overwritten.',
        true,
      );
      const again = await saveJob(copy, 0, plain(doc));
      if (again.kind === 'saved') {
        revision = again.revision;
        lastSaved = doc;
        useSession.setState({ saving: { kind: 'saved' } });
      } else if (again.kind === 'failed') fail(again.reason);
    } else fail(result.reason);
  });
  return writing;
}

function fail(reason: string): void {
  useSession.setState({ saving: { kind: 'failed', reason } });
  notKept(reason);
}

const plain = ({ text, files, stops, fileName }: DocumentState): DocumentState => ({ text, files, stops, fileName });
