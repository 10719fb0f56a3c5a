import { scaleLinear } from 'd3-scale';
import { useMemo } from 'react';
import { showFigure } from '../../job/show.ts';
import type { Display } from '../../job/types.ts';
import { internalPer } from '../../job/units.ts';
import { pullOn } from '../../plan/movement/cases.ts';
import type { LugSweep } from '../../plan/movement/types.ts';
import { useView } from '../store/view.ts';
import type { ScreenFitting, ScreenPlan } from '../worker/protocol.ts';

interface Props {
  readonly plan: ScreenPlan;
  readonly fitting: ScreenFitting;
  readonly sweep: LugSweep;
  readonly display: Display;
}

/** Sideways force on the lug at a point of the movement, N: with the load at rest, and the most that a push makes of it. */
export interface SidewaysAt {
  readonly rest: number | null;
  readonly pushed: number | null;
}

export function sidewaysOver(plan: ScreenPlan, fitting: ScreenFitting, sweep: LugSweep): SidewaysAt[] {
  const pushed: (number | null)[] = sweep.pulls.map(() => null);
  for (const { state, push, equilibrium } of plan.lift?.cases ?? []) {
    if (push === null) continue;
    const pull = pullOn(fitting, plan.lift?.lines ?? [], equilibrium, plan.up);
    if (pull !== null) pushed[state] = Math.max(pushed[state] ?? 0, Math.abs(pull.sideways));
  }
  return sweep.pulls.map((p, i) => ({ rest: p === null ? null : Math.abs(p.sideways), pushed: pushed[i] ?? null }));
}

const [WIDTH, HEIGHT, LEFT, TOP, FOOT] = [360, 150, 54, 10, 22];

