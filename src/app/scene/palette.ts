import type { Theme } from '../store/view.ts';

/** Colours of the scene by theme; the strings of a theme match those of the style sheet. */
export interface Palette {
  readonly shell: string;
  readonly shellEdge: string;
  readonly net: string;
  readonly frame: string;
  readonly plate: string;
  readonly edge: string;
  readonly outline: string;
  readonly strike: string;
  readonly pull: string;
  readonly fog: string;
  readonly sky: string;
  readonly ground: string;
  readonly surface: string;
  readonly good: string;
  readonly handle: string;
  readonly gas: string;
  /** What must be kept clear. */
  readonly keep: string;
  /** How bright the water is: strength of the light from all round and from the two lamps. */
  readonly light: readonly [number, number, number];
  readonly netOpacity: number;
}

export const PALETTES: Readonly<Record<Theme, Palette>> = {
  dark: {
    shell: '#3d7581',
    shellEdge: '#dfeeed',
    net: '#7fb0b8',
    frame: '#d8e8e8',
    plate: '#cfdcd8',
    edge: '#f4faf8',
    outline: '#04141a',
    strike: '#ffb04d',
    pull: '#f3d269',
    fog: '#0e3440',
    sky: '#cdebf0',
    ground: '#7fa6ae',
    surface: '#a6dbe4',
    good: '#7fd9b2',
    handle: '#ffd9a0',
    gas: '#bfe9ff',
    keep: '#ff9d8f',
    light: [1.7, 0.9, 0.5],
    netOpacity: 0.28,
  },
  light: {
    shell: '#bcd3d5',
    shellEdge: '#12303a',
    net: '#2f5a63',
    frame: '#21444e',
    plate: '#eef2ef',
    edge: '#0b1f26',
    outline: '#0b1f26',
    strike: '#b85a00',
    pull: '#8a6700',
    fog: '#e2eded',
    sky: '#ffffff',
    ground: '#dfe9ea',
    surface: '#7fb9c4',
    good: '#0d6143',
    handle: '#9c4a00',
    gas: '#1d6fa5',
    keep: '#a01f10',
    light: [2.6, 1.1, 0.7],
    netOpacity: 0.45,
  },
};

/**
 * A perceptually even ramp that colour-blind people can read: blue over grey to yellow, light rising steadily.
 * Five stops, CIE L* about 45, 57, 69, 81, 92, chosen by eye along the blue-yellow axis that the common forms of colour
 * blindness keep.
 */
export const RAMP: readonly (readonly [number, number, number])[] = [
  [0.26, 0.42, 0.78],
  [0.45, 0.55, 0.72],
  [0.64, 0.67, 0.61],
  [0.83, 0.79, 0.47],
  [1, 0.92, 0.33],
];

/** Colour of a share 0..1 of the scale, sRGB 0..1. */
export function ramp(share: number): [number, number, number] {
  const x = Math.min(1, Math.max(0, share)) * (RAMP.length - 1);
  const i = Math.min(RAMP.length - 2, Math.floor(x));
  const w = x - i;
  const [p, q] = [RAMP[i], RAMP[i + 1]] as [readonly number[], readonly number[]];
  return [0, 1, 2].map((k) => (p[k] as number) * (1 - w) + (q[k] as number) * w) as [number, number, number];
}

export const rampCss = (): string =>
  `linear-gradient(90deg, ${RAMP.map(([r, g, b]) => `rgb(${r * 255} ${g * 255} ${b * 255})`).join(', ')})`;
