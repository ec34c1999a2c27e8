/** One view on the page: what was sent, what is remembered of it, and the frames that are drawn when something moves. */

import { Vector3 } from "three";
import { DecorPanel } from "./decorpanel";
import { Display } from "./display";
import { element } from "./dom";
import { Hand } from "./hand";
import type { Desk } from "./hand";
import { HELP, onKeys } from "./keys";
import { LayerPanel } from "./layers";
import { recall } from "./memory";
import type { Memory } from "./memory";
import type { Model } from "./model";
import { PartList } from "./partlist";
import type { Header, Offer, Payload } from "./payload";
import { onPointer } from "./pointer";
import { Rig } from "./rig";
import { Shares } from "./shares";
import { APART, Stage, layersOf } from "./stage";
import { Steps } from "./steps";
import style from "./style.css";
import { Tape } from "./tape";
import { Toolbar, ZOOM_STEP } from "./toolbar";
import { standpoint, wallsInUse } from "./views";
import { Wardrobe } from "./wardrobe";

const UNREADABLE = "The kitchen could not be drawn: the model that arrived cannot be read.";

export class Viewer implements Desk {
  /** Told the id of each part that is picked. */
  onPick: (id: string) => void = () => undefined;

  readonly root = element("div", { className: "countersunk-scene" }, element("style", {}, style));
  readonly display = new Display();
  readonly rig = new Rig(this.display.canvas, () => this.draw());
  readonly tape = new Tape();
  readonly steps = new Steps(() => this.draw());
  memory: Memory;
  stages: Stage[] = [];

  private readonly hand = new Hand(this);
  private readonly wardrobe = new Wardrobe();
  private readonly shares = new Shares();
  private readonly picture = element("div", { className: "picture" }, this.display.canvas);
  private readonly status = element("output", { className: "status" });
  private readonly names = element("div", { className: "names" });
  private readonly layers: LayerPanel;
  private readonly decors = new DecorPanel((role, code) => this.hand.wear(role, code));
  private readonly parts = new PartList((id) => this.hand.pick(id));
  private readonly toolbar: Toolbar;
  private readonly size = new ResizeObserver(() => this.resize());
  private header: Header | null = null;
  /** True when parts must be put in their places, and not the eye alone. */
  private moved = false;
  /** True once the first model has moved the camera. */
  private standing = false;
  private frame = 0;

  /** Throws where the browser has no WebGL. */
  constructor(key: string) {
    this.memory = recall(key);
    this.layers = new LayerPanel(() => this.memory.hidden, () => this.revise());
    this.toolbar = new Toolbar({
      view: (view) => this.hand.view(view),
      walk: () => this.hand.walk(),
      zoom: (factor) => this.hand.zoom(factor),
      mode: (mode) => this.hand.toggle(mode),
      slide: (share) => this.hand.slide(share),
    });
    const panels = element("div", { className: "panels" }, this.decors.root, this.layers.root);
    this.picture.append(this.names, this.tape.label, this.status, panels, this.steps.pad);
    this.toolbar.root.append(this.parts.root);
    this.root.append(this.picture, this.toolbar.root);
    this.listen();
  }

  /** Turn to what is remembered by another key: another kitchen, which has its own camera. */
  begin(key: string): void {
    if (this.hand.measuring) this.hand.toggle("measure");
    for (const stage of this.stages) stage.takeDown();
    this.memory = recall(key);
    this.layers.renew();
    this.standing = false;
    this.header = null;
  }

  /** Show what Python sent; the camera stays. */
  async show(payload: Payload): Promise<void> {
    const { models } = payload.header;
    this.take(payload.header);
    this.root.dataset["ready"] = "false";
    try {
      const shown = payload.trees.map((tree, i) => this.stages[i]!.show(models[i]!, tree, this.display.sharpness));
      await Promise.all([this.wardrobe.fill(payload.header.offers), ...shown]);
    } catch {
      this.root.dataset["ready"] = "failed";
      this.status.value = UNREADABLE;
      return;
    }
    const model = this.stages[0]?.shown?.model;
    if (model) this.present(model);
  }

  tell(id: string): void {
    this.onPick(id);
  }

  /** Everything that hangs on memory and header anew. */
  revise(): void {
    if (!this.header) return;
    for (const stage of this.stages) stage.revise(this.memory, this.header.highlight, this.wardrobe);
    this.send();
    this.label();
    this.draw();
  }

  draw(): void {
    this.root.dataset["still"] = "false";
    this.frame ||= requestAnimationFrame((now) => this.onFrame(now));
  }

  private listen(): void {
    const { canvas } = this.display;
    this.size.observe(this.picture);
    onPointer(canvas, {
      tapped: (at) => this.hand.tap(at),
      hovered: (at) => this.hand.hover(at),
      dragged: (across, down) => this.hand.drag(across, down),
    });
    onKeys(canvas, () => this.memory.walking, {
      turn: (left, up) => this.hand.turn(left, up),
      zoom: (direction) => this.hand.zoom(ZOOM_STEP ** direction),
      press: (step) => this.steps.press(step),
      release: (step) => this.steps.release(step),
      neighbour: (steps) => this.hand.pick(this.parts.beside(this.memory.picked, steps)),
      use: () => this.hand.use(),
      act: () => this.hand.act(),
      measure: () => this.hand.toggle("measure"),
      home: () => this.hand.view("Room"),
      letGo: () => this.hand.letGo(),
    });
    canvas.addEventListener("blur", () => this.steps.rest());
    canvas.addEventListener("webglcontextrestored", () => this.revise());
  }

