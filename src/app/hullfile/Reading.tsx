import { useEffect, useState } from 'react';
import { useReading } from '../store/reading.ts';
import { readAfterAll } from '../worker/client.ts';
import { stopReading } from '../worker/fileclient.ts';

/** Nothing is said of a file that is read within this time. ms */
const NOTICEABLE = 500;

/** How far a file has been read, with the way to stop it. */
export function Progress() {
  const now = useReading((s) => s.now);
  const reading = now?.state === 'reading' ? now.file : undefined;
  const [late, setLate] = useState(false);
  useEffect(() => {
    setLate(false);
    if (reading === undefined) return;
    const timer = setTimeout(() => setLate(true), NOTICEABLE);
    return () => clearTimeout(timer);
  }, [reading]);
  if (now === null || now.state !== 'reading' || !late) return null;
  return (
    <div className="filereading" role="status">
      <span>Reading {now.file}…</span>{' '}
      <progress aria-label={`Reading ${now.file}`} max={1} {...(now.done === null ? {} : { value: now.done })} />{' '}
      <button type="button" onClick={stopReading}>
        stop
      </button>
    </div>
  );
}

/** In place above the answers: the file that a plan waits for, or that it was stopped. */
export function Reading() {
  const now = useReading((s) => s.now);
  if (now?.state === 'stopped')
    return (
      <div className="filereading" role="status">
        <span>{now.file} was not read to its end.</span>{' '}
        <button type="button" onClick={readAfterAll}>
          read it
        </button>
      </div>
    );
  return <Progress />;
}
