import { type FormEvent, type KeyboardEvent, useEffect, useMemo, useRef, useState } from 'react';
import { showPhrase } from '../../job/show.ts';
import type { Display } from '../../job/types.ts';
import { edit, undo, useDocument } from '../store/document.ts';
import { removeIn, valueIn } from '../store/jsontext.ts';
import { parsed } from '../store/parsed.ts';
import { usePlanning } from '../store/planning.ts';
import { sideNames } from '../text/sides.ts';
import { Bar } from './Bar.tsx';
import {
  type Course,
  type Entry,
  entryIn,
  inFigures,
  kindOf,
  nextMark,
  PARTS,
  type Part,
  pairsOf,
  sayBack,
  sayMark,
  type Taken,
  takenIn,
  understand,
  waysOf,
  withAnswer,
  withoutAnswer,
  writtenEntry,
} from './course.ts';
import { doubtGap, doubtMark, doubtSlope, readingsIn } from './doubt.ts';
import { doubtFitup, feelerSpots, spotAt, unfelt, untouched } from './fitup.ts';
import { afterKey, Pad } from './Pad.tsx';
import { fitupStanding, shellStanding } from './status.ts';
import { keepPlace, keptPlace } from './store.ts';
import { PART_NAMES, TakenList } from './TakenList.tsx';
import { say } from './voice.ts';

interface Position {
  /** null: all parts are through. */
  readonly part: Part | null;
  /** A mark that waits for what is read there. */
  readonly mark: Entry | null;
  /** One taken earlier that is put right now. */
  readonly fixing: Taken | null;
}

interface Doubt {
  readonly words: string;
  /** Takes it all the same. */
  readonly keep: () => void;
}

const ASK: Readonly<Record<Part, string>> = {
  tape: 'Angle of the shell along the tape',
  bar: 'Gap under the bar',
  slope: 'Slope of the bar, fore and aft',
  face: 'Face of the plate, from plumb',
  foot: 'Foot, from level',
  turned: 'Foot turned from its marks',
  feelers: 'Gap by feeler',
};
const ASK_MARK: Readonly<Record<string, string>> = {
  tape: 'Mark on the tape',
  bar: 'Along the bar, from its middle',
  feelers: 'Mark along the root',
};

