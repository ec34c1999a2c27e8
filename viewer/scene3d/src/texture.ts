/** Textures from pictures, as the glTF standard has them: the first row of the picture is at v = 0. */

import { RepeatWrapping, SRGBColorSpace, Texture } from "three";

export function textureOf(image: ImageBitmap, repeat: readonly [number, number] = [1, 1]): Texture {
  const texture = new Texture(image);
  texture.flipY = false;
  texture.colorSpace = SRGBColorSpace;
  texture.wrapS = texture.wrapT = RepeatWrapping;
  texture.repeat.set(...repeat);
  texture.anisotropy = 8;
  texture.needsUpdate = true;
  return texture;
}