/** Where on the way the lug is pulled sideways most: a column a step, the push on top of it, the limit across. */
export function MovementChart({ plan, fitting, sweep, display }: Props) {
  const moment = useView((s) => s.moment);
  const at = useMemo(() => sidewaysOver(plan, fitting, sweep), [plan, fitting, sweep]);
  const { worst } = sweep;
  if (worst === undefined) return null;
  const limit = plan.job.limits.sidewaysShare * worst.tension.pull.force;
  const most = Math.max(limit * 1.15, ...at.map((a) => Math.max(a.rest ?? 0, a.pushed ?? 0)));
  const n = at.length;
  const y = scaleLinear([0, most], [HEIGHT - FOOT, TOP]);
  // Round figures in the reader's own unit.
  const unit = internalPer(display === 'us' ? 'lbf' : 'kN');
  const marks = scaleLinear([0, most / unit], [0, 1])
    .ticks(3)
    .map((v) => v * unit);
  const half = Math.floor(n / 2);
  const highest = (part: readonly SidewaysAt[]): number =>
    Math.max(0, ...part.map((a) => Math.max(a.rest ?? 0, a.pushed ?? 0)));
  const wordsLeft = highest(at.slice(0, half)) < highest(at.slice(half));
  const width = (WIDTH - LEFT - 4) / n;
  const x = (i: number): number => LEFT + i * width;
  const kn = (newton: number): string => showFigure({ newton }, display);
  const now = Math.min(moment, n - 1);
  const choose = (i: number): void => useView.setState({ moment: i });
  const every = Math.ceil(n / 12);
  const over = at.filter((a) => Math.max(a.rest ?? 0, a.pushed ?? 0) > limit).length;
  const words = stepWords(plan, at, now, display);
  return (
    <figure className="joint movementchart">
      <svg
        viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
        role="img"
        aria-label={`Sideways force on lug ${fitting.id} over ${n} steps, greatest ${kn(Math.abs(worst.sideways.pull.sideways))} at step ${worst.sideways.state + 1}; allowed ${kn(limit)}; ${over === 0 ? 'no step is over it' : `${over} steps are over it`}`}
      >
        <defs>
          <pattern id="over-the-limit" width="5" height="5" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
            <rect width="5" height="5" fill="var(--plate-solid)" />
            <line x1="0" y1="0" x2="0" y2="5" stroke="var(--fail)" strokeWidth="4" />
          </pattern>
        </defs>
        {marks.map((v) => (
          <text key={v} x={LEFT - 5} y={y(v) + 4} textAnchor="end" fontSize="11">
            {kn(v)}
          </text>
        ))}
        {at.map((a, i) => {
          const rest = a.rest ?? 0;
          const pushed = Math.max(a.pushed ?? 0, rest);
          return (
            // biome-ignore lint/suspicious/noArrayIndexKey: points of the movement are known by their order
            // biome-ignore lint/a11y/noStaticElementInteractions: the range below does the same for the keyboard
            <g key={i} onClick={() => choose(i)} className="column">
              <rect
                x={x(i)}
                y={TOP}
                width={width}
                height={HEIGHT - FOOT - TOP}
                fill={i === now ? 'var(--field)' : 'transparent'}
                stroke={i === now ? 'var(--strike)' : 'none'}
              />
              <rect
                x={x(i) + width * 0.18}
                y={y(rest)}
                width={width * 0.64}
                height={Math.max(0, y(0) - y(rest))}
                fill={rest > limit ? 'url(#over-the-limit)' : 'var(--good)'}
              />
              {pushed > rest && (
                <path
                  d={`M${x(i) + width / 2} ${y(rest)}V${y(pushed)}M${x(i) + width * 0.25} ${y(pushed)}h${width * 0.5}`}
                  stroke={pushed > limit ? 'var(--fail)' : 'var(--ink)'}
                  strokeWidth="1.8"
                  fill="none"
                />
              )}
              {i % every === 0 && (
                <text x={x(i) + width / 2} y={HEIGHT - 8} textAnchor="middle" fontSize="11">
                  {i + 1}
                </text>
              )}
            </g>
          );
        })}
        <path d={`M${LEFT} ${y(limit)}H${WIDTH - 4}`} stroke="var(--care)" strokeWidth="1.6" strokeDasharray="7 4" />
        <text
          x={wordsLeft ? LEFT + 6 : WIDTH - 6}
          y={y(limit) - 4}
          textAnchor={wordsLeft ? 'start' : 'end'}
          fontSize="11"
          className="strong halo"
        >
          allowed {kn(limit)}
        </text>
        <text
          className="accent halo"
          x={Math.min(WIDTH - 20, Math.max(LEFT + 16, x(worst.sideways.state) + width / 2))}
          y={Math.max(TOP + 8, y(Math.abs(worst.sideways.pull.sideways)) - 4)}
          textAnchor="middle"
          fontSize="12"
          fontWeight="700"
        >
          worst
        </text>
      </svg>
      <div className="row">
        <input
          type="range"
          min={0}
          max={n - 1}
          step={1}
          value={now}
          aria-label="Step of the movement"
          aria-valuetext={words}
          onChange={(e) => choose(Number(e.target.value))}
        />
        <button type="button" onClick={() => choose(worst.sideways.state)} aria-pressed={now === worst.sideways.state}>
          the worst
        </button>
      </div>
      <figcaption>
        Column: sideways force with the load at rest. Stroke above: the most that a push makes of it. {words}
      </figcaption>
    </figure>
  );
}

/** "Step 7 of 18, walk aft (3 of 8): 0.21 kN sideways, pushed 0.48 kN." */
export function stepWords(plan: ScreenPlan, at: readonly SidewaysAt[], i: number, display: Display): string {
  const here = at[i];
  const kn = (newton: number): string => showFigure({ newton }, display);
  const head = `Step ${i + 1} of ${at.length}${stepName(plan, i)}`;
  if (here === undefined || (here.rest === null && here.pushed === null)) return `${head}: slack.`;
  const rest = here.rest === null ? 'slack at rest' : `${kn(here.rest)} sideways`;
  return `${head}: ${rest}${here.pushed === null ? '' : `, pushed ${kn(Math.max(here.pushed, here.rest ?? 0))}`}.`;
}

/** ", walk aft (3 of 8)": what the job calls the step that this point belongs to. */
export function stepName(plan: Pick<ScreenPlan, 'lift'>, i: number): string {
  const state = plan.lift?.states[i];
  if (state === undefined) return '';
  return `, ${state.label}${state.parts > 1 ? ` (${state.part} of ${state.parts})` : ''}`;
}