  private take(header: Header): void {
    // What a person tried gives way as soon as the page itself asks for another decor.
    for (const { role, worn } of header.offers)
      if (this.header?.offers.find((offer) => offer.role === role)?.worn !== worn) this.memory.tried.delete(role);
    this.header = header;
    this.root.style.height = header.height === null ? "100%" : `${header.height}px`;
    this.root.classList.toggle("sized", header.height !== null);
    this.root.dataset["theme"] = header.theme ?? "page";
    this.provide(header.models.length);
    this.names.replaceChildren(...header.names.map((name) => element("span", {}, name)));
  }

  /** As many stages as there are versions to show. */
  private provide(count: number): void {
    for (const stage of this.stages.splice(count)) stage.takeDown();
    while (this.stages.length < count) this.stages.push(new Stage(this.display.surroundings, !this.stages.length));
    this.display.pictures = count;
    this.rig.share(count);
    this.rig.resize(this.display.aspect);
  }

  private present(model: Model): void {
    const all = this.stages.flatMap((stage) => [...(stage.shown?.model.parts.values() ?? [])]);
    this.layers.offer(all.flatMap(layersOf));
    this.parts.offer(model);
    this.toolbar.offer(wallsInUse(model));
    this.display.canvas.ariaLabel = `Kitchen in 3D, ${model.parts.size} parts. ${HELP}`;
    this.moved = true;
    // The picture has its size only once every control is there.
    this.label();
    this.takeStand(model);
    this.revise();
  }

  /** Only the first model moves the camera, and not even that one if the view was on the page before. */
  private takeStand(model: Model): void {
    if (this.standing) return;
    this.standing = true;
    this.resize();
    this.rig.walk(this.memory.walking);
    this.rig.jump(this.memory.standpoint ?? standpoint("Room", model, this.display.aspect));
  }

  /** Send what opens and what parts on its way. */
  private send(): void {
    const now = performance.now();
    const { open, apart } = this.memory;
    const leaves = new Set(this.stages.flatMap((stage) => [...stage.leaves]));
    for (const leaf of leaves) this.moved = this.shares.send(leaf, open.has(leaf) ? 1 : 0, now) || this.moved;
    this.moved = this.shares.send(APART, apart ? 1 : 0, now) || this.moved;
  }

  /** Say what is chosen and what is on. */
  private label(): void {
    const { memory, hand } = this;
    const worn = (offer: Offer) => memory.tried.get(offer.role) ?? offer.worn;
    this.decors.offer(this.wardrobe.offers, worn);
    this.parts.show(memory.picked);
    this.toolbar.show(
      { open: memory.open.size > 0, apart: memory.apart, section: !!memory.section, measure: hand.measuring },
      memory.walking,
      memory.section?.share ?? null,
    );
    this.steps.pad.hidden = !memory.walking;
    this.picture.classList.toggle("measuring", hand.measuring);
    this.status.value = hand.measuring ? this.tape.words : this.aboutPicked();
    Object.assign(this.root.dataset, {
      open: [...memory.open].join(" "),
      worn: this.wardrobe.offers.map(worn).join(" "),
      measured: this.tape.millimetres?.toFixed(2) ?? "",
      lit: this.header?.highlight.join(" ") ?? "",
    });
  }

  private aboutPicked(): string {
    const part = this.hand.picked;
    if (!part) return "";
    if (!part.opening) return part.label;
    return `${part.label}, ${this.memory.open.has(part.opening.leaf) ? "open" : "shut"}`;
  }

  private resize(): void {
    const { clientWidth, clientHeight } = this.picture;
    if (!clientWidth || !clientHeight) return;
    this.display.resize(clientWidth, clientHeight);
    this.rig.resize(this.display.aspect);
    // At once, not at the next frame: a canvas is blank after a change of size.
    this.display.render(this.stages, this.rig, this.tape);
  }

  private onFrame(now: number): void {
    this.frame = 0;
    const gliding = this.shares.moving(now);
    if (this.moved || gliding) for (const stage of this.stages) stage.move(this.shares, now);
    this.moved = gliding;
    const walking = this.steps.walking;
    if (walking) this.carry(now);
    const moving = this.rig.step(now);
    this.display.render(this.stages, this.rig, this.tape);
    if (moving || gliding || walking) this.draw();
    else this.settle();
  }

  private carry(now: number): void {
    const { forward, right, turn } = this.steps.stride(now);
    this.hand.step(forward, right, turn);
  }

  /** Everything stands still: remember it, and say so to whoever waits for it. */
  private settle(): void {
    const shown = this.stages.map((stage) => stage.shown);
    const first = shown[0];
    if (!first) return;
    this.memory.standpoint = this.rig.standpoint;
    const { camera } = this.rig;
    const seen = camera.projectionMatrix.clone().multiply(camera.matrixWorldInverse);
    Object.assign(this.root.dataset, {
      still: "true",
      camera: text(camera.position),
      sight: seen.elements.map((value) => value.toFixed(7)).join(),
      model: shown.map((one) => one?.name).join(" "),
      parts: String(first.model.parts.size),
    });
    // While a newer model is being read, the old one on show is not what was asked for.
    if (this.stages.every((stage) => stage.ready)) this.root.dataset["ready"] = "true";
  }
}

function text(point: Vector3): string {
  return point.toArray().map((value) => value.toFixed(4)).join();
}
