import { useFrame } from '@react-three/fiber';

/** Writes on the page how many buffers the picture holds and how often it was painted: leaks and idle painting are measured there. */
export function Gauge({ host }: { host: HTMLElement | null }) {
  useFrame(({ gl }) => {
    if (host === null) return;
    host.dataset.buffers = String(gl.info.memory.geometries);
    host.dataset.frames = String(gl.info.render.frame + 1);
  });
  return null;
}
