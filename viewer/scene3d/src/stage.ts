/** A stage: one kitchen on show, in its own light, with its marks and whatever of it moves. */

import { Matrix4, Mesh, MeshStandardMaterial, PlaneGeometry, Scene, Sphere, Vector3 } from "three";
import type { Box3, Plane, Texture, WebGLRenderer } from "three";
import { Lamps } from "./light";
import { dress } from "./look";
import { Marks } from "./marks";
import type { Memory } from "./memory";
import { boxOf, discard, placeAway, readModel, solids } from "./model";
import type { Model, Part, Surface } from "./model";
import { opened, translation } from "./openings";
import type { Source } from "./payload";
import { cut } from "./section";
import { Sky } from "./sky";
import { Shapes } from "./shapes";
import type { Shares } from "./shares";
import { openSide } from "./views";
import type { Wardrobe } from "./wardrobe";

const CEILING = 0xf4f2ee;
const SHEET = new PlaneGeometry(1, 1);

const JOINS = "joins";

export const APART = "the worktop in pieces";

export interface Shown {
  readonly name: string;
  readonly model: Model;
  readonly marks: Marks;
  readonly ball: Sphere;
}

export class Stage {
  readonly scene = new Scene();
  shown: Shown | null = null;
  /** True when shadows must be drawn anew, and when the sky must. */
  stale = true;
  private clouded = true;
  private gliding = false;
  private readonly sky = new Sky();
  private readonly lamps = new Lamps();
  private readonly shapes = new Shapes();
  /** The kitchen before this one. As long as its materials are there, so are the programs that draw this one's. */
  private last: Model | null = null;
  private planes: Plane[] = [];
  private wanted = "";
  /** What of it stands, so far as that is known by a word. */
  private standing = "";

  /** `leading`: what the offers say is worn is worn by the first version; the second shows its own decors. */
  constructor(
    private readonly surroundings: Texture,
    private readonly leading: boolean,
  ) {
    this.scene.environment = surroundings;
    this.scene.environmentIntensity = 0.5;
    this.scene.add(...this.lamps.objects);
    for (const lamp of this.lamps.objects) Sky.heed(lamp);
  }

  /** Whether what it shows is what was asked for. */
  get ready(): boolean {
    return this.shown?.name === this.wanted;
  }

  /** Everything that opens, each once. */
  get leaves(): Set<string> {
    const parts = [...(this.shown?.model.parts.values() ?? [])];
    return new Set(parts.flatMap(({ opening }) => opening?.leaf ?? []));
  }

  /** Read and show a kitchen, unless it is there or a newer one comes meanwhile. Throws if it cannot be read. */
  async show(source: Source, tree: string, sharpness: number): Promise<void> {
    const { name } = source;
    if (name === this.wanted) return;
    this.wanted = name;
    const model = await readModel(tree, source);
    if (this.wanted === name) this.swap(name, model, sharpness);
    else discard(model);
  }

  revise(memory: Memory, highlight: readonly string[], wardrobe: Wardrobe): void {
    if (!this.shown) return;
    const { model, marks } = this.shown;
    marks.clear();
    wardrobe.dress(model, ({ role, worn }) => memory.tried.get(role) ?? (this.leading ? worn : null));
    marks.show(highlight, memory.picked);
    for (const part of model.parts.values()) {
      // A marked part is seen even if its layer is hidden.
      const visible = marks.has(part) || !isHidden(part, memory);
      for (const surface of part.surfaces) surface.visible = visible;
    }
    this.planes = cut(model, memory.section);
    this.shade([...memory.hidden, memory.apart, memory.section?.towards.toArray(), memory.section?.share].join());
  }

  /** Put everything that moves where it is at this time. */
  move(shares: Shares, now: number): void {
    for (const part of this.shown?.model.parts.values() ?? []) {
      if (!part.opening && !part.apart) continue;
      const move = part.opening ? opened(part.opening, shares.at(part.opening.leaf, now)) : new Matrix4();
      if (part.apart) move.premultiply(translation(part.apart.clone().multiplyScalar(shares.at(APART, now))));
      placeAway(part, move);
    }
    this.stale = true;
    this.gliding = shares.moving(now);
  }

  /** Draw anew what shadows are read from, if need be; the sky's when what moves has come to rest. */
  castShadows(renderer: WebGLRenderer): void {
    this.clouded ||= this.stale;
    if (this.clouded && !this.gliding) {
      this.sky.draw(renderer, this.scene, this.planes);
      this.clouded = false;
    }
    // Only now: the lamps' would be drawn with the sky's, without the walls.
    renderer.shadowMap.needsUpdate = this.stale;
    this.stale = false;
  }

  takeDown(): void {
    this.wanted = "";
    this.clear();
    this.shapes.empty();
    this.sky.free();
  }

  private clear(): void {
    if (!this.shown) return;
    this.shown.marks.clear();
    this.scene.remove(this.shown.model.root);
    if (this.last) discard(this.last);
    this.last = this.shown.model;
    this.shown = null;
  }

  /** Shadows cost more than all the rest of a frame: a new mark or decor throws none. */
  private shade(standing: string): void {
    this.stale ||= standing !== this.standing;
    this.standing = standing;
  }

  private swap(name: string, model: Model, sharpness: number): void {
    this.clear();
    this.shapes.fit(model);
    const parts = [...model.parts.values()];
    const box = boxOf(solids(model));
    dress(model, this.shapes, sharpness, this.surroundings, this.sky);
    const shades = [...parts.filter(isShell).flatMap(({ surfaces }) => surfaces.filter(isSolid)), ceiling(box)];
    for (const shade of shades) this.lamps.shade(shade);
    this.sky.aim(box);
    this.lamps.aim(box, openSide(model), parts.filter(({ kind }) => kind === "window"));
    model.root.add(shades.at(-1)!);
    this.scene.add(model.root);
    this.stale = true;
    this.shown = { name, model, marks: new Marks(model, this.shapes), ball: box.getBoundingSphere(new Sphere()) };
  }
}

/** What keeps out the sun: walls, and the frames of windows, whose bars lie in the patch of light on the floor. */
function isShell({ kind }: Part): boolean {
  return kind === "wall" || kind === "window";
}

function isSolid({ material }: Surface): boolean {
  return !material.transparent;
}

/** Seen from below alone, so that one looks into the room from above; and the sun must not fall in over the walls. */
function ceiling(box: Box3): Mesh {
  const size = box.getSize(new Vector3());
  const material = new MeshStandardMaterial({ color: CEILING, emissive: CEILING, emissiveIntensity: 0.6, roughness: 1 });
  const made = new Mesh(SHEET, material);
  made.scale.set(size.x, size.z, 1);
  made.rotation.x = Math.PI / 2;
  made.position.copy(box.getCenter(new Vector3())).setY(box.max.y);
  return made;
}

/** The names of what a part is shown and hidden with by hand. */
export function layersOf(part: Part): string[] {
  if (part.layer === JOINS) return [];
  return [part.layer, ...(part.upper ? ["upper"] : []), ...(part.kind === "service" ? ["services"] : [])];
}

/** What holds a join is inside the tops until they are shown apart. */
function isHidden(part: Part, { hidden, apart }: Memory): boolean {
  return part.layer === JOINS ? !apart : layersOf(part).some((layer) => hidden.has(layer));
}
