import { useEffect, useId, useRef } from 'react';
import { showFigure } from '../../job/show.ts';
import type { Display } from '../../job/types.ts';
import { MAP_LEAVES_OUT } from '../../plan/movement/map.ts';
import { leanOf } from '../scene/handling.ts';
import { edit } from '../store/document.ts';
import { usePlanning } from '../store/planning.ts';
import { notify } from '../store/session.ts';
import type { ScreenFitting, ScreenPlan } from '../worker/protocol.ts';
import type { MapSpot, Over } from './kinds.ts';
import { cellAt, MapChart } from './MapChart.tsx';
import { MapLegend } from './MapLegend.tsx';
import { MapTable } from './MapTable.tsx';
import { endsOf } from './paint.ts';
import { nextText, PAINTS, placeText, verdictText } from './saying.ts';
import {
  belongs,
  FINENESS,
  type Fineness,
  type MapFor,
  mostToSpare,
  nearestKnown,
  type Paint,
  seekMap,
  stopMap,
  useMap,
} from './store.ts';
import { putLug, standLug } from './writing.ts';

interface Props {
  readonly plan: ScreenPlan;
  readonly fitting: ScreenFitting;
  readonly index: number;
  readonly display: Display;
}

/** "Where may it go?": asked beneath the five answers, worked out while one looks. */
export function Places(props: Props) {
  const open = useMap((s) => s.open);
  const id = useId();
  const box = useRef<HTMLElement>(null);
  const drawn = useMap((s) => s.shown !== null);
  useEffect(() => {
    // Once when it opens, and again when the chart has made it as tall as it is.
    if (open && (drawn || box.current !== null)) box.current?.scrollIntoView({ block: 'start' });
  }, [open, drawn]);
  return (
    <section className="places" aria-label="Other places and stances" ref={box}>
      <h2>
        <button
          type="button"
          className="say"
          aria-expanded={open}
          aria-controls={id}
          onClick={() => useMap.setState({ open: !open })}
        >
          Where may it go?
        </button>
      </h2>
      {open && (
        <div className="working" id={id}>
          <MapPanel {...props} />
        </div>
      )}
    </section>
  );
}

/** How far a map goes, mm either way: what a person calls so in each system. */
const REACHES = { metric: [300, 600, 1200, 2400], us: [304.8, 609.6, 1219.2, 2438.4] } as const;
/** A hand that drags or types is let finish before a map is begun. ms */
const PAUSE = 300;

function MapPanel({ plan, fitting, index, display }: Props) {
  const request = usePlanning((s) => s.shown?.request);
  const { wanted, paint, shown, done, running, trouble } = useMap();
  const { anchor } = fitting;
  useEffect(() => {
    if (request === undefined) return;
    const timer = setTimeout(() => seekMap(request, { ...wanted, fitting: index }, anchor), PAUSE);
    return () => clearTimeout(timer);
  }, [request, wanted, index, anchor]);
  useEffect(() => stopMap, []);

  const { limits } = plan.job;
  const want = (change: Partial<MapFor>): void =>
    useMap.setState((s) => ({ wanted: { ...s.wanted, ...change }, cursor: null }));
  const fits = shown !== null && shown.asked.fitting === index && shown.asked.over === wanted.over;
  const stale = !(fits && request !== undefined && belongs(shown, request));
  const lug =
    wanted.over === 'place'
      ? { x: anchor.station, y: anchor.girth }
      : { x: halfTurn(fitting.input.heading), y: leanOf(fitting, fitting.frame.stem) };
  const put = (spot: MapSpot): void => putThere(spot, wanted.over, plan, fitting, index, display);
  const state = (
    <p className="mapstate">
      {running ? (
        <>
          <progress value={done} aria-label="Share of the map that is known" />{' '}
          {showFigure({ share: done, digits: 0 }, display)}{' '}
          <button type="button" className="quiet" onClick={stopMap}>
            stop
          </button>
          {fits && stale && <span> What is painted belongs to the figures before.</span>}
        </>
      ) : (
        done < 1 &&
        trouble === null &&
        request !== undefined && (
          <button type="button" onClick={() => seekMap(request, { ...wanted, fitting: index }, anchor)}>
            work it out
          </button>
        )
      )}
    </p>
  );
  const names = { place: 'along and round', stance: 'heading and lean' } as const;
  return (
    <>
      <div className="choices">
        <fieldset className="pair">
          <legend className="unseen">Map over</legend>
          {(['place', 'stance'] as const).map((over) => (
            <button key={over} type="button" aria-pressed={wanted.over === over} onClick={() => want({ over })}>
              {names[over]}
            </button>
          ))}
        </fieldset>
        {wanted.over === 'place' && (
          <>
            <Reach
              label="along"
              title="along the ship"
              value={wanted.along}
              display={display}
              onChoose={(along) => want({ along })}
            />
            <Reach
              label="round"
              title="round the girth"
              value={wanted.round}
              display={display}
              onChoose={(round) => want({ round })}
            />
          </>
        )}
        <label>
          <select
            className="figure"
            aria-label="Fineness of the map"
            value={wanted.fineness}
            onChange={(e) => want({ fineness: e.target.value as Fineness })}
          >
            {(Object.keys(FINENESS) as Fineness[]).map((f) => (
              <option key={f} value={f}>
                {f === 'middle' ? 'medium' : f}, {FINENESS[f].join(' × ')} spots
              </option>
            ))}
          </select>
        </label>
        <label>
          painted by{' '}
          <select
            className="figure"
            value={paint}
            onChange={(e) => useMap.setState({ paint: e.target.value as Paint })}
          >
            {(Object.keys(PAINTS) as Paint[]).map((p) => (
              <option key={p} value={p}>
                {PAINTS[p].title}
              </option>
            ))}
          </select>
        </label>
      </div>
      {trouble !== null && (
        <p role="alert">
          <b>No map:</b> {trouble}.
        </p>
      )}
      {!fits && state}
      {fits && (
        <>
          <MapLegend paint={paint} ends={endsOf(shown, paint, limits)} display={display} />
          <MapChart shown={shown} paint={paint} limits={limits} display={display} lug={lug} stale={stale} onPut={put} />
          <Reading plan={plan} lug={lug} display={display} onPut={put} />
          {state}
          <MapTable shown={shown} limits={limits} display={display} />
        </>
      )}
      <p className="source">{MAP_LEAVES_OUT}</p>
    </>
  );
}

