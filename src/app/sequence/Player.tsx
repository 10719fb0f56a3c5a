import { useEffect, useMemo, useRef } from 'react';
import { showFigure } from '../../job/show.ts';
import type { Display } from '../../job/types.ts';
import { workAt } from '../scene/marks.ts';
import { edit, useDocument } from '../store/document.ts';
import { useView } from '../store/view.ts';
import { sideNames, spotPlace } from '../text/sides.ts';
import type { ScreenFitting } from '../worker/protocol.ts';
import { lastStop, withStop } from './stopped.ts';

/** Seconds that one run takes to play. */
const SECONDS_PER_RUN = 2.5;

const reduced = (): boolean => matchMedia('(prefers-reduced-motion: reduce)').matches;

/** The welding order of the root: played, stepped, scrubbed; and where the dive ended. */
export function Player({ fitting, display }: { fitting: ScreenFitting; display: Display }) {
  const laid = useView((s) => s.laid);
  const playing = useView((s) => s.playing);
  const stops = useDocument((s) => s.stops);
  const { runs } = fitting.sequence;
  const names = useMemo(() => sideNames(fitting), [fitting]);
  const total = runs.length;
  const { run } = workAt(runs, laid);
  const standing = lastStop(fitting, stops);
  const before = useRef(0);

  useEffect(() => {
    if (!playing) return;
    if (reduced()) {
      // Without motion a run is one step of the clock.
      const timer = setInterval(() => step(1, total), SECONDS_PER_RUN * 1000);
      return () => clearInterval(timer);
    }
    let frame = requestAnimationFrame(function tick(now) {
      const seconds = before.current === 0 ? 0 : (now - before.current) / 1000;
      before.current = now;
      const next = useView.getState().laid + seconds / SECONDS_PER_RUN;
      useView.setState(next >= total ? { laid: total, playing: false } : { laid: next });
      if (next < total) frame = requestAnimationFrame(tick);
    });
    return () => {
      cancelAnimationFrame(frame);
      before.current = 0;
    };
  }, [playing, total]);

  const stop = (): void => {
    useView.setState({ playing: false });
    edit((text) => withStop(text, useView.getState().fitting, fitting, laid, new Date()));
  };
  const { readings } = fitting;
  const deg = (x: number): string => showFigure({ rad: x }, display);
  return (
    <section className="player" aria-label="The welding order of the root">
      <p className="next" aria-live="polite">
        {run === undefined
          ? 'The root is closed. Hold: root seen and accepted before the hot pass.'
          : `Run ${run.run} of ${total}: ${laid === Math.floor(laid) ? `strike at ${spotPlace(fitting, run.fromS, display, names)}` : names[run.side]}, go ${run.travel.towards}${run.travel.climb > 0.02 ? `, climbing ${deg(run.travel.climb)}` : ''}`}
      </p>
      <p>
        Angle finder: stem <b>{deg(readings.stemFromPlumb)}</b> from plumb, face <b>{deg(readings.faceFromPlumb)}</b>
        {run !== undefined &&
          (run.trapped > 0
            ? ' · gas is shut in'
            : run.ventOpen
              ? ' · gas has a way out'
              : ` · gas shut in for ${showFigure({ mm: run.sealed }, display)}`)}
      </p>
      <div className="row">
        <button
          type="button"
          onClick={() => useView.setState((v) => ({ playing: !v.playing, laid: v.laid >= total ? 0 : v.laid }))}
        >
          {playing ? 'pause' : 'play'}
        </button>
        <button type="button" onClick={() => step(-1, total)} disabled={laid <= 0}>
          back
        </button>
        <button type="button" onClick={() => step(1, total)} disabled={laid >= total}>
          next run
        </button>
        <input
          type="range"
          min={0}
          max={total}
          step={0.05}
          value={laid}
          aria-label="How far the root is welded, in runs"
          aria-valuetext={run === undefined ? 'all runs laid' : `${Math.floor(laid)} of ${total} runs laid`}
          onChange={(e) => useView.setState({ laid: Number(e.target.value), playing: false })}
        />
        <button type="button" className="stop" onClick={stop}>
          stopped here
        </button>
      </div>
      <div className="row" style={{ fontSize: 13 }}>
        <Standing standing={standing} fitting={fitting} display={display} />
      </div>
      <p style={{ fontSize: 12.5 }}>
        Direct current only, knife switch on the diver's word. Lock-outs made and the space behind proved free of gas
        before anyone strikes.
      </p>
    </section>
  );
}

function step(by: 1 | -1, total: number): void {
  useView.setState((v) => {
    const to = by > 0 ? Math.floor(v.laid + 1e-9) + 1 : Math.ceil(v.laid - 1e-9) - 1;
    return { laid: Math.min(total, Math.max(0, to)), playing: false };
  });
}

function Standing({
  standing,
  fitting,
  display,
}: {
  standing: ReturnType<typeof lastStop>;
  fitting: ScreenFitting;
  display: Display;
}) {
  if (standing.kind === 'none')
    return <span className="hint">“Stopped here” marks where a dive ended, for the next diver.</span>;
  const { at } = standing.stop;
  const when = Number.isNaN(Date.parse(at))
    ? at
    : new Date(at).toLocaleString(undefined, { dateStyle: 'medium', timeStyle: 'short' });
  if (standing.kind === 'void')
    return (
      <span style={{ color: 'var(--fail)' }}>
        A stop was marked {when} on other figures: the order has changed since. Look at the work before anyone goes on.
      </span>
    );
  const { run } = workAt(fitting.sequence.runs, standing.laid);
  const done = run === undefined;
  return (
    <span>
      Last stop {when}: run {standing.stop.run}, {spotPlace(fitting, standing.stop.s, display)}.{' '}
      {done ? 'The root was closed.' : `The next diver grinds that end, then goes on ${run.travel.towards}.`}{' '}
      <button
        type="button"
        className="quiet inline"
        onClick={() => useView.setState({ laid: standing.laid, playing: false })}
      >
        show it
      </button>
    </span>
  );
}
