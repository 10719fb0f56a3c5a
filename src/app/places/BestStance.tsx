import { showFigure, showPhrase } from '../../job/show.ts';
import type { Display } from '../../job/types.ts';
import { Mark } from '../answers/Mark.tsx';
import { Scroll } from '../answers/Scroll.tsx';
import { useDocument } from '../store/document.ts';
import { usePlanning } from '../store/planning.ts';
import type { ScreenFitting, ScreenPlan } from '../worker/protocol.ts';
import { type BestState, type BestWanted, seekBest, standSo, stopBest, useBest } from './beststore.ts';
import type { BestLug, StanceFigures } from './kinds.ts';
import { showStances } from './store.ts';

interface Props {
  readonly plan: ScreenPlan;
  readonly fitting: ScreenFitting;
  readonly display: Display;
}

const WITHIN = { metric: [50, 100, 200, 400, 800], us: [50.8, 101.6, 203.2, 406.4, 812.8] } as const;

/** How this lug, or all of them together, would stand with the least sideways pull, and the button that stands it so. */
export function BestStance({ plan, fitting, display }: Props) {
  const { wanted, running, done, answer, trouble } = useBest();
  const request = usePlanning((s) => s.shown?.request);
  const text = useDocument((s) => s.text);
  const want = (change: Partial<BestWanted>): void => useBest.setState((s) => ({ wanted: { ...s.wanted, ...change } }));
  const several = plan.fittings.length > 1;
  const ids = several && wanted.together ? plan.fittings.map((f) => f.id) : [fitting.id];
  const free = wanted.heading || wanted.lean || wanted.place;
  const within = WITHIN[display].reduce<number>(
    (p, c) => (Math.abs(c - wanted.within) < Math.abs(p - wanted.within) ? c : p),
    WITHIN[display][0],
  );
  return (
    <section className="best" aria-label="Best stance">
      <h3>best stance over {plan.lift === null ? 'this pull' : 'the whole movement'}</h3>
      <fieldset className="choices">
        <legend>may be changed</legend>
        <label>
          <input type="checkbox" checked={wanted.heading} onChange={(e) => want({ heading: e.target.checked })} />{' '}
          heading
        </label>
        <label>
          <input type="checkbox" checked={wanted.lean} onChange={(e) => want({ lean: e.target.checked })} /> lean
        </label>
        <label>
          <input type="checkbox" checked={wanted.place} onChange={(e) => want({ place: e.target.checked })} /> place
        </label>
        {wanted.place && (
          <label>
            within{' '}
            <select className="figure" value={within} onChange={(e) => want({ within: Number(e.target.value) })}>
              {WITHIN[display].map((mm) => (
                <option key={mm} value={mm}>
                  {showFigure({ mm, ...(display === 'metric' ? { digits: 0 } : {}) }, display)}
                </option>
              ))}
            </select>
          </label>
        )}
        {several && (
          <label>
            of{' '}
            <select
              className="figure"
              value={wanted.together ? 'all' : 'one'}
              onChange={(e) => want({ together: e.target.value === 'all' })}
            >
              <option value="one">lug {fitting.id} alone</option>
              <option value="all">all {plan.fittings.length} lugs together</option>
            </select>
          </label>
        )}
      </fieldset>
      <p className="mapstate" aria-live="polite">
        {running ? (
          <>
            <progress value={done} aria-label="Share of the looking that is done" /> looking…{' '}
            <button type="button" className="quiet" onClick={stopBest}>
              stop
            </button>
          </>
        ) : (
          <button
            type="button"
            disabled={!free || request === undefined}
            onClick={() => request !== undefined && seekBest(request, ids)}
          >
            find the best stance
          </button>
        )}
        {!running && (
          <button type="button" className="quiet inline" onClick={showStances}>
            map of all headings and leans
          </button>
        )}
        {!free && <span> Nothing may be changed: tick at least one.</span>}
        {trouble !== null && <b> It could not be looked for: {trouble}.</b>}
      </p>
      {answer !== null && (
        <Found
          answer={answer}
          plan={plan}
          display={display}
          stands={text}
          looked={fitting.id}
          together={ids.length > 1}
        />
      )}
    </section>
  );
}

