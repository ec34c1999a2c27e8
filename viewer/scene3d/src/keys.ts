/** The keys that move the eye while the picture has the focus. */

import type { Rig } from "./rig";
import { ZOOM_STEP } from "./toolbar";

const TURN = Math.PI / 24;

export function onKeys(canvas: HTMLCanvasElement, rig: Rig, letGo: () => void): void {
  const moves: Record<string, () => void> = {
    ArrowLeft: () => rig.turn(TURN, 0),
    ArrowRight: () => rig.turn(-TURN, 0),
    ArrowUp: () => rig.turn(0, TURN),
    ArrowDown: () => rig.turn(0, -TURN),
    "+": () => rig.zoom(ZOOM_STEP),
    "=": () => rig.zoom(ZOOM_STEP),
    "-": () => rig.zoom(1 / ZOOM_STEP),
    Escape: letGo,
  };
  canvas.addEventListener("keydown", (event) => {
    const move = moves[event.key];
    // With a modifier the keys are the browser's, such as its own zoom.
    if (!move || event.ctrlKey || event.metaKey || event.altKey) return;
    event.preventDefault();
    move();
  });
}
