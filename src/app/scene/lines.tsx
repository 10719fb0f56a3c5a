import { memo, useEffect, useMemo } from 'react';
import { DoubleSide, type InterleavedBufferAttribute } from 'three';
import { LineMaterial } from 'three/addons/lines/LineMaterial.js';
import { LineSegments2 } from 'three/addons/lines/LineSegments2.js';
import { LineSegmentsGeometry } from 'three/addons/lines/LineSegmentsGeometry.js';

interface Props {
  /** Pairs of points. */
  readonly segments: Float32Array;
  readonly color: string;
  /** Pixels. */
  readonly width?: number;
  readonly opacity?: number;
  /** Three a point, sRGB 0..1: painted along the line instead of one colour. */
  readonly colors?: Float32Array | undefined;
  /** Dash and gap, in the units of the points. */
  readonly dash?: readonly [number, number];
  /** Seen through whatever stands in front. */
  readonly through?: boolean;
  readonly order?: number;
  /** Fades with distance as the shell does. */
  readonly fog?: boolean;
}

/** Lines of a width in pixels. Their buffers go when they go. */
export const Lines = memo(function Lines({
  segments,
  color,
  width = 1.5,
  opacity = 1,
  colors,
  dash,
  through = false,
  order = 0,
  fog = false,
}: Props) {
  const material = useMemo(() => new LineMaterial({ side: DoubleSide }), []);
  const length = segments.length;
  const painted = colors !== undefined;
  const dashed = dash !== undefined;
  // biome-ignore lint/correctness/useExhaustiveDependencies: of the same length, the buffers are filled anew below
  const line = useMemo(() => {
    const geometry = new LineSegmentsGeometry();
    if (length > 0) geometry.setPositions(segments.slice());
    if (colors !== undefined && colors.length > 0) geometry.setColors(colors.slice());
    const made = new LineSegments2(geometry, material);
    made.raycast = () => {};
    made.frustumCulled = false;
    made.visible = length > 0;
    return made;
  }, [length, painted, dashed, material]);
  useEffect(() => {
    if (length === 0) return;
    refill(line.geometry.getAttribute('instanceStart'), segments);
    if (colors !== undefined) refill(line.geometry.getAttribute('instanceColorStart'), colors);
    if (dashed) line.computeLineDistances();
  }, [line, length, segments, colors, dashed]);
  useEffect(() => () => line.geometry.dispose(), [line]);
  useEffect(() => () => material.dispose(), [material]);
  material.color.set(colors === undefined ? color : '#ffffff');
  material.vertexColors = colors !== undefined;
  material.linewidth = width;
  material.opacity = opacity;
  material.transparent = opacity < 1;
  material.depthTest = !through;
  material.dashed = dash !== undefined;
  if (dash !== undefined) [material.dashSize, material.gapSize] = dash;
  material.fog = fog;
  line.renderOrder = order;
  return <primitive object={line} dispose={null} />;
});

/** Puts new figures in a buffer that already has their length: no new buffer on the graphics card for every step of a drag. */
function refill(attribute: unknown, values: Float32Array): void {
  const { data } = attribute as InterleavedBufferAttribute;
  data.array.set(values);
  data.needsUpdate = true;
}

/** A polyline as pairs of points. */
export function pairs(points: readonly (readonly [number, number, number])[], closed = false): Float32Array {
  const out: number[] = [];
  const n = points.length;
  for (let i = 0; i + (closed ? 0 : 1) < n; i++) {
    const p = points[i] as readonly number[];
    const q = points[(i + 1) % n] as readonly number[];
    out.push(p[0] as number, p[1] as number, p[2] as number, q[0] as number, q[1] as number, q[2] as number);
  }
  return Float32Array.from(out);
}
