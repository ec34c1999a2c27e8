/** The camera and its movements. It moves when a person or a view moves it, and at no other time. */

import { MathUtils, PerspectiveCamera, Sphere } from "three";
import { OrbitControls } from "three/addons/controls/OrbitControls.js";
import { between, eyeOf, halfTangent, standpointOf } from "./views";
import type { Standpoint } from "./views";

interface Glide {
  readonly from: Standpoint;
  readonly to: Standpoint;
  readonly start: number;
}

const GLIDE_MS = 420;
const SLOW_FRAME_MS = 80;
const NEAREST = 0.15;
const FARTHEST = 30;

export class Rig {
  readonly camera = new PerspectiveCamera();
  private readonly controls: OrbitControls;
  private readonly calm = window.matchMedia("(prefers-reduced-motion: reduce)");
  private glide: Glide | null = null;
  private last = 0;

  constructor(canvas: HTMLCanvasElement, moved: () => void) {
    this.controls = new OrbitControls(this.camera, canvas);
    this.controls.dampingFactor = 0.14;
    this.controls.addEventListener("change", moved);
    this.controls.addEventListener("start", () => (this.glide = null));
    this.walk(false);
  }

  get standpoint(): Standpoint {
    return standpointOf(this.camera, this.controls.target);
  }

  /** Who walks looks about with the head; else a drag turns the kitchen. */
  walk(walking: boolean): void {
    this.controls.enabled = !walking;
    // Never below the floor: there is nothing to see from there. Who walks may look up.
    this.controls.maxPolarAngle = walking ? Math.PI : Math.PI / 2;
  }

  /** With two pictures on one canvas the place of the cursor says nothing of either. */
  share(pictures: number): void {
    this.controls.zoomToCursor = pictures === 1;
  }

  jump(to: Standpoint): void {
    this.glide = null;
    this.place(to);
  }

  go(to: Standpoint): void {
    if (this.calm.matches) return this.jump(to);
    this.glide = { from: this.standpoint, to, start: performance.now() };
    this.step(this.glide.start);
  }

  turn(left: number, up: number): void {
    this.controls.rotateLeft(left);
    this.controls.rotateUp(up);
    this.controls.update();
  }

  zoom(factor: number): void {
    const here = this.standpoint;
    this.jump({ ...here, reach: here.reach / factor });
  }

  resize(aspect: number): void {
    this.camera.aspect = aspect;
    this.camera.updateProjectionMatrix();
  }

  /** Carry on what moves by itself, a glide or the run-out of a drag; true while something does. */
  step(now: number): boolean {
    // A drag runs out over a number of frames; where each takes long it would go on for many seconds.
    this.controls.enableDamping = !this.calm.matches && now - this.last < SLOW_FRAME_MS;
    this.last = now;
    if (!this.glide) return this.controls.update();
    const { from, to, start } = this.glide;
    const share = MathUtils.clamp((now - start) / GLIDE_MS, 0, 1);
    this.place(between(from, to, MathUtils.smoothstep(share, 0, 1)));
    if (share === 1) this.glide = null;
    return true;
  }

  /** Depth is shared out over the model alone, so that thin boards do not flicker through one another. */
  wrap(model: Sphere): void {
    const away = this.camera.position.distanceTo(model.center);
    this.camera.near = Math.max(away - model.radius * 1.1, away * 0.002, 0.02);
    this.camera.far = away + model.radius * 2;
    this.camera.updateProjectionMatrix();
  }

  private place(to: Standpoint): void {
    const unit = 1 / halfTangent(to.lens);
    this.controls.minDistance = NEAREST * unit;
    this.controls.maxDistance = FARTHEST * unit;
    this.camera.fov = to.lens;
    this.controls.target.copy(to.target);
    this.camera.position.copy(eyeOf(to));
    this.camera.updateProjectionMatrix();
    this.controls.update();
  }
}
