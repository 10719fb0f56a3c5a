import { useState } from 'react';
import type { Display, Fault } from '../../job/types.ts';
import { openDictation } from '../dictation/store.ts';
import { useDocument } from '../store/document.ts';
import { textIn } from '../store/heldfile.ts';
import { type Json, type Path, pathOf, valueIn } from '../store/jsontext.ts';
import { HULL_KINDS, pastedSection, startingHull } from './hull.ts';
import { edit, replaceIn } from './hulledits.ts';
import { Cell, type Column, Rows } from './Rows.tsx';

interface Props {
  readonly job: Json;
  readonly display: Display;
  readonly faults: readonly Fault[];
}

type Own = Pick<Props, 'job' | 'display'>;

/** The hull by its own figures: points typed, rows pasted, or a table from a file. */
export function HullEditor({ job, display, faults }: Props) {
  const hull = valueIn(job, ['ship', 'hull']);
  const kind = String(valueIn(hull, ['kind']) ?? '');
  const own = faults.filter((f) => f.path.startsWith('ship.hull'));
  return (
    <div className="hull">
      <p className="sentence">
        The hull is{' '}
        <select
          className="figure"
          aria-label="How the hull is given"
          value={kind}
          onChange={(e) => {
            // Readings are taken, not made up: where the tape lies is asked first.
            if (e.target.value === 'readings') openDictation('shell');
            else edit((t) => replaceIn(t, ['ship', 'hull'], startingHull(e.target.value, hull)));
          }}
        >
          {HULL_KINDS.map((o) => (
            <option key={o.value} value={o.value}>
              {o.label}
            </option>
          ))}
        </select>
        .
      </p>
      <p className="sentence">
        <button type="button" onClick={() => openDictation('shell')}>
          {kind === 'readings' ? 'take down readings from the diver' : 'take readings at this place…'}
        </button>
      </p>
      {own.length > 0 && (
        <ul className="faults" role="alert">
          {own.map((f) => (
            <li key={f.path + f.expected}>
              {f.path.replace('ship.hull', 'hull')}: found {f.found}, expected {f.expected}
            </li>
          ))}
        </ul>
      )}
      {kind === 'segments' && <Segments job={job} display={display} />}
      {kind === 'spline' && <Points job={job} display={display} at={['ship', 'hull', 'points']} />}
      {kind === 'sections' && <Sections job={job} display={display} />}
      {kind === 'readings' && <Readings job={job} display={display} />}
      {kind === 'columns' && <Columns job={job} />}
      {(kind === 'drawing' || kind === 'mesh') && <OfFile job={job} />}
      {kind === 'offsets' && <Table job={job} display={display} />}
      {(kind === 'spline' || kind === 'segments') && <Paste />}
    </div>
  );
}

/** Out and up: the columns of every list of points. `inner`: where in a row the point stands. */
const outAndUp = (inner: Path = []): Column[] => [
  { title: 'out', path: [...inner, 'y'], kind: 'length', label: (n) => `Point ${n}, out` },
  { title: 'up', path: [...inner, 'z'], kind: 'length', label: (n) => `Point ${n}, up` },
];

function Segments({ job, display }: Own) {
  const start: Path = ['ship', 'hull', 'start'];
  return (
    <Rows
      job={job}
      display={display}
      at={['ship', 'hull', 'path']}
      caption="One section, from the keel outward; an arc's radius is plus for a round bilge, minus for a hollow."
      one="point"
      heading="to"
      fewest={1}
      columns={[
        ...outAndUp(['to']),
        { title: 'radius', path: ['radius'], kind: 'length', label: (n) => `Radius to point ${n}`, clear: true },
      ]}
      first={{
        heading: 'start',
        cells: [
          <Cell key="y" path={[...start, 'y']} label="Start, out from the centreline" job={job} display={display} />,
          <Cell key="z" path={[...start, 'z']} label="Start, up from the baseline" job={job} display={display} />,
        ],
      }}
    />
  );
}

function Points({ job, display, at }: Own & { readonly at: Path }) {
  return (
    <Rows
      job={job}
      display={display}
      at={at}
      caption="Points of the section, from the keel outward."
      one="point"
      fewest={2}
      columns={[
        ...outAndUp(),
        {
          title: 'corner',
          path: ['knuckle'],
          kind: 'tick',
          label: (n) => `The section has a corner at point ${n}`,
        },
      ]}
    />
  );
}

