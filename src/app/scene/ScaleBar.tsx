import { type RefObject, useEffect, useRef } from 'react';
import { showFigure } from '../../job/show.ts';
import type { Display } from '../../job/types.ts';

const LENGTHS: Readonly<Record<Display, readonly number[]>> = {
  metric: [10, 20, 50, 100, 200, 500, 1000, 2000, 5000],
  us: [0.5, 1, 2, 3, 6, 12, 24, 60, 120, 240].map((i) => i * 25.4),
};
/** Longest bar, pixels. */
const WIDEST = 150;

/** A length to measure by, at the depth of the lug. Painted outside React: it changes with every move of the eye. */
export function ScaleBar({
  display,
  paint,
}: {
  display: Display;
  paint: RefObject<((metresPerPixel: number) => void) | undefined>;
}) {
  const bar = useRef<HTMLElement>(null);
  const words = useRef<HTMLSpanElement>(null);
  const last = useRef(0.002);
  useEffect(() => {
    const draw = (metresPerPixel: number): void => {
      last.current = metresPerPixel;
      const mmPerPixel = metresPerPixel * 1000;
      const length = LENGTHS[display].findLast((l) => l / mmPerPixel <= WIDEST) ?? (LENGTHS[display][0] as number);
      if (bar.current !== null) bar.current.style.width = `${Math.round(length / mmPerPixel)}px`;
      const text = showFigure({ mm: length, ...(display === 'metric' ? { digits: 0 } : {}) }, display);
      if (words.current !== null && words.current.textContent !== text) words.current.textContent = text;
    };
    // Called with every frame; most change nothing.
    paint.current = (metresPerPixel) => {
      if (metresPerPixel !== last.current) draw(metresPerPixel);
    };
    draw(last.current);
  }, [display, paint]);
  return (
    <div className="scalebar" aria-hidden="true">
      <span ref={words} />, true scale
      <i ref={bar} />
    </div>
  );
}
