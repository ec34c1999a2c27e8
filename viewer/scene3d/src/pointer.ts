/** What the pointer does on the picture: taps, and drags for those who walk. A press that moves is no tap. */

import { Vector2 } from "three";

const DRAG_PIXELS = 5;

export interface Pointing {
  /** A tap, or where the pointer hovers: pixels from the picture's upper left corner. */
  readonly tapped: (at: Vector2) => void;
  readonly hovered: (at: Vector2) => void;
  readonly dragged: (across: number, down: number) => void;
}

export function onPointer(canvas: HTMLCanvasElement, { tapped, hovered, dragged }: Pointing): void {
  const fingers = new Set<number>();
  let start: PointerEvent | null = null;
  canvas.addEventListener("pointerdown", (event) => {
    fingers.add(event.pointerId);
    start = fingers.size === 1 && event.button === 0 ? event : null;
  });
  canvas.addEventListener("pointermove", (event) => {
    if (fingers.size === 1) dragged(event.movementX, event.movementY);
    else if (!fingers.size) hovered(placeOf(canvas, event));
  });
  canvas.addEventListener("pointerup", (event) => {
    fingers.delete(event.pointerId);
    if (start && travel(start, event) < DRAG_PIXELS) tapped(placeOf(canvas, event));
    start = null;
  });
  canvas.addEventListener("pointercancel", (event) => {
    fingers.delete(event.pointerId);
    start = null;
  });
}

function travel(from: PointerEvent, to: PointerEvent): number {
  return Math.hypot(to.clientX - from.clientX, to.clientY - from.clientY);
}

function placeOf(canvas: HTMLCanvasElement, event: PointerEvent): Vector2 {
  const { left, top } = canvas.getBoundingClientRect();
  return new Vector2(event.clientX - left, event.clientY - top);
}
