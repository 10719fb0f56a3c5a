import {
  type CSSProperties,
  type KeyboardEvent,
  type MouseEvent,
  memo,
  type PointerEvent,
  useEffect,
  useId,
  useLayoutEffect,
  useRef,
  useState,
} from 'react';
import type { Display, Fault } from '../../job/types.ts';
import type { Kind } from '../../job/units.ts';
import { beginDrag } from '../store/document.ts';
import { completed, type Stride, stepped } from './stepping.ts';

interface Props {
  /** Of its field in the job. */
  readonly path: string;
  readonly label: string;
  /** As it stands in the job file; undefined where the field is left out. */
  readonly raw: string | undefined;
  /** As it is shown while nobody edits it. */
  readonly shown: string;
  readonly kind: Kind | 'number' | 'words';
  readonly display: Display;
  readonly fault: Fault | undefined;
  /** Standing in for a figure that the job leaves out: why. */
  readonly assumed: string | undefined;
  /** Newest text of the figure, for steps that come faster than the screen. */
  readonly read: () => string;
  /** The job's text with this figure as given. */
  readonly put: (text: string, figure: string) => string;
  readonly commit: (figure: string) => void;
  readonly clear: (() => void) | undefined;
  /** Says what is wrong with a draft, without keeping it. */
  readonly tryOut: (figure: string) => Promise<string | undefined>;
}

/** Pixels of a drag for one step. */
const PIXELS_PER_STEP = 6;
/** A draft is tried out when nothing was typed for so long. ms */
const TRY_AFTER = 120;
/** A press that moves less is a press. */
const DRAG_FROM = 5;

const strideOf = (e: { shiftKey: boolean; altKey: boolean }): Stride =>
  e.shiftKey ? 'coarse' : e.altKey ? 'fine' : 'plain';

/**
 * Whether two figures look and do the same. What they do follows from the field and its kind, and reads the job when it is done:
 * of the functions the newest are as good as those before, and figures that a drag does not touch are left alone.
 */
const alike = (a: Props, b: Props): boolean =>
  a.path === b.path &&
  a.label === b.label &&
  a.raw === b.raw &&
  a.shown === b.shown &&
  a.kind === b.kind &&
  a.display === b.display &&
  a.fault === b.fault &&
  a.assumed === b.assumed &&
  (a.clear === undefined) === (b.clear === undefined);

