/**
 * Walls that stand between the eye and the room give way, with whatever is in them; and on an elevation also what stands
 * at them, or the far side of a U would be seen from behind.
 */

import { MathUtils, Vector3 } from "three";
import type { PerspectiveCamera } from "three";
import { opacityOf } from "./look";
import { furniture } from "./model";
import type { Model, Part } from "./model";
import { DRAWING_LENS } from "./views";

/** A wall seen edge-on is kept: it hides nothing, and it would flicker. */
const EDGE_ON = 0.02;
const SQUARE_ON = Math.cos(MathUtils.degToRad(15));

/** True if it changed what furniture stands there. */
export function fadeWalls(model: Model, { position, fov }: PerspectiveCamera): boolean {
  const passed = new Set<string>();
  for (const part of model.parts.values()) {
    if (!part.inward) continue;
    const behind = -towards(part, position).dot(part.inward);
    fade(part, behind > EDGE_ON);
    if (part.kind === "wall" && behind > SQUARE_ON && fov < DRAWING_LENS * 1.1) passed.add(part.wall);
  }
  const moving = furniture(model).filter((part) => part.faded !== passed.has(part.wall));
  for (const part of moving) stepAside(part, !part.faded);
  return moving.length > 0;
}

function towards(part: Part, eye: Vector3): Vector3 {
  return eye.clone().sub(part.box.getCenter(new Vector3())).normalize();
}

function fade(part: Part, faded: boolean): void {
  part.faded = faded;
  // Unpainted rather than invisible: the edge lines hang on the mesh, and the wall still keeps out the sun.
  for (const { material } of part.surfaces) material.colorWrite = material.depthWrite = !faded;
  for (const line of part.edges) line.material.opacity = faded ? 0 : opacityOf(part);
}

/** Out of the eye's layer: what parts wear they share with others, and their visibility is for the layers' panel. */
function stepAside(part: Part, aside: boolean): void {
  part.faded = aside;
  for (const { layers } of [...part.surfaces, ...part.edges]) aside ? layers.disable(0) : layers.enable(0);
}
