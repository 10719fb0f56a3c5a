import { showFigure, showPhrase } from '../../job/show.ts';
import type { Display } from '../../job/types.ts';
import { throatLength } from '../../sheets/figures.ts';
import { Compare } from '../compare/Compare.tsx';
import { BestStance } from '../places/BestStance.tsx';
import { leanOf, leanStem, turnHeading } from '../scene/handling.ts';
import { edit } from '../store/document.ts';
import { saveToFile } from '../store/files.ts';
import { Sure } from '../sure/Sure.tsx';
import { alongFootWords, fromStemWords, leanWords, offPlaneWords, sidewaysWords, turnWords } from '../text/pull.ts';
import { sideNames, spotName } from '../text/sides.ts';
import type { FootProfiles, ScreenFitting, ScreenPlan } from '../worker/protocol.ts';
import { AsBuilt } from './AsBuilt.tsx';
import { type Answer, sweepOf } from './answers.ts';
import { CheckCard } from './CheckCard.tsx';
import { FootChart } from './FootChart.tsx';
import { Movement } from './Movement.tsx';
import { Papers } from './Papers.tsx';
import { Scroll } from './Scroll.tsx';
import { Stacks, Takes } from './WeldTakes.tsx';

interface Props {
  readonly answer: Answer;
  readonly fitting: ScreenFitting;
  readonly display: Display;
}

const CUTS = { straight: 'straight', faceted: 'in facets', scribed: 'scribed' } as const;

