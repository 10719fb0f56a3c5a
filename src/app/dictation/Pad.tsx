/** Figures for a gloved finger, where there is no keyboard. */
export function Pad({ keys, onKey }: { keys: readonly string[]; onKey: (key: string) => void }) {
  return (
    <fieldset className="pad">
      <legend className="unseen">Figures</legend>
      {[...'789456123', '0', ...keys].map((key) => (
        <button key={key} type="button" onClick={() => onKey(key)}>
          {NAMES[key] ?? key}
        </button>
      ))}
      <button type="button" aria-label="Take the last figure off" onClick={() => onKey('back')}>
        ⌫
      </button>
    </fieldset>
  );
}

const NAMES: Readonly<Record<string, string>> = { ' ': 'space' };

/** What stands in the field after a key of the pad. */
export const afterKey = (typed: string, key: string): string => (key === 'back' ? typed.slice(0, -1) : typed + key);
