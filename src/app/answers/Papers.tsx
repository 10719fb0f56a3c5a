import { type ReactNode, useEffect, useRef, useState } from 'react';
import { useDocument } from '../store/document.ts';
import { download } from '../store/files.ts';
import { notify } from '../store/session.ts';
import { useView } from '../store/view.ts';
import { filesOf, paperOf, papers } from '../worker/client.ts';
import type { PaperKind, PlanRequest, TakeAway } from '../worker/protocol.ts';
import { startSlow } from '../worker/slow.ts';
import { InHand } from './InHand.tsx';

/** What can be taken away, each made when it is asked for. */
export function Papers({ children }: { readonly children: ReactNode }) {
  const [kinds, setKinds] = useState<readonly PaperKind[]>([]);
  const [making, setMaking] = useState<string | undefined>(undefined);
  useEffect(() => {
    let gone = false;
    papers().then(
      (list) => {
        if (!gone) setKinds(list);
      },
      () => notify('The papers could not be loaded. The plan file and the job file can still be taken.', true),
    );
    return () => {
      gone = true;
    };
  }, []);

  const take = async (name: string, make: (request: PlanRequest) => Promise<readonly TakeAway[]>): Promise<void> => {
    if (making !== undefined) return;
    setMaking(name);
    try {
      const { text, files } = useDocument.getState();
      const made = await make({ text, files, drawn: useView.getState().fitting });
      if (made.length === 0) notify('There is no plan of the job as it stands: mend the figure marked first.', true);
      for (const f of made) download(f.name, f.content as BlobPart, f.type);
    } catch (error) {
      notify(`${name} could not be made: ${error instanceof Error ? error.message : String(error)}`, true);
    } finally {
      setMaking(undefined);
    }
  };

  return (
    <>
      <AllPapers />
      {children}
      {/* Not disabled while one is made: the focus of a hand on the keyboard would be lost with it. */}
      <button type="button" aria-disabled={making !== undefined} onClick={() => void take('The plan file', filesOf)}>
        plan file
      </button>
      {kinds.map((k) => (
        <button
          key={k.name}
          type="button"
          title={k.use}
          aria-disabled={making !== undefined}
          onClick={() => void take(k.title, (request) => paperOf(request, k.name))}
        >
          {making === k.title ? 'making…' : k.title.toLowerCase()}
        </button>
      ))}
      <InHand />
    </>
  );
}

/** Every paper of every lug in one archive: how far it is stands on the button, and it can be stopped. */
function AllPapers() {
  const [share, setShare] = useState<number | undefined>(undefined);
  const stop = useRef<(() => void) | undefined>(undefined);
  useEffect(() => () => stop.current?.(), []);

  const make = async (): Promise<void> => {
    const { text, files } = useDocument.getState();
    setShare(0);
    const work = startSlow('papers', { text, files, drawn: 0 }, ({ done }) => setShare(done ?? 0));
    stop.current = work.cancel;
    const outcome = await work.result;
    stop.current = undefined;
    setShare(undefined);
    if (outcome.kind === 'broken') notify(`The papers could not be made: ${outcome.message}`, true);
    if (outcome.kind !== 'done') return;
    const archive = outcome.value;
    if (archive === null) notify('There is no plan of the job as it stands: mend the figure marked first.', true);
    else {
      download(archive.name, archive.content as BlobPart, archive.type);
      // What was planned with is what stood there when it was asked for.
      if (useDocument.getState().text !== text) {
        notify('The job was changed while its papers were made: they are of the job as it was before.', true);
      }
    }
  };

  // One button all along: the focus of a hand on the keyboard stays where it is.
  const percent = Math.round(100 * (share ?? 0));
  return (
    <>
      <button
        type="button"
        title={
          share === undefined
            ? 'every paper of every lug, the plan file and the job, in one archive'
            : 'no archive is made; what stands on the screen stays'
        }
        onClick={() => (share === undefined ? void make() : stop.current?.())}
      >
        {share === undefined ? 'all papers' : 'stop'}
      </button>
      {share !== undefined && (
        <span
          className="progress"
          role="progressbar"
          aria-label="all papers"
          aria-valuenow={percent}
          aria-valuemin={0}
          aria-valuemax={100}
        >
          all papers: {percent} %
        </span>
      )}
    </>
  );
}
