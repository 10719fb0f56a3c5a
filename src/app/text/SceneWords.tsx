import { memo } from 'react';
import { fromAftPerpendicular, showFigure, showPhrase } from '../../job/show.ts';
import type { Display } from '../../job/types.ts';
import { heelPhrase, trimPhrase } from '../../plan/attitude.ts';
import { useDragging } from '../store/document.ts';
import type { Drawing, ScreenFitting, ScreenPlan } from '../worker/protocol.ts';
import { fromStemWords, offPlaneWords } from './pull.ts';
import { sideNames, spotName } from './sides.ts';

interface Props {
  readonly plan: ScreenPlan;
  readonly fitting: ScreenFitting;
  readonly display: Display;
  readonly drawing: Drawing | null;
  /** For the ear only: no frame of its own. */
  readonly plain?: boolean;
}

/** The same for the ear only. Nobody listens while a hand drags: they wait for its end, as nothing at all, never as old words. */
export const UnseenWords = memo(function UnseenWords(props: Props) {
  return useDragging() ? null : <SceneWords {...props} plain />;
});

/** What the water shows, said in words. */
export function SceneWords({ plan, fitting, display, drawing, plain }: Props) {
  const mm = (x: number): string => showFigure({ mm: x }, display);
  const deg = (x: number): string => showFigure({ rad: x }, display);
  const { anchor, frame, readings, load, joint, sequence, input } = fitting;
  const names = sideNames(fitting);
  const place = `${fromAftPerpendicular(anchor.position[0], mm)}, ${mm(Math.abs(anchor.position[1]))} to ${anchor.side} and ${mm(anchor.position[2])} above the baseline`;
  return (
    <section
      className={plain === true ? '' : 'words'}
      aria-label="The water in words"
      {...(plain === true ? {} : { tabIndex: 0 })}
    >
      <p>
        Lug {fitting.id} stands on the {anchor.side} side, {place}, {mm(anchor.girth)} round from the keel. Its stem
        stands {deg(fitting.slope)} off square to the shell and {deg(readings.stemFromPlumb)} off plumb; the pin lies{' '}
        {frame.stem[2] < 0 ? 'below' : 'above'} the foot.
      </p>
      <p>
        The foot is {mm(input.lug.foot)} long and {mm(input.lug.thickness)} thick. Its lowest point is the{' '}
        {spotName(fitting, joint.lowest.s, names)}, its highest the {spotName(fitting, joint.highest.s, names)},{' '}
        {mm(joint.highest.height - joint.lowest.height)} above it. Strike first at the{' '}
        {spotName(fitting, sequence.start.s, names)}; close last at the {spotName(fitting, sequence.finish.s, names)}.
      </p>
      <p>
        The pull of {showFigure({ newton: load.force }, display)} leaves the plane of the plate by{' '}
        {offPlaneWords(fitting, display)} and leans {fromStemWords(fitting, display)} within it. The ship's trim is{' '}
        {showPhrase(trimPhrase(plan.trim), display)}, her heel {showPhrase(heelPhrase(plan.job.ship.heel), display)}.
      </p>
      {drawing !== null && (
        <p>
          The picture is true to scale; the shell near the lug is drawn to{' '}
          {showFigure({ mm: Math.max(drawing.near.chord, 0.01), digits: 2 }, display)}. The fine net is {mm(100)} wide.
          {drawing.frames.length > 0 &&
            ` Dashed lines are frames, if they stand every ${mm(drawing.frameSpacing)} from the aft perpendicular: look on board.`}
        </p>
      )}
      {drawing !== null && membersText(drawing.members) !== '' && <p>{membersText(drawing.members)}</p>}
      {(plan.job.lift?.keepClear.length ?? 0) > 0 && (
        <p>
          Load and lines must stay clear of {plan.job.lift?.keepClear.map((s) => s.name).join(', ')}, drawn as glass.
        </p>
      )}
      {plan.hullNotes.map((n) => {
        const text = showPhrase(n, display);
        return <p key={text}>{text}</p>;
      })}
      {plan.fittings.length > 1 && (
        <p>
          Also in this job:{' '}
          {plan.fittings
            .filter((f) => f.id !== fitting.id)
            .map((f) => f.id)
            .join(', ')}
          .
        </p>
      )}
    </section>
  );
}

const KINDS = [
  ['frame', 'Frames, dashed'],
  ['longitudinal', 'Longitudinals, dotted'],
  ['seam', 'Seams, full lines'],
  ['keep-clear', 'Zones to weld nothing in, hatched'],
] as const;

/** Members and zones near the lug, by name. */
function membersText(members: Drawing['members']): string {
  return KINDS.flatMap(([kind, title]) => {
    const names = members.filter((m) => m.kind === kind && m.label !== null).map((m) => m.name);
    return names.length === 0 ? [] : [`${title}: ${names.join(', ')}.`];
  }).join(' ');
}
