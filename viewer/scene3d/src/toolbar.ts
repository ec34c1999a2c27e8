/** The buttons over the picture. */

import { element } from "./dom";
import type { ViewName } from "./views";

export interface Actions {
  readonly view: (name: ViewName) => void;
  readonly zoom: (factor: number) => void;
}

export const ZOOM_STEP = 1.25;

const VIEWS: readonly (readonly [ViewName, string])[] = [
  ["Room", "the whole room, from its open side"],
  ["Plan", "from above, first wall at the top"],
  ["Front", "square on to the main wall"],
];

export function makeToolbar(actions: Actions): HTMLElement {
  const views = VIEWS.map(([name, hint]) => button(name, `${name}: ${hint}`, () => actions.view(name)));
  const bar = element("div", { className: "tools" });
  bar.append(
    group("Views", views),
    group("Zoom", [
      button("−", "Zoom out", () => actions.zoom(1 / ZOOM_STEP)),
      button("+", "Zoom in", () => actions.zoom(ZOOM_STEP)),
    ]),
  );
  return bar;
}

function group(label: string, buttons: HTMLElement[]): HTMLElement {
  const made = element("div", { className: "group", role: "group", ariaLabel: label });
  made.append(...buttons);
  return made;
}

function button(text: string, label: string, act: () => void): HTMLButtonElement {
  const made = element("button", { type: "button", title: label, ariaLabel: label }, text);
  made.addEventListener("click", act);
  return made;
}