/** One figure at a time, in the order in which it is read. */
export function Taking({ course, fitting, aloud }: { course: Course; fitting: number; aloud: boolean }) {
  const text = useDocument((s) => s.text);
  const planning = usePlanning();
  const job = parsed(text);
  const display: Display = valueIn(job, ['display']) === 'us' ? 'us' : 'metric';
  const parts = PARTS[course];
  const built = planning.shown?.plan.fittings[fitting];
  const names = useMemo(() => (built === undefined ? undefined : sideNames(built)), [built]);
  const spots = useMemo(
    () => (course === 'fitup' && built !== undefined ? feelerSpots(built, display) : []),
    [course, built, display],
  );
  const standing = useMemo(
    () => (course === 'shell' ? shellStanding(job, text, planning, display) : fitupStanding(job, fitting, spots)),
    [course, job, text, planning, display, fitting, spots],
  );

  const [at, setAt] = useState<Position>(() => firstPosition(course, fitting));
  const [typed, setTyped] = useState('');
  const [chosen, setChosen] = useState<1 | -1 | 0>(0);
  const [fault, setFault] = useState<string | undefined>(undefined);
  const [doubt, setDoubt] = useState<Doubt | null>(null);
  const [said, setSaid] = useState({ words: '', figures: '', times: 0 });
  const [count, setCount] = useState(0);
  const field = useRef<HTMLInputElement>(null);
  const askAgain = useRef<HTMLButtonElement>(null);

  const { part, mark, fixing } = at;
  const step: 'mark' | 'value' =
    part !== null && pairsOf(part, fitting) !== undefined && mark === null ? 'mark' : 'value';
  const taken = part === null ? [] : takenIn(job, part, fitting);
  const ways = part === null ? undefined : waysOf(part, step, names);
  const suggested = part === null || step === 'value' || fixing !== null ? undefined : suggestion(part);
  const kind = part === null ? 'length' : kindOf(part, step);
  const like = kind === 'length' ? (taken.at(-1)?.[step === 'mark' ? 'mark' : 'value']?.text ?? '') : '';
  const called = (where: Entry): string | undefined => (course === 'fitup' ? spotAt(spots, where) : undefined);
  const spot = mark === null ? undefined : called(mark);

  function suggestion(of: Part): { readonly entry: Entry; readonly name: string } | undefined {
    if (of === 'feelers') {
      const [next] = unfelt(spots, taken);
      return next === undefined ? undefined : { entry: next.mark, name: next.name };
    }
    const next = nextMark(taken);
    return next === undefined ? undefined : { entry: next, name: writtenEntry(next) };
  }

  // Each new question has the field to itself; the way said last stands until another is said.
  const question = `${part} ${step} ${fixing?.index ?? ''} ${taken.length}`;
  // biome-ignore lint/correctness/useExhaustiveDependencies: a new question, not a new figure
  useEffect(() => {
    setTyped('');
    setFault(undefined);
    setDoubt(null);
    const last = taken.at(-1);
    setChosen(step === 'value' && ways !== undefined && part === 'tape' && last !== undefined ? last.value.sign : 0);
    field.current?.focus();
  }, [question]);
  useEffect(() => {
    if (doubt !== null) askAgain.current?.focus();
  }, [doubt]);
  useEffect(() => {
    if (part !== null && fixing === null) keepPlace(course, { part, mark: mark === null ? null : writtenEntry(mark) });
  }, [course, part, mark, fixing]);

  const speak = (words: string, figures: string): void => {
    setSaid((s) => ({ words, figures, times: s.times + 1 }));
    if (aloud) say(words);
  };

  const goOn = (from: Part): void => {
    if (pairsOf(from, fitting) !== undefined) setAt({ part: from, mark: null, fixing: null });
    else setAt({ part: parts[parts.indexOf(from) + 1] ?? null, mark: null, fixing: null });
  };

  const accept = (value: Entry): void => {
    if (part === null) return;
    edit((t) => withAnswer(t, part, fitting, mark, value, fixing?.index));
    setCount((n) => n + 1);
    speak(sayBack({ part, mark, value }, names, called), inFigures({ part, mark, value }, names, called));
    goOn(part);
  };

  const doubts = (entry: Entry): string | undefined => {
    if (part === null) return undefined;
    const instead = fixing?.index;
    if (course === 'fitup') {
      if (step === 'mark' || built === undefined || planning.shown === null) return undefined;
      const phrase = doubtFitup(part, mark, entry, built, planning.shown.plan);
      return phrase && showPhrase(phrase, display);
    }
    const spec = readingsIn(job);
    if (spec === undefined) return undefined;
    const phrase =
      step === 'mark'
        ? part === 'tape' && doubtMark(spec, entry.value, instead)
        : part === 'tape'
          ? doubtSlope(spec, mark?.value ?? 0, entry.value, instead)
          : part === 'bar' && doubtGap(spec, mark?.value ?? 0, entry.value, instead);
    return phrase ? showPhrase(phrase, display) : undefined;
  };

  const take = (e?: FormEvent): void => {
    e?.preventDefault();
    if (part === null) return;
    setFault(undefined);
    setDoubt(null);
    const before = step === 'mark' ? fixing?.mark : fixing?.value;
    let entry = typed.trim() === '' ? (suggested?.entry ?? before ?? undefined) : undefined;
    if (entry === undefined) {
      if (typed.trim() === '') {
        setFault('Nothing was typed. “Skip” goes on without it.');
        return;
      }
      const reading = understand(typed, part, step, { ways, chosen, like, display });
      if (!reading.ok) {
        setFault(reading.why);
        return;
      }
      entry = reading.entry;
    }
    if (entry.sign === 0 && ways !== undefined) {
      setFault(
        `Which way: ${ways[0].word}, or ${ways[1].word}? Ask, then press it or type ${ways[0].key} or ${ways[1].key}.`,
      );
      return;
    }
    const sure = entry;
    const go = (): void => {
      if (step === 'value') {
        accept(sure);
        return;
      }
      setAt({ ...at, mark: sure });
      speak(`at ${sayMark(sure, part, called)}`, writtenEntry(sure));
    };
    const words = doubts(sure);
    if (words === undefined) go();
    else {
      setDoubt({ words, keep: go });
      if (aloud) say(words);
    }
  };

  const again = (): void => {
    setDoubt(null);
    setTyped('');
    field.current?.focus();
  };

  const takeBack = (): void => {
    if (mark !== null && fixing === null) {
      setAt({ part, mark: null, fixing: null });
      speak('mark taken back', '');
      return;
    }
    if (fixing !== null) {
      setAt({ part, mark: null, fixing: null });
      return;
    }
    if (count === 0) return;
    undo();
    setCount((n) => n - 1);
    speak('last one taken back', '');
    const single = parts[(part === null ? parts.length : parts.indexOf(part)) - 1];
    if (taken.length === 0 && single !== undefined && pairsOf(single, fitting) === undefined)
      setAt({ part: single, mark: null, fixing: null });
    field.current?.focus();
  };

  const skip = (): void => {
    if (part === null) return;
    if (mark !== null) {
      setAt({ part, mark: null, fixing: null });
      speak(`${sayMark(mark, part, called)} skipped`, '');
    } else nextPart();
  };

  const nextPart = (): void => {
    if (part !== null) setAt({ part: parts[parts.indexOf(part) + 1] ?? null, mark: null, fixing: null });
  };

  const fix = (which: Taken): void => {
    setAt({ part: which.part, mark: which.mark, fixing: which });
    setSaid((s) => ({ ...s, words: '', figures: '' }));
    field.current?.focus();
  };

  const onKeyDown = (e: KeyboardEvent): void => {
    if ((e.ctrlKey || e.metaKey) && e.key.toLowerCase() === 'z' && !e.shiftKey && typed === '') {
      e.preventDefault();
      takeBack();
    } else if (e.key === 'Enter' && e.shiftKey) {
      e.preventDefault();
      nextPart();
    }
  };

  const standsThere = suggested?.entry ?? (step === 'mark' ? fixing?.mark : fixing?.value);
  const placeholder =
    standsThere != null ? writtenEntry(standsThere) : kind === 'angle' ? '°' : display === 'us' ? 'in' : 'mm';
  const following = part === null ? undefined : parts[parts.indexOf(part) + 1];
  const coarse = typeof matchMedia !== 'undefined' && matchMedia('(pointer: coarse)').matches;
  const figure = ways !== undefined && part !== null && !(part === 'tape' && step === 'mark');
  const canTakeBack = mark !== null || fixing !== null || count > 0;
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: keys that hold for all fields of the dialog
    <div className="taking" onKeyDown={onKeyDown}>
      <nav className="parts" aria-label="What is read">
        {parts.map((p) => (
          <button
            key={p}
            type="button"
            aria-current={p === part ? 'step' : undefined}
            onClick={() => setAt({ part: p, mark: null, fixing: null })}
          >
            {PART_NAMES[p]} <small>{takenIn(job, p, fitting).length || ''}</small>
          </button>
        ))}
      </nav>
      <p className={`standing${standing.enough ? ' enough' : ''}`} role="status">
        {standing.words}
      </p>
      {course === 'fitup' && count === 0 && built !== undefined && untouched(built) && (
        <p className="care">
          What stands here are the plan’s own figures, put in to be written over: none of them was read.{' '}
          <button
            type="button"
            onClick={() => {
              edit((t) => removeIn(t, ['fittings', fitting, 'asBuilt']));
              setCount((n) => n + 1);
              setAt({ part: parts[0] ?? null, mark: null, fixing: null });
            }}
          >
            take them out and read afresh
          </button>
        </p>
      )}
      {part === 'bar' && <Bar job={job} onEdit={() => setCount((n) => n + 1)} />}
      {part === null ? (
        <p className="through">
          That is all. Read the whole list back to the diver before it is used; press one to put it right.
        </p>
      ) : (
        <form onSubmit={take} noValidate>
          {fixing !== null && (
            <p className="fixing">
              Putting right {inFigures(fixing, names, called)}.{' '}
              <button
                type="button"
                onClick={() => {
                  edit((t) => withoutAnswer(t, fixing, fitting));
                  setCount((n) => n + 1);
                  speak(`${sayBack(fixing, names, called)}: taken out`, '');
                  goOn(fixing.part);
                }}
              >
                take it out
              </button>
              {fixing.mark !== null && mark !== null && (
                <button type="button" onClick={() => setAt({ ...at, mark: null })}>
                  the mark was wrong
                </button>
              )}
            </p>
          )}
          <label className="ask">
            <span>
              {step === 'mark' ? ASK_MARK[part] : ASK[part]}
              {mark !== null && <b> at {spot ?? sayFigures(mark, part)}</b>}
            </span>
            <input
              ref={field}
              className="big"
              value={typed}
              inputMode={coarse ? 'none' : 'text'}
              spellCheck={false}
              autoComplete="off"
              placeholder={placeholder}
              aria-invalid={fault !== undefined}
              aria-describedby="dictation-fault"
              enterKeyHint="next"
              onChange={(e) => {
                setTyped(e.target.value);
                setDoubt(null);
              }}
            />
          </label>
          {suggested !== undefined && typed === '' && (
            <p className="hint">
              Enter alone takes {suggested.name}
              {part === 'feelers' ? ` (${writtenEntry(suggested.entry)})` : ''}.
            </p>
          )}
          {figure && ways !== undefined && (
            <fieldset className="ways">
              <legend className="unseen">Which way</legend>
              {ways.map((w, i) => {
                const sign = i === 0 ? 1 : -1;
                return (
                  <label key={w.word} data-chosen={chosen === sign}>
                    <input
                      type="radio"
                      name="way"
                      checked={chosen === sign}
                      onChange={() => {
                        setChosen(sign);
                        setFault(undefined);
                        field.current?.focus();
                      }}
                    />
                    {w.word} <kbd>{w.key}</kbd>
                  </label>
                );
              })}
            </fieldset>
          )}
          <div id="dictation-fault">
            {fault !== undefined && (
              <p className="fault" role="alert">
                {fault}
              </p>
            )}
            {doubt !== null && (
              <div className="doubt" role="alert">
                <p>
                  <b>{typed === '' ? suggested?.name : typed}</b>: {doubt.words}.
                </p>
                {part === 'tape' && step === 'value' && (
                  <p>If the diver reads the same again, keep it: the shell may turn here.</p>
                )}
                <div className="row">
                  <button type="button" ref={askAgain} onClick={again}>
                    ask again
                  </button>
                  <button type="button" onClick={doubt.keep}>
                    read the same again: keep it
                  </button>
                </div>
              </div>
            )}
          </div>
          {coarse && (
            <Pad
              keys={display === 'us' && kind === 'length' ? ['.', ' ', '/'] : ['.']}
              onKey={(key) => {
                setTyped((t) => afterKey(t, key));
                setDoubt(null);
              }}
            />
          )}
          <div className="row">
            <button type="submit" className="take">
              take it <kbd>Enter</kbd>
            </button>
            <button type="button" onClick={skip}>
              skip
            </button>
            {pairsOf(part, fitting) !== undefined && (
              <button type="button" onClick={nextPart}>
                {following === undefined ? 'that is all' : `that is all here: ${PART_NAMES[following]}`}{' '}
                <kbd>Shift Enter</kbd>
              </button>
            )}
          </div>
        </form>
      )}
      <section className="back" aria-label="Say it back">
        <p className="asked">say it back</p>
        {/* Said twice the same, it is heard twice: the blank makes it new. */}
        <p className="said" aria-live="polite">
          {said.words === '' ? '…' : `${said.words}${said.times % 2 === 0 ? '' : '\u00a0'}`}
        </p>
        <p className="figures">{said.figures}</p>
        <div className="row">
          <button type="button" disabled={said.words === ''} onClick={() => speak(said.words, said.figures)}>
            repeat
          </button>
          <button type="button" disabled={!canTakeBack} onClick={takeBack}>
            {fixing !== null ? 'leave it as it was' : 'take the last one back'} <kbd>Ctrl Z</kbd>
          </button>
        </div>
      </section>
      {parts.map((p) => (
        <TakenList
          key={p}
          title={PART_NAMES[p]}
          taken={takenIn(job, p, fitting)}
          names={names}
          called={called}
          odd={p === 'tape' ? standing.needs?.odd : undefined}
          fixing={fixing}
          onFix={fix}
        />
      ))}
    </div>
  );
}

const sayFigures = (mark: Entry, part: Part): string =>
  part === 'bar' && mark.value !== 0
    ? `${mark.text} ${mark.sign === -1 ? 'aft' : 'forward'} of the middle`
    : writtenEntry(mark);

function firstPosition(course: Course, fitting: number): Position {
  const parts = PARTS[course];
  const kept = keptPlace(course, parts);
  if (kept !== undefined)
    return { part: kept.part, mark: kept.mark === null ? null : entryIn(kept.mark, 'length'), fixing: null };
  const job = parsed(useDocument.getState().text);
  return {
    part: parts.find((p) => takenIn(job, p, fitting).length === 0) ?? (parts[0] as Part),
    mark: null,
    fixing: null,
  };
}
