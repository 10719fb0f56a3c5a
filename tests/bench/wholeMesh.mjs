import { readFileSync } from 'node:fs';
import { Mesh, MeshBasicMaterial, Ray, Vector3 } from 'three';
import { STLLoader } from 'three/examples/jsm/loaders/STLLoader.js';
import { MeshBVH } from 'three-mesh-bvh';

/* The usual way with a scan, for comparison: all of it read, a tree over all of it, and a foot's casts against that. */

const bytes = readFileSync(process.argv[2]);
const geometry = new STLLoader().parse(bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.byteLength));
const bvh = new MeshBVH(geometry);
new Mesh(geometry, new MeshBasicMaterial());
let sum = 0;
const ray = new Ray(new Vector3(), new Vector3(0, 0, 1));
for (let i = 0; i < 65; i++) {
  for (let j = 0; j < 9; j++) {
    ray.origin.set(54_000 + 5 * i, 2000 + 4 * j, -5000);
    sum += bvh.raycastFirst(ray, 2)?.distance ?? 0;
  }
}
process.stdout.write(`${sum}\n`);
