import { showFigure, showPhrase } from '../../job/show.ts';
import type { Display } from '../../job/types.ts';
import type { Agreement, SourceComparison } from '../../plan/comparison.ts';
import type { State } from '../answers/answers.ts';
import { Mark } from '../answers/Mark.tsx';
import { Scroll } from '../answers/Scroll.tsx';
import { edit, removeField } from '../store/document.ts';
import { sideNames } from '../text/sides.ts';
import type { FootProfiles, ScreenFitting, ScreenPlan } from '../worker/protocol.ts';
import { AddSource } from './AddSource.tsx';
import { SectionChart } from './SectionChart.tsx';
import { type Reached, sectionLines } from './section.ts';
import { planOnSource } from './swap.ts';

interface Props {
  readonly plan: ScreenPlan;
  readonly fitting: ScreenFitting;
  readonly feet: FootProfiles | undefined;
  readonly display: Display;
}

const AGREES: Readonly<Record<Agreement, { readonly word: string; readonly state: State }>> = {
  within: { word: 'within what they say of themselves', state: 'good' },
  beyond: { word: 'more than they say of themselves', state: 'fail' },
  unstated: { word: 'neither says how sure it is', state: 'care' },
};

/** The shell by other sources, laid over the one that was planned on. */
export function Compare({ plan, fitting, feet, display }: Props) {
  const index = plan.fittings.indexOf(fitting);
  return (
    <>
      <h3>the shell by other sources</h3>
      {plan.compare.map((source, i) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: a source is known by its place in the file
        <Source key={i} source={source} at={i} index={index} fitting={fitting} feet={feet} display={display} />
      ))}
      <AddSource display={display} count={plan.compare.length} />
    </>
  );
}

function Source({
  source,
  at,
  index,
  fitting,
  feet,
  display,
}: Omit<Props, 'plan'> & { readonly source: SourceComparison; readonly at: number; readonly index: number }) {
  const compared = source.fittings[index];
  if (compared === undefined) return null;
  return (
    <section className="other-source" aria-label={`Compared with ${source.name}`}>
      {compared.reached ? (
        <>
          <p className="verdict" data-agreement={compared.agreement}>
            <Mark state={AGREES[compared.agreement].state} />
            <b>
              {source.name}: {AGREES[compared.agreement].word}
            </b>
          </p>
          <p>{showPhrase(compared.words, display)}</p>
          {feet !== undefined && (
            <SectionChart
              lines={sectionLines(feet, compared, fitting.input.lug.thickness)}
              name={source.name}
              names={sideNames(fitting)}
              display={display}
            />
          )}
          <Figures compared={compared} name={source.name} display={display} />
        </>
      ) : (
        <p className="verdict" data-agreement="none">
          <Mark state="none" />
          <span>{showPhrase(compared.words, display)}</span>
        </p>
      )}
      <p>
        <button
          type="button"
          onClick={() => edit((t) => planOnSource(t, at, `what was planned on before ${source.name}`.slice(0, 60)))}
        >
          plan on {source.name} instead
        </button>{' '}
        <button type="button" className="quiet" onClick={() => removeField(['ship', 'compare', at])}>
          take it out
        </button>
      </p>
    </section>
  );
}

/** The ends, the quarters and the middle of the foot. */
const SHOWN = [0, 4, 8, 12, 16];
/** ± holds two standard deviations. */
const SURE = 2;

function Figures({ compared, name, display }: { compared: Reached; name: string; display: Display }) {
  const { found, errors } = compared;
  const mm = (x: number): string => showFigure({ mm: x }, display);
  const deg = (x: number): string => showFigure({ rad: x, digits: 2 }, display);
  const signed = (x: number, say: (v: number) => string): string => `${x > 0 ? '+' : ''}${say(x)}`;
  const give = (error: number, say: (v: number) => string): string =>
    error > 0 ? `± ${say(SURE * error)}` : 'not said';
  return (
    <>
      <Scroll label={`${name} against the shell that was planned on`}>
        <table>
          <thead>
            <tr>
              <th scope="col">{name}, less what was planned on</th>
              <th scope="col">difference</th>
              <th scope="col">they say ±</th>
            </tr>
          </thead>
          <tbody>
            <tr>
              <th scope="row">place, farther into the water +</th>
              <td>{signed(found.offset, mm)}</td>
              <td>{give(errors.offset, mm)}</td>
            </tr>
            <tr>
              <th scope="row">slope along the foot</th>
              <td>{signed(found.footSlope, deg)}</td>
              <td>{give(errors.footSlope, deg)}</td>
            </tr>
            <tr>
              <th scope="row">bevel</th>
              <td>{signed(found.bevel, deg)}</td>
              <td>{give(errors.bevel, deg)}</td>
            </tr>
            <tr>
              <th scope="row">largest gap of the plate as cut</th>
              <td>
                {mm(found.gapOwn)} here, {mm(found.gapOther)} there
              </td>
              <td />
            </tr>
          </tbody>
        </table>
      </Scroll>
      <Scroll label={`Along the foot: ${name} against the shell that was planned on`}>
        <table>
          <thead>
            <tr>
              <th scope="col">along the foot, from its middle</th>
              <th scope="col">into the water</th>
              <th scope="col">bevel here</th>
              <th scope="col">bevel there</th>
            </tr>
          </thead>
          <tbody>
            {SHOWN.map((k) => found.along[k])
              .filter((p) => p !== undefined)
              .map((p) => (
                <tr key={p.a}>
                  <th scope="row">{signed(p.a, mm)}</th>
                  <td>{signed(p.difference, mm)}</td>
                  <td>{deg(p.bevelOwn)}</td>
                  <td>{deg(p.bevelOther)}</td>
                </tr>
              ))}
          </tbody>
        </table>
      </Scroll>
    </>
  );
}
