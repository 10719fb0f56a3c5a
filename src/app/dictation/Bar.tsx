import { useState } from 'react';
import { readQuantity } from '../../job/quantity.ts';
import { completed } from '../sentence/stepping.ts';
import { edit } from '../store/document.ts';
import { type Json, removeIn, setIn, valueIn } from '../store/jsontext.ts';

const TOUCH = ['ship', 'hull', 'fore', 'touch'];
const LENGTH = ['ship', 'hull', 'fore', 'length'];

/** How the straight bar lies on the shell: said before the gaps are read. */
export function Bar({ job, onEdit }: { job: Json | undefined; onEdit: () => void }) {
  const touch = valueIn(job, TOUCH) === 'ends' ? 'ends' : 'middle';
  const length = valueIn(job, LENGTH);
  const [draft, setDraft] = useState<string | undefined>(undefined);
  const unit = valueIn(job, ['display']) === 'us' ? 'in' : 'mm';
  const shown = draft ?? (typeof length === 'string' ? length : '');
  const whole = completed(shown, `0 ${unit}`);
  const reading = readQuantity(whole, 'length');
  const good = shown === '' || (reading.ok && reading.value > 0);
  const settle = (): void => {
    if (draft === undefined || !good) return;
    setDraft(undefined);
    if (draft === '' ? length === undefined : whole === length) return;
    edit((t) => (draft === '' ? removeIn(t, LENGTH) : setIn(t, LENGTH, whole)));
    onEdit();
  };
  return (
    <fieldset className="ways">
      <legend>The straight bar, held fore and aft, touches the shell</legend>
      {(['middle', 'ends'] as const).map((each) => (
        <label key={each} data-chosen={touch === each}>
          <input
            type="radio"
            name="touch"
            checked={touch === each}
            onChange={() => {
              edit((t) => setIn(t, TOUCH, each));
              onEdit();
            }}
          />
          {each === 'middle' ? 'in its middle' : 'at both its ends'}
        </label>
      ))}
      {touch === 'ends' && (
        <label className="length">
          Length of the bar
          <input
            value={shown}
            placeholder={unit}
            spellCheck={false}
            autoComplete="off"
            aria-invalid={!good}
            onChange={(e) => setDraft(e.target.value)}
            onBlur={settle}
            onKeyDown={(e) => {
              if (e.key === 'Enter') settle();
            }}
          />
        </label>
      )}
    </fieldset>
  );
}
