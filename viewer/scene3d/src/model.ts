/** A kitchen as the browser knows it: parts by id, each with its meshes, read from glTF extras. */

import { Box3, Group, Mesh, Object3D, Texture, Vector3 } from "three";
import type {
  BufferGeometry,
  EdgesGeometry,
  LineBasicMaterial,
  LineSegments,
  Material,
  MeshStandardMaterial,
} from "three";
import { GLTFLoader } from "three/addons/loaders/GLTFLoader.js";

export type Surface = Mesh<BufferGeometry, MeshStandardMaterial>;
export type EdgeLines = LineSegments<EdgesGeometry, LineBasicMaterial>;

export interface Part {
  readonly id: string;
  readonly kind: string;
  readonly layer: string;
  readonly label: string;
  /** Of a wall, or of what goes when a wall goes: the direction into the room. */
  readonly inward: Vector3 | null;
  readonly surfaces: Surface[];
  readonly edges: EdgeLines[];
  readonly box: Box3;
  /** True while it stands between the eye and the room. */
  faded: boolean;
}

export interface Model {
  readonly root: Group;
  readonly parts: ReadonlyMap<string, Part>;
  readonly layers: readonly string[];
}

const ROOM = "room";
const VOLUMES = "clearances";

export async function readModel(glb: Uint8Array): Promise<Model> {
  // The parser wants a buffer that begins with the glTF, so the bytes are copied out of the message.
  const gltf = await new GLTFLoader().parseAsync(glb.slice().buffer, "");
  gltf.scene.updateMatrixWorld(true);
  const parts = partsOf(gltf.scene);
  return { root: gltf.scene, parts, layers: [...new Set([...parts.values()].map((part) => part.layer))] };
}

export function isRoom(part: Part): boolean {
  return part.layer === ROOM;
}

/** True for space that is kept free: nothing that casts a shadow or hides what is behind it. */
export function isVolume(part: Part): boolean {
  return part.layer === VOLUMES;
}

export function boxOf(parts: Iterable<Part>): Box3 {
  const box = new Box3();
  for (const part of parts) box.union(part.box);
  return box;
}

export function solids(model: Model): Part[] {
  return [...model.parts.values()].filter((part) => !isVolume(part));
}

/** Free what the graphics card holds; three.js does not do it by itself. */
export function discard(model: Model): void {
  model.root.traverse((object) => {
    if (!("geometry" in object)) return;
    const drawn = object as Mesh;
    drawn.geometry.dispose();
    for (const material of [drawn.material].flat()) discardMaterial(material);
  });
}

function discardMaterial(material: Material): void {
  for (const value of Object.values(material)) if (value instanceof Texture) value.dispose();
  material.dispose();
}

function partsOf(root: Object3D): Map<string, Part> {
  const parts = new Map<string, Part>();
  root.traverse((object) => {
    const owner = object instanceof Mesh && ownerOf(object);
    if (!owner) return;
    const id = String(owner.userData["part"]);
    const part = parts.get(id) ?? newPart(id, owner.userData);
    part.surfaces.push(object as Surface);
    part.box.expandByObject(object);
    parts.set(id, part);
  });
  return parts;
}

/** A node with several materials becomes a group of meshes, and then the extras are on the group. */
function ownerOf(mesh: Object3D): Object3D | null {
  let node: Object3D | null = mesh;
  while (node && node.userData["part"] === undefined) node = node.parent;
  return node;
}

function newPart(id: string, extras: Record<string, unknown>): Part {
  const inward = extras["inward"];
  return {
    id,
    kind: String(extras["kind"] ?? ""),
    layer: String(extras["layer"] ?? ROOM),
    label: String(extras["label"] ?? id),
    inward: Array.isArray(inward) ? new Vector3().fromArray(inward as number[]) : null,
    surfaces: [],
    edges: [],
    box: new Box3(),
    faded: false,
  };
}
