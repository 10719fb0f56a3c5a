import { memo, useId, useLayoutEffect, useRef } from 'react';
import type { Display } from '../../job/types.ts';
import { Places } from '../places/Places.tsx';
import { DiveCaution } from '../shell/Caution.tsx';
import { type Stance, useView } from '../store/view.ts';
import type { FootProfiles, ScreenFitting, ScreenPlan } from '../worker/protocol.ts';
import { type Answer, fiveAnswers } from './answers.ts';
import { Mark } from './Mark.tsx';
import { DiveWorking, FitWorking, HoldWorking, PullWorking, StrikeWorking } from './Workings.tsx';

interface Props {
  readonly plan: ScreenPlan;
  readonly fitting: ScreenFitting;
  readonly stance: Stance;
  readonly feet?: FootProfiles | undefined;
  readonly display: Display;
}

/** Five questions, each with a line to say aloud, a state, and its working when asked for. */
export const Answers = memo(function Answers({ plan, fitting, stance, feet, display }: Props) {
  const open = useView((s) => s.openAnswer);
  return (
    <section className="answers" aria-label={`Five answers for lug ${fitting.id}`}>
      {fiveAnswers(plan, fitting, stance).map((a) => (
        <AnswerCard
          key={a.question}
          answer={a}
          open={open === a.question}
          feet={feet}
          plan={plan}
          fitting={fitting}
          display={display}
        />
      ))}
      <Places plan={plan} fitting={fitting} index={plan.fittings.indexOf(fitting)} display={display} />
    </section>
  );
});

interface CardProps {
  readonly answer: Answer;
  readonly open: boolean;
  readonly feet: FootProfiles | undefined;
  readonly plan: ScreenPlan;
  readonly fitting: ScreenFitting;
  readonly display: Display;
}

function AnswerCard({ answer, open, plan, fitting, feet, display }: CardProps) {
  const id = useId();
  const card = useRef<HTMLElement>(null);
  const { question } = answer;
  useLayoutEffect(() => {
    if (open && card.current !== null) bringUp(card.current);
  }, [open]);
  return (
    <article ref={card} className="answer" data-state={answer.state} data-question={question}>
      <h2>
        <button
          type="button"
          className="say"
          aria-expanded={open}
          aria-controls={id}
          onClick={() => useView.setState({ openAnswer: open ? null : question })}
        >
          <span className="asked">{answer.asked}</span>
          <Mark state={answer.state} />
          <span className="line">
            <span className="state">{answer.word}:</span> {answer.line}
          </span>
          <span className="bound">{answer.bound}</span>
        </button>
      </h2>
      {open && (
        <div className="working" id={id}>
          {question === 'fit' && (
            <FitWorking answer={answer} plan={plan} fitting={fitting} feet={feet} display={display} />
          )}
          {question === 'pull' && (
            <PullWorking
              answer={answer}
              plan={plan}
              fitting={fitting}
              index={plan.fittings.indexOf(fitting)}
              display={display}
            />
          )}
          {question === 'hold' && <HoldWorking answer={answer} plan={plan} fitting={fitting} display={display} />}
          {question === 'strike' && (
            <>
              <DiveCaution />
              <StrikeWorking answer={answer} fitting={fitting} display={display} />
            </>
          )}
          {question === 'dive' && (
            <>
              <DiveCaution />
              <DiveWorking answer={answer} plan={plan} fitting={fitting} display={display} />
            </>
          )}
        </div>
      )}
    </article>
  );
}

/** An answer opened low down is brought to the top of its panel, so that its working is seen and not only its first line. */
function bringUp(card: HTMLElement): void {
  const panel = card.closest('.right');
  if (panel === null) return;
  const [here, frame] = [card.getBoundingClientRect(), panel.getBoundingClientRect()];
  if (here.bottom > frame.bottom) panel.scrollTop += here.top - frame.top - AIR;
}

/** Pixels left above a card that was brought up. */
const AIR = 8;
