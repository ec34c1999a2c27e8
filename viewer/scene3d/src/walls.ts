/** Walls that stand between the eye and the room give way; a faint outline stays, so that the room keeps its shape. */

import { Vector3 } from "three";
import { EDGE_OPACITY } from "./look";
import type { Model, Part } from "./model";

/** A wall seen edge-on is kept: it hides nothing, and it would flicker. */
const EDGE_ON = 0.02;
const OUTLINE_OPACITY = 0.035;

export function fadeWalls(model: Model, eye: Vector3): void {
  for (const part of model.parts.values()) if (part.inward) fade(part, part.inward, eye);
}

function fade(part: Part, inward: Vector3, eye: Vector3): void {
  const towardsEye = eye.clone().sub(part.box.getCenter(new Vector3())).normalize();
  part.faded = towardsEye.dot(inward) < -EDGE_ON;
  // Unpainted rather than invisible: the edge lines hang on the mesh, and the wall still keeps out the sun.
  for (const { material } of part.surfaces) material.colorWrite = material.depthWrite = !part.faded;
  const outline = part.kind === "wall" ? OUTLINE_OPACITY : 0;
  for (const line of part.edges) line.material.opacity = part.faded ? outline : EDGE_OPACITY;
}
