import { addAfterEffect, useThree } from '@react-three/fiber';
import { useEffect } from 'react';

/**
 * Writes on the page how many buffers the picture holds and how often it was painted: leaks and idle painting are measured there.
 * Read after a frame is drawn: before, the first one holds nothing yet.
 */
export function Gauge({ host }: { host: HTMLElement | null }) {
  const gl = useThree((s) => s.gl);
  useEffect(() => {
    if (host === null) return;
    return addAfterEffect(() => {
      const { memory, render } = gl.info;
      host.dataset.buffers = String(memory.geometries);
      host.dataset.frames = String(render.frame);
    });
  }, [gl, host]);
  return null;
}
