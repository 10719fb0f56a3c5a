import type { ReactNode } from 'react';
import type { Display } from '../../job/types.ts';
import type { Kind } from '../../job/units.ts';
import { type Json, type Path, valueIn, writtenPath } from '../store/jsontext.ts';
import { FieldFigure } from './FieldFigure.tsx';
import { append, edit, replaceIn } from './hulledits.ts';

/** A column of a list in the job file: what stands in each row at `path`. */
export interface Column {
  readonly title: string;
  readonly path: Path;
  readonly kind: Kind | 'tick';
  /** What it is of row n, from 1, for those who hear it. */
  readonly label: (n: number) => string;
  readonly clear?: boolean;
}

interface Props {
  readonly job: Json;
  readonly display: Display;
  /** Where the list stands. */
  readonly at: Path;
  readonly columns: readonly Column[];
  readonly caption: string;
  /** What one row is called. */
  readonly one: string;
  readonly heading?: string;
  /** Fewer rows than this make no hull. */
  readonly fewest: number;
  /** In place of a copy of the last row: figures that somebody has to read are not made up. */
  readonly onAdd?: () => void;
  /** A row before the list: cells under each column that has one. */
  readonly first?: { readonly heading: string; readonly cells: readonly (ReactNode | undefined)[] };
}

/** A list of the job file as rows of figures, each changed where it stands; a row more, a row less. */
export function Rows({ job, display, at, columns, caption, one, heading, fewest, onAdd, first }: Props) {
  const found = valueIn(job, at);
  const list = Array.isArray(found) ? found : [];
  return (
    <table className="points">
      <caption>{caption}</caption>
      <thead>
        <tr>
          <th scope="col">{heading ?? one}</th>
          {columns.map((c) => (
            <th key={c.title} scope="col">
              {c.title}
            </th>
          ))}
          <th scope="col">
            <span className="unseen">take out</span>
          </th>
        </tr>
      </thead>
      <tbody>
        {first !== undefined && (
          <tr>
            <th scope="row">{first.heading}</th>
            {columns.map((c, k) => (
              <td key={c.title}>{first.cells[k]}</td>
            ))}
            <td />
          </tr>
        )}
        {list.map((row, i) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: a row is known by its place in the list
          <tr key={i}>
            <th scope="row">{i + 1}</th>
            {columns.map((c) => (
              <td key={c.title}>
                {c.kind === 'tick' ? (
                  <input
                    type="checkbox"
                    aria-label={c.label(i + 1)}
                    checked={valueIn(row, c.path) === true}
                    onChange={(e) =>
                      edit((t) => replaceIn(t, [...at, i, ...c.path], e.target.checked ? true : undefined))
                    }
                  />
                ) : (
                  <Cell
                    path={[...at, i, ...c.path]}
                    kind={c.kind}
                    label={c.label(i + 1)}
                    job={job}
                    display={display}
                    clear={c.clear === true}
                  />
                )}
              </td>
            ))}
            <td>
              <button
                type="button"
                className="quiet"
                disabled={list.length <= fewest}
                aria-label={`Take out ${one} ${i + 1}`}
                onClick={() => edit((t) => replaceIn(t, [...at, i], undefined))}
              >
                ×
              </button>
            </td>
          </tr>
        ))}
      </tbody>
      <tfoot>
        <tr>
          <td colSpan={columns.length + 2}>
            <button
              type="button"
              className="quiet"
              onClick={onAdd ?? (() => edit((t) => append(t, at, list.at(-1) ?? null)))}
            >
              + a {one}
            </button>
          </td>
        </tr>
      </tfoot>
    </table>
  );
}

const NO_ASSUMPTIONS: readonly never[] = [];

/** One figure of the hull, changed where it stands. */
export function Cell({
  path,
  kind = 'length',
  label,
  job,
  display,
  clear = false,
}: {
  path: Path;
  kind?: Kind | 'number' | 'words';
  label: string;
  job: Json;
  display: Display;
  clear?: boolean;
}) {
  return (
    <FieldFigure
      path={writtenPath(path)}
      kind={kind}
      label={label}
      context={{ job, display, assumptions: NO_ASSUMPTIONS }}
      fitting={0}
      fault={undefined}
      clear={clear}
    />
  );
}
