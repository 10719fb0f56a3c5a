import { type ThreeEvent, useThree } from '@react-three/fiber';
import { type RefObject, useEffect, useMemo, useRef } from 'react';
import { type Intersection, type Matrix4, type Mesh, Plane, Raycaster, Vector2, Vector3 } from 'three';
import { headingDirection } from '../../../geometry/lug/frame.ts';
import { addScaled, normalize, sub, type Vec3 } from '../../../geometry/math/vec.ts';
import type { Display, Job } from '../../job/types.ts';
import { putLug } from '../places/writing.ts';
import { beginDrag } from '../store/document.ts';
import { useView } from '../store/view.ts';
import type { ScreenFitting } from '../worker/protocol.ts';
import { headingOf, leanOf, leanStem, swingPull, turnHeading } from './handling.ts';
import { Lines, pairs } from './lines.tsx';
import { headingRing, pullMarks } from './marks.ts';
import type { Palette } from './palette.ts';

export type Grip = 'place' | 'heading' | 'lean' | 'pull';

interface Props {
  readonly job: Job;
  readonly fitting: ScreenFitting;
  readonly index: number;
  readonly display: Display;
  readonly palette: Palette;
  readonly matrix: Matrix4;
  readonly shell: readonly RefObject<Mesh | null>[];
  readonly reach: number;
  readonly size: number;
  readonly grips: readonly Grip[];
  readonly onHold: (grip: Grip | undefined) => void;
}