export function FitWorking({
  answer,
  plan,
  fitting,
  feet,
  display,
}: Props & { readonly plan: ScreenPlan; readonly feet: FootProfiles | undefined }) {
  const { fit, bevel } = fitting;
  const fine = (x: number): string => showFigure({ mm: x, digits: 2 }, display);
  const mm = (x: number): string => showFigure({ mm: x }, display);
  const deg = (x: number): string => showFigure({ rad: x }, display);
  const names = sideNames(fitting);
  return (
    <>
      <Scroll label="The foot cut in four ways">
        <table>
          <caption className="unseen">The foot, cut in four ways</caption>
          <thead>
            <tr>
              <th scope="col">foot cut</th>
              <th scope="col">largest gap</th>
              <th scope="col">root opening</th>
              <th scope="col">bevel</th>
            </tr>
          </thead>
          <tbody>
            <tr>
              <th scope="row">square</th>
              <td>{fine(fit.square.maxGap)}</td>
              <td>{fine(fit.square.maxRootOpening)}</td>
              <td>none</td>
            </tr>
            {(['straight', 'faceted', 'scribed'] as const).map((cut) => (
              <tr key={cut} style={cut === fit.chosen ? { fontWeight: 700 } : undefined}>
                <th scope="row">
                  {CUTS[cut]}
                  {cut === fit.chosen ? ', taken' : ''}
                </th>
                <td>{fine(fit[cut].maxGap)}</td>
                <td>{fine(fit[cut].maxRootOpening)}</td>
                <td className="wide">
                  {cut === 'straight' && deg(fit.straight.bevel)}
                  {cut === 'faceted' &&
                    (fit.faceted.facets.length === 1 ? 'one for all' : `${fit.faceted.facets.length} facets`)}
                  {cut === 'scribed' && `${deg(bevel.min)} to ${deg(bevel.max)}`}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </Scroll>
      <AsBuilt plan={plan} fitting={fitting} display={display} />
      <Sure plan={plan} fitting={fitting} display={display} />
      {feet !== undefined && <FootChart feet={feet} names={names} display={display} chosen={fit.chosen} />}
      {fit.remedies.length > 0 && (
        <>
          <h3>what to do</h3>
          <ul>
            {fit.remedies.map((r) => {
              const text = showPhrase(r, display);
              return <li key={text}>{text}</li>;
            })}
          </ul>
        </>
      )}
      {fit.chosen === 'straight' && (
        <p>
          The foot slopes {deg(fit.straight.footSlope)} along its length. Plus rises towards the {names['face+']} and
          the {names['end+']}.
        </p>
      )}
      <Compare plan={plan} fitting={fitting} feet={feet} display={display} />
      <h3>bevel along the foot, from its middle; shell above the square foot on either face</h3>
      <Scroll label="Bevel along the foot">
        <table>
          <thead>
            <tr>
              <th scope="col">at</th>
              <th scope="col">{names['face-']}</th>
              <th scope="col">{names['face+']}</th>
              <th scope="col">bevel</th>
            </tr>
          </thead>
          <tbody>
            {bevel.schedule.map((row) => (
              <tr key={row.a}>
                <th scope="row">{mm(row.a)}</th>
                <td>{mm(row.faceMinus)}</td>
                <td>{mm(row.facePlus)}</td>
                <td>{deg(row.bevel)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </Scroll>
      <Checks answer={withoutBuilt(answer, fitting)} display={display} />
    </>
  );
}

/** Less the checks of the lug as built, which stand with what was read there. */
function withoutBuilt(answer: Answer, { asBuilt }: ScreenFitting): Answer {
  return { ...answer, checks: answer.checks.filter((c) => asBuilt?.checks.every((b) => b.id !== c.id) ?? true) };
}

export function PullWorking({
  answer,
  plan,
  fitting,
  index,
  display,
}: Props & { readonly plan: ScreenPlan; readonly index: number }) {
  const { load, readings } = fitting;
  const kn = (x: number): string => showFigure({ newton: x }, display);
  const deg = (x: number): string => showFigure({ rad: x }, display);
  const given = (
    <>
      <table>
        <tbody>
          <tr>
            <th scope="row">off the plane of the lug</th>
            <td className="wide">{offPlaneWords(fitting, display)}</td>
          </tr>
          <tr>
            <th scope="row">within the plane</th>
            <td className="wide">{fromStemWords(fitting, display)}</td>
          </tr>
          <tr>
            <th scope="row">along the stem</th>
            <td>{kn(load.alongStem)}</td>
          </tr>
          <tr>
            <th scope="row">along the foot</th>
            <td className="wide">{alongFootWords(fitting, display)}</td>
          </tr>
          <tr>
            <th scope="row">sideways, across the plate</th>
            <td className="wide">{sidewaysWords(fitting, display)}</td>
          </tr>
          <tr>
            <th scope="row">stem from plumb</th>
            <td>{deg(readings.stemFromPlumb)}</td>
          </tr>
          <tr>
            <th scope="row">face of the plate from plumb</th>
            <td>{deg(readings.faceFromPlumb)}</td>
          </tr>
        </tbody>
      </table>
      <Mend fitting={fitting} index={index} display={display} />
    </>
  );
  const movement = (
    <>
      <Movement plan={plan} fitting={fitting} display={display} />
      <BestStance plan={plan} fitting={fitting} display={display} />
    </>
  );
  // With a movement the one pull that the lug's own field gives comes second.
  const moves = sweepOf(plan, fitting) !== undefined;
  return (
    <>
      {moves ? (
        <>
          {movement}
          <h3>the one pull given with the lug</h3>
          {given}
        </>
      ) : (
        <>
          {given}
          {movement}
        </>
      )}
      <Checks answer={answer} display={display} />
    </>
  );
}

export function HoldWorking({ answer, plan, fitting, display }: Props & { readonly plan: ScreenPlan }) {
  const { weldGroup } = fitting.strength;
  const { worst } = weldGroup;
  const q = weldGroup.lineForce[fitting.joint.points.findIndex((p) => p.s === worst.s)];
  return (
    <>
      <p>
        The root line of {showFigure({ mm: weldGroup.length }, display)} as an even bed of springs under a rigid lug,
        the pull acting at the pin: <b>{showFigure({ newtonPerMm: worst.force }, display)}</b> at worst,{' '}
        {spotName(fitting, worst.s)}.
        {q !== undefined && (
          <>
            {' '}
            Its parts: {showFigure({ newtonPerMm: q[0] }, display)} forward,{' '}
            {showFigure({ newtonPerMm: q[1] }, display)} to port, {showFigure({ newtonPerMm: q[2] }, display)} up.
          </>
        )}
      </p>
      {answer.checks.length === 0 && (
        <p>
          <b>Not computed:</b> pin hole and plate, the weld's strength, the shell and what stands behind it, shackle and
          hoist. Nothing here says that the lug holds. A competent engineer must compute it before anything hangs from
          it.
        </p>
      )}
      <Checks answer={answer} display={display} />
      <h3>assumed, because the job does not say</h3>
      <ul>
        {plan.assumptions.map((a) => (
          <li key={a.path}>
            {a.path}: <b>{a.value}</b>, {a.reason}
          </li>
        ))}
      </ul>
    </>
  );
}

export function StrikeWorking({ answer, fitting, display }: Props) {
  const { sequence, readings, joint } = fitting;
  const names = sideNames(fitting);
  const deg = (x: number): string => showFigure({ rad: x }, display);
  const mm = (x: number): string => showFigure({ mm: x }, display);
  return (
    <>
      <p>
        The angle finder must read <b>{deg(readings.stemFromPlumb)}</b> from plumb along the stem,{' '}
        <b>{deg(readings.faceFromPlumb)}</b> on the face
        {readings.higherEnd === 'level'
          ? ', the foot level'
          : `, the foot ${deg(readings.footFromLevel)} off level, ${names[readings.higherEnd]} high`}
        .
      </p>
      <p>
        The root rises {mm(joint.highest.height - joint.lowest.height)} from its lowest point (
        {spotName(fitting, joint.lowest.s, names)}) to its highest ({spotName(fitting, joint.highest.s, names)}).
      </p>
      <Scroll label="Runs of the root in order">
        <table>
          <thead>
            <tr>
              <th scope="col">run</th>
              <th scope="col">on the</th>
              <th scope="col">going</th>
              <th scope="col">from</th>
              <th scope="col">to</th>
              <th scope="col">climbs</th>
              <th scope="col">way out for gas</th>
            </tr>
          </thead>
          <tbody>
            {sequence.runs.map((r) => (
              <tr key={r.run}>
                <th scope="row">{r.run}</th>
                <td>{names[r.side]}</td>
                <td>{r.travel.towards}</td>
                <td>{mm(r.fromS)}</td>
                <td>{mm(r.toS)}</td>
                <td>{deg(r.travel.climb)}</td>
                <td>
                  {r.trapped > 0
                    ? 'shut in by the shell'
                    : r.ventOpen
                      ? r.ventS === null
                        ? 'level'
                        : 'open'
                      : `closed for ${mm(r.sealed)}`}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </Scroll>
      {sequence.trap !== null && (
        <p>
          Gas gathers under the plate: grind a relief notch {mm(sequence.trap.notchS)} along the root and close it last.
        </p>
      )}
      <h3>hold points</h3>
      <ol>
        <li>Fit-up seen and accepted from the surface before the root.</li>
        <li>Root seen and accepted before the hot pass.</li>
        <li>The finished weld.</li>
      </ol>
      <p>Stringer beads only; every start and stop is ground before the next bead (common practice, no source).</p>
      <Checks answer={answer} display={display} />
    </>
  );
}

export function DiveWorking({ answer, plan, fitting, display }: Props & { readonly plan: ScreenPlan }) {
  const { body } = fitting;
  const { electrode } = plan.job;
  const mm = (x: number): string => showFigure({ mm: x }, display);
  return (
    <>
      <h3>papers and files</h3>
      <div className="leave">
        <Papers>
          <button type="button" onClick={() => void saveToFile()}>
            job file
          </button>
        </Papers>
      </div>
      <p style={{ color: 'var(--quiet)', fontSize: 14 }}>
        Each paper says again: a planning aid, to be checked by a competent engineer before steel is cut or a diver is
        in the water.
      </p>
      <h3>what the dive takes</h3>
      <p>
        The lug weighs {showFigure({ kg: body.mass }, display)} in air and{' '}
        {showFigure({ kg: body.massInWater }, display)} in the water. Electrodes:{' '}
        {electrode.kind === 'nickel' ? 'nickel-type' : electrode.kind}, {mm(electrode.diameter)} by{' '}
        {mm(electrode.length)}.
      </p>
      <Fillets fitting={fitting} display={display} />
      <Stacks fitting={fitting} display={display} />
      <Takes fitting={fitting} display={display} />
      <Checks answer={answer} display={display} />
    </>
  );
}

/** The fillet of each side, a side a column: four of them stand beside each other in a narrow panel. */
function Fillets({ fitting, display }: { fitting: ScreenFitting; display: Display }) {
  const names = sideNames(fitting);
  const { sides } = fitting.weld;
  const mm = (x: number): string => showFigure({ mm: x }, display);
  const rows: readonly (readonly [string, (side: (typeof sides)[number]) => string])[] = [
    ['angle', (s) => showFigure({ rad: s.dihedral }, display)],
    ['leg on the plate', (s) => mm(s.calledLegAlongPlate)],
    ['leg square to it', (s) => mm(s.calledLegSquare)],
    ['of it for the gap', (s) => (s.addedForGap > 0 ? mm(s.addedForGap) : 'none')],
    ['throat', (s) => throatLength(s.throat, display)],
    ['layers / beads', (s) => `${s.layers} / ${s.beads}`],
  ];
  return (
    <Scroll label="The fillet on each side">
      <table className="sides">
        <caption className="unseen">The fillet on each side</caption>
        <thead>
          <tr>
            <th scope="col">side</th>
            {sides.map((s) => (
              <th key={s.side} scope="col">
                {names[s.side]}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map(([title, cell]) => (
            <tr key={title}>
              <th scope="row" className="wide">
                {title}
              </th>
              {sides.map((s) => (
                <td key={s.side}>{cell(s)}</td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </Scroll>
  );
}

function Checks({ answer, display }: { answer: Answer; display: Display }) {
  if (answer.checks.length === 0) return null;
  return (
    <>
      <h3>held against its limits</h3>
      {answer.checks.map((c) => (
        <CheckCard key={c.id + c.title} check={c} display={display} />
      ))}
    </>
  );
}

/** Turns or leans the lug so that this pull lies in its plane; can be undone like any change. */
function Mend({ fitting, index, display }: { fitting: ScreenFitting; index: number; display: Display }) {
  const { heading, lean } = fitting.corrections;
  const { stem } = fitting.input;
  const square = stem.kind === 'normal' || stem.kind === 'lean';
  return (
    <p style={{ display: 'flex', flexWrap: 'wrap', gap: 6 }}>
      {heading.found && Math.abs(heading.angle) > LEAST_TURN && (
        <button
          type="button"
          onClick={() => edit((t) => turnHeading(t, index, fitting.input.heading + heading.angle, display, 'exact'))}
        >
          turn it {turnWords(heading.angle, fitting, display)}
        </button>
      )}
      {lean.found && square && Math.abs(lean.angle) > LEAST_TURN && (
        <button
          type="button"
          onClick={() =>
            edit((t) => leanStem(t, index, leanOf(fitting, fitting.frame.stem) + lean.angle, display, false))
          }
        >
          lean it {leanWords(lean.angle, fitting, display)}
        </button>
      )}
    </p>
  );
}

/** A correction below what an angle finder reads is none. rad */
const LEAST_TURN = 0.002;
