import { useFrame, useThree } from '@react-three/fiber';
import { useEffect, useMemo } from 'react';
import { type Matrix4, Vector3 } from 'three';
import type { Vec3 } from '../../../geometry/math/vec.ts';

/** Words in the water: text of the page that follows a point of the scene. */
export interface Tag {
  readonly id: string;
  readonly text: string;
  /** Ship axes, mm. */
  readonly at: Vec3;
  readonly kind?: 'strike' | 'pull' | 'run';
  readonly state?: string | undefined;
  /** Pixels from the point, right and down. */
  readonly off?: readonly [number, number];
}

export function TagLayer({ tags }: { tags: readonly Tag[] }) {
  return (
    <div className="tags" aria-hidden="true">
      {tags.map((t) => (
        <span key={t.id} className={`tag ${t.kind ?? ''}`} data-tag={t.id} data-state={t.state}>
          {t.text}
        </span>
      ))}
    </div>
  );
}

interface MoverProps {
  readonly tags: readonly Tag[];
  readonly matrix: Matrix4;
  readonly host: HTMLElement | null;
  /** Words stay within this part of the canvas, pixels. */
  readonly clear: { readonly x: number; readonly width: number };
}

interface Box {
  element: HTMLElement;
  x: number;
  y: number;
  w: number;
  h: number;
}

/** Sets the words where their points are seen, and parts those that would lie on each other. */
export function TagMover({ tags, matrix, host, clear }: MoverProps) {
  const invalidate = useThree((s) => s.invalidate);
  const points = useMemo(() => tags.map((t) => new Vector3(...t.at).applyMatrix4(matrix)), [tags, matrix]);
  const scratch = useMemo(() => new Vector3(), []);
  useEffect(() => {
    if (tags.length >= 0) invalidate();
  }, [tags, invalidate]);
  useFrame(({ camera, size }) => {
    if (host === null) return;
    const placed: Box[] = [];
    tags.forEach((tag, i) => {
      const element = host.querySelector<HTMLElement>(`[data-tag="${CSS.escape(tag.id)}"]`);
      const point = points[i];
      if (element === null || point === undefined) return;
      scratch.copy(point).project(camera);
      const x = ((scratch.x + 1) / 2) * size.width;
      const y = ((1 - scratch.y) / 2) * size.height;
      const seen = scratch.z < 1 && x > -50 && y > 0 && x < size.width + 50 && y < size.height;
      element.style.visibility = seen ? 'visible' : 'hidden';
      if (!seen) return;
      const w = element.offsetWidth;
      const h = element.offsetHeight;
      const [dx, dy] = tag.off ?? [8, -h / 2];
      const left = dx < 0 ? x + dx - w : x + dx;
      const inside = Math.max(clear.x + 4, Math.min(left, clear.x + clear.width - w - 4));
      placed.push({ element, x: inside, y: y + dy, w, h });
    });
    for (let round = 0; round < 3; round++) {
      for (let i = 1; i < placed.length; i++) {
        for (let k = 0; k < i; k++) {
          const [p, q] = [placed[i] as Box, placed[k] as Box];
          const overX = Math.min(p.x + p.w, q.x + q.w) - Math.max(p.x, q.x);
          const overY = Math.min(p.y + p.h, q.y + q.h) - Math.max(p.y, q.y);
          if (overX > 0 && overY > 0) p.y += p.y >= q.y ? overY + 2 : -overY - 2;
        }
      }
    }
    for (const { element, x, y } of placed)
      element.style.transform = `translate(${Math.round(x)}px, ${Math.round(y)}px)`;
  });
  return null;
}
