import { LICENCES } from 'virtual:licences';
import { useEffect, useRef } from 'react';
import { useLicences } from './store.ts';
import './licences.css';

/** What is shipped with the app, by whom, and on what terms. */
export default function Licences() {
  const box = useRef<HTMLDialogElement>(null);
  useEffect(() => box.current?.showModal(), []);
  return (
    <dialog
      ref={box}
      className="licences"
      aria-labelledby="licences-title"
      onClose={() => useLicences.setState({ open: false })}
    >
      <header>
        <h2 id="licences-title">Licences of what this program is made with</h2>
        <button type="button" onClick={() => box.current?.close()}>
          close
        </button>
      </header>
      <p>
        The reader of STEP and IGES (occt-import-js) is under the LGPL. Its machine code is a file of its own among
        those of the app, <i>occt-import-js….wasm</i>: whoever serves the app may put another build of it in its place,
        under the same name.
      </p>
      <ul>
        {LICENCES.map((l) => (
          <li key={l.name}>
            <details>
              <summary>
                <b>{l.name}</b> {l.version} <span className="hint">{l.licence}</span>
              </summary>
              <p className="hint">
                {[l.author, l.home].filter((x) => x !== '').join(' · ')}
                {l.text === '' && ' · its package brings no text of the licence, only its name'}
              </p>
              {l.text !== '' && <pre>{l.text}</pre>}
            </details>
          </li>
        ))}
      </ul>
    </dialog>
  );
}
