import type { Assumption, Display, Fault } from '../../job/types.ts';
import type { Kind } from '../../job/units.ts';
import { edit, useDocument } from '../store/document.ts';
import { type Json, pathOf, removeIn, setIn, valueIn, writtenPath } from '../store/jsontext.ts';
import { parsed } from '../store/parsed.ts';
import { figureText } from '../text/figures.ts';
import { check } from '../worker/client.ts';
import { LiveFigure } from './LiveFigure.tsx';

interface FigureProps {
  readonly path: string;
  readonly kind: Kind | 'number' | 'words';
  readonly label: string;
  readonly context: { readonly job: Json; readonly display: Display; readonly assumptions: readonly Assumption[] };
  readonly fitting: number;
  readonly fault: Fault | undefined;
  readonly clear?: boolean;
}

/** A live figure bound to a field of the job file. */
export function FieldFigure({ path, kind, label, context, fitting, fault, clear }: FigureProps) {
  const keys = pathOf(path);
  const value = valueIn(context.job, keys);
  const raw = value === undefined ? undefined : typeof value === 'string' ? value : JSON.stringify(value);
  const assumption = raw === undefined ? context.assumptions.find((a) => a.path === path) : undefined;
  const text = raw ?? assumption?.value ?? '—';
  const put = (job: string, figure: string): string =>
    kind === 'number' && figure !== '' && Number.isFinite(Number(figure))
      ? setIn(job, keys, Number(figure))
      : setIn(job, keys, figure);
  return (
    <LiveFigure
      path={path}
      label={label}
      raw={raw}
      shown={kind === 'words' || kind === 'number' ? text : figureText(text, kind, context.display)}
      kind={kind}
      display={context.display}
      fault={fault}
      assumed={assumption?.reason}
      read={() => {
        const now = valueIn(parsed(useDocument.getState().text), keys);
        return now === undefined ? '' : typeof now === 'string' ? now : JSON.stringify(now);
      }}
      put={put}
      commit={(figure) => edit((t) => put(t, figure))}
      clear={clear === true && raw !== undefined ? () => edit((t) => removeIn(t, keys)) : undefined}
      tryOut={async (figure) => {
        const { text: now, files } = useDocument.getState();
        const faults = await check({ text: put(now, figure), files, drawn: fitting });
        const own = faults.find((f) => f.path === writtenPath(keys));
        return own && `found ${own.found}, expected ${own.expected}`;
      }}
    />
  );
}
