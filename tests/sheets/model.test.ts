import type { BufferGeometry, Mesh } from 'three';
import { Box3 } from 'three';
import { GLTFLoader } from 'three/addons/loaders/GLTFLoader.js';
import { STLLoader } from 'three/addons/loaders/STLLoader.js';
import { describe, expect, test } from 'vitest';
import { toShip } from '../../geometry/lug/frame.ts';
import { contextsOf } from '../../src/sheets/context.ts';
import { modelGlb, modelStl } from '../../src/sheets/model.ts';
import { contextOf, fonts, planOf, sampleJobs, wedgeJob } from './plans.ts';

/** Volume inside a closed surface: the sum of signed tetrahedra from the origin. */
function volumeOf(geometry: BufferGeometry): number {
  const flat = geometry.index ? geometry.toNonIndexed() : geometry;
  const p = flat.getAttribute('position');
  let volume = 0;
  for (let i = 0; i < p.count; i += 3) {
    const [a, b, c] = [0, 1, 2].map((k) => [p.getX(i + k), p.getY(i + k), p.getZ(i + k)] as const);
    if (!a || !b || !c) throw new Error('no triangle');
    volume +=
      (a[0] * (b[1] * c[2] - b[2] * c[1]) - a[1] * (b[0] * c[2] - b[2] * c[0]) + a[2] * (b[0] * c[1] - b[1] * c[0])) /
      6;
  }
  return volume;
}

const job = wedgeJob(0.3, {
  fitting: {
    heading: '25 deg',
    lug: {
      foot: '300 mm', thickness: '30 mm', pinHeight: '200 mm', hole: '50 mm', topRadius: '90 mm', shoulder: '50 mm',
      cheek: { radius: '70 mm', thickness: '10 mm' },
    },
  },
}); // biome-ignore format: figures

