import { openDictation } from './store.ts';

/** The way to read the tacked lug over the radio. */
export function TakeFitup() {
  return (
    <p>
      <button type="button" onClick={() => openDictation('fitup')}>
        take down the fit-up from the diver
      </button>
    </p>
  );
}
