import type { Spread } from '../../../geometry/uncertainty/spread.ts';

interface Props {
  readonly name: string;
  readonly spread: Spread;
  readonly show: (value: number) => string;
  /** Not to be passed, and what it is called. */
  readonly limit?: { readonly value: number; readonly name: string } | undefined;
  /** Given where nothing can lie below it. */
  readonly least?: number;
}

const WIDTH = 340;
const PAD = 8;

/** One figure as a line: where 95 of 100 cases lie, the middle of them, and the limit. */
export function SpreadChart({ name, spread, show, limit, least }: Props) {
  const { low, median, high } = spread;
  const room = Math.max((high - low) * 0.35, Math.abs(median) * 0.02, 1e-6);
  // A limit far off stands at the edge, with an arrow's head in words: it must not press the spread flat.
  const near = limit !== undefined && Math.abs(limit.value - median) < 6 * Math.max(high - low, room);
  const from = Math.max(least ?? -Infinity, Math.min(low, near && limit ? limit.value : low) - room);
  const to = Math.max(high, near && limit ? limit.value : high) + room;
  const x = (value: number): number => PAD + ((value - from) / (to - from)) * (WIDTH - 2 * PAD);
  return (
    <div className="spread">
      <p className="spreadname">
        {name}: <b>{show(low)}</b> to <b>{show(high)}</b>
        {limit !== undefined && (
          <>
            , {limit.name} {show(limit.value)}
          </>
        )}
      </p>
      <svg viewBox={`0 0 ${WIDTH} 24`} aria-hidden="true">
        <line x1={PAD} x2={WIDTH - PAD} y1={12} y2={12} stroke="var(--plate-edge)" strokeWidth={1.5} />
        <rect
          x={x(low)}
          width={Math.max(2, x(high) - x(low))}
          y={6}
          height={12}
          rx={2}
          fill="var(--face-minus)"
          fillOpacity={0.55}
          stroke="var(--face-minus)"
        />
        <line x1={x(median)} x2={x(median)} y1={3} y2={21} stroke="var(--chalk)" strokeWidth={2.4} />
        {near && limit !== undefined && (
          <line
            x1={x(limit.value)}
            x2={x(limit.value)}
            y1={0}
            y2={24}
            stroke="var(--fail)"
            strokeWidth={2.4}
            strokeDasharray="4 3"
          />
        )}
      </svg>
    </div>
  );
}