/** A figure within a sentence: typed, stepped with the arrow keys, or dragged sideways. */
export const LiveFigure = memo(function LiveFigure(props: Props) {
  const { label, raw, shown, kind, display, fault, assumed, read, put, commit, clear, tryOut } = props;
  const [draft, setDraft] = useState<string | undefined>(undefined);
  const [objection, setObjection] = useState<string | undefined>(undefined);
  const input = useRef<HTMLInputElement>(null);
  /** Ends the drag that is under way. */
  const release = useRef<(() => void) | undefined>(undefined);
  const noteId = useId();
  const steppable = kind !== 'words';

  const trial = useRef<(typed: string) => Promise<string | undefined>>(async () => undefined);
  trial.current = (typed) => tryOut(finished(typed));
  useEffect(() => {
    if (draft === undefined || draft === raw) {
      setObjection(undefined);
      return;
    }
    let gone = false;
    const timer = setTimeout(() => {
      void trial.current(draft).then((said) => {
        if (!gone) setObjection(said);
      });
    }, TRY_AFTER);
    return () => {
      gone = true;
      clearTimeout(timer);
    };
  }, [draft, raw]);

  // What nobody has begun to type over stands selected, from the very moment it is there: the first key replaces it.
  const arriving = useRef(false);
  // biome-ignore lint/correctness/useExhaustiveDependencies: selected anew when the text under the caret is another
  useLayoutEffect(() => {
    const box = input.current;
    // Selecting brings the focus back: not where a drag has sent it away in the meantime.
    if (box === null || document.activeElement !== box) return;
    if (arriving.current || draft === undefined) box.select();
    arriving.current = false;
  }, [draft, shown]);

  const finished = (typed: string): string =>
    kind === 'words' || kind === 'number' ? typed.trim() : completed(typed, read() === '' ? shown : read());

  const settle = (): void => {
    if (draft === undefined) return;
    const next = finished(draft);
    setDraft(undefined);
    // Looked at and left as it was, a default stays a default.
    if (raw === undefined && draft === shown) return;
    if (next === '' && clear !== undefined) clear();
    else if (next !== read()) commit(next);
  };

  const stepFrom = (from: string, steps: number, stride: Stride): string => {
    if (kind === 'words') return from;
    if (kind === 'number') {
      const by = stride === 'coarse' ? 0.1 : stride === 'fine' ? 0.001 : 0.01;
      return String(Number((Number(from) + by * steps).toFixed(6)));
    }
    return stepped(from, kind, steps, stride, display);
  };

  const onKeyDown = (e: KeyboardEvent<HTMLInputElement>): void => {
    if (e.key === 'Enter') {
      settle();
      e.currentTarget.select();
    } else if (e.key === 'Escape') {
      setDraft(undefined);
      e.currentTarget.blur();
    } else if (steppable && (e.key === 'ArrowUp' || e.key === 'ArrowDown')) {
      e.preventDefault();
      const from = draft === undefined ? read() || shown : finished(draft);
      const next = stepFrom(from, e.key === 'ArrowUp' ? 1 : -1, strideOf(e));
      setDraft(undefined);
      if (next !== read()) commit(next);
    }
  };

  // Left to itself, the press that brings the focus would set a caret in the figure after it was selected.
  const onMouseDown = (e: MouseEvent<HTMLInputElement>): void => {
    if (e.button !== 0 || document.activeElement === e.currentTarget) return;
    e.preventDefault();
    e.currentTarget.focus();
  };

  // The drag is followed on the window: the figure may be drawn anew under the pointer, and the press may end anywhere.
  const onPointerDown = (e: PointerEvent<HTMLInputElement>): void => {
    if (!steppable || e.button !== 0 || document.activeElement === e.currentTarget) return;
    const box = e.currentTarget;
    const { pointerId, clientX: x } = e;
    const start = read() || shown;
    let steps = 0;
    let session: ReturnType<typeof beginDrag> | undefined;
    const follow = (move: globalThis.PointerEvent): void => {
      if (move.pointerId !== pointerId) return;
      const dx = move.clientX - x;
      if (session === undefined) {
        if (Math.abs(dx) < DRAG_FROM) return;
        session = beginDrag();
        box.blur();
        setDraft(undefined);
      }
      const now = Math.trunc(dx / PIXELS_PER_STEP);
      if (now === steps) return;
      steps = now;
      const next = stepFrom(start, steps, strideOf(move));
      session.move((text) => put(text, next));
    };
    const end = (up: globalThis.PointerEvent): void => {
      if (up.pointerId !== pointerId) return;
      release.current?.();
    };
    release.current?.();
    release.current = () => {
      release.current = undefined;
      window.removeEventListener('pointermove', follow);
      window.removeEventListener('pointerup', end);
      window.removeEventListener('pointercancel', end);
      session?.end();
    };
    window.addEventListener('pointermove', follow);
    window.addEventListener('pointerup', end);
    window.addEventListener('pointercancel', end);
  };
  useEffect(() => () => release.current?.(), []);

  const text = draft ?? shown;
  const wrong =
    draft !== undefined && draft !== raw ? objection : fault && `found ${fault.found}, expected ${fault.expected}`;
  return (
    <span className="figure-box">
      <input
        ref={input}
        className={`figure${assumed === undefined ? '' : ' assumed'}`}
        aria-label={label}
        aria-invalid={wrong !== undefined}
        aria-describedby={wrong !== undefined || assumed !== undefined ? noteId : undefined}
        title={assumed === undefined ? label : `${label}. Assumed: ${assumed}`}
        value={text}
        size={Math.max(2, text.length)}
        style={{ '--chars': Math.max(2, text.length) + 0.6 } as CSSProperties}
        spellCheck={false}
        autoComplete="off"
        enterKeyHint="done"
        onFocus={() => {
          arriving.current = true;
          setDraft(raw ?? shown);
        }}
        onChange={(e) => setDraft(e.target.value)}
        onBlur={settle}
        onKeyDown={onKeyDown}
        onPointerDown={onPointerDown}
        onMouseDown={onMouseDown}
        // A press on the selected figure would start the browser's own dragging of text, and end ours.
        onDragStart={(e) => e.preventDefault()}
      />
      {wrong !== undefined ? (
        <span className="fault" id={noteId} role="alert">
          {wrong}
        </span>
      ) : (
        assumed !== undefined && (
          <span className="unseen" id={noteId}>
            assumed: {assumed}
          </span>
        )
      )}
    </span>
  );
}, alike);
