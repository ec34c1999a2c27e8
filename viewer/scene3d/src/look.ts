/** How surfaces look: materials of their own where they must differ, and the fine lines along edges. */

import { Color, LineBasicMaterial, LineSegments } from "three";
import type { EdgesGeometry, MeshStandardMaterial, Texture } from "three";
import { isRoom, isVolume } from "./model";
import type { EdgeLines, Model, Part, Surface } from "./model";
import type { Shapes } from "./shapes";
import { Sky } from "./sky";
import type { Shader } from "./sky";

const EDGE_OPACITY = 0.5;
/** Where two walls meet, the lines of both would run into one another. */
const WALL_OPACITY = 0.12;
const METAL_SHEEN = 1.3;
/** What is seen through a pane is the sky, whatever the page behind the picture is like. */
const DAYLIGHT = { emissive: new Color(0xd9ebf7), emissiveIntensity: 0.85, opacity: 0.97 };
/** What shows where a part is cut through: the same for all, as on a drawing. */
const CUT_FACE = "vec4(0.62, 0.38, 0.27, 1.0)";

/** Give every surface its shadow, its sharpness and its edge lines. */
export function dress(model: Model, shapes: Shapes, sharpness: number, surroundings: Texture, sky: Sky): void {
  const materials = new Map<string, MeshStandardMaterial>();
  const dressing = { materials, sharpness, surroundings, sky };
  for (const part of model.parts.values())
    for (const surface of part.surfaces) {
      dressSurface(part, surface, dressing);
      const lines = edgeLines(surface, shapes.edgesOf(surface), opacityOf(part));
      // The floor is so thin that its two outlines would run into one another.
      lines.visible = part.kind !== "floor";
      surface.add(lines);
      part.edges.push(lines);
    }
}

/** A copy that is also drawn in the same way; three.js leaves that out of its own copies. */
export function copyOf(material: MeshStandardMaterial): MeshStandardMaterial {
  return drawnBy(material, material.onBeforeCompile);
}

function drawnBy(material: MeshStandardMaterial, onBeforeCompile: Compile): MeshStandardMaterial {
  return Object.assign(material.clone(), { onBeforeCompile });
}

/** How strongly the edges of a part are drawn. */
export function opacityOf(part: Part): number {
  return part.kind === "wall" ? WALL_OPACITY : EDGE_OPACITY;
}

/** A deeper shade of the surface's own colour; on near-black a lighter one, or the edge would be lost. */
export function edgeColour(material: MeshStandardMaterial): Color {
  const color = material.color.clone().multiply(meanOf(material));
  const dark = 0.2126 * color.r + 0.7152 * color.g + 0.0722 * color.b < 0.03;
  return dark ? color.lerp(new Color(0xffffff), 0.25) : color.multiplyScalar(0.3);
}

/** The back of a closed surface is seen only through a cut, and exactly where the cut goes through the solid. */
const fillCuts = (shader: Shader): void => {
  const last = "#include <dithering_fragment>";
  shader.fragmentShader = shader.fragmentShader.replace(
    last,
    `${last}\n  if (!gl_FrontFacing) gl_FragColor = linearToOutputTexel(${CUT_FACE});`,
  );
};

type Compile = MeshStandardMaterial["onBeforeCompile"];

interface Dressing {
  readonly materials: Map<string, MeshStandardMaterial>;
  readonly sharpness: number;
  readonly surroundings: Texture;
  readonly sky: Sky;
}

function dressSurface(part: Part, surface: Surface, { materials, sharpness, surroundings, sky }: Dressing): void {
  // A wall comes and goes by its material, and decors change by role: such surfaces share with their like alone.
  const like = `${part.inward ? part.id : part.decor} ${surface.material.uuid}`;
  const material = materials.get(like) ?? drawnBy(surface.material, (shader) => {
    fillCuts(shader);
    sky.shade(shader);
  });
  materials.set(like, material);
  surface.material = material;
  // Surfaces step back a hair, so that the lines on their edges are not eaten by them.
  Object.assign(material, { polygonOffset: true, polygonOffsetFactor: 1, polygonOffsetUnits: 3 });
  if (material.map) material.map.anisotropy = sharpness;
  if (part.kind === "window" && material.transparent) Object.assign(material, DAYLIGHT);
  // Metal shows nothing but what it mirrors, and a room is brighter than the dim one that lights everything else.
  if (material.metalness > 0.5) Object.assign(material, { envMap: surroundings, envMapIntensity: METAL_SHEEN });
  surface.castShadow = !isRoom(part) && !isVolume(part) && !material.transparent;
  surface.receiveShadow = !isVolume(part);
  if (surface.castShadow) Sky.heed(surface);
}

function edgeLines(surface: Surface, edges: EdgesGeometry, opacity: number): EdgeLines {
  const color = edgeColour(surface.material);
  const material = new LineBasicMaterial({ color, transparent: true, opacity, depthWrite: false });
  const lines = new LineSegments(edges, material);
  // Lines are for the eye: a click goes to the surface.
  lines.raycast = () => undefined;
  return lines;
}

const means = new WeakMap<object, Color>();

/** The mean colour of its texture, linear; white where it has none. */
function meanOf({ map }: MeshStandardMaterial): Color {
  const image = map?.image as CanvasImageSource | null | undefined;
  if (!image) return new Color(1, 1, 1);
  const mean = means.get(image) ?? pixelOf(image);
  means.set(image, mean);
  return mean;
}

function pixelOf(image: CanvasImageSource): Color {
  const canvas = Object.assign(document.createElement("canvas"), { width: 1, height: 1 });
  const pen = canvas.getContext("2d");
  pen?.drawImage(image, 0, 0, 1, 1);
  const [r = 255, g = 255, b = 255] = pen?.getImageData(0, 0, 1, 1).data ?? [];
  return new Color().setRGB(r / 255, g / 255, b / 255, "srgb");
}
