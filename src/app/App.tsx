import { lazy, Suspense, useEffect, useState } from 'react';
import { Answers } from './answers/Answers.tsx';
import { useDictation } from './dictation/store.ts';
import { useAsked } from './hullfile/asked.ts';
import { Reading } from './hullfile/Reading.tsx';
import { useLicences } from './licences/store.ts';
import { Statement } from './sentence/Statement.tsx';
import { Caution } from './shell/Caution.tsx';
import { listenForKeys } from './shell/commands.ts';
import { Notices } from './shell/Notices.tsx';
import { TopLine } from './shell/TopLine.tsx';
import { useDocument } from './store/document.ts';
import { takeFiles } from './store/files.ts';
import { valueIn } from './store/jsontext.ts';
import { parsed } from './store/parsed.ts';
import { standingText, usePlanning } from './store/planning.ts';
import { notify } from './store/session.ts';
import { setFitting, useView } from './store/view.ts';
import { JointStrip } from './strip/JointStrip.tsx';

const Water = lazy(() => import('./scene/Water.tsx'));
const AskHull = lazy(() => import('./hullfile/AskHull.tsx'));
const Licences = lazy(() => import('./licences/Licences.tsx'));
const Dictation = lazy(() => import('./dictation/Dictation.tsx'));

const NONE: readonly never[] = [];

export function App() {
  const documentText = useDocument((s) => s.text);
  const planning = usePlanning();
  const stance = useView((s) => s.stance);
  const theme = useView((s) => s.theme);
  const sheet = useView((s) => s.sheet);
  const looked = useView((s) => s.fitting);
  const text = standingText(documentText, planning);
  const { shown, trouble } = planning;
  const job = parsed(text);
  const display = valueIn(job, ['display']) === 'us' ? 'us' : 'metric';
  const faults = trouble?.kind === 'faults' && trouble.text === text ? trouble.faults : NONE;
  const index = shown === null ? 0 : Math.min(looked, shown.plan.fittings.length - 1);
  const fitting = shown?.plan.fittings[index];
  const stale = shown !== null && text !== shown.request.text;

  useEffect(() => {
    document.documentElement.dataset.theme = theme;
  }, [theme]);
  useEffect(() => listenForKeys(), []);
  const dropping = useDropping();
  const reading = useDictation((s) => s.course !== null);
  const licences = useLicences((s) => s.open);
  const asking = useAsked((s) => s.now !== null);

  return (
    <div
      className="screen"
      data-sheet={sheet}
      data-stance={stance}
      data-planned={shown !== null && shown.request.text === documentText}
    >
      <Suspense fallback={<div className="water" aria-busy="true" />}>
        {shown !== null && fitting !== undefined && <Water shown={shown} fitting={fitting} index={index} />}
      </Suspense>
      <TopLine display={display} />
      <div className="left">
        <Statement
          text={text}
          fitting={Math.min(looked, fittingCount(job) - 1)}
          display={display}
          faults={faults}
          assumptions={shown?.plan.assumptions ?? NONE}
          onFitting={setFitting}
        />
      </div>
      <div className="right">
        {trouble !== null && (
          <Trouble shown={shown !== null} message={trouble.kind === 'broken' ? trouble.message : undefined} />
        )}
        <Reading />
        {trouble === null && stale && (
          <p className="stale">Planning… What stands below belongs to the figures before.</p>
        )}
        {shown !== null && fitting !== undefined && (
          <Answers
            plan={shown.plan}
            fitting={fitting}
            stance={stance}
            feet={shown.lugs[index]?.feet}
            display={shown.plan.job.display}
          />
        )}
      </div>
      <div className="foot">
        {shown !== null && fitting !== undefined && (
          <JointStrip fitting={fitting} display={shown.plan.job.display} stance={stance} />
        )}
      </div>
      <Caution />
      <nav className="tabs" aria-label="Sheets">
        {(['job', 'answers', 'joint'] as const).map((each) => (
          <button
            key={each}
            type="button"
            aria-pressed={sheet === each}
            onClick={() => useView.setState((s) => ({ sheet: s.sheet === each ? 'none' : each }))}
          >
            {each === 'job' ? 'the job' : each === 'answers' ? 'five answers' : 'the joint'}
          </button>
        ))}
      </nav>
      <Notices />
      {reading && (
        <Suspense fallback={null}>
          <Dictation />
        </Suspense>
      )}
      {licences && (
        <Suspense fallback={null}>
          <Licences />
        </Suspense>
      )}
      {asking && (
        <Suspense fallback={null}>
          <AskHull />
        </Suspense>
      )}
      {dropping && (
        <div className="dropping">Drop a job file, or its hull: a table of offsets, a drawing, a scan, a model</div>
      )}
    </div>
  );
}

const fittingCount = (job: ReturnType<typeof parsed>): number => {
  const list = valueIn(job, ['fittings']);
  return Array.isArray(list) && list.length > 0 ? list.length : 1;
};

function Trouble({ shown, message }: { shown: boolean; message: string | undefined }) {
  return (
    <div className="stale" role="alert">
      {message === undefined ? (
        <b>This cannot be planned as it stands: see the figure marked in the job.</b>
      ) : (
        <>
          <b>The planner itself failed: {message}</b>
          <p style={{ margin: '4px 0 0' }}>Your job is safe. Undo the last change, or reload.</p>
        </>
      )}
      {shown && <p style={{ margin: '4px 0 0' }}>All that follows is the last good plan, for the figures before.</p>}
    </div>
  );
}

/** Files dropped anywhere on the window. */
function useDropping(): boolean {
  const [over, setOver] = useState(false);
  useEffect(() => {
    const carries = (e: DragEvent): boolean => e.dataTransfer?.types.includes('Files') === true;
    const enter = (e: DragEvent): void => {
      if (!carries(e)) return;
      e.preventDefault();
      setOver(true);
    };
    const leave = (e: DragEvent): void => {
      if (e.relatedTarget === null) setOver(false);
    };
    const drop = (e: DragEvent): void => {
      if (!carries(e)) return;
      e.preventDefault();
      setOver(false);
      const files = [...(e.dataTransfer?.files ?? [])];
      void takeFiles(files).catch(() =>
        notify('What was dropped could not be read. The job on the screen is as it was.', true),
      );
    };
    window.addEventListener('dragenter', enter);
    window.addEventListener('dragover', enter);
    window.addEventListener('dragleave', leave);
    window.addEventListener('drop', drop);
    return () => {
      window.removeEventListener('dragenter', enter);
      window.removeEventListener('dragover', enter);
      window.removeEventListener('dragleave', leave);
      window.removeEventListener('drop', drop);
    };
  }, []);
  return over;
}
