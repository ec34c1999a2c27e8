/** One view on the page: the stage, the model on it, and the frames that are drawn when something has changed. */

import { Scene, Sphere, Vector2, WebGLRenderer } from "three";
import { element } from "./dom";
import { onKeys } from "./keys";
import { LayerPanel } from "./layers";
import { Lamps, dress, makeRenderer, makeScene, sharpest } from "./look";
import { Marks } from "./marks";
import { recall } from "./memory";
import type { Memory } from "./memory";
import { boxOf, discard, readModel, solids } from "./model";
import type { Model, Part } from "./model";
import type { Header, Payload } from "./payload";
import { onTap, partAt } from "./picking";
import { Rig } from "./rig";
import style from "./style.css";
import { makeToolbar } from "./toolbar";
import { openSide, standpoint } from "./views";
import type { ViewName } from "./views";
import { fadeWalls } from "./walls";

interface Shown {
  readonly name: string;
  readonly model: Model;
  readonly marks: Marks;
  readonly ball: Sphere;
}

export class Viewer {
  /** Told the id of each part that is picked. */
  onPick: (id: string) => void = () => undefined;

  readonly root = element("div", { className: "countersunk-scene" }, element("style", {}, style));
  private readonly canvas = element("canvas", { tabIndex: 0, role: "application" });
  private readonly status = element("output", { className: "status" });
  private readonly renderer: WebGLRenderer;
  private readonly scene: Scene;
  private readonly lamps = new Lamps();
  private readonly rig: Rig;
  private readonly layers: LayerPanel;
  private readonly memory: Memory;
  private readonly size = new ResizeObserver(() => this.resize());
  private shown: Shown | null = null;
  private highlight: readonly string[] = [];
  private wanted = "";
  private frame = 0;

  /** Throws where the browser has no WebGL. */
  constructor(key: string) {
    this.memory = recall(key);
    this.renderer = makeRenderer(this.canvas);
    this.scene = makeScene(this.renderer);
    this.scene.add(...this.lamps.objects);
    this.rig = new Rig(this.canvas, () => this.draw());
    this.layers = new LayerPanel(this.memory.hidden, () => this.revise());
    const toolbar = makeToolbar({ view: (name) => this.view(name), zoom: (factor) => this.rig.zoom(factor) });
    this.root.append(this.canvas, toolbar, this.layers.root, this.status);
    this.listen();
  }

  /** Show what Python sent; the camera stays. */
  async show({ header, glb }: Payload): Promise<void> {
    this.settings(header);
    if (header.model === this.wanted) return this.revise();
    this.wanted = header.model;
    this.root.dataset["ready"] = "false";
    const model = await readModel(glb).catch(() => null);
    // A newer model may have come while this one was read.
    if (this.wanted !== header.model) return model ? discard(model) : undefined;
    if (model) this.swap(header.model, model);
    else this.fail();
  }

  destroy(): void {
    cancelAnimationFrame(this.frame);
    this.size.disconnect();
    this.rig.dispose();
    if (this.shown) discard(this.shown.model);
    this.renderer.dispose();
    // Browsers allow few contexts at a time and free them late.
    this.renderer.forceContextLoss();
    this.root.remove();
  }

  private listen(): void {
    this.size.observe(this.root);
    onTap(this.canvas, (at) => this.tap(at));
    onKeys(this.canvas, this.rig, () => this.pick(null));
    this.canvas.addEventListener("webglcontextrestored", () => this.revise());
  }

  private settings({ height, theme, highlight }: Header): void {
    this.root.style.height = `${height}px`;
    this.root.dataset["theme"] = theme ?? "page";
    this.highlight = highlight;
  }

  private fail(): void {
    this.root.dataset["ready"] = "failed";
    this.status.value = "The kitchen could not be drawn: the model that arrived cannot be read.";
  }

  private swap(name: string, model: Model): void {
    const first = this.shown === null;
    this.takeDown();
    const box = boxOf(solids(model));
    dress(model, this.renderer.capabilities.getMaxAnisotropy());
    this.lamps.aim(box, openSide(model));
    this.scene.add(model.root);
    this.shown = { name, model, marks: new Marks(model), ball: box.getBoundingSphere(new Sphere()) };
    this.layers.offer(model.layers);
    this.canvas.ariaLabel = `Kitchen in 3D, ${model.parts.size} parts. Arrow keys turn it, plus and minus zoom.`;
    if (first) this.takeStand(model);
    this.revise();
  }

  private takeDown(): void {
    if (!this.shown) return;
    this.shown.marks.clear();
    this.scene.remove(this.shown.model.root);
    discard(this.shown.model);
  }

  /** Only the first model moves the camera, and not even that one if the view was on the page before. */
  private takeStand(model: Model): void {
    this.resize();
    this.rig.jump(this.memory.standpoint ?? standpoint("Room", model, this.rig.camera.aspect));
  }

  private view(name: ViewName): void {
    if (this.shown) this.rig.go(standpoint(name, this.shown.model, this.rig.camera.aspect));
    this.draw();
  }

  private tap(at: Vector2): void {
    const part = this.shown && partAt(at, this.rig.camera, this.shown.model);
    this.pick(part);
    if (part) this.onPick(part.id);
  }

  private pick(part: Part | null): void {
    this.memory.picked = part?.id ?? null;
    this.revise();
  }

  /** Marks, layers and shadows anew; a marked part is seen even if its layer is hidden. */
  private revise(): void {
    if (!this.shown) return;
    const { model, marks } = this.shown;
    marks.show(this.highlight, this.memory.picked);
    for (const part of model.parts.values()) {
      const visible = marks.has(part) || !this.memory.hidden.has(part.layer);
      for (const surface of part.surfaces) surface.visible = visible;
    }
    this.status.value = model.parts.get(this.memory.picked ?? "")?.label ?? "";
    this.renderer.shadowMap.needsUpdate = true;
    this.draw();
  }

  private resize(): void {
    const { clientWidth, clientHeight } = this.root;
    if (!clientWidth || !clientHeight) return;
    this.renderer.setPixelRatio(sharpest());
    this.renderer.setSize(clientWidth, clientHeight, false);
    this.rig.resize(clientWidth, clientHeight);
    // At once, not at the next frame: a canvas is blank after a change of size.
    if (this.shown) this.render(this.shown);
  }

  private draw(): void {
    this.root.dataset["still"] = "false";
    this.frame ||= requestAnimationFrame((now) => this.onFrame(now));
  }

  private onFrame(now: number): void {
    this.frame = 0;
    if (!this.shown) return;
    const moving = this.rig.step(now);
    this.render(this.shown);
    if (moving) this.draw();
    else this.settle(this.shown);
  }

  private render({ model, ball }: Shown): void {
    fadeWalls(model, this.rig.camera.position);
    this.rig.wrap(ball);
    this.renderer.render(this.scene, this.rig.camera);
  }

  /** Everything stands still: remember it, and say so to whoever waits for it. */
  private settle({ name, model }: Shown): void {
    this.memory.standpoint = this.rig.standpoint;
    const camera = this.rig.camera.position.toArray().map((value) => value.toFixed(4)).join();
    Object.assign(this.root.dataset, { still: "true", camera, model: name, parts: String(model.parts.size) });
    // While a newer model is being read, the old one on show is not what was asked for.
    if (name === this.wanted) this.root.dataset["ready"] = "true";
  }
}
