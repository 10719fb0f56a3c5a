import { memo, useEffect, useRef, useState } from 'react';
import type { Display } from '../../job/types.ts';
import { useLicences } from '../licences/store.ts';
import { redo, replaceDocument, setField, undo, useDocument, useSteps } from '../store/document.ts';
import { chooseFile, forgetHandle, saveToFile } from '../store/files.ts';
import { valueIn } from '../store/jsontext.ts';
import { listEarlier, listJobs } from '../store/keep.ts';
import { parsed } from '../store/parsed.ts';
import type { JobRecord } from '../store/record.ts';
import { SAMPLES } from '../store/samples.ts';
import { openAsNew, openKept, useSession } from '../store/session.ts';
import { type Stance, setFitting, setStance, setTheme, useView } from '../store/view.ts';
import { COMMANDS } from './commands.ts';

const STANCES: readonly { readonly stance: Stance; readonly who: string }[] = [
  { stance: 'bench', who: 'For the planner: where it goes and how its foot is cut' },
  { stance: 'water', who: 'For the welder-diver: where to strike and which way to go' },
  { stance: 'desk', who: 'For the engineer: how it pulls and whether it holds' },
];

export const TopLine = memo(function TopLine({ display }: { display: Display }) {
  const stance = useView((s) => s.stance);
  return (
    <header className="top">
      <Title />
      <Kept />
      <Steps />
      <nav className="stances" aria-label="Who is looking">
        {STANCES.map((s) => (
          <button
            key={s.stance}
            type="button"
            title={s.who}
            aria-pressed={stance === s.stance}
            onClick={() => setStance(s.stance)}
          >
            {s.stance}
          </button>
        ))}
      </nav>
      <span className="settings">
        <Settings display={display} />
      </span>
      <JobsMenu display={display} />
    </header>
  );
});

/** Units and light: in the line on top, and on narrow screens within the menu. */
function Settings({ display }: { display: Display }) {
  const theme = useView((s) => s.theme);
  return (
    <>
      <fieldset className="pair">
        <legend className="unseen">Units shown</legend>
        {(['metric', 'us'] as const).map((d) => (
          <button key={d} type="button" aria-pressed={display === d} onClick={() => setField(['display'], d)}>
            {d === 'us' ? 'US' : 'metric'}
          </button>
        ))}
      </fieldset>
      <button
        type="button"
        className="quiet"
        title={theme === 'dark' ? 'Light, for sunlight on deck and for print' : 'Dark, as in the water'}
        onClick={() => setTheme(theme === 'dark' ? 'light' : 'dark')}
      >
        {theme === 'dark' ? 'light' : 'dark'}
      </button>
    </>
  );
}

function Title() {
  const text = useDocument((s) => s.text);
  const title = valueIn(parsed(text), ['title']);
  const [draft, setDraft] = useState<string | undefined>(undefined);
  const shown = draft ?? (typeof title === 'string' ? title : '');
  useEffect(() => {
    document.title = typeof title === 'string' && title !== '' ? `${title} · Lugwright` : 'Lugwright';
  }, [title]);
  const settle = (): void => {
    if (draft !== undefined && draft.trim() !== '' && draft !== title) setField(['title'], draft.trim());
    setDraft(undefined);
  };
  return (
    <h1 style={{ margin: 0, font: 'inherit', display: 'contents' }}>
      <span className="unseen">Lugwright: {shown}</span>
      <input
        className="name"
        aria-label="Name of the job"
        value={shown}
        size={Math.max(12, shown.length)}
        onChange={(e) => setDraft(e.target.value)}
        onBlur={settle}
        onKeyDown={(e) => {
          if (e.key === 'Enter') e.currentTarget.blur();
          if (e.key === 'Escape') setDraft(undefined);
        }}
      />
    </h1>
  );
}

function Kept() {
  const saving = useSession((s) => s.saving);
  const words = saving.kind === 'saved' ? 'saved' : saving.kind === 'changed' ? 'saving…' : 'not saved';
  return (
    <output
      className={`kept${saving.kind === 'failed' ? ' failed' : ''}`}
      title={saving.kind === 'failed' ? saving.reason : 'The job is kept in this browser as you work'}
    >
      {words}
    </output>
  );
}

