import { memo, type RefObject, useEffect, useMemo } from 'react';
import { BufferAttribute, BufferGeometry, FrontSide, type Mesh } from 'three';
import type { Drawing, ShellPatch } from '../worker/protocol.ts';
import { Lines } from './lines.tsx';
import type { Palette } from './palette.ts';

/** The one place where triangles of a shell become buffers of the graphics card. */
export function geometryOf(patch: ShellPatch): BufferGeometry {
  const geometry = new BufferGeometry();
  geometry.setAttribute('position', new BufferAttribute(patch.positions, 3));
  geometry.setAttribute('normal', new BufferAttribute(patch.normals, 3));
  geometry.setAttribute('uv', new BufferAttribute(patch.places, 2));
  geometry.setIndex(new BufferAttribute(patch.index, 1));
  return geometry;
}

function useGeometry(patch: ShellPatch): BufferGeometry {
  const geometry = useMemo(() => geometryOf(patch), [patch]);
  useEffect(() => () => geometry.dispose(), [geometry]);
  return geometry;
}

interface Props {
  readonly drawing: Drawing;
  readonly palette: Palette;
  /** Meshes on which a hand can move: `uv` of a hit is station and girth, mm. */
  readonly near: RefObject<Mesh | null>;
  readonly far: RefObject<Mesh | null>;
}

/** The hull's skin, from the water: fine round the lug, coarse farther off, with the frames behind it as faint lines. */
export const ShellView = memo(function ShellView({ drawing, palette, near, far }: Props) {
  const nearGeometry = useGeometry(drawing.near);
  const farGeometry = useGeometry(drawing.far);
  const otherGeometry = useGeometry(drawing.other);
  return (
    <group position={[...drawing.origin]}>
      <mesh ref={near} geometry={nearGeometry} dispose={null}>
        <meshLambertMaterial color={palette.shell} side={FrontSide} />
      </mesh>
      <mesh ref={far} geometry={farGeometry} dispose={null}>
        <meshLambertMaterial color={palette.shell} side={FrontSide} />
      </mesh>
      <mesh geometry={otherGeometry} dispose={null} raycast={() => {}}>
        <meshLambertMaterial color={palette.shell} side={FrontSide} />
      </mesh>
      <Lines segments={drawing.grid} color={palette.net} width={1} opacity={palette.netOpacity} fog />
      {drawing.members.map((m, i) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: a drawing's members do not change
        <Lines key={i} segments={m.segments} color={palette[MEMBERS[m.kind].ink]} {...MEMBERS[m.kind].line} fog />
      ))}
      <Lines segments={drawing.frames} color={palette.frame} width={1.4} opacity={0.42} dash={DASH} fog />
    </group>
  );
});

const DASH = [60, 40] as const;

/** Each kind of member has a stroke of its own: frames dashed, longitudinals dotted, seams full, zones hatched. */
const MEMBERS = {
  frame: { ink: 'frame', line: { width: 1.8, opacity: 0.7, dash: DASH } },
  longitudinal: { ink: 'frame', line: { width: 1.8, opacity: 0.7, dash: [14, 22] } },
  seam: { ink: 'shellEdge', line: { width: 2, opacity: 0.75 } },
  'keep-clear': { ink: 'keep', line: { width: 2, opacity: 0.9 } },
} as const;
