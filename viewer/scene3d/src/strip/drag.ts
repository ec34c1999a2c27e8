/** A unit of the strip taken by mouse, pen or finger: a press that moves drags it, one that does not picks it. */

import { placeFor, shifts } from "./order";
import type { Standing } from "./order";

const DRAG_PIXELS = 5;

export interface Answers {
  readonly picked: (at: number) => void;
  readonly moved: (from: number, to: number) => void;
}

interface Press {
  readonly id: number;
  readonly from: number;
  readonly x: number;
  /** mm of the kitchen in each pixel of the screen, as the picture stands now. */
  readonly scale: number;
  dragged: boolean;
}

/** Make the units of a picture draggable; what it returns takes them by another picture's places no more. */
export function draggable(picture: SVGSVGElement, units: readonly Standing[], answers: Answers): () => void {
  const groups = units.map((_, i) => picture.querySelector<SVGGElement>(`[data-unit="${i}"]`)!);
  let press: Press | null = null;
  let isDropped = false;

  const shift = (by: readonly number[]) =>
    groups.forEach((group, i) => (group.style.transform = `translateX(${by[i] ?? 0}px)`));
  const across = (event: PointerEvent) => (press ? (event.clientX - press.x) * press.scale : 0);
  const place = (event: PointerEvent) => placeFor(units, press!.from, across(event));
  const letGo = () => {
    if (press) groups[press.from]!.classList.remove("held");
    if (press && picture.hasPointerCapture(press.id)) picture.releasePointerCapture(press.id);
    press = null;
  };
  const cancelled = () => {
    letGo();
    shift([]);
  };
  const follow = (event: PointerEvent) => {
    const { from } = press!;
    const by = shifts(units, from, place(event));
    by[from] = across(event);
    shift(by);
  };

  picture.addEventListener("pointerdown", (event) => {
    const group = (event.target as Element).closest<SVGGElement>("[data-unit]");
    if (press || isDropped || event.button !== 0 || !group) return;
    const scale = 1 / (picture.getScreenCTM()?.a ?? 1);
    press = { id: event.pointerId, from: Number(group.dataset["unit"]), x: event.clientX, scale, dragged: false };
  });
  picture.addEventListener("pointermove", (event) => {
    if (press?.id !== event.pointerId) return;
    if (!press.dragged && Math.abs(event.clientX - press.x) >= DRAG_PIXELS) {
      press.dragged = true;
      picture.setPointerCapture(event.pointerId);
      const held = groups[press.from]!;
      held.classList.add("held");
      picture.append(held); // before the others
    }
    if (press.dragged) follow(event);
  });
  picture.addEventListener("pointerup", (event) => {
    if (press?.id !== event.pointerId) return;
    const { from, dragged } = press;
    const to = dragged ? place(event) : from;
    letGo();
    shift(shifts(units, from, to));
    isDropped = to !== from;
    if (isDropped) answers.moved(from, to);
    else if (!dragged) answers.picked(from);
  });
  picture.addEventListener("pointercancel", (event) => press?.id === event.pointerId && cancelled());
  const escaped = (event: KeyboardEvent) => {
    if (event.key === "Escape" && press) cancelled();
  };
  window.addEventListener("keydown", escaped);
  return () => window.removeEventListener("keydown", escaped);
}