function Readings({ job, display }: Own) {
  const hull: Path = ['ship', 'hull'];
  const touch = valueIn(job, [...hull, 'fore', 'touch']) === 'ends' ? 'ends' : 'middle';
  const more = (): void => openDictation('shell');
  return (
    <>
      <p className="sentence">
        The tape begins{' '}
        <Cell path={[...hull, 'start', 'y']} label="Zero of the tape, out" job={job} display={display} /> out and{' '}
        <Cell path={[...hull, 'start', 'z']} label="Zero of the tape, up" job={job} display={display} /> up.
      </p>
      <Rows
        job={job}
        display={display}
        at={[...hull, 'girth']}
        caption="Slopes along the tape, from the water's level: plus rises outboard."
        one="slope"
        fewest={0}
        onAdd={more}
        columns={[
          { title: 'at', path: ['at'], kind: 'length', label: (n) => `Slope ${n}, mark on the tape` },
          { title: 'slope', path: ['slope'], kind: 'angle', label: (n) => `Slope ${n}` },
        ]}
      />
      <Rows
        job={job}
        display={display}
        at={[...hull, 'fore', 'gaps']}
        caption="Gaps under the straight bar, from its middle: plus is forward."
        one="gap"
        fewest={0}
        onAdd={more}
        columns={[
          { title: 'at', path: ['at'], kind: 'length', label: (n) => `Gap ${n}, along the bar` },
          { title: 'gap', path: ['gap'], kind: 'length', label: (n) => `Gap ${n}` },
        ]}
      />
      <p className="sentence">
        The bar touches{' '}
        <select
          className="figure"
          aria-label="Where the bar touches the shell"
          value={touch}
          onChange={(e) => edit((t) => replaceIn(t, [...hull, 'fore', 'touch'], e.target.value))}
        >
          <option value="middle">in its middle</option>
          <option value="ends">at both its ends</option>
        </select>
        ; its forward end is raised by{' '}
        <Cell
          path={[...hull, 'fore', 'slope']}
          kind="angle"
          label="Slope of the bar, forward end up"
          job={job}
          display={display}
          clear
        />
        .
      </p>
    </>
  );
}

function Sections({ job, display }: Own) {
  const sections = valueIn(job, ['ship', 'hull', 'sections']);
  const list = Array.isArray(sections) ? sections : [];
  const [shown, setShown] = useState(0);
  const at: Path = ['ship', 'hull', 'sections', Math.min(shown, list.length - 1)];
  return (
    <>
      <p className="sentence">
        {list.length} sections; shown is{' '}
        <select
          className="figure"
          aria-label="Section shown"
          value={shown}
          onChange={(e) => setShown(Number(e.target.value))}
        >
          {list.map((s, i) => (
            // biome-ignore lint/suspicious/noArrayIndexKey: a section is known by its place in the row
            <option key={i} value={i}>
              {String(valueIn(s, ['station']) ?? i + 1)}
            </option>
          ))}
        </select>
        , at station <Cell path={[...at, 'station']} label="Station of the section" job={job} display={display} />.
      </p>
      <Points job={job} display={display} at={[...at, 'points']} />
    </>
  );
}

/** A section as bare numbers, as it came from elsewhere. */
function Columns({ job }: Pick<Props, 'job'>) {
  const hull: Path = ['ship', 'hull'];
  const text = valueIn(job, [...hull, 'text']);
  const [draft, setDraft] = useState<string | undefined>(undefined);
  if (typeof text !== 'string') return <OfFile job={job} />;
  return (
    <>
      <label className="paste">
        Two numbers a row: out from the centreline, up from the baseline, in{' '}
        {String(valueIn(job, [...hull, 'unit']) ?? 'mm')}.
        <textarea
          rows={8}
          spellCheck={false}
          value={draft ?? text}
          onChange={(e) => setDraft(e.target.value)}
          onBlur={() => {
            if (draft !== undefined && draft !== text) edit((t) => replaceIn(t, [...hull, 'text'], draft));
            setDraft(undefined);
          }}
        />
      </label>
      <Unit job={job} units={['mm', 'cm', 'm', 'in', 'ft']} />
    </>
  );
}

