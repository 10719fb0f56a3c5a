import { useLayoutEffect, useRef, useState } from 'react';
import { useDocument } from '../store/document.ts';
import { valueIn } from '../store/jsontext.ts';
import { parsed } from '../store/parsed.ts';
import { useView } from '../store/view.ts';
import { StartForm } from './StartForm.tsx';
import { closeDictation, hullIsRead, useDictation } from './store.ts';
import { Taking } from './Taking.tsx';
import { canSpeak, say, setSpeaksAloud, speaksAloud } from './voice.ts';
import './dictation.css';

/** Readings taken down from a diver on the radio: one figure at a time, over the whole window. */
export default function Dictation() {
  const course = useDictation((s) => s.course);
  const text = useDocument((s) => s.text);
  const fitting = useView((s) => s.fitting);
  const box = useRef<HTMLDialogElement>(null);
  const [aloud, setAloud] = useState(speaksAloud);

  // Before what is inside asks for the focus: opening the dialog gives it away.
  useLayoutEffect(() => {
    const dialog = box.current;
    const before = document.activeElement;
    dialog?.showModal();
    return () => {
      dialog?.close();
      if (before instanceof HTMLElement) before.focus();
    };
  }, []);

  if (course === null) return null;
  const asking = course === 'shell' && !hullIsRead(text);
  const id = valueIn(parsed(text), ['fittings', fitting, 'id']);
  const title = course === 'shell' ? 'Readings from the diver' : 'The fit-up, read by the diver';
  return (
    <dialog
      ref={box}
      className="dictation"
      aria-label={title}
      onCancel={(e) => {
        e.preventDefault();
        closeDictation();
      }}
      // Keys of the window behind mean nothing here; saving does.
      onKeyDown={(e) => {
        if (!((e.ctrlKey || e.metaKey) && e.key.toLowerCase() === 's')) e.stopPropagation();
      }}
    >
      <header>
        <h2>
          {title} <small>lug {String(id ?? fitting + 1)}</small>
        </h2>
        {canSpeak() && (
          <button
            type="button"
            aria-pressed={aloud}
            onClick={() => {
              setSpeaksAloud(!aloud);
              setAloud(!aloud);
              if (!aloud) say('on');
            }}
          >
            say it aloud: {aloud ? 'on' : 'off'}
          </button>
        )}
        <button type="button" onClick={closeDictation}>
          close
        </button>
      </header>
      {asking ? (
        <StartForm fitting={fitting} />
      ) : (
        <Taking key={course} course={course} fitting={fitting} aloud={aloud} />
      )}
    </dialog>
  );
}
