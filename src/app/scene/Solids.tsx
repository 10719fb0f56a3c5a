import { useMemo } from 'react';
import { Quaternion, Vector3 } from 'three';
import { addScaled, scale, sub, type Vec3 } from '../../../geometry/math/vec.ts';
import type { Lift } from '../../job/lifttypes.ts';
import { Lines, pairs } from './lines.tsx';
import type { Palette } from './palette.ts';
import type { Tag } from './Tags.tsx';

type Solid = Lift['keepClear'][number];

/** The solids that load and lines must stay clear of, as thin glass with edges. Ship axes, mm. */
export function Solids({ solids, palette }: { solids: readonly Solid[]; palette: Palette }) {
  return (
    <>
      {solids.map((s, i) =>
        s.radius === undefined ? (
          // biome-ignore lint/suspicious/noArrayIndexKey: solids are known by their order
          <Block key={i} solid={s} palette={palette} />
        ) : (
          // biome-ignore lint/suspicious/noArrayIndexKey: solids are known by their order
          <Bar key={i} from={s.from} to={s.to} radius={s.radius} palette={palette} />
        ),
      )}
    </>
  );
}

function Glass({ palette }: { palette: Palette }) {
  return <meshBasicMaterial color={palette.keep} transparent opacity={0.08} depthWrite={false} />;
}

function Block({ solid: { from, to }, palette }: { solid: Solid; palette: Palette }) {
  const edges = useMemo(() => blockEdges(from, to), [from, to]);
  const middle = scale([from[0] + to[0], from[1] + to[1], from[2] + to[2]], 0.5);
  const size = sub(to, from).map(Math.abs) as [number, number, number];
  return (
    <>
      <mesh position={[...middle]} raycast={() => {}}>
        <boxGeometry args={size} />
        <Glass palette={palette} />
      </mesh>
      <Lines segments={edges} color={palette.keep} width={1.8} opacity={0.9} fog />
    </>
  );
}

/** The twelve edges of a block along the ship's axes, as pairs of points. */
export function blockEdges(from: Vec3, to: Vec3): Float32Array {
  const corner = (k: number): [number, number, number] =>
    [0, 1, 2].map((axis) => ((k >> axis) & 1 ? to : from)[axis] as number) as [number, number, number];
  const out: number[] = [];
  for (let k = 0; k < 8; k++)
    for (let axis = 0; axis < 3; axis++)
      if (((k >> axis) & 1) === 0) out.push(...corner(k), ...corner(k | (1 << axis)));
  return Float32Array.from(out);
}

function Bar({ from, to, radius, palette }: { from: Vec3; to: Vec3; radius: number; palette: Palette }) {
  const along = sub(to, from);
  const long = Math.hypot(...along);
  const turn = useMemo(
    () => new Quaternion().setFromUnitVectors(new Vector3(0, 1, 0), new Vector3(...along).normalize()),
    [along],
  );
  const axis = useMemo(() => pairs([[...from], [...to]]), [from, to]);
  return (
    <>
      <group position={[...addScaled(from, along, 0.5)]} quaternion={turn}>
        <mesh raycast={() => {}}>
          <capsuleGeometry args={[radius, long, 6, 20]} />
          <Glass palette={palette} />
        </mesh>
        <mesh raycast={() => {}}>
          <capsuleGeometry args={[radius, long, 3, 10]} />
          <meshBasicMaterial color={palette.keep} wireframe transparent opacity={0.3} />
        </mesh>
      </group>
      <Lines segments={axis} color={palette.keep} width={1.5} dash={[60, 30]} fog />
    </>
  );
}

/** Names of the solids, each at its middle. */
export const solidTags = (solids: readonly Solid[]): Tag[] =>
  solids.map(({ name, from, to }, i) => ({
    id: `solid${i}`,
    text: `keep clear: ${name}`,
    at: scale([from[0] + to[0], from[1] + to[1], from[2] + to[2]], 0.5),
    kind: 'keep',
  }));
