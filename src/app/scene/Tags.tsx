import { useFrame, useThree } from '@react-three/fiber';
import { useEffect, useMemo, useRef } from 'react';
import { type Matrix4, Vector3 } from 'three';
import type { Vec3 } from '../../../geometry/math/vec.ts';

/** Words in the water: text of the page that follows a point of the scene. */
export interface Tag {
  readonly id: string;
  readonly text: string;
  /** Ship axes, mm. */
  readonly at: Vec3;
  readonly kind?: 'strike' | 'pull' | 'run' | 'member' | 'keep';
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
  readonly clear: { readonly x: number; readonly y: number; readonly width: number; readonly height: number };
}

interface Box {
  readonly x: number;
  readonly y: number;
  readonly w: number;
  readonly h: number;
}

/** Sets the words where their points are seen, and parts those that would lie on each other. */
export function TagMover({ tags, matrix, host, clear }: MoverProps) {
  const invalidate = useThree((s) => s.invalidate);
  const points = useMemo(() => tags.map((t) => new Vector3(...t.at).applyMatrix4(matrix)), [tags, matrix]);
  const scratch = useMemo(() => new Vector3(), []);
  const order = useMemo(() => tags.map((tag, i) => ({ tag, i })).sort((p, q) => rankOf(p.tag) - rankOf(q.tag)), [tags]);
  useEffect(() => {
    if (tags.length >= 0) invalidate();
  }, [tags, invalidate]);
  const elements = useRef(new Map<string, HTMLElement>());
  // biome-ignore lint/correctness/useExhaustiveDependencies: another width of the screen may be another size of type
  const sizes = useMemo(() => new Map<string, { readonly w: number; readonly h: number }>(), [clear]);
  useFrame(({ camera, size }) => {
    if (host === null) return;
    const placed: Box[] = [];
    for (const { tag, i } of order) {
      const element = elementOf(tag.id, host, elements.current);
      const point = points[i];
      if (element === undefined || point === undefined) continue;
      scratch.copy(point).project(camera);
      const x = ((scratch.x + 1) / 2) * size.width;
      const y = ((1 - scratch.y) / 2) * size.height;
      const seen = scratch.z < 1 && x > -50 && y > 0 && x < size.width + 50 && y < size.height;
      // Names of what is far to the side would only crowd the edge.
      const aside = x < clear.x || x > clear.x + clear.width || y < clear.y || y > clear.y + clear.height;
      const minor = tag.kind === 'member' || tag.kind === 'keep';
      const visibility = seen && !(minor && aside) ? 'visible' : 'hidden';
      if (element.style.visibility !== visibility) element.style.visibility = visibility;
      if (visibility === 'hidden') continue;
      const box = roomFor({ x, y, ...sizeOf(tag, element, sizes), off: tag.off }, placed, clear);
      placed.push(box);
      const transform = `translate(${Math.round(box.x)}px, ${Math.round(box.y)}px)`;
      if (element.style.transform !== transform) element.style.transform = transform;
    }
  });
  return null;
}

function elementOf(id: string, host: HTMLElement, known: Map<string, HTMLElement>): HTMLElement | undefined {
  const before = known.get(id);
  if (before?.isConnected === true) return before;
  const found = host.querySelector<HTMLElement>(`[data-tag="${CSS.escape(id)}"]`) ?? undefined;
  if (found === undefined) known.delete(id);
  else known.set(id, found);
  return found;
}

/** Measured once for all words of one shape: to ask in every frame would lay out the page in every frame. All digits are of one width. */
function sizeOf(
  { text, kind, state }: Tag,
  element: HTMLElement,
  known: Map<string, { readonly w: number; readonly h: number }>,
): { readonly w: number; readonly h: number } {
  const shape = `${kind ?? ''} ${state ?? ''} ${text.replace(/\d/g, '0')}`;
  const before = known.get(shape);
  if (before !== undefined) return before;
  const size = { w: element.offsetWidth, h: element.offsetHeight };
  if (size.w > 0) known.set(shape, size);
  return size;
}

/** Who takes a place first: numbers of the runs, then where to strike, then the rest, names of members last. */
function rankOf({ kind }: Tag): number {
  if (kind === 'run') return 0;
  if (kind === 'strike') return 1;
  return kind === 'member' || kind === 'keep' ? 3 : 2;
}

interface Wanted {
  /** The point the words belong to, and their size, pixels. */
  readonly x: number;
  readonly y: number;
  readonly w: number;
  readonly h: number;
  readonly off: readonly [number, number] | undefined;
}

/**
 * Where words stand about their point: where they want to, else at the first place round it where they lie on nothing that is set
 * already; where there is none, where they lie on least. Always within the clear part. Pixels.
 */
export function roomFor({ x, y, w, h, off }: Wanted, placed: readonly Box[], clear: MoverProps['clear']): Box {
  const [dx, dy] = off ?? [8, -h / 2];
  const right = Math.abs(dx);
  const tries: [number, number][] = [[dx < 0 ? dx - w : dx, dy]];
  for (const down of [dy, -h - 10, 10, -2 * h - 12, h + 12, -3 * h - 14, 2 * h + 14])
    for (const across of [right, -right - w, -w / 2]) tries.push([across, down]);
  let best: Box | undefined;
  let least = Number.POSITIVE_INFINITY;
  for (const [across, down] of tries) {
    const box = {
      x: Math.max(clear.x + 4, Math.min(x + across, clear.x + clear.width - w - 4)),
      y: Math.max(clear.y + 2, Math.min(y + down, clear.y + clear.height - h - 2)),
      w,
      h,
    };
    const lies = placed.reduce((sum, p) => sum + overlap(box, p), 0);
    if (lies === 0) return box;
    if (lies < least) [best, least] = [box, lies];
  }
  return best as Box;
}

/** Area that two boxes share, a little air between them counted in. */
function overlap(p: Box, q: Box): number {
  const air = 2;
  const across = Math.min(p.x + p.w, q.x + q.w) - Math.max(p.x, q.x) + air;
  const down = Math.min(p.y + p.h, q.y + q.h) - Math.max(p.y, q.y) + air;
  return across > 0 && down > 0 ? across * down : 0;
}