/** A hull that stands in a file beside the job. */
function OfFile({ job }: Pick<Props, 'job'>) {
  const files = useDocument((s) => s.files);
  const name = String(valueIn(job, pathOf('ship.hull.file')) ?? '');
  return (
    <>
      <p className="sentence">
        It stands in the file <b>{name}</b>.{' '}
        {Object.hasOwn(files, name)
          ? 'Drop another of that name on the window to put it in its place.'
          : 'The file is not here yet: drop it on the window.'}
      </p>
      <Unit job={job} units={['mm', 'cm', 'm', 'in', 'ft']} />
    </>
  );
}

/** In which unit bare numbers of the hull are. */
function Unit({ job, units }: Pick<Props, 'job'> & { readonly units: readonly string[] }) {
  const unit = valueIn(job, pathOf('ship.hull.unit'));
  return (
    <p className="sentence">
      Its numbers are in{' '}
      <select
        className="figure"
        aria-label="Unit of the hull's numbers"
        value={typeof unit === 'string' ? unit : ''}
        onChange={(e) =>
          edit((t) => replaceIn(t, ['ship', 'hull', 'unit'], e.target.value === '' ? undefined : e.target.value))
        }
      >
        {typeof unit !== 'string' && <option value="">what the file says</option>}
        {units.map((u) => (
          <option key={u} value={u}>
            {u}
          </option>
        ))}
      </select>
      .
    </p>
  );
}

function Table({ job, display }: Own) {
  const files = useDocument((s) => s.files);
  const name = String(valueIn(job, pathOf('ship.hull.file')) ?? '');
  const unit = String(valueIn(job, pathOf('ship.hull.unit')) ?? 'm');
  const text = textIn(files, name);
  const rows = text?.split(/\r?\n/).filter((r) => r.trim() !== '') ?? [];
  return (
    <>
      <p className="sentence">
        A table of offsets, <b>{name}</b>, in{' '}
        <select
          className="figure"
          aria-label="Unit of the table"
          value={unit}
          onChange={(e) => edit((t) => replaceIn(t, ['ship', 'hull', 'unit'], e.target.value))}
        >
          {['m', 'mm', 'cm', 'ft', 'in', 'ft-in-8'].map((u) => (
            <option key={u} value={u}>
              {u === 'ft-in-8' ? 'feet-inches-eighths' : u}
            </option>
          ))}
        </select>
        .{' '}
        {text === undefined
          ? 'The table is not here yet: drop it on the window or paste it.'
          : `${Math.max(0, rows.length - 1)} stations.`}
      </p>
      <PasteTable name={name === '' ? 'offsets.csv' : name} text={text ?? ''} display={display} />
    </>
  );
}

function PasteTable({ name, text }: { name: string; text: string; display: Display }) {
  const [draft, setDraft] = useState<string | undefined>(undefined);
  return (
    <label className="paste">
      The table: first row the heights of the waterlines, first column the stations.
      <textarea
        rows={6}
        spellCheck={false}
        value={draft ?? text}
        onChange={(e) => setDraft(e.target.value)}
        onBlur={() => {
          if (draft !== undefined && draft !== text)
            useDocument.setState((s) => ({
              files: { ...s.files, [name]: draft },
            }));
          setDraft(undefined);
        }}
      />
    </label>
  );
}

function Paste() {
  const [draft, setDraft] = useState('');
  const [fault, setFault] = useState<string | undefined>(undefined);
  const put = (): void => {
    const reading = pastedSection(draft);
    if (reading.ok) {
      edit((t) => replaceIn(t, ['ship', 'hull'], reading.hull));
      setDraft('');
      setFault(undefined);
    } else setFault(reading.fault);
  };
  return (
    <details className="paste">
      <summary>paste rows instead</summary>
      <label>
        One point a row: distance out, height up, each with its unit, or head the columns with it, as in “out m, up m”.
        <textarea rows={5} spellCheck={false} value={draft} onChange={(e) => setDraft(e.target.value)} />
      </label>
      {fault !== undefined && (
        <p className="fault" role="alert">
          {fault}
        </p>
      )}
      <button type="button" disabled={draft.trim() === ''} onClick={put}>
        take these points for the section
      </button>
    </details>
  );
}
