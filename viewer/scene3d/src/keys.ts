/** The keys that work while the picture has the focus. */

import type { Step } from "./steps";

export interface Commands {
  readonly turn: (left: number, up: number) => void;
  readonly zoom: (direction: number) => void;
  readonly press: (step: Step) => void;
  readonly release: (step: Step) => void;
  readonly neighbour: (steps: number) => void;
  readonly use: () => void;
  readonly act: () => void;
  readonly measure: () => void;
  readonly home: () => void;
  readonly letGo: () => void;
}

const TURN = Math.PI / 24;

export const HELP =
  "Arrow keys turn it, plus and minus zoom, N and P choose the next and the previous part, " +
  "O opens and shuts the chosen door or drawer, Enter chooses what is in the middle, M measures, Home shows the room, " +
  "Escape lets go. Walking: W, A, S, D and the arrow keys.";

const STEPS: Record<string, Step> = {
  w: "forward",
  s: "back",
  a: "left",
  d: "right",
  arrowup: "forward",
  arrowdown: "back",
  arrowleft: "turn left",
  arrowright: "turn right",
};

export function onKeys(canvas: HTMLCanvasElement, isWalking: () => boolean, commands: Commands): void {
  const keys = tableOf(commands);
  canvas.addEventListener("keydown", (event) => {
    // With a modifier the keys are the browser's, such as its own zoom.
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const key = event.key.toLowerCase();
    const step = isWalking() ? STEPS[key] : undefined;
    const move = step ? () => commands.press(step) : keys[key];
    if (!move) return;
    event.preventDefault();
    move();
  });
  canvas.addEventListener("keyup", ({ key }) => {
    const step = STEPS[key.toLowerCase()];
    if (step) commands.release(step);
  });
}

function tableOf({ turn, zoom, neighbour, ...others }: Commands): Record<string, () => void> {
  return {
    arrowleft: () => turn(TURN, 0),
    arrowright: () => turn(-TURN, 0),
    arrowup: () => turn(0, TURN),
    arrowdown: () => turn(0, -TURN),
    "+": () => zoom(1),
    "=": () => zoom(1),
    "-": () => zoom(-1),
    n: () => neighbour(1),
    p: () => neighbour(-1),
    o: others.use,
    enter: others.act,
    m: others.measure,
    home: others.home,
    escape: others.letGo,
  };
}
