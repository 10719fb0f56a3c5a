import { useFrame, useThree } from '@react-three/fiber';
import { useEffect, useMemo, useRef } from 'react';
import { type PerspectiveCamera, Spherical, Vector3 } from 'three';
import { OrbitControls } from 'three/addons/controls/OrbitControls.js';

/** Where to look from: from the target, a direction and a distance. m, screen axes. */
export interface View {
  readonly target: readonly [number, number, number];
  readonly direction: readonly [number, number, number];
  readonly distance: number;
  /** Changes when the view is asked for again. */
  readonly asked: string;
}

interface Props {
  readonly view: View;
  /** The part of the canvas that no panel covers, pixels. */
  readonly clear: { readonly x: number; readonly y: number; readonly width: number; readonly height: number };
  readonly host: HTMLElement | null;
  /** A hand has hold of something: the eye stays. */
  readonly held: boolean;
  readonly onScale: (metresPerPixel: number) => void;
}

const TURN = Math.PI / 36;
const STEP = 1.12;
/** Seconds a change of view takes; none where the person wants less motion. */
const GLIDE = 0.45;

const reduced = (): boolean => matchMedia('(prefers-reduced-motion: reduce)').matches;

/** The camera: moved by finger, mouse and keys, up always up in the water. */
export function Eye({ view, clear, host, held, onScale }: Props) {
  const camera = useThree((s) => s.camera) as PerspectiveCamera;
  const gl = useThree((s) => s.gl);
  const size = useThree((s) => s.size);
  const invalidate = useThree((s) => s.invalidate);
  const glide = useRef<{ from: Spherical; to: Spherical; fromTarget: Vector3; toTarget: Vector3; t: number }>(
    undefined,
  );
  const first = useRef(true);

  const controls = useMemo(() => {
    const made = new OrbitControls(camera, gl.domElement);
    made.enableDamping = false;
    made.minDistance = 0.15;
    made.maxDistance = 40;
    made.zoomSpeed = 0.8;
    return made;
  }, [camera, gl]);

  useEffect(() => {
    const moved = (): void => invalidate();
    const grabbed = (): void => {
      glide.current = undefined;
    };
    controls.addEventListener('change', moved);
    controls.addEventListener('start', grabbed);
    return () => {
      controls.removeEventListener('change', moved);
      controls.removeEventListener('start', grabbed);
      controls.dispose();
    };
  }, [controls, invalidate]);

  useEffect(() => {
    controls.enabled = !held;
  }, [controls, held]);

  // The middle of the picture is the middle of what no panel covers.
  useEffect(() => {
    const x = size.width / 2 - (clear.x + clear.width / 2);
    const y = size.height / 2 - (clear.y + clear.height / 2);
    camera.setViewOffset(size.width, size.height, x, y, size.width, size.height);
    camera.updateProjectionMatrix();
    invalidate();
  }, [camera, size, clear, invalidate]);

  // biome-ignore lint/correctness/useExhaustiveDependencies: a view is taken up when it is asked for, not when the lug moves
  useEffect(() => {
    const toTarget = new Vector3(...view.target);
    const shortfall = size.height / Math.max(1, Math.min(clear.height, clear.width));
    const distance = view.distance * shortfall;
    const to = new Spherical().setFromVector3(new Vector3(...view.direction).normalize().multiplyScalar(distance));
    to.makeSafe();
    if (first.current || reduced()) {
      first.current = false;
      place(camera, controls, to, toTarget);
      invalidate();
      return;
    }
    const from = new Spherical().setFromVector3(camera.position.clone().sub(controls.target));
    while (to.theta - from.theta > Math.PI) to.theta -= 2 * Math.PI;
    while (from.theta - to.theta > Math.PI) to.theta += 2 * Math.PI;
    glide.current = { from, to, fromTarget: controls.target.clone(), toTarget, t: 0 };
    invalidate();
  }, [view.asked]);

  useFrame((_, seconds) => {
    const g = glide.current;
    if (g !== undefined) {
      g.t = Math.min(1, g.t + Math.min(seconds, 0.05) / GLIDE);
      const w = g.t * g.t * (3 - 2 * g.t);
      const mix = (p: number, q: number): number => p + (q - p) * w;
      const at = new Spherical(
        mix(g.from.radius, g.to.radius),
        mix(g.from.phi, g.to.phi),
        mix(g.from.theta, g.to.theta),
      );
      place(camera, controls, at, g.fromTarget.clone().lerp(g.toTarget, w));
      if (g.t >= 1) glide.current = undefined;
      else invalidate();
    }
    const distance = camera.position.distanceTo(controls.target);
    onScale((2 * distance * Math.tan((camera.fov * Math.PI) / 360)) / size.height);
  });

  useEffect(() => {
    if (host === null) return;
    const onKey = (e: KeyboardEvent): void => {
      if (e.target !== host || e.ctrlKey || e.metaKey || e.altKey) return;
      const offset = camera.position.clone().sub(controls.target);
      const at = new Spherical().setFromVector3(offset);
      const target = controls.target.clone();
      const side = new Vector3().setFromMatrixColumn(camera.matrix, 0);
      const pan = offset.length() * 0.06;
      switch (e.key) {
        case 'ArrowLeft':
          if (e.shiftKey) target.addScaledVector(side, -pan);
          else at.theta -= TURN;
          break;
        case 'ArrowRight':
          if (e.shiftKey) target.addScaledVector(side, pan);
          else at.theta += TURN;
          break;
        case 'ArrowUp':
          if (e.shiftKey) target.y += pan;
          else at.phi -= TURN;
          break;
        case 'ArrowDown':
          if (e.shiftKey) target.y -= pan;
          else at.phi += TURN;
          break;
        case '+':
        case '=':
          at.radius /= STEP;
          break;
        case '-':
        case '_':
          at.radius *= STEP;
          break;
        default:
          return;
      }
      e.preventDefault();
      glide.current = undefined;
      at.makeSafe();
      place(camera, controls, at, target);
      invalidate();
    };
    host.addEventListener('keydown', onKey);
    return () => host.removeEventListener('keydown', onKey);
  }, [host, camera, controls, invalidate]);

  return null;
}

function place(camera: PerspectiveCamera, controls: OrbitControls, at: Spherical, target: Vector3): void {
  controls.target.copy(target);
  camera.position.setFromSpherical(at).add(target);
  camera.lookAt(target);
  controls.update();
}
