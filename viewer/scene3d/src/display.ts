/** The display: one canvas on which the versions of a kitchen stand side by side, all seen by the same camera. */

import { Vector2, WebGLRenderer } from "three";
import type { PerspectiveCamera, Texture } from "three";
import { element } from "./dom";
import { makeRenderer, sharpest } from "./light";
import type { Rig } from "./rig";
import type { Stage } from "./stage";
import { surroundings } from "./surroundings";
import type { Tape } from "./tape";
import { fadeWalls } from "./walls";

/** A place on one of the pictures: −1 to 1 across and up, as the camera has it. */
export interface Place {
  readonly picture: number;
  readonly at: Vector2;
}

export class Display {
  readonly canvas = element("canvas", { tabIndex: 0, role: "application" });
  readonly surroundings: Texture;
  readonly sharpness: number;
  /** How many pictures stand side by side. */
  pictures = 1;
  private readonly renderer: WebGLRenderer;
  private readonly whole = new Vector2(1, 1);

  /** Throws where the browser has no WebGL. */
  constructor() {
    this.renderer = makeRenderer(this.canvas);
    this.surroundings = surroundings(this.renderer);
    this.sharpness = this.renderer.capabilities.getMaxAnisotropy();
    this.renderer.autoClear = false;
  }

  /** Of one picture, in CSS pixels. */
  get size(): Vector2 {
    return new Vector2(this.whole.x / this.pictures, this.whole.y);
  }

  get aspect(): number {
    return this.size.x / this.size.y;
  }

  resize(width: number, height: number): void {
    this.whole.set(width, height);
    this.renderer.setPixelRatio(sharpest());
    this.renderer.setSize(width, height, false);
  }

  render(stages: readonly Stage[], rig: Rig, tape: Tape): void {
    this.renderer.setScissorTest(false);
    this.renderer.clear();
    stages.forEach((stage, index) => {
      if (!stage.shown) return;
      if (fadeWalls(stage.shown.model, rig.camera)) stage.stale = true;
      stage.castShadows(this.renderer);
      this.choose(index);
      rig.wrap(stage.shown.ball);
      this.renderer.render(stage.scene, rig.camera);
      if (tape.picture === index) this.measure(tape, rig.camera, index);
    });
  }

  /** Where a place in pixels of the canvas is on its picture. */
  placeOf(pixels: Vector2): Place {
    const { x, y } = this.size;
    const picture = Math.min(Math.floor(pixels.x / x), this.pictures - 1);
    return { picture, at: new Vector2(((pixels.x - picture * x) / x) * 2 - 1, 1 - (pixels.y / y) * 2) };
  }

  private choose(index: number): void {
    const { x, y } = this.size;
    this.renderer.setViewport(index * x, 0, x, y);
    this.renderer.setScissor(index * x, 0, x, y);
    this.renderer.setScissorTest(this.pictures > 1);
  }

  private measure(tape: Tape, camera: PerspectiveCamera, index: number): void {
    this.renderer.render(tape.scene, camera);
    tape.place(camera, index * this.size.x, this.size);
  }
}