describe('the model', () => {
  test('GLB loaded by another: named parts, metres, y up, true size', async () => {
    const context = await contextOf(job);
    const bytes = await modelGlb(context);
    const gltf = await new GLTFLoader().parseAsync(
      bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.byteLength) as ArrayBuffer,
      '',
    );
    const meshes: Mesh[] = [];
    gltf.scene.traverse((node) => {
      if ((node as Mesh).isMesh) meshes.push(node as Mesh);
    });
    expect(meshes.map((mesh) => mesh.name).sort()).toEqual(['cheek+', 'cheek-', 'plate', 'shell']);
    const { frame, anchor, body } = context.fitting;
    const volume = meshes
      .filter((mesh) => mesh.name !== 'shell')
      .reduce((sum, mesh) => sum + volumeOf(mesh.geometry), 0);
    expect((volume * 1e9) / body.volume).toBeCloseTo(1, 2);
    // The farthest point of the plate along the stem is its top, pin height and top radius from the anchor.
    const plate = meshes.find((mesh) => mesh.name === 'plate') as Mesh;
    const p = plate.geometry.getAttribute('position');
    let reach = 0;
    for (let i = 0; i < p.count; i++) {
      const ship = [p.getX(i) * 1000, -p.getZ(i) * 1000, p.getY(i) * 1000] as const;
      reach = Math.max(reach, ship[0] * frame.stem[0] + ship[1] * frame.stem[1] + ship[2] * frame.stem[2]);
    }
    expect(reach).toBeCloseTo(290, 1);
    expect(gltf.scene.userData.digest ?? gltf.scene.children[0]?.userData.digest).toBe(context.digest);
    // The shell passes through the anchor, flat, at the deadrise: its points obey z = |y| tan(deadrise) about it.
    const shell = meshes.find((mesh) => mesh.name === 'shell') as Mesh;
    const s = shell.geometry.getAttribute('position');
    for (let i = 0; i < s.count; i++) expect(s.getY(i)).toBeCloseTo(-s.getZ(i) * Math.tan(0.3), 6);
    expect(anchor.side).toBe('port');
    expect(toShip(frame, 0, 0, 0)).toEqual([...anchor.position]);
  });

  test('the shell faces the water', async () => {
    for (const side of ['port', 'starboard'] as const) {
      const context = await contextOf(wedgeJob(0.3, { fitting: { at: { station: '10 m', side, girth: '2 m' } } }));
      const bytes = await modelGlb(context);
      const gltf = await new GLTFLoader().parseAsync(
        bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.byteLength) as ArrayBuffer,
        '',
      );
      let up = 0;
      gltf.scene.traverse((node) => {
        const mesh = node as Mesh;
        if (!mesh.isMesh || mesh.name !== 'shell') return;
        mesh.geometry.computeVertexNormals();
        up = mesh.geometry.getAttribute('normal').getY(0);
      });
      // The bottom looks down: cos(deadrise).
      expect(up).toBeCloseTo(-Math.cos(0.3), 5);
    }
  });

  test('STL loaded by another: closed, weighs what the plan weighs', async () => {
    const context = await contextOf(job);
    const bytes = modelStl(context);
    const geometry = new STLLoader().parse(bytes.buffer as ArrayBuffer);
    expect(volumeOf(geometry) / context.fitting.body.volume).toBeCloseTo(1, 2);
    expect(Buffer.from(bytes.subarray(0, 5)).toString('latin1')).not.toBe('solid');
    const box = new Box3().setFromBufferAttribute(geometry.getAttribute('position') as never);
    expect(box.max.x - box.min.x).toBeGreaterThan(250);
    // Each edge is walked once each way: a closed surface.
    const p = geometry.getAttribute('position');
    const edges = new Map<string, number>();
    const name = (i: number) => `${p.getX(i).toFixed(4)} ${p.getY(i).toFixed(4)} ${p.getZ(i).toFixed(4)}`;
    for (let i = 0; i < p.count; i += 3) {
      for (const [u, v] of [
        [i, i + 1],
        [i + 1, i + 2],
        [i + 2, i],
      ] as const) {
        const [a, b] = [name(u), name(v)];
        const key = a < b ? `${a}|${b}` : `${b}|${a}`;
        edges.set(key, (edges.get(key) ?? 0) + (a < b ? 1 : -1));
      }
    }
    expect([...edges.values()].every((sum) => sum === 0)).toBe(true);
  });

  for (const { name, job: sample, file } of sampleJobs()) {
    test(`${name}: each part of the STL is closed, faces outward, and together they weigh what the plan says`, async () => {
      for (const context of await contextsOf(planOf(sample, file), { fonts })) {
        const bytes = modelStl(context);
        const view = new DataView(bytes.buffer);
        const count = view.getUint32(80, true);
        expect(bytes.length).toBe(84 + 50 * count);
        const edges = new Map<string, [forth: number, back: number]>();
        let volume = 0;
        let flat = 0;
        for (let t = 0; t < count; t++) {
          const at = (k: number) =>
            [0, 4, 8].map((o) => view.getFloat32(84 + 50 * t + 12 * k + o, true)) as [number, number, number];
          const [n, p, q, r] = [at(0), at(1), at(2), at(3)];
          const u = [q[0] - p[0], q[1] - p[1], q[2] - p[2]] as const;
          const v = [r[0] - p[0], r[1] - p[1], r[2] - p[2]] as const;
          const c = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]] as const;
          const area = Math.hypot(...c) / 2;
          if (area < 1e-3) flat++;
          // The normal written is that of the corners in their order: right-handed.
          else expect((n[0] * c[0] + n[1] * c[1] + n[2] * c[2]) / (2 * area)).toBeGreaterThan(0.999);
          volume += (p[0] * c[0] + p[1] * c[1] + p[2] * c[2]) / 6;
          for (const [a, b] of [
            [p, q],
            [q, r],
            [r, p],
          ] as const) {
            const [i, j] = [a.join(), b.join()];
            const key = i < j ? `${i}|${j}` : `${j}|${i}`;
            const seen = edges.get(key) ?? [0, 0];
            seen[i < j ? 0 : 1]++;
            edges.set(key, seen);
          }
        }
        expect(flat / count).toBeLessThan(0.05);
        for (const [forth, back] of edges.values()) expect(forth).toBe(back);
        // Each edge is of two triangles; where a cheek plate lies on the plate an edge may be of two parts, never of more.
        const shared = [...edges.values()].filter(([forth]) => forth !== 1).length;
        expect(shared / edges.size).toBeLessThan(context.fitting.input.lug.cheek ? 0.1 : 1e-9);
        // Chords of 0.05 mm at the round edges: some parts in ten thousand.
        expect(Math.abs(volume / context.fitting.body.volume - 1)).toBeLessThan(5e-4);
      }
    });
  }
});
