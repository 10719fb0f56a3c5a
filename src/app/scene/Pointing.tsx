import { useThree } from '@react-three/fiber';
import { type RefObject, useEffect, useMemo, useRef } from 'react';
import { type Matrix4, type Mesh, Raycaster, Vector2 } from 'three';
import { useView } from '../store/view.ts';
import type { ScreenFitting } from '../worker/protocol.ts';
import { rootSpot } from './marks.ts';
import type { Palette } from './palette.ts';

interface Props {
  readonly fitting: ScreenFitting;
  readonly matrix: Matrix4;
  readonly shell: RefObject<Mesh | null>;
  readonly size: number;
  readonly held: boolean;
  readonly palette: Palette;
}

/** Pointing at the root in the water lights the spot on the strip, and the other way round. */
export function Pointing({ fitting, matrix, shell, size, held, palette }: Props) {
  const spot = useView((s) => s.spot);
  const gl = useThree((s) => s.gl);
  const camera = useThree((s) => s.camera);
  const mine = useRef(false);
  const inverse = useMemo(() => matrix.clone().invert(), [matrix]);
  useEffect(() => {
    if (held) return;
    const canvas = gl.domElement;
    const caster = new Raycaster();
    const near = size * 0.09;
    let frame = 0;
    const look = (e: PointerEvent): void => {
      if (e.buttons !== 0 || shell.current === null) return;
      const box = canvas.getBoundingClientRect();
      caster.setFromCamera(
        new Vector2(((e.clientX - box.left) / box.width) * 2 - 1, 1 - ((e.clientY - box.top) / box.height) * 2),
        camera,
      );
      const hit = caster.intersectObject(shell.current, false)[0];
      let best = Number.POSITIVE_INFINITY;
      let s: number | null = null;
      if (hit !== undefined) {
        const p = hit.point.clone().applyMatrix4(inverse);
        for (const q of fitting.joint.points) {
          const d = Math.hypot(p.x - q.position[0], p.y - q.position[1], p.z - q.position[2]);
          if (d < best) {
            best = d;
            s = q.s;
          }
        }
      }
      const now = best < near ? s : null;
      if (now !== null) {
        mine.current = true;
        useView.setState({ spot: now });
      } else if (mine.current) {
        mine.current = false;
        useView.setState({ spot: null });
      }
    };
    const move = (e: PointerEvent): void => {
      cancelAnimationFrame(frame);
      frame = requestAnimationFrame(() => look(e));
    };
    canvas.addEventListener('pointermove', move);
    return () => {
      cancelAnimationFrame(frame);
      canvas.removeEventListener('pointermove', move);
    };
  }, [gl, camera, fitting, inverse, shell, size, held]);
  if (spot === null) return null;
  return (
    <mesh position={[...rootSpot(fitting, spot, 4)]} raycast={() => {}} renderOrder={7}>
      <sphereGeometry args={[size * 0.025, 16, 12]} />
      <meshBasicMaterial color={palette.edge} depthTest={false} transparent />
    </mesh>
  );
}
