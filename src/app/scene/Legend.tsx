import { showFigure } from '../../job/show.ts';
import type { Display } from '../../job/types.ts';
import type { Stance } from '../store/view.ts';
import type { ScreenFitting } from '../worker/protocol.ts';
import { rampCss } from './palette.ts';
import { scaleOf } from './scale.ts';

interface Props {
  readonly fitting: ScreenFitting;
  readonly stance: Stance;
  readonly display: Display;
  readonly frameSpacing: number | undefined;
  readonly chord: number | undefined;
}

/** What the colours and the faint lines stand for. */
export function Legend({ fitting, stance, display, frameSpacing, chord }: Props) {
  if (stance === 'water') return null;
  const { name, most } = scaleOf(fitting, stance);
  return (
    <section className="legend" aria-label="Legend">
      <p>{name}</p>
      <div className="ramp" style={{ background: rampCss() }} />
      <p style={{ display: 'flex', justifyContent: 'space-between' }}>
        <span>0</span>
        <span>{showFigure(most, display)}</span>
      </p>
      <p className="more" style={{ color: 'var(--quiet)' }}>
        True scale
        {chord === undefined ? '' : `, shell drawn to ${showFigure({ mm: Math.max(chord, 0.01), digits: 2 }, display)}`}
        . Net of {showFigure({ mm: 100, ...(display === 'metric' ? { digits: 0 } : {}) }, display)}.
        {frameSpacing !== undefined &&
          ` Dashed: frames, if they stand every ${showFigure({ mm: frameSpacing, ...(display === 'metric' ? { digits: 0 } : {}) }, display)} from the aft perpendicular.`}
      </p>
    </section>
  );
}
