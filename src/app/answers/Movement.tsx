import { showFigure, showPhrase } from '../../job/show.ts';
import type { Display } from '../../job/types.ts';
import { useView } from '../store/view.ts';
import type { ScreenFitting, ScreenPlan } from '../worker/protocol.ts';
import { sweepOf } from './answers.ts';
import { CheckCard } from './CheckCard.tsx';
import { Scroll } from './Scroll.tsx';

/** The pull at every point of the load's movement, or that the job gives none. */
export function Movement({ plan, fitting, display }: { plan: ScreenPlan; fitting: ScreenFitting; display: Display }) {
  const moment = useView((s) => s.moment);
  const sweep = sweepOf(plan, fitting);
  if (plan.lift === null || sweep === undefined)
    return (
      <p>
        Not computed: the pull through the whole movement of the load, because the job gives{' '}
        {plan.lift === null ? 'no movement' : 'this lug no line'}. What stands here is the one pull given; the lug must
        be looked at for every place the load passes.
      </p>
    );
  const bad = sweep.checks.filter((c) => !c.check.pass);
  return (
    <>
      <h3>through the movement</h3>
      <Scroll label="The pull through the movement">
        <table>
          <thead>
            <tr>
              <th scope="col">point</th>
              <th scope="col">pull</th>
              <th scope="col">off the plane</th>
              <th scope="col">from the stem</th>
              <th scope="col">sideways</th>
            </tr>
          </thead>
          <tbody>
            {sweep.pulls.map((p, i) => (
              // biome-ignore lint/suspicious/noArrayIndexKey: points of the movement are known by their order
              <tr key={i} style={i === moment ? { fontWeight: 700 } : undefined}>
                <th scope="row">{i + 1}</th>
                {p === null ? (
                  <td colSpan={4}>slack</td>
                ) : (
                  <>
                    <td>{showFigure({ newton: p.force }, display)}</td>
                    <td>{showFigure({ rad: p.offPlane }, display)}</td>
                    <td>{showFigure({ rad: p.inPlane }, display)}</td>
                    <td>{showFigure({ newton: p.sideways }, display)}</td>
                  </>
                )}
              </tr>
            ))}
          </tbody>
        </table>
      </Scroll>
      {plan.lift.notes.map((n) => {
        const text = showPhrase(n, display);
        return <p key={text}>{text}</p>;
      })}
      {plan.lift.checks.map((c) => (
        <CheckCard key={`lift ${c.id} ${c.title}`} check={c} display={display} />
      ))}
      {bad.length > 0 && <h3>not within limits somewhere on the way</h3>}
      {bad.map((c) => (
        <div key={`swept ${c.check.id} ${c.check.title}`}>
          <p>
            At point {c.state + 1}
            {c.push === null ? '' : `, pushed by ${c.push}`}:
          </p>
          <CheckCard check={c.check} display={display} />
        </div>
      ))}
    </>
  );
}
