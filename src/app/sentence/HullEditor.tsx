import { useState } from 'react';
import type { Display, Fault } from '../../job/types.ts';
import { useDocument } from '../store/document.ts';
import { type Json, type Path, pathOf, valueIn } from '../store/jsontext.ts';
import { HULL_KINDS, pastedSection, startingHull } from './hull.ts';
import { append, edit, replaceIn } from './hulledits.ts';
import { FieldFigure } from './Statement.tsx';

interface Props {
  readonly job: Json;
  readonly display: Display;
  readonly faults: readonly Fault[];
}

const NO_ASSUMPTIONS: readonly never[] = [];

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
          onChange={(e) => edit((t) => replaceIn(t, ['ship', 'hull'], startingHull(e.target.value, hull)))}
        >
          {HULL_KINDS.map((o) => (
            <option key={o.value} value={o.value}>
              {o.label}
            </option>
          ))}
        </select>
        .
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
      {kind === 'offsets' && <Table job={job} display={display} />}
      {(kind === 'spline' || kind === 'segments') && <Paste />}
    </div>
  );
}

function Cell({
  path,
  label,
  job,
  display,
  clear,
}: {
  path: Path;
  label: string;
  job: Json;
  display: Display;
  clear?: boolean;
}) {
  return (
    <FieldFigure
      path={path.map((k, i) => (typeof k === 'number' ? `[${k}]` : i === 0 ? k : `.${k}`)).join('')}
      kind="length"
      label={label}
      context={{ job, display, assumptions: NO_ASSUMPTIONS }}
      fitting={0}
      fault={undefined}
      clear={clear === true}
    />
  );
}

function Segments({ job, display }: { job: Json; display: Display }) {
  const path = valueIn(job, ['ship', 'hull', 'path']);
  const list = Array.isArray(path) ? path : [];
  return (
    <table className="points">
      <caption>
        One section, from the keel outward; an arc's radius is plus for a round bilge, minus for a hollow.
      </caption>
      <thead>
        <tr>
          <th scope="col">to</th>
          <th scope="col">out</th>
          <th scope="col">up</th>
          <th scope="col">radius</th>
          <th scope="col">
            <span className="unseen">take out</span>
          </th>
        </tr>
      </thead>
      <tbody>
        <tr>
          <th scope="row">start</th>
          <td>
            <Cell
              path={['ship', 'hull', 'start', 'y']}
              label="Start, out from the centreline"
              job={job}
              display={display}
            />
          </td>
          <td>
            <Cell
              path={['ship', 'hull', 'start', 'z']}
              label="Start, up from the baseline"
              job={job}
              display={display}
            />
          </td>
          <td />
          <td />
        </tr>
        {list.map((_, i) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: a piece of the section is known by its place in the row
          <tr key={i}>
            <th scope="row">{i + 1}</th>
            <td>
              <Cell
                path={['ship', 'hull', 'path', i, 'to', 'y']}
                label={`Point ${i + 1}, out`}
                job={job}
                display={display}
              />
            </td>
            <td>
              <Cell
                path={['ship', 'hull', 'path', i, 'to', 'z']}
                label={`Point ${i + 1}, up`}
                job={job}
                display={display}
              />
            </td>
            <td>
              <Cell
                path={['ship', 'hull', 'path', i, 'radius']}
                label={`Radius to point ${i + 1}`}
                job={job}
                display={display}
                clear
              />
            </td>
            <td>
              <TakeOut path={['ship', 'hull', 'path', i]} what={`point ${i + 1}`} few={list.length < 2} />
            </td>
          </tr>
        ))}
      </tbody>
      <tfoot>
        <tr>
          <td colSpan={5}>
            <button
              type="button"
              className="quiet"
              onClick={() => edit((t) => append(t, ['ship', 'hull', 'path'], (list.at(-1) ?? null) as Json))}
            >
              + a point
            </button>
          </td>
        </tr>
      </tfoot>
    </table>
  );
}

function TakeOut({ path, what, few }: { path: Path; what: string; few: boolean }) {
  return (
    <button
      type="button"
      className="quiet"
      disabled={few}
      aria-label={`Take out ${what}`}
      onClick={() => edit((t) => replaceIn(t, path, undefined))}
    >
      ×
    </button>
  );
}

function Points({ job, display, at }: { job: Json; display: Display; at: Path }) {
  const points = valueIn(job, at);
  const list = Array.isArray(points) ? points : [];
  return (
    <table className="points">
      <caption>Points of the section, from the keel outward.</caption>
      <thead>
        <tr>
          <th scope="col">point</th>
          <th scope="col">out</th>
          <th scope="col">up</th>
          <th scope="col">corner</th>
          <th scope="col">
            <span className="unseen">take out</span>
          </th>
        </tr>
      </thead>
      <tbody>
        {list.map((p, i) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: a point is known by its place in the row
          <tr key={i}>
            <th scope="row">{i + 1}</th>
            <td>
              <Cell path={[...at, i, 'y']} label={`Point ${i + 1}, out`} job={job} display={display} />
            </td>
            <td>
              <Cell path={[...at, i, 'z']} label={`Point ${i + 1}, up`} job={job} display={display} />
            </td>
            <td>
              <input
                type="checkbox"
                aria-label={`The section has a corner at point ${i + 1}`}
                checked={valueIn(p, ['knuckle']) === true}
                onChange={(e) => edit((t) => replaceIn(t, [...at, i, 'knuckle'], e.target.checked ? true : undefined))}
              />
            </td>
            <td>
              <TakeOut path={[...at, i]} what={`point ${i + 1}`} few={list.length < 3} />
            </td>
          </tr>
        ))}
      </tbody>
      <tfoot>
        <tr>
          <td colSpan={5}>
            <button
              type="button"
              className="quiet"
              onClick={() => edit((t) => append(t, at, (list.at(-1) ?? null) as Json))}
            >
              + a point
            </button>
          </td>
        </tr>
      </tfoot>
    </table>
  );
}

function Sections({ job, display }: { job: Json; display: Display }) {
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

function Table({ job, display }: { job: Json; display: Display }) {
  const files = useDocument((s) => s.files);
  const name = String(valueIn(job, pathOf('ship.hull.file')) ?? '');
  const unit = String(valueIn(job, pathOf('ship.hull.unit')) ?? 'm');
  const text = files[name];
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