/** What a hand can take hold of: the lug itself, the ring of its heading, the tip of its stem, the end of the pull. */
export function Handles({ job, fitting, index, display, palette, matrix, shell, reach, size, grips, onHold }: Props) {
  const camera = useThree((s) => s.camera);
  const gl = useThree((s) => s.gl);
  const inverse = useMemo(() => matrix.clone().invert(), [matrix]);
  const live = useRef({ job, fitting, index, display });
  live.current = { job, fitting, index, display };
  const stop = useRef<(() => void) | undefined>(undefined);
  useEffect(() => () => stop.current?.(), []);

  const ring = useMemo(() => headingRing(fitting, size * 0.85), [fitting, size]);
  const ringSegments = useMemo(() => pairs(ring.ring), [ring]);
  const pull = useMemo(() => pullMarks(fitting, reach), [fitting, reach]);
  const tip = useMemo(() => {
    const { lug } = fitting.input;
    return addScaled(fitting.frame.origin, fitting.frame.stem, lug.pinHeight + lug.topRadius + size * 0.16);
  }, [fitting, size]);

  const take =
    (grip: Grip) =>
    (e: ThreeEvent<PointerEvent>): void => {
      if (e.button !== 0) return;
      e.stopPropagation();
      // A second finger does not take what the first one holds.
      if (stop.current !== undefined) return;
      const canvas = gl.domElement;
      const pointer = e.pointerId;
      canvas.setPointerCapture(pointer);
      onHold(grip);
      const session = beginDrag();
      const caster = new Raycaster();
      // Measured once: asked for during the drag, it would make the browser lay out the page in the middle of a frame.
      const box = canvas.getBoundingClientRect();
      const { job: heldJob, fitting: held } = live.current;
      const start = toShip(inverse, e.point);
      const offset = sub(held.anchor.position, start);
      const headingAtGrab = held.input.heading - headingOf(held, sub(start, held.anchor.position));
      let pending: PointerEvent | undefined;
      let frame = 0;

      const apply = (): void => {
        frame = 0;
        const ev = pending;
        pending = undefined;
        if (ev === undefined) return;
        caster.setFromCamera(
          new Vector2(((ev.clientX - box.left) / box.width) * 2 - 1, 1 - ((ev.clientY - box.top) / box.height) * 2),
          camera,
        );
        const { fitting: now, index: i, display: units } = live.current;
        const snap = useView.getState().snap && !ev.altKey;
        if (grip === 'place') {
          // The hand holds the plate away from the shell: the ray is moved by as much before it meets the shell.
          const shift = directionTo(matrix, offset);
          caster.ray.origin.add(shift);
          // The fine part round the lug lies within the coarse one: only where it is missed is the rest looked through.
          let hit: Intersection | undefined;
          for (const { current: mesh } of shell) {
            if (hit === undefined && mesh !== null) hit = caster.intersectObject(mesh, false)[0];
          }
          if (hit?.uv === undefined) return;
          const { side } = held.anchor;
          const place = { station: hit.uv.x, girth: hit.uv.y, side, point: toShip(inverse, hit.point) };
          session.move((text) => putLug(text, heldJob, i, held.anchor, place, units, snap));
          return;
        }
        const plane = new Plane();
        if (grip === 'pull') {
          plane.setFromNormalAndCoplanarPoint(camera.getWorldDirection(new Vector3()), toScreen(matrix, pull.handle));
        } else {
          const h = headingDirection(held.anchor.tFore, held.anchor.tGirth, held.input.heading);
          plane.setFromNormalAndCoplanarPoint(
            directionTo(matrix, grip === 'heading' ? held.anchor.normal : h).normalize(),
            toScreen(matrix, held.anchor.position),
          );
        }
        const met = caster.ray.intersectPlane(plane, new Vector3());
        if (met === null) return;
        const point = toShip(inverse, met);
        const v = sub(point, held.anchor.position);
        if (grip === 'heading')
          session.move((text) => turnHeading(text, i, headingOf(held, v) + headingAtGrab, units, snap));
        else if (grip === 'lean') session.move((text) => leanStem(text, i, leanOf(held, v), units, snap));
        else session.move((text) => swingPull(text, i, now, normalize(sub(point, now.pin)), units, snap));
      };
      const move = (ev: PointerEvent): void => {
        if (ev.pointerId !== pointer) return;
        pending = ev;
        if (frame === 0) frame = requestAnimationFrame(apply);
      };
      const end = (ev: PointerEvent): void => {
        if (ev.pointerId !== pointer) return;
        cancelAnimationFrame(frame);
        apply();
        stop.current?.();
      };
      stop.current = () => {
        canvas.removeEventListener('pointermove', move);
        canvas.removeEventListener('pointerup', end);
        canvas.removeEventListener('pointercancel', end);
        session.end();
        onHold(undefined);
        stop.current = undefined;
      };
      canvas.addEventListener('pointermove', move);
      canvas.addEventListener('pointerup', end);
      canvas.addEventListener('pointercancel', end);
    };

  const hover = (on: boolean) => (): void => {
    gl.domElement.style.cursor = on ? 'grab' : '';
  };
  const lug = fitting.input.lug;
  return (
    <>
      {grips.includes('place') && (
        <mesh
          position={[...addScaled(fitting.frame.origin, fitting.frame.stem, lug.pinHeight * 0.55)]}
          onPointerDown={take('place')}
          onPointerOver={hover(true)}
          onPointerOut={hover(false)}
        >
          <sphereGeometry args={[Math.max(lug.topRadius, lug.foot * 0.36), 12, 8]} />
          <meshBasicMaterial transparent opacity={0} depthWrite={false} />
        </mesh>
      )}
      {grips.includes('heading') && (
        <>
          <Lines segments={ringSegments} color={palette.handle} width={1.5} opacity={0.55} />
          <Knob at={ring.knob} size={size * 0.07} color={palette.handle} take={take('heading')} hover={hover} />
        </>
      )}
      {grips.includes('lean') && (
        <Knob at={tip} size={size * 0.06} color={palette.handle} take={take('lean')} hover={hover} />
      )}
      {grips.includes('pull') && (
        <Knob at={pull.handle} size={size * 0.07} color={palette.pull} take={take('pull')} hover={hover} />
      )}
    </>
  );
}

interface KnobProps {
  readonly at: Vec3;
  readonly size: number;
  readonly color: string;
  readonly take: (e: ThreeEvent<PointerEvent>) => void;
  readonly hover: (on: boolean) => () => void;
}

/** A knob with a larger, unseen one about it for fingers and gloves. */
function Knob({ at, size, color, take, hover }: KnobProps) {
  return (
    <group position={[...at]}>
      <mesh raycast={() => {}}>
        <sphereGeometry args={[size * 0.55, 20, 14]} />
        <meshBasicMaterial color={color} />
      </mesh>
      <mesh onPointerDown={take} onPointerOver={hover(true)} onPointerOut={hover(false)}>
        <sphereGeometry args={[size * 1.5, 10, 8]} />
        <meshBasicMaterial transparent opacity={0} depthWrite={false} />
      </mesh>
    </group>
  );
}

const toShip = (inverse: Matrix4, p: Vector3): Vec3 => {
  const q = p.clone().applyMatrix4(inverse);
  return [q.x, q.y, q.z];
};
const toScreen = (matrix: Matrix4, p: Vec3): Vector3 => new Vector3(...p).applyMatrix4(matrix);
/** A vector of ship axes on the screen, with its length (mm become m). */
const directionTo = (matrix: Matrix4, v: Vec3): Vector3 =>
  new Vector3(...v).applyMatrix4(matrix).sub(new Vector3().setFromMatrixPosition(matrix));
