import { showFigure } from '../../job/show.ts';
import type { Display } from '../../job/types.ts';
import { sweepOf } from '../answers/answers.ts';
import { stepName } from '../answers/MovementChart.tsx';
import { useView } from '../store/view.ts';
import type { ScreenFitting, ScreenPlan } from '../worker/protocol.ts';

/** The load's movement, scrubbed by the engineer: the pull on this lug at each point of it. */
export function Scrubber({ plan, fitting, display }: { plan: ScreenPlan; fitting: ScreenFitting; display: Display }) {
  const moment = useView((s) => s.moment);
  const sweep = sweepOf(plan, fitting);
  if (sweep === undefined || sweep.pulls.length < 2) return null;
  const last = sweep.pulls.length - 1;
  const at = Math.min(moment, last);
  const pull = sweep.pulls[at];
  const worst = sweep.worst?.sideways;
  const words =
    pull === null || pull === undefined
      ? 'no pull on this lug'
      : `${showFigure({ newton: pull.force }, display)}, ${showFigure({ rad: Math.abs(pull.offPlane) }, display)} off the plane, ${showFigure({ newton: Math.abs(pull.sideways) }, display)} sideways`;
  return (
    <section className="player" aria-label="The movement of the load">
      <p className="next" aria-live="polite">
        Step {at + 1} of {last + 1}
        {stepName(plan, at)}: {words}
      </p>
      <div className="row">
        <button type="button" disabled={at === 0} onClick={() => useView.setState({ moment: at - 1 })}>
          back
        </button>
        <button type="button" disabled={at === last} onClick={() => useView.setState({ moment: at + 1 })}>
          next step
        </button>
        <input
          type="range"
          min={0}
          max={last}
          step={1}
          value={at}
          aria-label="Step of the movement"
          aria-valuetext={words}
          onChange={(e) => useView.setState({ moment: Number(e.target.value) })}
        />
        {worst !== undefined && (
          <button type="button" onClick={() => useView.setState({ moment: worst.state })}>
            the worst
          </button>
        )}
      </div>
    </section>
  );
}
