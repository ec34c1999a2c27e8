/** Walls that stand between the eye and the room give way, with whatever is in them. */

import { Vector3 } from "three";
import { opacityOf } from "./look";
import type { Model, Part } from "./model";

/** A wall seen edge-on is kept: it hides nothing, and it would flicker. */
const EDGE_ON = 0.02;

export function fadeWalls(model: Model, eye: Vector3): void {
  for (const part of model.parts.values()) if (part.inward) fade(part, part.inward, eye);
}

function fade(part: Part, inward: Vector3, eye: Vector3): void {
  const towardsEye = eye.clone().sub(part.box.getCenter(new Vector3())).normalize();
  part.faded = towardsEye.dot(inward) < -EDGE_ON;
  // Unpainted rather than invisible: the edge lines hang on the mesh, and the wall still keeps out the sun.
  for (const { material } of part.surfaces) material.colorWrite = material.depthWrite = !part.faded;
  for (const line of part.edges) line.material.opacity = part.faded ? 0 : opacityOf(part);
}
