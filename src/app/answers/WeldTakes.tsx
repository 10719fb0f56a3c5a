import { showFigure, showPhrase } from '../../job/show.ts';
import type { Display } from '../../job/types.ts';
import { STANDINGS } from '../text/checks.ts';
import { sideNames, spotName } from '../text/sides.ts';
import type { ScreenFitting } from '../worker/protocol.ts';
import { Scroll } from './Scroll.tsx';

interface Props {
  readonly fitting: ScreenFitting;
  readonly display: Display;
}

const KINDS = {
  root: 'var(--strike)',
  'hot pass': 'var(--care)',
  fill: 'var(--end)',
  cap: 'var(--face-minus)',
} as const;

/** The fillet of each side in section, bead by bead in the order of welding; plate and shell are the two straight edges. */
export function Stacks({ fitting, display }: Props) {
  const names = sideNames(fitting);
  return (
    <>
      <h3>beads in section, numbered in each layer: root, hot pass, fill, cap</h3>
      <div style={{ display: 'flex', flexWrap: 'wrap', gap: 10 }}>
        {fitting.weld.sides.map((side) => {
          const points = side.stack.outline;
          const xs = points.map((p) => p[0]);
          const ys = points.map((p) => -p[1]);
          const [x0, x1] = [Math.min(...xs), Math.max(...xs)];
          const [y0, y1] = [Math.min(...ys), Math.max(...ys)];
          const pad = (x1 - x0) * 0.06;
          return (
            <figure key={side.side} style={{ margin: 0, width: 128 }}>
              <svg
                viewBox={`${x0 - pad} ${y0 - pad} ${x1 - x0 + 2 * pad} ${y1 - y0 + 2 * pad}`}
                width={128}
                height={110}
                role="img"
                aria-label={`${names[side.side]}: ${side.layers} layers, ${side.beads} beads`}
              >
                {side.stack.layers.flatMap((layer) =>
                  layer.beads.map((bead) => (
                    <polygon
                      key={`${layer.layer}-${bead.bead}`}
                      points={bead.polygon.map((p) => `${p[0]},${-p[1]}`).join(' ')}
                      fill={KINDS[layer.kind]}
                      fillOpacity={0.75}
                      stroke="var(--plate-solid)"
                      strokeWidth={(x1 - x0) * 0.008}
                    />
                  )),
                )}
              </svg>
              <figcaption style={{ fontSize: 13 }}>
                {names[side.side]}, {showFigure({ rad: side.dihedral }, display)}
              </figcaption>
            </figure>
          );
        })}
      </div>
    </>
  );
}

/** Metal, electrodes, time, dives, current, test plates, hold points. */
export function Takes({ fitting, display }: Props) {
  const { totals, current, supply, steel, testPlates, holds, schedule, notes } = fitting.weld;
  const min = (x: number): string => showFigure({ minutes: x }, display);
  const rows: readonly (readonly [string, string])[] = [
    ['deposit', showFigure({ kg: totals.depositKg, digits: 2 }, display)],
    ['electrodes, spares not counted', showFigure({ count: totals.electrodes }, display)],
    ['arc burning', min(totals.arcMin)],
    ['changing electrodes', min(totals.changeMin)],
    ['grinding starts and stops', min(totals.grindMin)],
    ['cleaning', min(totals.cleanMin)],
    ['hold points', min(totals.holdMin)],
    ['bottom time of the work', min(totals.workMin)],
  ];
  return (
    <>
      <table>
        <tbody>
          {rows.map(([name, value]) => (
            <tr key={name}>
              <th scope="row">{name}</th>
              <td>{value}</td>
            </tr>
          ))}
          {current.kind === 'window' && (
            <tr>
              <th scope="row">current</th>
              <td className="wide">
                {current.row.value.amperes[0]} to {current.row.value.amperes[1]} A, {current.row.value.polarity}, direct
                current only ({STANDINGS[current.row.standing]})
              </td>
            </tr>
          )}
          {supply !== null && (
            <tr>
              <th scope="row">heat input</th>
              <td>{showFigure({ count: supply.heatKjPerMm, digits: 2 }, display)} kJ/mm</td>
            </tr>
          )}
        </tbody>
      </table>
      {current.kind !== 'window' && (
        <p>No current window is known for this electrode: the maker's sheet and a trial bead decide.</p>
      )}
      <p>{showPhrase(steel.ruling.reason, display)}</p>
      <h3>dives</h3>
      {schedule === null && (
        <p>
          Not counted: the job does not say how long a dive lasts on the bottom. The dive supervisor sets it; enter it
          under “the crew and the dive”.
        </p>
      )}
      {schedule?.kind === 'dive-too-short' && (
        <p>
          A dive of that length holds no step of this work: it takes {min(schedule.least)} at least. The dive supervisor
          decides.
        </p>
      )}
      {schedule?.kind === 'planned' && (
        <Scroll label="Where each dive ends">
          <table>
            <thead>
              <tr>
                <th scope="col">dive</th>
                <th scope="col">on the bottom</th>
                <th scope="col">ends</th>
              </tr>
            </thead>
            <tbody>
              {schedule.dives.map((d) => (
                <tr key={d.dive}>
                  <th scope="row">{d.dive}</th>
                  <td>{min(d.minutes)}</td>
                  <td className="wide">
                    {d.lastTask === 'hold'
                      ? 'at a hold point'
                      : `${d.finishes ? 'after' : 'within'} bead ${d.lastNo}${d.layer === null ? '' : `, layer ${d.layer}`}, ${spotName(fitting, d.s)}`}
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        </Scroll>
      )}
      <h3>test plates at the site, before the job</h3>
      <p>
        {testPlates.map((t) => `${t.aws}${t.asked.includes('joint') ? ' (this joint asks it)' : ''}`).join(', ')}:
        welded by each diver, broken and examined (common practice, no source).
      </p>
      <h3>hold points</h3>
      <ol>
        {holds.map((h) => (
          <li key={h.hold}>
            {h.seen}, before {h.before}
          </li>
        ))}
      </ol>
      {notes.length > 0 && (
        <>
          <h3>notes on the weld</h3>
          <ul>
            {notes.map((n) => {
              const text = showPhrase(n, display);
              return <li key={text}>{text}</li>;
            })}
          </ul>
        </>
      )}
    </>
  );
}
