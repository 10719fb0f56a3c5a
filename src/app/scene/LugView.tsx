import { useEffect, useMemo } from 'react';
import { BufferAttribute, BufferGeometry, Matrix4 } from 'three';
import type { LugFrame } from '../../../geometry/lug/frame.ts';
import type { LugDrawing } from '../worker/protocol.ts';
import { Lines } from './lines.tsx';
import type { Palette } from './palette.ts';

/** Lug frame (mm) to ship axes (mm). */
export function shipFromLug({ origin, foot, stem, face }: LugFrame): Matrix4 {
  return new Matrix4().set(
    foot[0], stem[0], face[0], origin[0],
    foot[1], stem[1], face[1], origin[1],
    foot[2], stem[2], face[2], origin[2],
    0, 0, 0, 1,
  ); // biome-ignore format: rows of a matrix
}

/** Puts new figures in a buffer that already has their number, where they are other figures at all. */
function refill(attribute: BufferAttribute, values: Float32Array | Uint32Array): void {
  const { array } = attribute;
  if (values.every((v, i) => v === array[i])) return;
  (array as Float32Array).set(values);
  attribute.needsUpdate = true;
}

interface Props {
  readonly frame: LugFrame;
  readonly lug: LugDrawing;
  readonly palette: Palette;
  /** Another lug of the job, not the one looked at. */
  readonly faint: boolean;
  readonly children?: React.ReactNode;
}

/** A lug as it is cut. Children are drawn in its frame. */
export function LugView({ frame, lug, palette, faint, children }: Props) {
  const matrix = useMemo(() => shipFromLug(frame), [frame]);
  const points = lug.positions.length;
  const corners = lug.triangles.length;
  // biome-ignore lint/correctness/useExhaustiveDependencies: of the same size, the buffers are filled anew below
  const solid = useMemo(() => {
    const geometry = new BufferGeometry();
    geometry.setAttribute('position', new BufferAttribute(lug.positions.slice(), 3));
    geometry.setIndex(new BufferAttribute(lug.triangles.slice(), 1));
    return geometry;
  }, [points, corners]);
  useEffect(() => {
    refill(solid.getAttribute('position') as BufferAttribute, lug.positions);
    if (solid.index !== null) refill(solid.index, lug.triangles);
    // What a pointer meets, and what is left out of the picture, is looked up in these.
    solid.computeBoundingSphere();
  }, [solid, lug]);
  useEffect(() => () => solid.dispose(), [solid]);
  return (
    <group matrix={matrix} matrixAutoUpdate={false}>
      <mesh geometry={solid} dispose={null}>
        <meshLambertMaterial flatShading color={palette.plate} transparent={faint} opacity={faint ? 0.45 : 1} />
      </mesh>
      <Lines segments={lug.edges} color={palette.edge} width={faint ? 1 : 1.6} opacity={faint ? 0.5 : 1} />
      {children}
    </group>
  );
}
