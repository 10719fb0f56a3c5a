import { type Called, inFigures, type Names, type Part, type Taken } from './course.ts';

interface Props {
  readonly title: string;
  readonly taken: readonly Taken[];
  readonly names: Names | undefined;
  readonly called?: Called;
  /** Place in the list of one that all others agree to be wrong. */
  readonly odd: number | undefined;
  readonly fixing: Taken | null;
  readonly onFix: (taken: Taken) => void;
}

export const PART_NAMES: Readonly<Record<Part, string>> = {
  tape: 'slopes along the tape',
  bar: 'gaps under the bar',
  slope: 'slope of the bar',
  face: 'face from plumb',
  foot: 'foot from level',
  turned: 'foot turned',
  feelers: 'feeler gaps',
};

/** What has been taken of one part; pressing one puts it right. */
export function TakenList({ title, taken, names, called, odd, fixing, onFix }: Props) {
  if (taken.length === 0) return null;
  return (
    <section className="taken" aria-label={`Taken: ${title}`}>
      <h3>{title}</h3>
      <ul>
        {taken.map((t) => {
          const wrong = t.index === odd;
          return (
            <li key={t.index}>
              <button
                type="button"
                aria-pressed={fixing?.part === t.part && fixing.index === t.index}
                className={wrong ? 'odd' : ''}
                onClick={() => onFix(t)}
              >
                {inFigures(t, names, called)}
                {wrong && <small> the odd one out: ask again</small>}
              </button>
            </li>
          );
        })}
      </ul>
    </section>
  );
}
