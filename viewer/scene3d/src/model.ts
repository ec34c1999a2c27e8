/** A kitchen as the browser knows it: parts by id, each with its meshes, read from glTF extras (see `extras.py`). */

import { Box3, Group, Matrix4, Mesh, Object3D, Vector3 } from "three";
import type {
  BufferGeometry,
  EdgesGeometry,
  LineBasicMaterial,
  LineSegments,
  MeshStandardMaterial,
} from "three";
import { GLTFLoader } from "three/addons/loaders/GLTFLoader.js";
import type { GLTFLoaderPlugin, GLTFParser } from "three/addons/loaders/GLTFLoader.js";
import { openingOf } from "./openings";
import type { Opening } from "./openings";
import type { Source } from "./payload";
import { picture, stretch } from "./pieces";
import { textureOf } from "./texture";

export type Surface = Mesh<BufferGeometry, MeshStandardMaterial>;
export type EdgeLines = LineSegments<EdgesGeometry, LineBasicMaterial>;

/** A node that a part is drawn by, and where it stands at home. */
interface Body {
  readonly node: Object3D;
  readonly home: Matrix4;
}

export interface Part {
  readonly id: string;
  readonly kind: string;
  /** What today's numbering calls that which it belongs to. */
  readonly owner: string;
  readonly label: string;
  /** What it is shown and hidden with. */
  readonly layer: string;
  readonly upper: boolean;
  /** Of a wall, or of what goes when a wall goes: its name, and the direction into the room. */
  readonly wall: string;
  readonly inward: Vector3 | null;
  /** The role whose decor it wears, and what one repeat of its own texture covers, mm. */
  readonly decor: string;
  readonly tile: readonly number[];
  readonly opening: Opening | null;
  readonly apart: Vector3 | null;
  readonly bodies: Body[];
  readonly surfaces: Surface[];
  readonly edges: EdgeLines[];
  /** Where it stands at home. */
  readonly box: Box3;
  /** True while it stands between the eye and the room. */
  faded: boolean;
}

export interface Model {
  readonly root: Group;
  readonly parts: ReadonlyMap<string, Part>;
}

type Extras = Readonly<Record<string, unknown>>;

const ROOM = "room";
const VOLUMES = "clearances";

/** Read a glTF whose buffers are pieces. Throws if it cannot be read. */
export async function readModel(tree: string, { pieces }: Source): Promise<Model> {
  const loader = new GLTFLoader().register((parser) => fromPieces(parser, pieces));
  const gltf = await loader.parseAsync(tree, "");
  gltf.scene.updateMatrixWorld(true);
  return { root: gltf.scene, parts: partsOf(gltf.scene) };
}

export function isRoom(part: Part): boolean {
  return part.layer === ROOM;
}

/** True for space that is kept free: nothing that casts a shadow or hides what is behind it. */
export function isVolume(part: Part): boolean {
  return part.layer === VOLUMES;
}

/** Whether any of it is to be seen. */
export function isSeen(part: Part): boolean {
  return !part.faded && part.surfaces.some((surface) => surface.visible);
}

export function boxOf(parts: Iterable<Part>): Box3 {
  const box = new Box3();
  for (const part of parts) box.union(part.box);
  return box;
}

export function solids(model: Model): Part[] {
  return [...model.parts.values()].filter((part) => !isVolume(part));
}

export function furniture(model: Model): Part[] {
  return solids(model).filter((part) => !isRoom(part));
}

/** Stand a part away from its home; `move` is in the world's metres. */
export function placeAway(part: Part, move: Matrix4): void {
  for (const { node, home } of part.bodies) {
    const parent = node.parent!.matrixWorld;
    node.matrix.copy(parent).invert().multiply(move).multiply(parent).multiply(home);
    node.matrixWorldNeedsUpdate = true;
  }
}

/** Free what the graphics card holds, but for the shapes; three.js does not do it by itself. */
export function discard(model: Model): void {
  model.root.traverse((object) => {
    if (!("geometry" in object)) return;
    const drawn = object as Mesh;
    for (const material of [drawn.material].flat() as Partial<MeshStandardMaterial>[]) {
      // Its own picture; what it mirrors belongs to the display.
      material.map?.dispose();
      material.dispose?.();
    }
  });
}

/** How the loader comes by what is not in the tree. */
function fromPieces({ json }: GLTFParser, pieces: readonly string[]): GLTFLoaderPlugin {
  const view = (index: number) => json.bufferViews[index] as { buffer: number; byteOffset: number; byteLength: number };
  const piece = (index: number) => pieces[view(index).buffer]!;
  return {
    name: "pieces",
    loadBufferView: async (index) => stretch(piece(index), view(index).byteOffset, view(index).byteLength),
    loadTexture: async (index) => textureOf(await picture(piece(json.images[json.textures[index].source].bufferView))),
  };
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
    if (!part.bodies.some(({ node }) => node === owner)) part.bodies.push(bodyOf(owner));
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

function bodyOf(node: Object3D): Body {
  node.updateMatrix();
  node.matrixAutoUpdate = false;
  return { node, home: node.matrix.clone() };
}

function newPart(id: string, extras: Extras): Part {
  return {
    id,
    kind: String(extras["kind"] ?? ""),
    owner: String(extras["owner"] ?? id),
    label: String(extras["label"] ?? id),
    layer: String(extras["layer"] ?? ROOM),
    upper: extras["level"] === "upper",
    wall: String(extras["wall"] ?? ""),
    inward: vectorOf(extras["inward"]),
    decor: String(extras["decor"] ?? ""),
    tile: Array.isArray(extras["tile"]) ? extras["tile"].map(Number) : [1, 1],
    opening: openingOf(extras["opens"]),
    apart: vectorOf(extras["apart"]),
    bodies: [],
    surfaces: [],
    edges: [],
    box: new Box3(),
    faded: false,
  };
}

function vectorOf(found: unknown): Vector3 | null {
  return Array.isArray(found) ? new Vector3().fromArray(found.map(Number)) : null;
}
