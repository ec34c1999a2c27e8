/** The strip of a row of units, whose units can be dragged to other places of the row. */

import { element } from "../dom";
import { draggable } from "./drag";
import type { Standing } from "./order";
import style from "./strip.css";

interface Row {
  readonly svg: string;
  readonly words: string;
  readonly units: readonly Standing[];
  /** The last drop that was answered: a drop that was refused leaves all else as it was. */
  readonly answered: number;
}

interface Call {
  readonly data: Row;
  readonly parentElement: ShadowRoot | HTMLElement;
  readonly setTriggerValue: (name: string, value: unknown) => void;
}

let drops = Date.now();

export default function component({ data, parentElement, setTriggerValue }: Call): () => void {
  const shown = element("div", { className: "strip", innerHTML: data.svg });
  const picture = shown.querySelector("svg")!;
  picture.setAttribute("role", "img");
  picture.setAttribute("aria-label", data.words);
  const done = draggable(picture, data.units, {
    picked: (at) => setTriggerValue("picked", { at }),
    moved: (from, to) => setTriggerValue("moved", { from, to, drop: ++drops }),
  });
  parentElement.replaceChildren(element("style", { textContent: style }), shown);
  return done;
}
