import { useEffect, useState } from 'react';
import { useDocument } from '../store/document.ts';
import { download } from '../store/files.ts';
import { notify } from '../store/session.ts';
import { useView } from '../store/view.ts';
import { filesOf, paperOf, papers } from '../worker/client.ts';
import type { PaperKind, PlanRequest, TakeAway } from '../worker/protocol.ts';

/** What can be taken away, each made when it is asked for. */
export function Papers() {
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
      <button type="button" disabled={making !== undefined} onClick={() => void take('The plan file', filesOf)}>
        plan file
      </button>
      {kinds.map((k) => (
        <button
          key={k.name}
          type="button"
          title={k.use}
          disabled={making !== undefined}
          onClick={() => void take(k.title, (request) => paperOf(request, k.name))}
        >
          {making === k.title ? 'making…' : k.title.toLowerCase()}
        </button>
      ))}
    </>
  );
}
