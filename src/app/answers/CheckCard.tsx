import { showPhrase } from '../../job/show.ts';
import type { Display } from '../../job/types.ts';
import type { Check } from '../../plan/types.ts';
import { againstLimit, checkValue, ratioText, STANDINGS } from '../text/checks.ts';
import { Mark } from './Mark.tsx';
import { Scroll } from './Scroll.tsx';

/** One check so that it can be redone by hand: formula, terms, demand, limit, source, what to change. */
export function CheckCard({ check, display }: { check: Check; display: Display }) {
  const value = (x: number, unit = check.unit): string => checkValue(x, unit, display);
  const unsure = check.standing === 'not-verified';
  return (
    <section className="check" data-pass={check.pass} aria-label={check.title}>
      <p>
        <b>{check.title}</b>
      </p>
      <p style={{ display: 'flex', gap: 8, alignItems: 'center' }}>
        <span style={{ width: 16, color: check.pass ? 'var(--good)' : 'var(--fail)', flex: 'none' }}>
          <Mark state={check.pass ? 'good' : 'fail'} />
        </span>
        <span>
          {check.pass ? 'Within' : 'Not within'}: {againstLimit(check, display)}, {ratioText(check.ratio, display)}
        </span>
      </p>
      <div className="bar" aria-hidden="true">
        <span style={{ width: `${Math.min(100, check.ratio * 100)}%` }} />
      </div>
      <p className="formula">{check.formula}</p>
      <Scroll label={`Terms: ${check.title}`}>
        <table>
          <tbody>
            {check.terms.map((t) => (
              <tr key={t.symbol}>
                <th scope="row">{t.symbol}</th>
                <td>{value(t.value, t.unit)}</td>
                <td className="wide">{t.name}</td>
              </tr>
            ))}
            {check.steps.map((s) => (
              <tr key={`step ${s.symbol}`}>
                <th scope="row">{s.symbol}</th>
                <td>{value(s.value, s.unit)}</td>
                <td className="wide formula">{s.formula}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </Scroll>
      {check.remedy.length > 0 && <p>{showPhrase(check.remedy, display)}</p>}
      {check.screening && <p>A screening check: it sorts out the easy cases; the engineer works out the rest.</p>}
      <p className="source">
        {unsure ? <b>Not verified. </b> : null}
        {check.source} ({STANDINGS[check.standing]}). Basis: {check.basis}.
      </p>
    </section>
  );
}
