import { useState } from 'react';
import { showFigure } from '../../job/show.ts';
import type { Display } from '../../job/types.ts';
import type { SideNames } from '../text/sides.ts';
import { magnification, type SectionLines } from './section.ts';

const WIDTH = 360;
const MARGIN = 6;
const BETWEEN = 26;
const TALL = 96;
const TOP = 18;

interface Props {
  readonly lines: SectionLines;
  readonly name: string;
  readonly names: SideNames;
  readonly display: Display;
}

/** Two shells cut through at the foot, one over the other: along the foot on the left, across the plate on the right. True to scale until asked otherwise. */
export function SectionChart({ lines, name, names, display }: Props) {
  const [large, setLarge] = useState(false);
  const { a, own, other, c, ownAcross, otherAcross } = lines;
  const [from, to] = [a[0] ?? -1, a.at(-1) ?? 1];
  const thick = c[1] - c[0];
  const scale = (WIDTH - 2 * MARGIN - BETWEEN) / (to - from + thick);
  const all = [...own, ...other, ...ownAcross, ...otherAcross];
  const [low, high] = [Math.min(...all), Math.max(...all)];
  const most = magnification(high - low, scale, TALL - 20);
  const times = large ? most : 1;
  const tall = Math.max(44, (high - low) * scale * times + 24);
  const y = (b: number): number => TOP + tall / 2 + (b - (low + high) / 2) * scale * times;
  const x = (v: number): number => MARGIN + (v - from) * scale;
  const right = MARGIN + (to - from) * scale + BETWEEN;
  const xc = (v: number): number => right + (v - c[0]) * scale;
  const path = (xs: readonly number[], bs: readonly number[], at: (v: number) => number): string =>
    xs.map((v, i) => `${i === 0 ? 'M' : 'L'}${at(v).toFixed(2)} ${y(bs[i] as number).toFixed(2)}`).join('');
  // Ten or a hundred millimetres, or their like in inches: a length to measure the picture by.
  const bar = display === 'us' ? (to - from > 300 ? 101.6 : 50.8) : to - from > 250 ? 100 : 50;
  const foot = TOP + tall + 14;
  return (
    <figure className="joint compared" style={{ margin: '8px 0', padding: 0 }}>
      <svg
        viewBox={`0 0 ${WIDTH} ${foot + 18}`}
        role="img"
        aria-label={`The shell that was planned on and that of ${name}, cut through along the foot and across the plate; the table says the same in figures`}
      >
        <text x={MARGIN} y={12}>
          {names['end-']}
        </text>
        <text x={x(to)} y={12} textAnchor="end">
          {names['end+']}
        </text>
        <text x={WIDTH - MARGIN} y={12} textAnchor="end">
          across
        </text>
        {[
          { d: path(a, own, x), e: path(c, ownAcross, xc), color: 'var(--chalk)', dash: '', wide: 2.6 },
          { d: path(a, other, x), e: path(c, otherAcross, xc), color: 'var(--strike)', dash: '6 3', wide: 2 },
        ].map((l) => (
          <path
            key={l.color}
            d={l.d + l.e}
            fill="none"
            stroke={l.color}
            strokeDasharray={l.dash}
            strokeWidth={l.wide}
          />
        ))}
        <path
          d={`M${MARGIN} ${foot - 4}V${foot}H${MARGIN + bar * scale}V${foot - 4}`}
          fill="none"
          stroke="var(--quiet)"
        />
        <text x={MARGIN + bar * scale + 6} y={foot + 4}>
          {showFigure({ mm: bar, digits: 0 }, display)}
        </text>
        <text x={WIDTH - MARGIN} y={foot + 4} textAnchor="end" fontWeight={700}>
          {times === 1 ? 'true to scale' : `heights × ${times}`}
        </text>
      </svg>
      <figcaption style={{ fontSize: 13, color: 'var(--quiet)' }}>
        Thick: the shell that was planned on. Dashed: {name}. The plate hangs below, the stem points down.{' '}
        {most > 1 && (
          <button type="button" className="quiet inline" aria-pressed={large} onClick={() => setLarge(!large)}>
            {large ? 'true to scale' : `heights ${most} times as large`}
          </button>
        )}
      </figcaption>
    </figure>
  );
}
