import { showFigure } from '../../job/show.ts';
import type { Display } from '../../job/types.ts';
import { rampCss } from '../scene/palette.ts';
import { PAINTS } from './saying.ts';
import type { Paint } from './store.ts';

interface Props {
  readonly paint: Paint;
  /** Both ends of the scale, internal units. */
  readonly ends: readonly [number, number];
  readonly display: Display;
}

/** What the colours and strokes of a map stand for. */
export function MapLegend({ paint, ends, display }: Props) {
  const { title, figure } = PAINTS[paint];
  return (
    <div className="maplegend">
      <div className="ramp" style={{ background: rampCss() }} />
      <p className="ends">
        <span>{showFigure(figure(ends[0]), display)}</span>
        <span>{title}</span>
        <span>{showFigure(figure(ends[1]), display)}</span>
      </p>
      <p className="keys">
        <span>
          <i className="fails" data-paint={paint} /> does not pass
        </span>{' '}
        <span>
          <i className="cannot" /> cannot stand
        </span>{' '}
        <span>
          <b>✛</b> the lug now
        </span>{' '}
        <span>
          <b>○</b> most to spare
        </span>
      </p>
    </div>
  );
}
