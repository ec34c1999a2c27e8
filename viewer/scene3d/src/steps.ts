/** The pad of those who walk: what is held, by key or by finger, and how far it carries the eye. */

import { element } from "./dom";

/** Metres and radians a second. */
const PACE = 1.3;
const TURN = 1.2;
/** A key that is only tapped, or a button pressed by a screen reader, still takes a step, seconds. */
const LEAST = 0.16;
/** However long a frame takes, no more than this, seconds. */
const MOST = 0.25;

export type Step = "forward" | "back" | "left" | "right" | "turn left" | "turn right";

export interface Stride {
  readonly forward: number;
  readonly right: number;
  readonly turn: number;
}

const PAD: readonly (readonly [Step, string])[] = [
  ["turn left", "↺"],
  ["forward", "↑"],
  ["turn right", "↻"],
  ["left", "←"],
  ["back", "↓"],
  ["right", "→"],
];

export class Steps {
  readonly pad = element("div", { className: "pad", role: "group", ariaLabel: "Walk", hidden: true });
  private readonly held = new Set<Step>();
  private readonly owed = new Map<Step, number>();
  private last = 0;

  constructor(private readonly begun: () => void) {
    this.pad.append(...PAD.map(([step, sign]) => this.button(step, sign)));
  }

  press(step: Step): void {
    if (this.held.has(step)) return;
    if (!this.walking) this.last = performance.now();
    this.held.add(step);
    this.owed.set(step, LEAST);
    this.begun();
  }

  release(step: Step): void {
    this.held.delete(step);
  }

  rest(): void {
    this.held.clear();
    this.owed.clear();
  }

  get walking(): boolean {
    return this.held.size + this.owed.size > 0;
  }

  /** How far what is held carries until now. */
  stride(now: number): Stride {
    const time = Math.min((now - this.last) / 1000, MOST);
    this.last = now;
    const spent = new Map([...new Set([...this.held, ...this.owed.keys()])].map((step) => [step, this.spend(step, time)]));
    const of = (step: Step) => spent.get(step) ?? 0;
    return {
      forward: PACE * (of("forward") - of("back")),
      right: PACE * (of("right") - of("left")),
      turn: TURN * (of("turn left") - of("turn right")),
    };
  }

  private spend(step: Step, time: number): number {
    const rest = (this.owed.get(step) ?? 0) - time;
    if (rest > 0) this.owed.set(step, rest);
    else this.owed.delete(step);
    return this.held.has(step) ? time : time + Math.min(rest, 0);
  }

  private button(step: Step, sign: string): HTMLButtonElement {
    const made = element("button", { type: "button", title: step, ariaLabel: `Walk: ${step}` }, sign);
    made.addEventListener("pointerdown", (event) => {
      made.setPointerCapture(event.pointerId);
      this.press(step);
    });
    for (const end of ["pointerup", "pointercancel"] as const) made.addEventListener(end, () => this.release(step));
    made.addEventListener("click", (event) => {
      // By key or screen reader; a finger has already walked.
      if (event.detail) return;
      this.press(step);
      this.release(step);
    });
    return made;
  }
}
