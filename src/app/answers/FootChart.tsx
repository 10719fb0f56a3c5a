import { scaleLinear } from 'd3-scale';
import { line } from 'd3-shape';
import { showFigure } from '../../job/show.ts';
import type { Display } from '../../job/types.ts';
import type { SideNames } from '../text/sides.ts';
import type { FacePair, FootProfiles } from '../worker/protocol.ts';

interface Props {
  readonly feet: FootProfiles;
  readonly names: SideNames;
  readonly display: Display;
  readonly chosen: 'straight' | 'faceted' | 'scribed';
}

const WIDTH = 360;
const EACH = 92;
const CUTS = [
  { name: 'straight', word: 'straight', color: 'var(--face-minus)', dash: '' },
  { name: 'faceted', word: 'facets', color: 'var(--face-plus)', dash: '6 4' },
  { name: 'scribed', word: 'scribed', color: 'var(--good)', dash: '2 3' },
] as const;

/** The foot along its length on either face: the shell, and where each cut would leave the plate. Heights are magnified; by how much is said. */
export function FootChart({ feet, names, display, chosen }: Props) {
  const half = Math.abs(feet.a[0] ?? 1);
  const x = scaleLinear([-half, half], [4, WIDTH - 4]);
  const pairs = [feet.shell, feet.straight, feet.faceted, feet.scribed];
  const spread = (face: keyof FacePair): [number, number] => {
    const all = pairs.flatMap((p) => [...p[face]]);
    return [Math.min(...all), Math.max(...all)];
  };
  const tall = Math.max(...(['minus', 'plus'] as const).map((f) => spread(f)[1] - spread(f)[0]), 0.5);
  const times = (EACH - 26) / tall / ((WIDTH - 8) / (2 * half));
  const row = (face: keyof FacePair, top: number, name: string) => {
    const [low, high] = spread(face);
    const middle = (low + high) / 2;
    // The stem points down on a plumb lug: away from the shell is down here too.
    const y = (b: number): number => top + 18 + (EACH - 26) / 2 + ((b - middle) / tall) * (EACH - 26);
    const path = (pair: FacePair): string =>
      line<number>()
        .x((_, i) => x(feet.a[i] ?? 0))
        .y((b) => y(b))([...pair[face]]) ?? '';
    return (
      <g key={face}>
        <text x={4} y={top + 11}>
          {name}
        </text>
        <path d={path(feet.shell)} fill="none" stroke="var(--chalk)" strokeWidth={2.4} />
        {CUTS.map((c) => (
          <path
            key={c.name}
            d={path(feet[c.name])}
            fill="none"
            stroke={c.color}
            strokeDasharray={c.dash}
            strokeWidth={c.name === chosen ? 2.4 : 1.3}
          />
        ))}
      </g>
    );
  };
  return (
    <figure className="joint" style={{ margin: '8px 0', padding: 0 }}>
      <svg
        viewBox={`0 0 ${WIDTH} ${2 * EACH + 4}`}
        role="img"
        aria-label="The foot along its length on either face, with the shell and the three cuts"
      >
        {row('minus', 0, names['face-'])}
        {row('plus', EACH + 2, names['face+'])}
      </svg>
      <figcaption style={{ fontSize: 13, color: 'var(--quiet)' }}>
        {names['end-']} on the left, {names['end+']} on the right; the plate hangs below. Thick: the shell. Solid:
        straight cut. Dashed: facets. Dotted: scribed. Heights{' '}
        {times >= 1.05 ? `drawn ${showFigure({ count: times, digits: 1 }, display)} times as large` : 'to scale'}.
      </figcaption>
    </figure>
  );
}
