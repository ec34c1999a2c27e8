/** Light: what the renderer makes of it, a lamp on the open side, and the sun through the room's windows. */

import {
  Box3,
  DirectionalLight,
  DoubleSide,
  HemisphereLight,
  MeshDepthMaterial,
  NeutralToneMapping,
  PCFShadowMap,
  RGBADepthPacking,
  Sphere,
  Vector3,
  WebGLRenderer,
} from "three";
import type { Camera, Material, Mesh, Object3D } from "three";
import type { Part } from "./model";

const MAX_PIXEL_RATIO = 2;
const SUN = 3;
/** How steeply the sun stands, as rise over run. */
const SUN_RISE = 0.85;

export function makeRenderer(canvas: HTMLCanvasElement): WebGLRenderer {
  const renderer = new WebGLRenderer({ canvas, antialias: true, alpha: true });
  // Of the usual ways this one leaves a decor's own colour as it is.
  renderer.toneMapping = NeutralToneMapping;
  renderer.toneMappingExposure = 0.78;
  renderer.shadowMap.enabled = true;
  renderer.shadowMap.type = PCFShadowMap;
  renderer.localClippingEnabled = true;
  // Neither lamp nor kitchen moves with the eye: shadows are drawn anew only when the model changes.
  renderer.shadowMap.autoUpdate = false;
  return renderer;
}

/** Pixels drawn for each of the page's: beyond two nobody sees the difference, and the work is fourfold. */
export function sharpest(): number {
  return Math.min(window.devicePixelRatio, MAX_PIXEL_RATIO);
}

/** A lamp on the open side, the sun, and light from everywhere; how much of that arrives is for the `Sky` to say. */
export class Lamps {
  private readonly key = makeLamp(0xfff8f0, 1.5, 4, 2048);
  private readonly sun = makeLamp(0xffe2b8, SUN, 3, 2048);
  private readonly fill = new HemisphereLight(0xffffff, 0xd8cfc4, 2.15);

  get objects(): Object3D[] {
    const lamps = [this.key, this.sun].flatMap((lamp) => [lamp, lamp.target]);
    return [this.fill, ...lamps];
  }

  /** Light falls in from the open side, a little from one hand, as it does from behind the onlooker. */
  aim(box: Box3, open: Vector3, windows: readonly Part[]): void {
    const aside = new Vector3(open.z, 0, -open.x);
    aimLamp(this.key, box, open.clone().addScaledVector(aside, 0.6).setY(1));
    this.aimSun(box, aside, windows[0]?.inward ?? null);
  }

  /** Walls and ceiling keep out the sun alone: the other lamps stand for light that comes from everywhere. */
  shade(wall: Mesh): void {
    const depth = new MeshDepthMaterial({ depthPacking: RGBADepthPacking });
    wall.castShadow = true;
    // Its own thickness keeps the sun from the ground that it stands on.
    (wall.material as Material).shadowSide = DoubleSide;
    wall.customDepthMaterial = depth;
    wall.onBeforeShadow = (_renderer, _scene, _camera, lamp: Camera) => {
      depth.colorWrite = depth.depthWrite = lamp === this.sun.shadow.camera;
    };
  }

  /** Without a window the sun is dark and not gone: another count of lamps would take other programs to draw. */
  private aimSun(box: Box3, aside: Vector3, inward: Vector3 | null): void {
    this.sun.intensity = inward ? SUN : 0;
    if (inward) aimLamp(this.sun, box, inward.clone().negate().addScaledVector(aside, 0.35).setY(SUN_RISE));
  }
}

function makeLamp(colour: number, intensity: number, softness: number, pixels: number): DirectionalLight {
  const lamp = new DirectionalLight(colour, intensity);
  lamp.castShadow = true;
  lamp.shadow.mapSize.setScalar(pixels);
  lamp.shadow.radius = softness;
  lamp.shadow.normalBias = 0.02;
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
