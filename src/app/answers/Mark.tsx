import type { State } from './answers.ts';

/** Each state has a shape of its own. */
const SHAPES: Readonly<Record<State, string>> = {
  good: 'M3 10.5 8 15.5 17.5 4.5',
  care: 'M10 2.5 18.5 17.5H1.5Z',
  fail: 'M4 4 16 16 M16 4 4 16',
  strike: 'M10 3a7 7 0 1 0 .01 0 M10 7.5a2.5 2.5 0 1 0 .01 0',
  none: 'M3 10 H17',
};

export function Mark({ state }: { state: State }) {
  return (
    <svg className="mark" viewBox="0 0 20 20" aria-hidden="true">
      <path
        d={SHAPES[state]}
        fill="none"
        stroke="currentColor"
        strokeWidth="2.6"
        strokeLinecap="round"
        strokeLinejoin="round"
      />
    </svg>
  );
}
