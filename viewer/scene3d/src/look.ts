/** How things look: light, shadow, materials and the fine lines along edges. */

import {
  ACESFilmicToneMapping,
  Box3,
  Color,
  DirectionalLight,
  EdgesGeometry,
  HemisphereLight,
  LineBasicMaterial,
  LineSegments,
  PCFShadowMap,
  PMREMGenerator,
  Scene,
  Sphere,
  Vector3,
  WebGLRenderer,
} from "three";
import type { BufferGeometry, MeshStandardMaterial, Object3D } from "three";
import { RoomEnvironment } from "three/addons/environments/RoomEnvironment.js";
import { isRoom, isVolume } from "./model";
import type { EdgeLines, Model, Part, Surface } from "./model";

const MAX_PIXEL_RATIO = 2;
export const EDGE_OPACITY = 0.5;
const EDGE_DEGREES = 25;
const SKY_LAMPS = 4;
const SKY_LEAN = 0.45;

export function makeRenderer(canvas: HTMLCanvasElement): WebGLRenderer {
  const renderer = new WebGLRenderer({ canvas, antialias: true, alpha: true });
  renderer.toneMapping = ACESFilmicToneMapping;
  renderer.toneMappingExposure = 0.88;
  renderer.shadowMap.enabled = true;
  renderer.shadowMap.type = PCFShadowMap;
  // Neither lamp nor kitchen moves with the eye: shadows are drawn anew only when the model changes.
  renderer.shadowMap.autoUpdate = false;
  return renderer;
}

/** Pixels drawn for each of the page's: beyond two nobody sees the difference, and the work is fourfold. */
export function sharpest(): number {
  return Math.min(window.devicePixelRatio, MAX_PIXEL_RATIO);
}

export function makeScene(renderer: WebGLRenderer): Scene {
  const scene = new Scene();
  const room = new RoomEnvironment();
  const maker = new PMREMGenerator(renderer);
  scene.environment = maker.fromScene(room, 0.04).texture;
  scene.environmentIntensity = 0.5;
  room.dispose();
  maker.dispose();
  scene.add(new HemisphereLight(0xffffff, 0xb9b2a8, 0.35));
  return scene;
}

/**
 * A window on the open side, and a sky of lamps overhead. Many weak shadows that overlap make the soft one that
 * gathers in corners and under whatever hangs; one strong lamp cannot.
 */
export class Lamps {
  private readonly window = makeLamp(0xfff6ea, 1.6, 4, 2048);
  private readonly sky = Array.from({ length: SKY_LAMPS }, () => makeLamp(0xffffff, 1.5 / SKY_LAMPS, 8, 1024));

  get objects(): Object3D[] {
    return [this.window, ...this.sky].flatMap((lamp) => [lamp, lamp.target]);
  }

  /** Light falls in from the open side, a little from one hand, as it does from behind the onlooker. */
  aim(box: Box3, open: Vector3): void {
    const aside = new Vector3(open.z, 0, -open.x);
    aimLamp(this.window, box, open.clone().addScaledVector(aside, 0.15).setY(1));
    this.sky.forEach((lamp, index) => {
      const round = ((index + 0.25) / SKY_LAMPS) * 2 * Math.PI;
      const across = aside.clone().multiplyScalar(Math.cos(round)).addScaledVector(open, Math.sin(round));
      aimLamp(lamp, box, across.multiplyScalar(SKY_LEAN).setY(1));
    });
  }
}

function makeLamp(colour: number, intensity: number, softness: number, pixels: number): DirectionalLight {
  const lamp = new DirectionalLight(colour, intensity);
  lamp.castShadow = true;
  lamp.shadow.mapSize.setScalar(pixels);
  lamp.shadow.radius = softness;
  lamp.shadow.normalBias = 0.012;
  return lamp;
}

function aimLamp(lamp: DirectionalLight, box: Box3, from: Vector3): void {
  const { center, radius } = box.getBoundingSphere(new Sphere());
  lamp.target.position.copy(center);
  lamp.position.copy(center).addScaledVector(from.normalize(), radius * 2);
  const view = { left: -radius, right: radius, top: radius, bottom: -radius, near: radius, far: radius * 3 };
  Object.assign(lamp.shadow.camera, view);
  lamp.shadow.camera.updateProjectionMatrix();
}

/** Give every surface its shadow, its sharpness and its edge lines. */
export function dress(model: Model, sharpness: number): void {
  const edges = new Map<BufferGeometry, EdgesGeometry>();
  for (const part of model.parts.values())
    for (const surface of part.surfaces) {
      dressSurface(part, surface, sharpness);
      const lines = edgeLines(surface, edgesOf(surface, edges));
      surface.add(lines);
      part.edges.push(lines);
    }
}

export function edgesOf(surface: Surface, known: Map<BufferGeometry, EdgesGeometry>): EdgesGeometry {
  const edges = known.get(surface.geometry) ?? new EdgesGeometry(surface.geometry, EDGE_DEGREES);
  known.set(surface.geometry, edges);
  return edges;
}

function dressSurface(part: Part, surface: Surface, sharpness: number): void {
  // A wall comes and goes by its material, so it cannot share one with its neighbours.
  if (part.inward) surface.material = surface.material.clone();
  const material = surface.material;
  // Surfaces step back a hair, so that the lines on their edges are not eaten by them.
  Object.assign(material, { polygonOffset: true, polygonOffsetFactor: 1, polygonOffsetUnits: 1 });
  if (material.map) material.map.anisotropy = sharpness;
  surface.castShadow = !isRoom(part) && !isVolume(part) && !material.transparent;
  surface.receiveShadow = !isVolume(part);
}

function edgeLines(surface: Surface, edges: EdgesGeometry): EdgeLines {
  const color = edgeColour(surface.material);
  const material = new LineBasicMaterial({ color, transparent: true, opacity: EDGE_OPACITY });
  const lines = new LineSegments(edges, material);
  // Lines are for the eye: a click goes to the surface.
  lines.raycast = () => undefined;
  return lines;
}

/** A deeper shade of the surface's own colour; on near-black a lighter one, or the edge would be lost. */
function edgeColour(material: MeshStandardMaterial): Color {
  const { color } = material;
  const dark = 0.2126 * color.r + 0.7152 * color.g + 0.0722 * color.b < 0.03;
  return dark ? color.clone().lerp(new Color(0xffffff), 0.25) : color.clone().multiplyScalar(0.3);
}
