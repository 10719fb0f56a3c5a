import { useMemo } from 'react';
import { toShip } from '../../../geometry/lug/frame.ts';
import { showFigure } from '../../job/show.ts';
import type { Display } from '../../job/types.ts';
import { Lines } from '../scene/lines.tsx';
import type { Palette } from '../scene/palette.ts';
import type { PlanRequest, ScreenFitting } from '../worker/protocol.ts';
import type { ShellBand } from '../worker/sure.ts';
import { edges, magnified, widest } from './band.ts';
import { sameJob, useSure } from './store.ts';

/** The band of the lug looked at, if it was found for this very job. */
export function useBand(request: PlanRequest | undefined, index: number): ShellBand | undefined {
  return useSure(({ known }) =>
    known?.end.kind === 'sampled' && request !== undefined && sameJob(known.request, request)
      ? (known.end.bands[index] ?? undefined)
      : undefined,
  );
}

/** Between which two lines the shell lies under either face of the lug, in 95 of 100 cases. */
export function BandView({
  request,
  fitting,
  index,
  palette,
}: {
  request: PlanRequest;
  fitting: ScreenFitting;
  index: number;
  palette: Palette;
}) {
  const band = useBand(request, index);
  const segments = useMemo(() => (band === undefined ? undefined : linesOf(band, fitting)), [band, fitting]);
  if (segments === undefined) return null;
  return <Lines segments={segments} color={palette.gas} width={1.4} opacity={0.9} through order={3} />;
}

function linesOf(band: ShellBand, { frame, input }: ScreenFitting): Float32Array {
  const times = magnified(band);
  const out: number[] = [];
  for (const [face, line] of [
    [-1, band.minus],
    [1, band.plus],
  ] as const) {
    const c = (face * input.lug.thickness) / 2;
    const { near, far } = edges(line, times);
    const at = (i: number, b: readonly number[]) => toShip(frame, band.a[i] as number, b[i] as number, c);
    for (let i = 0; i < band.a.length; i++) {
      if (i + 1 < band.a.length) for (const b of [near, far]) out.push(...at(i, b), ...at(i + 1, b));
      // Rungs tell that the two belong together.
      if (i % 4 === 0) out.push(...at(i, near), ...at(i, far));
    }
  }
  return Float32Array.from(out);
}

/** What the two lines are, and how many times as wide as true they are drawn. */
export function BandLegend({
  request,
  index,
  display,
}: {
  request: PlanRequest | undefined;
  index: number;
  display: Display;
}) {
  const band = useBand(request, index);
  return band === undefined ? null : <p className="bandlegend">{bandWords(band, display)}</p>;
}

export function bandWords(band: ShellBand, display: Display): string {
  const times = magnified(band);
  const most = showFigure({ mm: widest(band), digits: 1 }, display);
  return `Between the thin lines lies the shell under the foot in 95 of 100 cases: ± ${most} at most, ${
    times === 1 ? 'to scale' : `drawn ${times} times as wide`
  }.`;
}
