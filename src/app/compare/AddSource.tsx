import { useState } from 'react';
import { readSectionColumns } from '../../job/sectiondrawing.ts';
import type { Display } from '../../job/types.ts';
import { edit } from '../store/document.ts';
import { append } from '../store/jsontext.ts';

const UNITS = ['mm', 'cm', 'm', 'in', 'ft'] as const;
type Unit = (typeof UNITS)[number];
/** As many as a job may name. */
const MOST = 8;

/** Another source of the same shell, pasted as a section: half-breadth and height, point by point. */
export function AddSource({ display, count }: { display: Display; count: number }) {
  const [name, setName] = useState('');
  const [unit, setUnit] = useState<Unit>(display === 'us' ? 'in' : 'mm');
  const [rows, setRows] = useState('');
  const [fault, setFault] = useState<string | undefined>(undefined);
  if (count >= MOST) return null;
  const put = (): void => {
    const reading = readSectionColumns(rows, unit);
    if (!reading.ok) {
      setFault(`Found ${reading.found}, expected ${reading.expected}.`);
      return;
    }
    edit((t) =>
      append(t, ['ship', 'compare'], {
        name: name.trim() === '' ? 'another source' : name.trim().slice(0, 60),
        hull: { kind: 'columns', unit, text: rows.trim() },
      }),
    );
    setRows('');
    setName('');
    setFault(undefined);
  };
  return (
    <details className="paste">
      <summary>lay another source over this shell</summary>
      <label>
        What it is, like “builder’s drawing”
        <input value={name} maxLength={60} onChange={(e) => setName(e.target.value)} />
      </label>
      <label>
        Its section from the keel outward, two numbers a row: out from the centreline, up from the baseline
        <textarea rows={5} spellCheck={false} value={rows} onChange={(e) => setRows(e.target.value)} />
      </label>
      <label>
        in{' '}
        <select value={unit} onChange={(e) => setUnit(e.target.value as Unit)}>
          {UNITS.map((u) => (
            <option key={u}>{u}</option>
          ))}
        </select>
      </label>
      {fault !== undefined && (
        <p className="fault" role="alert">
          {fault}
        </p>
      )}
      <button type="button" disabled={rows.trim() === ''} onClick={put}>
        compare with this
      </button>
    </details>
  );
}
