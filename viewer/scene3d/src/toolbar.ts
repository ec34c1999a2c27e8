/** The buttons under the picture. */

import { element } from "./dom";
import type { View } from "./views";

export type Mode = "open" | "apart" | "section" | "measure";

export interface Actions {
  readonly view: (view: View) => void;
  readonly walk: () => void;
  readonly zoom: (factor: number) => void;
  readonly mode: (mode: Mode) => void;
  /** Where the section stands, from 0 at the far end to 1 at the near one. */
  readonly slide: (share: number) => void;
}

export const ZOOM_STEP = 1.25;

const MODES: readonly (readonly [Mode, string, string])[] = [
  ["open", "Open all", "open every door and drawer, or shut them"],
  ["apart", "Tops apart", "lift the worktops and part them at their joins"],
  ["section", "Section", "cut away what stands nearer than a plane"],
  ["measure", "Measure", "between two points"],
];
const SLIDE_STEPS = 200;

export class Toolbar {
  readonly root = element("div", { className: "tools", role: "toolbar", ariaLabel: "Views and tools" });
  private readonly elevations = element("span", { className: "elevations" });
  private readonly walking: HTMLButtonElement;
  private readonly modes = new Map<Mode, HTMLButtonElement>();
  private readonly slider = element("input", { type: "range", max: `${SLIDE_STEPS}`, ariaLabel: "Where the section stands" });
  private walls = "";

  constructor(private readonly actions: Actions) {
    this.walking = button("Walk", "Walk: at eye height, 1.6 m over the floor", () => actions.walk());
    for (const [mode, name, hint] of MODES)
      this.modes.set(mode, button(name, `${name}: ${hint}`, () => actions.mode(mode)));
    this.slider.addEventListener("input", () => actions.slide(this.slider.valueAsNumber / SLIDE_STEPS));
    this.root.append(this.views(), group("Look into it", [...this.modes.values(), this.slider]), zooming(actions));
  }

  /** One button for each wall at which something stands; anew only if the walls differ, or the focus would be lost. */
  offer(walls: readonly string[]): void {
    if (walls.join() === this.walls) return;
    this.walls = walls.join();
    this.elevations.replaceChildren(
      ...walls.map((wall) =>
        button(`Wall ${wall}`, `Wall ${wall}: square on to it`, () => this.actions.view({ wall })),
      ),
    );
  }

  /** Show what is on. */
  show(on: Readonly<Record<Mode, boolean>>, walking: boolean, section: number | null): void {
    for (const [mode, made] of this.modes) made.ariaPressed = String(on[mode]);
    this.walking.ariaPressed = String(walking);
    this.slider.hidden = section === null;
    if (section !== null) this.slider.value = String(section * SLIDE_STEPS);
  }

  private views(): HTMLElement {
    return group("Views", [
      button("Room", "Room: the whole kitchen, from its open side", () => this.actions.view("Room")),
      button("Plan", "Plan: from above, first wall at the top", () => this.actions.view("Plan")),
      this.elevations,
      this.walking,
    ]);
  }
}

export function button(text: string, label: string, act: () => void): HTMLButtonElement {
  const made = element("button", { type: "button", title: label, ariaLabel: label }, text);
  made.addEventListener("click", act);
  return made;
}

export function group(label: string, members: HTMLElement[]): HTMLElement {
  return element("div", { className: "group", role: "group", ariaLabel: label }, ...members);
}

function zooming({ zoom }: Actions): HTMLElement {
  return group("Zoom", [
    button("−", "Zoom out", () => zoom(1 / ZOOM_STEP)),
    button("+", "Zoom in", () => zoom(ZOOM_STEP)),
  ]);
}
