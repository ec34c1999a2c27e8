/** The decors on offer. What wears one changes its clothes at once; shape and place of the kitchen stay. */

import { Color } from "three";
import type { MeshStandardMaterial, Texture } from "three";
import { edgeColour } from "./look";
import type { Model, Part } from "./model";
import type { Look, Offer } from "./payload";
import { picture } from "./pieces";
import { textureOf } from "./texture";

type Clothes = Pick<MeshStandardMaterial, "map" | "color" | "roughness" | "metalness">;

export class Wardrobe {
  offers: readonly Offer[] = [];
  private images = new Map<string, ImageBitmap>();
  private readonly textures = new Map<string, Texture>();
  private readonly own = new WeakMap<MeshStandardMaterial, Clothes>();

  /** Take what Python offers. */
  async fill(offers: readonly Offer[]): Promise<void> {
    const looks = offers.flatMap(({ choices }) => choices).flatMap(({ looks }) => Object.values(looks));
    const names = [...new Set(looks.flatMap(({ texture }) => texture ?? []))];
    this.images = new Map(await Promise.all(names.map(async (name) => [name, await picture(name)] as const)));
    this.offers = offers;
  }

  /** Dress every part as `worn` says, by the role of the offer; where it says nothing, in what came with the model. */
  dress(model: Model, worn: (offer: Offer) => string | null): void {
    const looks = new Map<string, Look>();
    for (const offer of this.offers) {
      const choice = offer.choices.find(({ code }) => code === worn(offer));
      for (const [role, look] of Object.entries(choice?.looks ?? {})) looks.set(role, look);
    }
    for (const part of model.parts.values()) if (part.decor) this.put(part, looks.get(part.decor) ?? null);
  }

  private put(part: Part, look: Look | null): void {
    part.surfaces.forEach((surface, index) => {
      const { material } = surface;
      const own = this.own.get(material) ?? clothesOf(material);
      this.own.set(material, own);
      Object.assign(material, look ? this.clothes(look, part.tile) : own);
      part.edges[index]?.material.color.copy(edgeColour(material));
    });
  }

  private clothes(look: Look, tile: readonly number[]): Clothes {
    const { roughness, metallic: metalness, texture } = look;
    if (texture === null) return { map: null, color: new Color(look.colour), roughness, metalness };
    return { map: this.texture(look, texture, tile), color: new Color(0xffffff), roughness, metalness };
  }

  /** The part's texture coordinates count repeats of its own texture; another one repeats more or less often. */
  private texture(look: Look, name: string, tile: readonly number[]): Texture {
    const repeat = [0, 1].map((axis) => (tile[axis] ?? 1) / (look.tile[axis] ?? 1)) as [number, number];
    const key = `${name} ${repeat.join(" ")}`;
    const texture = this.textures.get(key) ?? textureOf(this.images.get(name)!, repeat);
    this.textures.set(key, texture);
    return texture;
  }
}

function clothesOf({ map, color, roughness, metalness }: MeshStandardMaterial): Clothes {
  return { map, color: color.clone(), roughness, metalness };
}
