import { useEffect, useId, useState } from 'react';
import { useDocument } from '../store/document.ts';
import type { JobFileSet } from '../store/heldfile.ts';
import { inHand } from '../worker/client.ts';
import type { InHand as Answer } from '../worker/protocol.ts';

interface Asked {
  readonly typed: string;
  readonly text: string;
  readonly files: JobFileSet;
}

/** Whether a printed sheet is one of the job on the screen: its digest is typed in, the answer stands beside it in words. */
export function InHand() {
  const id = useId();
  const [typed, setTyped] = useState('');
  const text = useDocument((s) => s.text);
  const files = useDocument((s) => s.files);
  const [told, setTold] = useState<{ readonly of: Asked; readonly answer: Answer } | undefined>(undefined);
  useEffect(() => {
    let gone = false;
    const of = { typed, text, files };
    inHand({ text, files, drawn: 0 }, typed).then(
      (answer) => {
        if (!gone) setTold({ of, answer });
      },
      () => {
        // The planner is broken, which is said elsewhere: no answer is better than an old one.
      },
    );
    return () => {
      gone = true;
    };
  }, [typed, text, files]);
  // An answer to another question than the one on the screen is none.
  const now = told?.of.typed === typed && told.of.text === text && told.of.files === files ? told.answer : undefined;
  return (
    <div className="inhand">
      <label htmlFor={id}>Is a printed sheet still good? Type the digest at its foot:</label>{' '}
      <input
        id={id}
        className="figure"
        value={typed}
        size={16}
        autoComplete="off"
        spellCheck={false}
        placeholder="0000-0000-0000"
        aria-describedby={`${id}-answer`}
        onChange={(e) => setTyped(e.target.value)}
      />
      <p id={`${id}-answer`} role="status">
        {now === undefined ? ' ' : words(now, typed)}
      </p>
    </div>
  );
}

/** Twelve figures and letters that must not part at the end of a line: they are compared at a glance. */
const Digest = ({ of }: { readonly of: string }) => <b className="digest">{of}</b>;

function words(answer: Answer, typed: string) {
  switch (answer.kind) {
    case 'belongs':
      return (
        <>
          <b>It belongs</b> to the job as it now stands
          {answer.otherUnits ? (
            <>
              , printed in the other units. Do not mix it with sheets that bear <Digest of={answer.now} />: sizes called
              up are rounded in each.
            </>
          ) : (
            '.'
          )}
        </>
      );
    case 'other':
      return (
        <>
          <b>Do not use it:</b> <Digest of={answer.digest} /> is of an older job or another one. The job as it now
          stands has <Digest of={answer.now} />.
        </>
      );
    case 'no-digest':
      if (typed.trim() === '')
        return (
          <>
            Sheets of the job as it now stands bear <Digest of={answer.now} />.
          </>
        );
      return 'Not a whole digest yet: twelve figures and letters from a to f, as at the foot of every sheet.';
    case 'no-job':
      return 'The job as it stands cannot be read: mend the figure marked first.';
  }
}