interface FoundProps {
  readonly answer: NonNullable<BestState['answer']>;
  readonly plan: ScreenPlan;
  readonly display: Display;
  /** The job file as it stands now. */
  readonly stands: string;
  readonly looked: string;
  readonly together: boolean;
}

function Found({ answer, plan, display, stands, looked }: FoundProps) {
  const { end, request, ids } = answer;
  if (!ids.includes(looked)) return null;
  if (end.kind === 'refused') return <p role="alert">It could not be looked for: {end.reason}.</p>;
  const done = stands === end.text && end.text !== request.text;
  const since = stands !== request.text && !done;
  const same = end.text === request.text;
  const any = end.lugs.some((l) => l.found);
  return (
    <>
      {end.lugs.map((lug) => (
        <LugFound key={lug.id} lug={lug} plan={plan} display={display} named={end.lugs.length > 1} />
      ))}
      <p className="mapstate" aria-live="polite">
        {done ? (
          <b>It stands so now. Undo takes it back.</b>
        ) : since ? (
          <span>The job has changed since: look again.</span>
        ) : same ? (
          <span>It stands so already.</span>
        ) : (
          any && (
            <button type="button" className="strong" onClick={standSo}>
              {end.lugs.length > 1 ? 'stand them so' : 'stand it so'}
            </button>
          )
        )}
      </p>
    </>
  );
}

function LugFound({ lug, plan, display, named }: { lug: BestLug; plan: ScreenPlan; display: Display; named: boolean }) {
  const name = named ? <h4>lug {lug.id}</h4> : null;
  const reason = showPhrase(lug.reason, display);
  if (!lug.found)
    return (
      <>
        {name}
        <p>{reason}</p>
      </>
    );
  const { before, after, saves } = lug;
  const rows: readonly (readonly [string, (f: StanceFigures) => string])[] = [
    ['worst sideways force', (f) => showFigure({ newton: f.sideways }, display)],
    ['of the greatest pull', (f) => showFigure({ share: f.share }, display)],
    ['that pull off the plane', (f) => showFigure({ rad: f.offPlane }, display)],
    ['worst at', (f) => momentName(plan, f)],
    ['heading', (f) => showFigure({ rad: f.heading }, display)],
    ['stem from square to the shell', (f) => showFigure({ rad: f.lean }, display)],
    ['station', (f) => showFigure({ mm: f.station }, display)],
    ['girth', (f) => showFigure({ mm: f.girth }, display)],
  ];
  return (
    <>
      {name}
      <Scroll label={`Lug ${lug.id} before and after`}>
        <table>
          <caption className="unseen">Lug {lug.id} as it stands now and as it would stand best</caption>
          <thead>
            <tr>
              <td />
              <th scope="col">now</th>
              <th scope="col">then</th>
            </tr>
          </thead>
          <tbody>
            {rows.map(([title, of], i) => (
              <tr key={title} style={i < 3 ? { fontWeight: 650 } : undefined}>
                <th scope="row" className="wide">
                  {title}
                </th>
                <td className="wide">{of(before)}</td>
                <td className="wide">{of(after)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </Scroll>
      <p className="verdict" data-state={saves ? 'good' : 'fail'}>
        <Mark state={saves ? 'good' : 'fail'} />
        <span>
          {saves ? 'Within' : 'Not within'} the sideways share of{' '}
          {showFigure({ share: plan.job.limits.sidewaysShare }, display)} that the job allows. {reason}
        </span>
      </p>
    </>
  );
}

/** The point of the movement, as the scrubber counts them; the one pull of the lug where there is no movement. */
export function momentName(
  plan: ScreenPlan,
  { state, push }: { readonly state: number; readonly push: string | null },
): string {
  if (state < 0) return 'the pull given';
  return `step ${state + 1} of ${plan.lift?.states.length ?? state + 1}${push === null ? '' : `, under ${push}`}`;
}
