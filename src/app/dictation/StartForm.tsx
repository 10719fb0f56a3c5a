import { type FormEvent, useState } from 'react';
import { readQuantity } from '../../job/quantity.ts';
import { completed } from '../sentence/stepping.ts';
import { edit, useDocument } from '../store/document.ts';
import { valueIn } from '../store/jsontext.ts';
import { parsed } from '../store/parsed.ts';
import { knownStart, type TapeStart, withReadingsHull } from './start.ts';
import { closeDictation } from './store.ts';

type Figure = 'out' | 'up' | 'mark';

const FIELDS: readonly { readonly name: Figure; readonly label: string }[] = [
  { name: 'out', label: 'The tape’s zero: out from the centreline' },
  { name: 'up', label: 'The tape’s zero: up from the baseline' },
  { name: 'mark', label: 'The lug stands on the tape at' },
];

/** Asked before a hull of another kind gives way to readings: where the tape lies. */
export function StartForm({ fitting }: { fitting: number }) {
  const text = useDocument((s) => s.text);
  const job = parsed(text);
  const [start, setStart] = useState<TapeStart>(() => knownStart(job, fitting));
  const [fault, setFault] = useState<string | undefined>(undefined);
  const fittings = valueIn(job, ['fittings']);
  const others = Array.isArray(fittings) ? fittings.filter((_, i) => i !== fitting) : [];
  const unit = valueIn(job, ['display']) === 'us' ? 'in' : 'mm';

  const begin = (e: FormEvent): void => {
    e.preventDefault();
    const whole = { ...start };
    for (const { name, label } of FIELDS) {
      if (name === 'mark' && start.mark.trim() === '') {
        whole.mark = '';
        continue;
      }
      whole[name] = completed(start[name], `0 ${unit}`);
      const reading = readQuantity(whole[name], 'length');
      if (!reading.ok || (name === 'out' && reading.value < 0)) {
        const expected = reading.ok ? 'a distance that is not less than nothing' : reading.expected;
        setFault(`${label}: found “${start[name]}”, expected ${expected}`);
        return;
      }
    }
    edit((t) => withReadingsHull(t, fitting, whole));
  };

  return (
    <form className="start" onSubmit={begin}>
      <p>
        The hull of this job is of another kind. To take readings at this place, the shell round it will be what the
        diver reads: slopes along a tape, gaps under a bar. It is one step, and undo brings the hull back.
      </p>
      <p>
        Until at least two slopes and one gap are read the job cannot be planned; the last plan stays on the screen,
        marked as such.
      </p>
      {others.length > 0 && (
        <p className="care">
          <b>{others.length === 1 ? 'One other lug stands' : `${others.length} other lugs stand`} on this hull:</b>{' '}
          readings speak only for the shell round their own place, and a lug that stands elsewhere cannot be planned on
          them.
        </p>
      )}
      {FIELDS.map(({ name, label }) => (
        <label key={name}>
          {label}
          {name === 'mark' && <small> (left empty, its place stays as it is)</small>}
          <input
            value={start[name]}
            placeholder={unit}
            spellCheck={false}
            autoComplete="off"
            onChange={(e) => setStart({ ...start, [name]: e.target.value })}
          />
        </label>
      ))}
      <label className="tick">
        <input type="checkbox" checked={start.keep} onChange={(e) => setStart({ ...start, keep: e.target.checked })} />
        keep the hull as it is now beside the readings, to be compared with them
      </label>
      {fault !== undefined && (
        <p className="fault" role="alert">
          {fault}
        </p>
      )}
      <div className="row">
        <button type="submit" className="take">
          take readings at this place
        </button>
        <button type="button" onClick={closeDictation}>
          leave the hull as it is
        </button>
      </div>
    </form>
  );
}