function Steps() {
  const { past, future } = useSteps();
  return (
    <span className="steps">
      <button type="button" className="quiet" disabled={past === 0} onClick={undo} title="Ctrl Z">
        undo
      </button>
      <button type="button" className="quiet" disabled={future === 0} onClick={redo} title="Ctrl Shift Z">
        redo
      </button>
    </span>
  );
}

function JobsMenu({ display }: { display: Display }) {
  const box = useRef<HTMLDetailsElement>(null);
  const [open, setOpen] = useState(false);
  const [kept, setKept] = useState<readonly JobRecord[]>([]);
  const [earlier, setEarlier] = useState<readonly JobRecord[]>([]);
  const id = useSession((s) => s.id);

  useEffect(() => {
    if (!open) return;
    void listJobs().then(setKept);
    void listEarlier(id).then(setEarlier);
    const away = (e: Event): void => {
      if (!box.current?.contains(e.target as Node)) setOpen(false);
    };
    const onEscape = (e: KeyboardEvent): void => {
      if (e.key !== 'Escape') return;
      setOpen(false);
      box.current?.querySelector('summary')?.focus();
    };
    window.addEventListener('pointerdown', away);
    window.addEventListener('keydown', onEscape);
    return () => {
      window.removeEventListener('pointerdown', away);
      window.removeEventListener('keydown', onEscape);
    };
  }, [open, id]);

  const choose = (then: () => void): void => {
    setOpen(false);
    setFitting(0);
    then();
  };

  return (
    <details className="menu" ref={box} open={open} onToggle={(e) => setOpen(e.currentTarget.open)}>
      <summary>jobs</summary>
      {open && (
        <div>
          <span className="settings-narrow">
            <Settings display={display} />
          </span>
          <button type="button" className="entry" onClick={() => choose(() => void chooseFile())}>
            open a file… <small>or drop it anywhere on the window</small>
          </button>
          <button type="button" className="entry" onClick={() => choose(() => void saveToFile())}>
            save to a file <small>as it was laid out, only your changes differ</small>
          </button>
          <h2>samples to start from</h2>
          {SAMPLES.map((s) => (
            <button
              key={s.name}
              type="button"
              className="entry"
              onClick={() =>
                choose(() => {
                  forgetHandle();
                  void openAsNew(s.document);
                })
              }
            >
              {s.title} <small>{s.about}</small>
            </button>
          ))}
          {kept.filter((k) => k.id !== id).length > 0 && <h2>kept in this browser</h2>}
          {kept
            .filter((k) => k.id !== id)
            .slice(0, 12)
            .map((k) => (
              <button
                key={k.id}
                type="button"
                className="entry"
                onClick={() =>
                  choose(() => {
                    forgetHandle();
                    void openKept(k.id);
                  })
                }
              >
                {titleOf(k)} <small>{when(k)}</small>
              </button>
            ))}
          {earlier.length > 0 && <h2>this job as it was</h2>}
          {earlier.slice(0, 10).map((k) => (
            <button
              key={k.revision}
              type="button"
              className="entry"
              onClick={() => choose(() => replaceDocument(k.document))}
            >
              {when(k)} <small>coming back to it can be undone</small>
            </button>
          ))}
          <h2>this program</h2>
          <button
            type="button"
            className="entry"
            onClick={() => {
              setOpen(false);
              useLicences.setState({ open: true });
            }}
          >
            licences <small>of what it is made with</small>
          </button>
          <h2>keys</h2>
          <p style={{ margin: '0 8px', fontSize: 13, color: 'var(--quiet)' }}>
            {COMMANDS.map((c) => `${c.keys}: ${c.name}`).join(' · ')} · in a figure, up and down step it, with Shift
            further, with Alt finer · in the water, arrows look round, + and − come nearer and go off
          </p>
        </div>
      )}
    </details>
  );
}

const titleOf = (k: JobRecord): string => {
  const title = valueIn(parsed(k.document.text), ['title']);
  return typeof title === 'string' ? title : k.document.fileName;
};

const when = (k: JobRecord): string =>
  new Date(k.savedAt).toLocaleString(undefined, { dateStyle: 'medium', timeStyle: 'short' });
