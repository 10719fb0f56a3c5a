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
}

/** What the colours stand for. */
export function Legend({ fitting, stance, display }: Props) {
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
    </section>
  );
}
