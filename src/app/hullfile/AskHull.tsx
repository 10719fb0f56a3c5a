import { useEffect, useRef } from 'react';
import type { Axis, MeshUnit } from '../../job/meshfile/sift.ts';
import { useReading } from '../store/reading.ts';
import { stopReading } from '../worker/fileclient.ts';
import {
  type Asked,
  AXES,
  type DrawingWords,
  type MeshWords,
  objectionTo,
  planOnIt,
  UNITS,
  useAsked,
} from './asked.ts';
import { Progress } from './Reading.tsx';
import './hullfile.css';

/** Asks in short sentences what a file is that was dropped on the job. */
export default function AskHull() {
  const now = useAsked((s) => s.now);
  const box = useRef<HTMLDialogElement>(null);
  const open = now !== null;
  useEffect(() => {
    if (open) box.current?.showModal();
  }, [open]);
  if (now === null) return null;
  const leave = (): void => {
    stopReading();
    useReading.setState({ now: null });
    useAsked.setState({ now: null });
  };
  return (
    <dialog ref={box} className="hullfile" aria-labelledby="hullfile-title" onClose={leave}>
      <h2 id="hullfile-title">What is {now.name}?</h2>
      {now.kind === 'mesh' ? <Mesh asked={now} /> : <Drawing asked={now} />}
      <p className="row">
        <button
          type="button"
          className="strong"
          disabled={now.kind === 'mesh' && (objectionTo(now.words) !== undefined || now.trouble !== null)}
          onClick={() => planOnIt(now)}
        >
          plan on it
        </button>
        <button type="button" onClick={leave}>
          leave it
        </button>
        <span className="hint">It takes the place of the hull of this job; undo brings that back.</span>
      </p>
    </dialog>
  );
}

function Mesh({ asked }: { asked: Extract<Asked, { kind: 'mesh' }> }) {
  const { words, extent, trouble } = asked;
  const say = (some: Partial<MeshWords>): void =>
    useAsked.setState({ now: { ...asked, words: { ...words, ...some } } });
  const axis = (which: 'forward' | 'port' | 'up', label: string) => (
    <select
      className="figure"
      aria-label={label}
      value={words[which]}
      onChange={(e) => say({ [which]: e.target.value as Axis })}
    >
      {AXES.map((a) => (
        <option key={a} value={a}>
          {a.replace('-', 'minus ')}
        </option>
      ))}
    </select>
  );
  const origin = (k: 0 | 1 | 2, label: string) => (
    <input
      className="figure"
      aria-label={label}
      value={words.origin[k]}
      size={8}
      onChange={(e) => {
        const next: [string, string, string] = [...words.origin];
        next[k] = e.target.value;
        say({ origin: next });
      }}
    />
  );
  const objection = objectionTo(words);
  return (
    <>
      <Progress />
      {trouble !== null && (
        <p className="fault" role="alert">
          {trouble}
        </p>
      )}
      {extent !== null && (
        <p className="hint">
          Its numbers run{' '}
          {(['x', 'y', 'z'] as const)
            .map((a, k) => `${a} ${short(extent.low[k])} to ${short(extent.high[k])}`)
            .join(', ')}
          . What stands below was guessed from them: set right what is not so.
        </p>
      )}
      <p className="sentence">
        Its numbers are in <UnitChoice value={words.unit} onChange={(unit) => unit !== 'its own' && say({ unit })} />.
        Its axis {axis('forward', 'Axis that points forward')} points forward,{' '}
        {axis('port', 'Axis that points to port')} to port, {axis('up', 'Axis that points up')} up.
      </p>
      <p className="sentence">
        Its zero lies {origin(0, 'Zero of the file, forward of the aft perpendicular')} forward of the aft
        perpendicular, {origin(1, 'Zero of the file, to port of the centreline')} to port of the centreline,{' '}
        {origin(2, 'Zero of the file, above the baseline')} above the baseline.
      </p>
      <p className="sentence">
        It is{' '}
        <select
          className="figure"
          aria-label="How much of the hull it is"
          value={words.half ? 'half' : 'whole'}
          onChange={(e) => say({ half: e.target.value === 'half' })}
        >
          <option value="half">one side of the hull, the other is its mirror image</option>
          <option value="whole">both sides as they are</option>
        </select>
        .
      </p>
      {objection !== undefined && (
        <p className="fault" role="alert">
          {objection}
        </p>
      )}
    </>
  );
}

function Drawing({ asked }: { asked: Extract<Asked, { kind: 'drawing' }> }) {
  const { words } = asked;
  const say = (some: Partial<DrawingWords>): void =>
    useAsked.setState({ now: { ...asked, words: { ...words, ...some } } });
  return (
    <>
      <p className="sentence">
        A drawing of one section. Its numbers are in{' '}
        <UnitChoice own value={words.unit} onChange={(unit) => say({ unit })} />. The section is on the layer{' '}
        <input
          className="figure"
          aria-label="Layer of the section"
          placeholder="any"
          size={10}
          value={words.layer}
          onChange={(e) => say({ layer: e.target.value })}
        />
        .
      </p>
      <p className="sentence">
        Of it counts{' '}
        <select
          className="figure"
          aria-label="What of the drawing counts"
          value={words.half}
          onChange={(e) => say({ half: e.target.value as DrawingWords['half'] })}
        >
          <option value="all">all that is drawn: it is one side only</option>
          <option value="right">what lies right of the centreline</option>
          <option value="left">what lies left of the centreline</option>
        </select>
        .
      </p>
    </>
  );
}

function UnitChoice({
  value,
  own,
  onChange,
}: {
  value: MeshUnit | 'its own';
  own?: boolean;
  onChange: (unit: MeshUnit | 'its own') => void;
}) {
  return (
    <select
      className="figure"
      aria-label="Unit of the file"
      value={value}
      onChange={(e) => onChange(e.target.value as MeshUnit | 'its own')}
    >
      {own === true && <option value="its own">the unit that it says itself</option>}
      {UNITS.map((u) => (
        <option key={u} value={u}>
          {u}
        </option>
      ))}
    </select>
  );
}

const short = (x: number | undefined): string => String(Number((x ?? 0).toPrecision(4)));
