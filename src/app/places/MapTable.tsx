import { showFigure } from '../../job/show.ts';
import type { Display, Job } from '../../job/types.ts';
import { Scroll } from '../answers/Scroll.tsx';
import type { MapSpot } from './kinds.ts';
import { placeText, verdictText } from './saying.ts';
import { type MapShown, mostToSpare, nearestKnown } from './store.ts';
import { tallyOf } from './tally.ts';

/** Columns and rows of the table at most. */
const ACROSS = 7;
const DOWN = 9;

/** The map in words: how much of it stands, what stops the rest, and a coarse table of it. */
export function MapTable({ shown, limits, display }: { shown: MapShown; limits: Job['limits']; display: Display }) {
  const { grid, asked } = shown;
  const tally = tallyOf(shown.spots);
  const spare = mostToSpare(shown);
  const columns = picked(grid.columns.length, ACROSS);
  const rows = picked(grid.rows.length, DOWN).reverse();
  const name = (value: number): string =>
    showFigure(asked.over === 'place' ? { mm: value } : { rad: value, digits: 0 }, display);
  return (
    <>
      <p>
        {tally.passes} of {tally.known} spots stand within every limit, {tally.fails} do not pass, at {tally.cannot} it
        cannot stand.
        {tally.binding.length > 0 &&
          ` What stops it: ${tally.binding.map(([title, n]) => `${title} (${n})`).join(', ')}.`}
        {spare !== undefined &&
          ` Most to spare: ${placeText(spare, asked.over, display)}; it ${verdictText(spare.verdict, limits, display)}.`}
      </p>
      <details>
        <summary>the map as a table</summary>
        <Scroll label="The map as a table">
          <table>
            <caption className="unseen">Use of the limit that binds, and which it is</caption>
            <thead>
              <tr>
                <th scope="col">{asked.over === 'place' ? 'girth \\ station' : 'lean \\ heading'}</th>
                {columns.map((c) => (
                  <th key={c} scope="col">
                    {name(grid.columns[c] as number)}
                  </th>
                ))}
              </tr>
            </thead>
            <tbody>
              {rows.map((r) => (
                <tr key={r}>
                  <th scope="row">{name(grid.rows[r] as number)}</th>
                  {columns.map((c) => (
                    <td key={c} className="wide">
                      {cellText(nearestKnown(shown, c, r), display)}
                    </td>
                  ))}
                </tr>
              ))}
            </tbody>
          </table>
        </Scroll>
      </details>
    </>
  );
}

/** So many of `n`, evenly, both ends among them. */
function picked(n: number, most: number): number[] {
  const count = Math.min(n, most);
  return Array.from({ length: count }, (_, i) => Math.round((i * (n - 1)) / Math.max(1, count - 1)));
}

function cellText(spot: MapSpot | undefined, display: Display): string {
  if (spot === undefined) return 'not known yet';
  if (spot.verdict.kind === 'cannot') return 'cannot stand';
  const [first] = spot.verdict.limits;
  if (first === undefined) return 'stands';
  const ratio = first.ratio > 1000 ? 'far over' : showFigure({ count: first.ratio, digits: 2 }, display);
  return `${spot.verdict.passes ? 'stands' : 'no'}, ${ratio} (${first.title.toLowerCase()})`;
}
