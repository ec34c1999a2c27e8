/** The decors on offer. What wears one changes its clothes at once; shape and place of the kitchen stay. */

import { Color, RepeatWrapping, SRGBColorSpace, Texture } from "three";
import type { MeshStandardMaterial } from "three";
import { edgeColour } from "./look";
import type { Model, Part } from "./model";
import type { Look, Offer, Payload } from "./payload";

type Clothes = Pick<MeshStandardMaterial, "map" | "color" | "roughness" | "metalness">;

export class Wardrobe {
  offers: readonly Offer[] = [];
  private images: readonly ImageBitmap[] = [];
  private readonly textures = new Map<string, Texture>();
  private readonly own = new WeakMap<MeshStandardMaterial, Clothes>();
  private sizes = "";

  /** Take what Python offers; pictures are decoded only if they are others than before. */
  async fill({ header, textures }: Payload): Promise<void> {
    const sizes = textures.map((texture) => `${texture.length}`).join();
    const same = sizes === this.sizes && JSON.stringify(header.offers) === JSON.stringify(this.offers);
    if (same) return;
    const images = await Promise.all(textures.map(decoded));
    this.empty();
    this.images = images;
    this.offers = header.offers;
    this.sizes = sizes;
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

  empty(): void {
    for (const texture of this.textures.values()) texture.dispose();
    this.textures.clear();
    for (const image of this.images) image.close();
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
  private texture(look: Look, index: number, tile: readonly number[]): Texture {
    const repeat = [0, 1].map((axis) => (tile[axis] ?? 1) / (look.tile[axis] ?? 1)) as [number, number];
    const key = `${index} ${repeat.join(" ")}`;
    const texture = this.textures.get(key) ?? textureOf(this.images[index]!, repeat);
    this.textures.set(key, texture);
    return texture;
  }
}

function clothesOf({ map, color, roughness, metalness }: MeshStandardMaterial): Clothes {
  return { map, color: color.clone(), roughness, metalness };
}

function decoded(jpeg: Uint8Array): Promise<ImageBitmap> {
  return createImageBitmap(new Blob([jpeg.slice()], { type: "image/jpeg" }));
}

/** As the glTF loader makes them: the first row of the picture is at v = 0. */
function textureOf(image: ImageBitmap, repeat: readonly [number, number]): Texture {
  const texture = new Texture(image);
  texture.flipY = false;
  texture.colorSpace = SRGBColorSpace;
  texture.wrapS = texture.wrapT = RepeatWrapping;
  texture.repeat.set(...repeat);
  texture.anisotropy = 8;
  texture.needsUpdate = true;
  return texture;
}
