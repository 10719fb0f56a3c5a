import { useMemo } from 'react';
import { Quaternion, Vector3 } from 'three';
import { add, addScaled, scale, type Vec3 } from '../../../geometry/math/vec.ts';
import type { ScreenFitting } from '../worker/protocol.ts';
import type { Palette } from './palette.ts';

/** A person 1.80 m tall, for size, hanging in the water outboard of the lug. mm. */
export function Diver({ fitting, up, palette }: { fitting: ScreenFitting; up: Vec3; palette: Palette }) {
  const { anchor, input } = fitting;
  const out: Vec3 = [0, anchor.side === 'port' ? 1 : -1, 0];
  const head = add(addScaled(anchor.position, scale(out, 0.7), 900), scale(anchor.normal, 350 + input.lug.pinHeight));
  const feet = addScaled(head, up, -1650);
  const turn = useMemo(() => new Quaternion().setFromUnitVectors(new Vector3(0, 1, 0), new Vector3(...up)), [up]);
  const material = <meshLambertMaterial color={palette.frame} transparent opacity={0.55} />;
  const limb = (key: string, x: number, y: number, r: number, h: number, lean = 0) => (
    <mesh key={key} position={[x, y, 0]} rotation={[0, 0, lean]} raycast={() => {}}>
      <capsuleGeometry args={[r, h, 6, 14]} />
      {material}
    </mesh>
  );
  return (
    <group position={[...feet]} quaternion={turn}>
      <mesh position={[0, 1650, 0]} raycast={() => {}}>
        <sphereGeometry args={[125, 18, 14]} />
        {material}
      </mesh>
      {limb('trunk', 0, 1180, 165, 430)}
      {limb('left leg', 90, 470, 80, 760)}
      {limb('right leg', -90, 470, 80, 760)}
      {limb('left arm', 250, 1260, 55, 520, 0.5)}
      {limb('right arm', -250, 1420, 55, 520, -2.3)}
      <mesh position={[0, 1200, -190]} raycast={() => {}}>
        <capsuleGeometry args={[95, 420, 6, 14]} />
        {material}
      </mesh>
    </group>
  );
}
