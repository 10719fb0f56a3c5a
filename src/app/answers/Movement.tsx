import { showFigure, showPhrase } from '../../job/show.ts';
import type { Display } from '../../job/types.ts';
import type { LugSweep } from '../../plan/movement/types.ts';
import { reveal } from '../places/reveal.ts';
import { startLift, stillToSet } from '../places/start.ts';
import { edit } from '../store/document.ts';
import { setIn, spanOf } from '../store/jsontext.ts';
import { useView } from '../store/view.ts';
import { sideNames } from '../text/sides.ts';
import type { ScreenFitting, ScreenPlan } from '../worker/protocol.ts';
import { sweepOf } from './answers.ts';
import { CheckCard } from './CheckCard.tsx';
import { MovementChart, stepName } from './MovementChart.tsx';
import { Scroll } from './Scroll.tsx';

interface Props {
  readonly plan: ScreenPlan;
  readonly fitting: ScreenFitting;
  readonly display: Display;
}

/** The pull at every point of the load's movement, or that the job gives none. */
export function Movement({ plan, fitting, display }: Props) {
  const moment = useView((s) => s.moment);
  const sweep = sweepOf(plan, fitting);
  if (plan.lift === null || sweep === undefined) return <NoMovement plan={plan} fitting={fitting} display={display} />;
  const bad = sweep.checks.filter((c) => !c.check.pass);
  return (
    <>
      <h3>through the movement</h3>
      {stillToSet(plan.lift.name) && (
        <p className="caution">
          Load, line and steps were put in to start with and are nobody's figures: set each of them in the job under
          “the movement of the load”, then give the load its own name.
        </p>
      )}
      {sweep.worst === undefined ? (
        <p>{showPhrase(sweep.summary, display)}</p>
      ) : (
        <p>{whyText(plan, fitting, sweep, display)}</p>
      )}
      <MovementChart plan={plan} fitting={fitting} sweep={sweep} display={display} />
      <details>
        <summary>every step as a table</summary>
        <Scroll label="The pull through the movement">
          <table>
            <thead>
              <tr>
                <th scope="col">step</th>
                <th scope="col">pull</th>
                <th scope="col">off the plane</th>
                <th scope="col">from the stem</th>
                <th scope="col">sideways</th>
              </tr>
            </thead>
            <tbody>
              {sweep.pulls.map((p, i) => (
                // biome-ignore lint/suspicious/noArrayIndexKey: points of the movement are known by their order
                <tr key={i} aria-current={i === moment} style={i === moment ? { fontWeight: 700 } : undefined}>
                  <th scope="row">
                    {i + 1}
                    {stepName(plan, i)}
                  </th>
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
      </details>
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
            At step {c.state + 1}
            {stepName(plan, c.state)}
            {c.push === null ? '' : `, pushed by ${c.push}`}:
          </p>
          <CheckCard check={c.check} display={display} />
        </div>
      ))}
    </>
  );
}

/** Why the worst is the worst: which way the pull leaves the plate there, and by how much on each length of line. */
export function whyText(plan: ScreenPlan, fitting: ScreenFitting, sweep: LugSweep, display: Display): string {
  const { worst } = sweep;
  if (worst === undefined) return '';
  const { pull } = worst.sideways;
  const names = sideNames(fitting);
  const share = pull.sidewaysShare;
  const unit = display === 'us' ? { mm: 304.8, name: 'foot' } : { mm: 1000, name: 'metre' };
  const allowed = plan.job.limits.sidewaysShare * worst.tension.pull.force;
  const { state, push } = worst.sideways;
  const pushed = push === null ? '' : `, under ${push}`;
  return `Worst at step ${state + 1}${stepName(plan, state)}${pushed}: the pull leaves the plate towards the ${
    pull.sideways < 0 ? names['face-'] : names['face+']
  }, ${showFigure({ mm: share * unit.mm }, display)} across it on every ${unit.name} of pull; ${showFigure({ newton: allowed }, display)} sideways is allowed.`;
}

/** That there is no movement, or none for this lug, and the way to put one in. */
function NoMovement({ plan, fitting, display }: Props) {
  const add = (): void => {
    edit((text) =>
      spanOf(text, ['lift']) === undefined ? setIn(text, ['lift'], startLift(fitting, plan.up, display)) : text,
    );
    reveal('lift');
  };
  return (
    <>
      <p>
        Not computed: the pull through the whole movement of the load, because the job gives{' '}
        {plan.lift === null ? 'no movement' : 'this lug no line'}. What stands here is the one pull given; the lug must
        be looked at for every place the load passes.
      </p>
      {plan.lift === null ? (
        <p>
          <button type="button" onClick={add}>
            put in a movement to set right
          </button>{' '}
          <span className="hint">
            A load that hangs plumb under this lug by one line, taken up and lowered. Every figure of it is to be set.
          </span>
        </p>
      ) : null}
    </>
  );
}
