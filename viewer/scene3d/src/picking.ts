/** Which part was clicked or tapped. A press that moves is a drag and picks nothing. */

import { Raycaster, Vector2 } from "three";
import type { Camera } from "three";
import { isVolume } from "./model";
import type { Model, Part } from "./model";

const DRAG_PIXELS = 5;

export function onTap(canvas: HTMLCanvasElement, tapped: (at: Vector2) => void): void {
  const fingers = new Set<number>();
  let start: PointerEvent | null = null;
  canvas.addEventListener("pointerdown", (event) => {
    fingers.add(event.pointerId);
    start = fingers.size === 1 && event.button === 0 ? event : null;
  });
  canvas.addEventListener("pointerup", (event) => {
    fingers.delete(event.pointerId);
    if (start && travel(start, event) < DRAG_PIXELS) tapped(onScreen(canvas, event));
    start = null;
  });
  canvas.addEventListener("pointercancel", (event) => {
    fingers.delete(event.pointerId);
    start = null;
  });
}

/** The nearest part that is seen there. A solid part is preferred to a clearance, which is only air. */
export function partAt(at: Vector2, camera: Camera, model: Model): Part | null {
  const caster = new Raycaster();
  caster.setFromCamera(at, camera);
  const hit = (part: Part) => caster.intersectObjects(part.surfaces, false)[0]?.distance ?? Infinity;
  const hits = [...model.parts.values()]
    .filter((part) => !part.faded && part.surfaces.some((surface) => surface.visible))
    .map((part) => ({ part, distance: hit(part) }))
    .filter(({ distance }) => distance < Infinity)
    .sort((a, b) => a.distance - b.distance);
  return (hits.find(({ part }) => !isVolume(part)) ?? hits[0])?.part ?? null;
}

function travel(from: PointerEvent, to: PointerEvent): number {
  return Math.hypot(to.clientX - from.clientX, to.clientY - from.clientY);
}

function onScreen(canvas: HTMLCanvasElement, event: PointerEvent): Vector2 {
  const { left, top, width, height } = canvas.getBoundingClientRect();
  return new Vector2(((event.clientX - left) / width) * 2 - 1, 1 - ((event.clientY - top) / height) * 2);
}
