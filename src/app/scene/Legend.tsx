import { showFigure } from '../../job/show.ts';
import type { Display } from '../../job/types.ts';
import { MapLegend } from '../places/MapLegend.tsx';
import { endsOf } from '../places/paint.ts';
import { useMap } from '../places/store.ts';
import type { Stance } from '../store/view.ts';
import { BandLegend } from '../sure/Band.tsx';
import type { PlanRequest, ScreenFitting, ScreenPlan } from '../worker/protocol.ts';
import { rampCss } from './palette.ts';
import { scaleOf } from './scale.ts';

interface Props {
  readonly request: PlanRequest;
  readonly plan: ScreenPlan;
  readonly index: number;
  readonly fitting: ScreenFitting;
  readonly stance: Stance;
  readonly display: Display;
}

/** What the colours stand for. */
export function Legend({ request, plan, fitting, index, stance, display }: Props) {
  const map = useMap((s) => (s.open ? s.shown : null));
  const paint = useMap((s) => s.paint);
  if (stance === 'water') return null;
  if (map?.skin != null && map.asked.over === 'place' && map.asked.fitting === index)
    return (
      <section className="legend map" aria-label="Legend">
        <MapLegend paint={paint} ends={endsOf(map, paint, plan.job.limits)} display={display} />
      </section>
    );
  const { name, most } = scaleOf(fitting, stance);
  return (
    <section className="legend" aria-label="Legend">
      <p>{name}</p>
      <div className="ramp" style={{ background: rampCss() }} />
      <p style={{ display: 'flex', justifyContent: 'space-between' }}>
        <span>0</span>
        <span>{showFigure(most, display)}</span>
      </p>
      {stance === 'bench' && <BandLegend request={request} index={index} display={display} />}
    </section>
  );
}
