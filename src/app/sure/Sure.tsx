import type { Spread } from '../../../geometry/uncertainty/spread.ts';
import { showFigure } from '../../job/show.ts';
import type { Display } from '../../job/types.ts';
import { Scroll } from '../answers/Scroll.tsx';
import { useDocument } from '../store/document.ts';
import { parsed } from '../store/parsed.ts';
import { usePlanning } from '../store/planning.ts';
import type { ScreenFitting, ScreenPlan } from '../worker/protocol.ts';
import { bandWords } from './Band.tsx';
import { SpreadChart } from './SpreadChart.tsx';
import { type SureState, sameJob, useSure } from './store.ts';
import { readingFigure, readingName, shareWord, telling } from './words.ts';
import './sure.css';

interface Props {
  readonly plan: ScreenPlan;
  readonly fitting: ScreenFitting;
  readonly display: Display;
}

/** What the errors of the readings do to the fit: how likely it is, how far figures may be off, and which reading to take again. */
export function Sure({ plan, fitting, display }: Props) {
  const state = useSure();
  const request = usePlanning((s) => s.shown?.request);
  const stands = useDocument((s) => request !== undefined && s.text === request.text && s.files === request.files);
  const known =
    request !== undefined && state.known !== null && sameJob(state.known.request, request) ? state.known : null;
  return (
    <section className="sure" aria-label="How sure" aria-busy={state.under !== null}>
      <h3>how sure</h3>
      {known === null ? (
        <Waiting state={state} stands={stands} />
      ) : known.end.kind === 'sampled' ? (
        <Found plan={plan} fitting={fitting} display={display} end={known.end} />
      ) : (
        <p>
          No reading of this job says how far it may be off, so nothing can be said of how sure the fit is. Write it
          after the figure, as in “2.2 m ± 20 mm”; “+/-” will do as well.
        </p>
      )}
    </section>
  );
}

function Waiting({ state, stands }: { state: SureState; stands: boolean }) {
  if (state.trouble !== null) return <p className="fault">This could not be found out: {state.trouble}.</p>;
  const { under } = state;
  if (under === null)
    return <p className="hint">{stands ? 'The readings are about to be followed through…' : 'Waits for the plan…'}</p>;
  return (
    <p className="mapstate">
      Following the readings through…{' '}
      <progress max={1} value={under.done} aria-label="Following the readings through" />
    </p>
  );
}

/** An angle as a person says it, without the sign that tells which side is the longer, unless it may come out either way. */
const outward = (s: Spread): Spread =>
  s.high < 0 ? { ...s, mean: -s.mean, low: -s.high, median: -s.median, high: -s.low } : s;

type Sampled = Extract<NonNullable<SureState['known']>['end'], { kind: 'sampled' }>;

function Found({ plan, fitting, display, end }: Props & { readonly end: Sampled }) {
  const { uncertainty } = end;
  const found = uncertainty.fittings.find((f) => f.id === fitting.id);
  const text = usePlanning((s) => s.shown?.request.text ?? '');
  if (found === undefined) return null;
  const { limits } = plan.job;
  const job = parsed(text);
  const fine = (x: number): string => showFigure({ mm: x, digits: 2 }, display);
  const upward = (x: number): string => showFigure({ mm: x, bound: 'least' }, display);
  const fineUp = (x: number): string => showFigure({ mm: x, digits: 2, bound: 'least' }, display);
  const deg = (x: number): string => showFigure({ rad: x, digits: 1 }, display);
  const percent = (x: number): string => showFigure({ share: x, digits: 0 }, display);
  // Samples that all fit are no promise that every ship does.
  const chance = (x: number): string =>
    x > 0.999
      ? `More than ${showFigure({ share: 0.999 }, display)}`
      : showFigure({ share: x, digits: x > 0.99 ? 1 : 0 }, display);
  const list = telling(found.inputs);
  const first = list[0];
  const band = end.bands[plan.fittings.indexOf(fitting)];
  return (
    <>
      <p>
        <b>{chance(found.fits)} sure that it fits as cut</b> (gap within {fine(limits.fitGap)});{' '}
        {chance(found.usable).toLowerCase()} sure that it needs no new cut (within {fine(limits.recutGap)}).
        {found.missed > 0 && ` In ${percent(found.missed)} of cases the foot finds no shell.`}
      </p>
      <p className="hint">In 95 of 100 cases:</p>
      <SpreadChart name="bevel that the shell asks for" spread={outward(found.bevel)} show={deg} />
      <SpreadChart
        name="largest gap, plate as cut"
        spread={found.gap}
        show={fine}
        least={0}
        limit={{ value: limits.fitGap, name: 'tight within' }}
      />
      <SpreadChart name="pull off the plane of the lug" spread={outward(found.offPlane)} show={deg} />
      {band != null && (
        <p className="hint">
          In the water: {bandWords(band, display)}
          {plan.job.ship.hull.kind === 'mesh' &&
            ' What the scan itself scatters is not in the lines; it is in the figures here.'}
        </p>
      )}
      <p>
        Leave <b>{upward(found.stock)}</b> on the foot below the cut, and in 95 of 100 cases it can be ground to fit.
        Left as cut, the gap stays below {fineUp(found.gap95)} in 95 of 100: the weld may need its square leg that much
        larger.
      </p>
      {first === undefined ? (
        <p>No single reading stands out.</p>
      ) : (
        <>
          <p>
            <b>Take “{readingName(job, first.path)}” again first:</b> {shareWord(Math.max(first.gap, first.bevel))} of
            what is not sure of the {first.gap >= first.bevel ? 'gap' : 'bevel'} comes from it.
          </p>
          <Scroll label="What each reading adds">
            <table>
              <thead>
                <tr>
                  <th scope="col">reading</th>
                  <th scope="col">bevel</th>
                  <th scope="col">gap</th>
                  <th scope="col">pull</th>
                </tr>
              </thead>
              <tbody>
                {list.map((i) => (
                  <tr key={i.path}>
                    <th scope="row">
                      {readingName(job, i.path)} <small>{readingFigure(job, i.path)}</small>
                    </th>
                    <td>{percent(i.bevel)}</td>
                    <td>{percent(i.gap)}</td>
                    <td>{percent(i.offPlane)}</td>
                  </tr>
                ))}
              </tbody>
            </table>
          </Scroll>
        </>
      )}
      <p className="hint">
        {uncertainty.samples} ships that the readings allow; each ± is taken as two standard deviations, and readings as
        independent of one another. An error in the job that nobody wrote down is not in it.
      </p>
    </>
  );
}
