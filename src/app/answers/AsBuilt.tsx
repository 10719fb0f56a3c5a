import { showFigure, showPhrase } from '../../job/show.ts';
import type { Display } from '../../job/types.ts';
import { spotPlace } from '../text/sides.ts';
import type { ScreenFitting } from '../worker/protocol.ts';
import { CheckCard } from './CheckCard.tsx';

/** What was read off the lug as it stands, and what must be done about it. */
export function AsBuilt({ fitting, display }: { fitting: ScreenFitting; display: Display }) {
  const { asBuilt } = fitting;
  if (asBuilt === null) return null;
  const mm = (x: number): string => showFigure({ mm: x }, display);
  return (
    <>
      <h3>as it was built</h3>
      <p>
        <b>{showPhrase(asBuilt.verdict, display)}</b> The stem stands {showFigure({ rad: asBuilt.offPlanned }, display)}{' '}
        off where it was planned; the pull leaves its plane by{' '}
        {showFigure({ rad: Math.abs(asBuilt.load.offPlane) }, display)}.
      </p>
      {asBuilt.orders.length > 0 && (
        <ul>
          {asBuilt.orders.map((o) => {
            const text = showPhrase(o, display);
            return <li key={text}>{text}</li>;
          })}
        </ul>
      )}
      {asBuilt.gaps.length > 0 && (
        <table>
          <thead>
            <tr>
              <th scope="col">gap felt at</th>
              <th scope="col">found</th>
              <th scope="col">planned</th>
            </tr>
          </thead>
          <tbody>
            {asBuilt.gaps.map((g) => (
              <tr key={g.s}>
                <th scope="row">{spotPlace(fitting, g.s, display)}</th>
                <td>{mm(g.gap)}</td>
                <td>{mm(g.planned)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
      {asBuilt.checks.map((c) => (
        <CheckCard key={`built ${c.id}`} check={c} display={display} />
      ))}
    </>
  );
}
