import { memo, useState } from 'react';
import type { Assumption, Display, Fault } from '../../job/types.ts';
import { edit, removeField } from '../store/document.ts';
import { type Json, valueIn } from '../store/jsontext.ts';
import { parsed } from '../store/parsed.ts';
import { FieldFigure } from './FieldFigure.tsx';
import { HullEditor } from './HullEditor.tsx';
import type { Group, Piece } from './pieces.ts';
import { copyFitting, statement } from './statement.ts';

interface Props {
  readonly text: string;
  readonly fitting: number;
  readonly display: Display;
  readonly faults: readonly Fault[];
  readonly assumptions: readonly Assumption[];
  readonly onFitting: (index: number) => void;
}

/** The job, read aloud; every figure of it can be changed where it stands. */
export const Statement = memo(function Statement({ text, fitting, display, faults, assumptions, onFitting }: Props) {
  const job = parsed(text);
  if (job === undefined)
    return (
      <section className="statement" aria-label="The job as sentences">
        <p className="fault" role="alert">
          This is not a job file that can be read: {faults[0]?.expected ?? 'it is not JSON'}. Undo, or open another
          file.
        </p>
      </section>
    );
  const groups = statement(job, fitting);
  const list = valueIn(job, ['fittings']);
  const fittings = Array.isArray(list) ? list : [];
  const context: Context = { job, display, faults, assumptions };
  const bodies = groups.map((g) => <GroupOf key={g.id} group={g} context={context} fitting={fitting} />);
  const said = faults.length === 0 ? NOWHERE : pathsIn(groups);
  const elsewhere = faults.filter((f) => !said.has(f.path) && !f.path.startsWith('ship.hull'));
  return (
    <section className="statement" aria-label="The job as sentences">
      <nav className="fittings" aria-label="Lugs of this job">
        {fittings.map((f, i) => {
          const id = String(valueIn(f, ['id']) ?? i + 1);
          return (
            <button
              type="button"
              // biome-ignore lint/suspicious/noArrayIndexKey: a lug is known by its place in the file
              key={i}
              aria-pressed={i === fitting}
              onClick={() => onFitting(i)}
            >
              {id}
            </button>
          );
        })}
        <button
          type="button"
          className="quiet"
          onClick={() => {
            edit((t) => copyFitting(t, fitting));
            onFitting(fittings.length);
          }}
        >
          + a lug like this
        </button>
        {fittings.length > 1 && (
          <button
            type="button"
            className="quiet"
            onClick={() => {
              removeField(['fittings', fitting]);
              onFitting(Math.max(0, fitting - 1));
            }}
          >
            take it out
          </button>
        )}
      </nav>
      {elsewhere.length > 0 && (
        <ul className="faults" role="alert">
          {elsewhere.map((f) => (
            <li key={f.path + f.expected}>
              {f.path === '' ? '' : `${f.path}: `}found {f.found}, expected {f.expected}
            </li>
          ))}
        </ul>
      )}
      {bodies}
    </section>
  );
});

interface Context {
  readonly job: Json;
  readonly display: Display;
  readonly faults: readonly Fault[];
  readonly assumptions: readonly Assumption[];
}

const NOWHERE: ReadonlySet<string> = new Set();

/** Paths of the figures that stand in the sentences: their faults are said beside them, the others are listed above. */
const pathsIn = (groups: readonly Group[]): ReadonlySet<string> =>
  new Set(groups.flatMap((g) => g.sentences.flat().flatMap((p) => pathIn(p) ?? [])));

const FOLDS = 'lugwright-folds';
const folds: Record<string, boolean> = (() => {
  try {
    return JSON.parse(localStorage.getItem(FOLDS) ?? '{}') as Record<string, boolean>;
  } catch {
    return {};
  }
})();

function GroupOf({ group, context, fitting }: { group: Group; context: Context; fitting: number }) {
  const [open, setOpen] = useState(folds[group.id] ?? group.folded !== true);
  const hidden =
    !open && context.faults.length > 0 && group.sentences.flat().some((p) => faultOf(p, context) !== undefined);
  return (
    <details
      className="group"
      data-group={group.id}
      open={open || hidden}
      onToggle={(e) => {
        const now = e.currentTarget.open;
        setOpen(now);
        folds[group.id] = now;
        try {
          localStorage.setItem(FOLDS, JSON.stringify(folds));
        } catch {
          // storage is forbidden: folds are forgotten
        }
      }}
    >
      <summary>{group.title}</summary>
      {(open || hidden) &&
        group.sentences.map((pieces, i) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: sentences have no name but their place
          <div className="sentence" key={i}>
            {pieces.map((piece, k) => (
              <PieceOf key={keyOf(piece, k)} piece={piece} context={context} fitting={fitting} />
            ))}
          </div>
        ))}
    </details>
  );
}

const keyOf = (piece: Piece, k: number): string => {
  if (typeof piece === 'string') return `w${k}`;
  if ('quantity' in piece) return piece.quantity;
  if ('number' in piece) return piece.number;
  if ('words' in piece) return piece.words;
  if ('choice' in piece) return `c${piece.choice}`;
  return `a${k}`;
};

const pathIn = (piece: Piece): string | undefined => {
  if (typeof piece === 'string') return undefined;
  if ('quantity' in piece) return piece.quantity;
  if ('number' in piece) return piece.number;
  if ('words' in piece) return piece.words;
  if ('choice' in piece) return piece.choice;
  if ('hull' in piece) return 'ship.hull';
  return undefined;
};

function faultOf(piece: Piece, { faults }: Context): Fault | undefined {
  const path = pathIn(piece);
  if (path === undefined) return undefined;
  return faults.find(
    (f) => f.path === path || (typeof piece === 'object' && 'hull' in piece && f.path.startsWith('ship.hull')),
  );
}

function PieceOf({ piece, context, fitting }: { piece: Piece; context: Context; fitting: number }) {
  if (typeof piece === 'string') return piece;
  if ('action' in piece)
    return (
      <button type="button" className="quiet inline" onClick={() => edit(piece.change)}>
        {piece.action}
      </button>
    );
  const fault = faultOf(piece, context);
  if ('hull' in piece) return <HullEditor job={context.job} display={context.display} faults={context.faults} />;
  if ('choice' in piece)
    return (
      <span className="figure-box">
        <select
          className="figure"
          aria-label={piece.label}
          title={piece.label}
          value={piece.value}
          aria-invalid={fault !== undefined}
          onChange={(e) => {
            const chosen = e.target.value;
            edit((t) => piece.choose(t, chosen));
          }}
        >
          {!piece.options.some((o) => o.value === piece.value) && (
            <option value={piece.value}>{piece.value || '…'}</option>
          )}
          {piece.options.map((o) => (
            <option key={o.value} value={o.value}>
              {o.label}
            </option>
          ))}
        </select>
        {fault !== undefined && (
          <span className="fault" role="alert">
            found {fault.found}, expected {fault.expected}
          </span>
        )}
      </span>
    );
  if ('words' in piece)
    return (
      <FieldFigure
        path={piece.words}
        kind="words"
        label={piece.label}
        context={context}
        fitting={fitting}
        fault={fault}
      />
    );
  if ('number' in piece)
    return (
      <FieldFigure
        path={piece.number}
        kind="number"
        label={piece.label}
        context={context}
        fitting={fitting}
        fault={fault}
        clear
      />
    );
  return (
    <FieldFigure
      path={piece.quantity}
      kind={piece.kind}
      label={piece.label}
      context={context}
      fitting={fitting}
      fault={fault}
      clear={piece.clear === true}
    />
  );
}
