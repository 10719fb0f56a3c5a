import { BufferAttribute, BufferGeometry, Group, Mesh, MeshStandardMaterial } from 'three';
import { GLTFExporter } from 'three/addons/exporters/GLTFExporter.js';
import { lugSolid } from '../../geometry/lug/body.ts';
import { toShip } from '../../geometry/lug/frame.ts';
import { sub, type Vec3 } from '../../geometry/math/vec.ts';
import { unlessRefused } from '../../geometry/refusal.ts';
import { shellOf } from '../plan/plan.ts';
import type { FittingPlan, Plan } from '../plan/types.ts';
import type { Context } from './context.ts';
import { chosenCut } from './cut.ts';

/** A part of the model: triangles in ship axes about the anchor, mm. */
export interface ModelPart {
  readonly name: string;
  readonly positions: Float64Array;
  readonly triangles: Uint32Array;
}

/** mm. How far the patch of shell reaches past the foot, and how finely it is drawn. */
const PAST = 150;
const STEPS = 40;

const made = new WeakMap<FittingPlan, ModelPart[]>();

/** Lug as cut, cheek plates and a patch of shell, each a part of its own; ship axes, origin at the anchor, mm. */
function modelParts({ fitting, plan }: Pick<Context, 'fitting' | 'plan'>): ModelPart[] {
  let parts = made.get(fitting);
  if (parts === undefined) {
    parts = partsAnew(fitting, plan);
    made.set(fitting, parts);
  }
  return parts;
}

function partsAnew(fitting: FittingPlan, plan: Plan): ModelPart[] {
  const { frame, anchor } = fitting;
  const solid = lugSolid(fitting.body.outline, chosenCut(fitting).surface, 0.05);
  const ship: Vec3[] = [];
  for (let i = 0; i < solid.positions.length; i += 3) {
    const [a, b, c] = [solid.positions[i], solid.positions[i + 1], solid.positions[i + 2]] as [number, number, number];
    ship.push(sub(toShip(frame, a, b, c), anchor.position));
  }
  const parts = solid.parts.map((part) => {
    // Corners that are one point in the files, which hold 24 bits, are one corner; a triangle with two of them is none.
    const index = new Map<string, number>();
    const positions: number[] = [];
    const corner = (at: number): number => {
      const p = ship[solid.triangles[at] as number] as Vec3;
      const key = p.map(Math.fround).join();
      let known = index.get(key);
      if (known === undefined) {
        known = positions.length / 3;
        index.set(key, known);
        positions.push(...p);
      }
      return known;
    };
    const triangles: number[] = [];
    for (let t = part.from; t < part.from + part.count; t++) {
      const [p, q, r] = [corner(3 * t), corner(3 * t + 1), corner(3 * t + 2)];
      if (p !== q && q !== r && r !== p) triangles.push(p, q, r);
    }
    return { name: part.name, positions: Float64Array.from(positions), triangles: Uint32Array.from(triangles) };
  });
  return [...parts, shellPatch(plan, fitting)];
}

/** The outside of the shell round the foot; the part of it that the data reaches. */
function shellPatch(plan: Plan, fitting: FittingPlan): ModelPart {
  const shell = shellOf(plan.job.ship.hull);
  const { anchor, input } = fitting;
  const reach = input.lug.foot / 2 + PAST;
  const nodes: (Vec3 | undefined)[] = [];
  const side = STEPS + 1;
  for (let i = 0; i <= STEPS; i++) {
    for (let j = 0; j <= STEPS; j++) {
      const x = anchor.station + reach * ((2 * i) / STEPS - 1);
      const g = anchor.girth + reach * ((2 * j) / STEPS - 1);
      nodes.push(unlessRefused(() => shell.pointAt(x, g, anchor.side).position));
    }
  }
  const index = new Map<number, number>();
  const positions: number[] = [];
  const vertex = (node: number): number => {
    let at = index.get(node);
    if (at === undefined) {
      at = positions.length / 3;
      index.set(node, at);
      positions.push(...sub(nodes[node] as Vec3, anchor.position));
    }
    return at;
  };
  const triangles: number[] = [];
  // Outward seen from the water: forward x outward along the girth points out on starboard, in on port.
  const flip = anchor.side === 'port';
  for (let i = 0; i < STEPS; i++) {
    for (let j = 0; j < STEPS; j++) {
      const quad = [i * side + j, (i + 1) * side + j, (i + 1) * side + j + 1, i * side + j + 1];
      if (quad.some((node) => nodes[node] === undefined)) continue;
      const [p, q, r, s] = quad.map(vertex) as [number, number, number, number];
      if (flip) triangles.push(p, r, q, p, s, r);
      else triangles.push(p, q, r, p, r, s);
    }
  }
  return { name: 'shell', positions: Float64Array.from(positions), triangles: Uint32Array.from(triangles) };
}

