import { WORTH_GRINDING } from '../../../geometry/asbuilt/grind.ts';
import { showFigure, showPhrase } from '../../job/show.ts';
import type { Display } from '../../job/types.ts';
import { gapLength } from '../../sheets/figures.ts';
import { TakeFitup } from '../dictation/TakeFitup.tsx';
import { reveal } from '../places/reveal.ts';
import { startAsBuilt } from '../places/start.ts';
import { edit } from '../store/document.ts';
import { setIn, spanOf } from '../store/jsontext.ts';
import { spotPlace } from '../text/sides.ts';
import type { ScreenFitting, ScreenPlan } from '../worker/protocol.ts';
import { CheckCard } from './CheckCard.tsx';

/** What was read off the lug as it stands, and what must be done about it. */
export function AsBuilt({ plan, fitting, display }: { plan: ScreenPlan; fitting: ScreenFitting; display: Display }) {
  const { asBuilt } = fitting;
  if (asBuilt === null) return <NotYetBuilt plan={plan} fitting={fitting} display={display} />;
  const mm = (x: number): string => gapLength(x, display);
  return (
    <>
      <h3>as it was built</h3>
      {asPlanned(asBuilt) && (
        <p className="caution">
          Angles and gaps are those of the plan, to the figure: if they were put in to start with, write over each of
          them what was read on the lug, under “as it was built” in the job.
        </p>
      )}
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
              {asBuilt.grind !== null && <th scope="col">grind off</th>}
            </tr>
          </thead>
          <tbody>
            {asBuilt.gaps.map((g, i) => (
              <tr key={g.s}>
                <th scope="row" className="wide">
                  {spotPlace(fitting, g.s, display)}
                </th>
                <td>{mm(g.gap)}</td>
                <td>{mm(g.planned)}</td>
                {asBuilt.grind !== null && <td>{grindText(asBuilt.grind.spots[i]?.grind, display)}</td>}
              </tr>
            ))}
          </tbody>
        </table>
      )}
      <TakeFitup />
      {asBuilt.checks.map((c) => (
        <CheckCard key={`built ${c.id}`} check={c} display={display} />
      ))}
    </>
  );
}

const grindText = (mm: number | undefined, display: Display): string =>
  mm === undefined ? '' : mm < WORTH_GRINDING ? 'none' : gapLength(mm, display);

/** rad, mm: less than an angle finder and a feeler gauge read. */
const [SAME_ANGLE, SAME_GAP] = [0.0018, 0.06];

/** Whether nothing that was entered differs from the plan by more than its rounding. */
function asPlanned({ offPlanned, gaps }: NonNullable<ScreenFitting['asBuilt']>): boolean {
  return offPlanned < SAME_ANGLE && gaps.every((g) => Math.abs(g.gap - g.planned) < SAME_GAP);
}

/** Nothing was read yet: the way to enter it. */
function NotYetBuilt({ plan, fitting, display }: { plan: ScreenPlan; fitting: ScreenFitting; display: Display }) {
  const index = plan.fittings.indexOf(fitting);
  const add = (): void => {
    edit((text) => {
      const path = ['fittings', index, 'asBuilt'];
      return spanOf(text, path) === undefined ? setIn(text, path, startAsBuilt(fitting, plan.up, display)) : text;
    });
    reveal('asBuilt');
  };
  return (
    <>
      <TakeFitup />
      <p>
        <button type="button" onClick={add}>
          enter what was read on the tacked lug
        </button>{' '}
        <span className="hint">Put in as planned to start with; write over each figure what was read.</span>
      </p>
    </>
  );
}