function Reach({
  label,
  title,
  value,
  display,
  onChoose,
}: {
  label: string;
  title: string;
  value: number;
  display: Display;
  onChoose: (mm: number) => void;
}) {
  const options = REACHES[display];
  const nearest = options.reduce<number>((p, c) => (Math.abs(c - value) < Math.abs(p - value) ? c : p), options[0]);
  return (
    <label title={title}>
      {label} ±{' '}
      <select
        className="figure"
        aria-label={`Map ${title}, either way`}
        value={nearest}
        onChange={(e) => onChoose(Number(e.target.value))}
      >
        {options.map((mm) => (
          <option key={mm} value={mm}>
            {showFigure({ mm, ...(display === 'metric' ? { digits: 0 } : {}) }, display)}
          </option>
        ))}
      </select>
    </label>
  );
}

/** The spot pointed at, in words, and what can be done with it. */
function Reading({
  plan,
  lug,
  display,
  onPut,
}: {
  plan: ScreenPlan;
  lug: { x: number; y: number };
  display: Display;
  onPut: (spot: MapSpot) => void;
}) {
  const cursor = useMap((s) => s.cursor);
  const shown = useMap((s) => s.shown);
  if (shown === null) return null;
  const at = cursor ?? cellAt(shown, lug);
  const spot = nearestKnown(shown, at.column, at.row);
  const spare = mostToSpare(shown);
  const { over } = shown.asked;
  const { limits } = plan.job;
  const verdict = spot === undefined ? '' : verdictText(spot.verdict, limits, display);
  const next = spot === undefined ? '' : nextText(spot.verdict, limits, display);
  return (
    <>
      <p className="reading" aria-live="polite">
        {spot === undefined ? (
          'Not known yet.'
        ) : (
          <>
            <b>{capital(verdict)}.</b> {next === '' ? '' : `${capital(next)}. `}
            <span className="where">{capital(placeText(spot, over, display))}.</span>
          </>
        )}
      </p>
      <div className="leave">
        <button
          type="button"
          disabled={spot === undefined || spot.verdict.kind === 'cannot'}
          onClick={() => spot !== undefined && onPut(spot)}
        >
          {over === 'place' ? 'put the lug there' : 'stand the lug so'}
        </button>
        <button
          type="button"
          disabled={spare === undefined}
          onClick={() => spare !== undefined && useMap.setState({ cursor: { column: spare.column, row: spare.row } })}
        >
          show the spot with most to spare
        </button>
      </div>
    </>
  );
}

const capital = (text: string): string => (text[0] ?? '').toUpperCase() + text.slice(1);

/** The same plane of the plate, as the map counts headings: -90 to 90 deg. */
const halfTurn = (heading: number): number => heading - Math.PI * Math.round(heading / Math.PI);

/** Puts the lug on a spot of the map, as one step that can be undone; where it cannot stand it stays, and that is said. */
export function putThere(
  spot: MapSpot,
  over: Over,
  plan: ScreenPlan,
  fitting: ScreenFitting,
  index: number,
  display: Display,
): void {
  if (spot.verdict.kind === 'cannot') {
    notify(`The lug stays where it is: it ${verdictText(spot.verdict, plan.job.limits, display)}.`);
    return;
  }
  const { anchor } = fitting;
  if (over === 'stance') {
    if (spot.lean !== null) edit((t) => standLug(t, index, spot.heading, spot.lean as number, display));
    return;
  }
  const { point } = spot;
  if (point === null) return;
  edit((t) =>
    putLug(t, plan.job, index, anchor, { station: spot.station, girth: spot.girth, side: anchor.side, point }, display),
  );
}