/** glTF is in metres with y up: x forward, y up, z to starboard, about the anchor. */
export async function modelGlb(context: Context): Promise<Uint8Array> {
  const scene = new Group();
  scene.name = `lug ${context.id}`;
  scene.userData = {
    job: context.title,
    digest: context.digest,
    revision: context.revision,
    origin: 'the place of the lug on the shell',
    originInShipAxesMm: [...context.fitting.anchor.position],
    axes: 'x forward, y up from the baseline, z to starboard; metres',
    caution: 'A planning aid: a competent engineer checks every figure.',
  };
  const steel = new MeshStandardMaterial({ color: 0xb9bec2, metalness: 0.4, roughness: 0.6 });
  const hull = new MeshStandardMaterial({ color: 0x6f4a3c, metalness: 0.1, roughness: 0.9 });
  steel.name = 'lug';
  hull.name = 'shell';
  for (const part of modelParts(context)) {
    const geometry = new BufferGeometry();
    const metres = new Float32Array(part.positions.length);
    for (let i = 0; i < part.positions.length; i += 3) {
      metres[i] = (part.positions[i] as number) / 1000;
      metres[i + 1] = (part.positions[i + 2] as number) / 1000;
      metres[i + 2] = -(part.positions[i + 1] as number) / 1000;
    }
    geometry.setAttribute('position', new BufferAttribute(metres, 3));
    geometry.setIndex(new BufferAttribute(part.triangles, 1));
    const mesh = new Mesh(geometry, part.name === 'shell' ? hull : steel);
    mesh.name = part.name;
    scene.add(mesh);
  }
  const glb = await withFileReader(() => new GLTFExporter().parseAsync(scene, { binary: true }));
  if (!(glb instanceof ArrayBuffer)) throw new Error('the exporter gave no binary');
  return new Uint8Array(glb);
}

/** The exporter reads blobs the browser's way; outside a browser it is lent the two methods it calls. */
async function withFileReader<T>(work: () => Promise<T>): Promise<T> {
  const world = globalThis as { FileReader?: unknown };
  if (world.FileReader !== undefined) return work();
  world.FileReader = BlobReader;
  try {
    return await work();
  } finally {
    delete world.FileReader;
  }
}

class BlobReader {
  result: ArrayBuffer | string | null = null;
  onloadend: (() => void) | null = null;

  readAsArrayBuffer(blob: Blob): void {
    blob.arrayBuffer().then((bytes) => {
      this.result = bytes;
      this.onloadend?.();
    });
  }

  readAsDataURL(blob: Blob): void {
    blob.arrayBuffer().then((bytes) => {
      let binary = '';
      for (const byte of new Uint8Array(bytes)) binary += String.fromCharCode(byte);
      this.result = `data:${blob.type};base64,${btoa(binary)}`;
      this.onloadend?.();
    });
  }
}

/** Binary STL of the lug alone (plate and cheek plates, each a closed surface), ship axes about the anchor, mm. */
export function modelStl(context: Context): Uint8Array {
  const parts = modelParts(context).filter((part) => part.name !== 'shell');
  const count = parts.reduce((sum, part) => sum + part.triangles.length / 3, 0);
  const bytes = new Uint8Array(84 + 50 * count);
  const view = new DataView(bytes.buffer);
  // Must not begin with "solid": readers would take it for the text form.
  const head = `Lugwright, mm, ship axes at the anchor, digest ${context.digest} ${context.revision}`;
  for (let i = 0; i < Math.min(80, head.length); i++) bytes[i] = head.charCodeAt(i) < 127 ? head.charCodeAt(i) : 63;
  view.setUint32(80, count, true);
  let at = 84;
  for (const { positions, triangles } of parts) {
    const corner = (k: number): Vec3 => {
      const i = 3 * (triangles[k] as number);
      return [positions[i] as number, positions[i + 1] as number, positions[i + 2] as number];
    };
    for (let t = 0; t < triangles.length; t += 3) {
      const [p, q, r] = [corner(t), corner(t + 1), corner(t + 2)];
      for (const v of [facing(p, q, r), p, q, r]) {
        for (const x of v) {
          view.setFloat32(at, x, true);
          at += 4;
        }
      }
      at += 2;
    }
  }
  return bytes;
}

/** Unit normal of a triangle; zero for one without area, as readers expect. */
function facing(p: Vec3, q: Vec3, r: Vec3): Vec3 {
  const u = sub(q, p);
  const v = sub(r, p);
  const n: Vec3 = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]];
  const long = Math.hypot(...n);
  return long > 0 ? [n[0] / long, n[1] / long, n[2] / long] : [0, 0, 0];
}
