/** The hand: what a person does to the picture, by pointer, key or button. It changes the memory, the camera and the tape. */

import { Vector2 } from "three";
import type { Display, Place } from "./display";
import type { Memory } from "./memory";
import type { Model, Part } from "./model";
import { hitAt } from "./picking";
import type { Rig } from "./rig";
import { sectionFrom } from "./section";
import { snapAt } from "./snap";
import type { Stage } from "./stage";
import type { Steps } from "./steps";
import type { Tape } from "./tape";
import type { Mode } from "./toolbar";
import { standpoint } from "./views";
import type { View } from "./views";
import { entrance, looked, stepped } from "./walk";

export interface Desk {
  readonly display: Display;
  readonly rig: Rig;
  readonly memory: Memory;
  readonly tape: Tape;
  readonly steps: Steps;
  readonly stages: readonly Stage[];
  /** Something about the kitchen has changed. */
  revise(): void;
  /** Something is to be drawn anew. */
  draw(): void;
  /** A part was picked. */
  tell(id: string): void;
}

const MIDDLE = new Vector2(0, 0);
/** Radians that the head turns for each pixel of a drag. */
const LOOK = 0.004;
const BOLDNESS = { wide: 0.6, step: 0.3 };

export class Hand {
  measuring = false;

  constructor(private readonly desk: Desk) {}

  view(view: View): void {
    const { rig, display, memory } = this.desk;
    if (!this.model) return;
    this.stand(false);
    rig.go(standpoint(view, this.model, display.aspect));
    memory.walking = false;
    this.desk.revise();
  }

  walk(): void {
    if (!this.model) return;
    if (this.desk.memory.walking) return this.view("Room");
    this.stand(true);
    this.desk.rig.go(entrance(this.model));
    this.desk.revise();
  }

  turn(left: number, up: number): void {
    this.desk.rig.turn(left, up);
  }

  /** In a walk nearer means a step ahead. */
  zoom(factor: number): void {
    if (this.desk.memory.walking) this.step(factor > 1 ? BOLDNESS.step : -BOLDNESS.step, 0, 0);
    else this.desk.rig.zoom(factor);
    this.desk.draw();
  }

  /** Carry the eye of who walks; `turn` in radians, the others in metres. */
  step(forward: number, right: number, turn: number): void {
    const { rig } = this.desk;
    if (this.model) rig.jump(stepped(looked(rig.standpoint, turn, 0), forward, right, this.model));
  }

  drag(across: number, down: number): void {
    const { rig, memory } = this.desk;
    if (memory.walking) rig.jump(looked(rig.standpoint, across * LOOK, -down * LOOK));
  }

  toggle(mode: Mode): void {
    const { memory, rig } = this.desk;
    if (mode === "open") this.openAll(!memory.open.size);
    else if (mode === "apart") memory.apart = !memory.apart;
    else if (mode === "measure") this.measure();
    else memory.section = memory.section || !this.model ? null : sectionFrom(this.model, rig.camera, BOLDNESS.wide);
    this.desk.revise();
  }

  slide(share: number): void {
    if (this.desk.memory.section) this.desk.memory.section.share = share;
    this.desk.revise();
  }

  wear(role: string, code: string): void {
    this.desk.memory.tried.set(role, code);
    this.desk.revise();
  }

  tap(pixels: Vector2): void {
    const place = this.desk.display.placeOf(pixels);
    if (this.measuring) return this.mark(place);
    const part = this.partAt(place);
    this.pick(part?.id ?? null);
    if (part?.opening) this.swing(part.opening.leaf);
  }

  hover(pixels: Vector2): void {
    if (!this.measuring) return;
    const { tape, display } = this.desk;
    const place = display.placeOf(pixels);
    tape.offer(place.picture === tape.picture ? this.snapAt(place) : null);
    this.desk.draw();
  }

  /** What a tap in the middle of the first picture would do. */
  act(): void {
    const place = { picture: 0, at: MIDDLE };
    if (this.measuring) this.mark(place);
    else this.pick(this.partAt(place)?.id ?? null);
  }

  /** Open or shut what is chosen. */
  use(): void {
    const leaf = this.picked?.opening?.leaf;
    if (leaf) this.swing(leaf);
  }

  pick(id: string | null): void {
    this.desk.memory.picked = id;
    this.desk.revise();
    if (id !== null) this.desk.tell(id);
  }

  letGo(): void {
    if (this.measuring) return this.toggle("measure");
    this.pick(null);
  }

  get picked(): Part | null {
    const id = this.desk.memory.picked ?? "";
    return this.desk.stages.map((stage) => stage.shown?.model.parts.get(id)).find((part) => part) ?? null;
  }

  private get model(): Model | null {
    return this.desk.stages[0]?.shown?.model ?? null;
  }

  /** Begin or end a walk. */
  private stand(walking: boolean): void {
    this.desk.memory.walking = walking;
    this.desk.rig.walk(walking);
    this.desk.steps.rest();
  }

  private openAll(open: boolean): void {
    const { memory, stages } = this.desk;
    memory.open.clear();
    const parts = stages.flatMap((stage) => [...(stage.shown?.model.parts.values() ?? [])]);
    if (open) for (const { opening } of parts) if (opening) memory.open.add(opening.leaf);
  }

  private swing(leaf: string): void {
    const { open } = this.desk.memory;
    if (!open.delete(leaf)) open.add(leaf);
    this.desk.revise();
  }

  private measure(): void {
    this.measuring = !this.measuring;
    this.desk.tape.clear();
  }

  private mark(place: Place): void {
    const snap = this.snapAt(place);
    if (snap) this.desk.tape.take(snap, place.picture);
    this.desk.revise();
  }

  private partAt({ picture, at }: Place): Part | null {
    const model = this.desk.stages[picture]?.shown?.model;
    return (model && hitAt(at, this.desk.rig.camera, model)?.part) ?? null;
  }

  private snapAt({ picture, at }: Place): ReturnType<typeof snapAt> {
    const model = this.desk.stages[picture]?.shown?.model;
    return model ? snapAt(at, this.desk.display.size, this.desk.rig.camera, model) : null;
  }
}
