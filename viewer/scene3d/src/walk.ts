/** Walking: the eye at a standing person's height turns and steps; what it looks at goes with it. */

import { MathUtils, Vector3 } from "three";
import { boxOf, furniture, solids } from "./model";
import type { Model } from "./model";
import { azimuthOf, eyeOf, halfTangent, openSide } from "./views";
import type { Standpoint } from "./views";

/** Metres. */
const EYE_HEIGHT = 1.6;
const LENS = 58;
/** The eye looks at a point one metre before it, a little downwards. */
const AHEAD = 1;
const GAZE = MathUtils.degToRad(83);
const UPWARDS = MathUtils.degToRad(150);
const DOWNWARDS = MathUtils.degToRad(25);
/** What a person keeps from walls and units. */
const ELBOW = 0.22;
/** The shell of the room, which the floor already bounds; everything else bars the way. */
const SHELL = new Set(["floor", "wall", "window", "door", "slope", "service"]);
const FURTHEST = 6;
const STEP = 0.1;

/** On the open side, as far back as the room allows, with the kitchen in view. */
export function entrance(model: Model): Standpoint {
  const open = openSide(model);
  const middle = boxOf(furniture(model)).getCenter(new Vector3()).setY(EYE_HEIGHT);
  let eye = middle;
  for (let away = 0; away < FURTHEST; away += STEP) {
    const place = middle.clone().addScaledVector(open, away);
    if (isFree(place, model)) eye = place;
  }
  return looking(eye, azimuthOf(open), GAZE);
}

export function looked(from: Standpoint, left: number, up: number): Standpoint {
  const polar = MathUtils.clamp(from.polar + up, DOWNWARDS, UPWARDS);
  return looking(eyeOf(from), from.azimuth + left, polar);
}

/** A step forward and to the right, in metres. Along a wall, where the way ahead is barred. */
export function stepped(from: Standpoint, forward: number, right: number, model: Model): Standpoint {
  const ahead = new Vector3(-Math.sin(from.azimuth), 0, -Math.cos(from.azimuth));
  const way = ahead.clone().multiplyScalar(forward).add(new Vector3(-ahead.z, 0, ahead.x).multiplyScalar(right));
  const eye = eyeOf(from);
  const ways = [way, new Vector3(way.x, 0, 0), new Vector3(0, 0, way.z)];
  // Who already stands in something may walk out of it.
  const found = isFree(eye, model) ? ways.find((one) => isFree(eye.clone().add(one), model)) : way;
  return looking(eye.add(found ?? new Vector3()), from.azimuth, from.polar);
}

function looking(eye: Vector3, azimuth: number, polar: number): Standpoint {
  const back = new Vector3().setFromSphericalCoords(AHEAD, polar, azimuth);
  return { target: eye.clone().sub(back), azimuth, polar, reach: AHEAD * halfTangent(LENS), lens: LENS };
}

function isFree(eye: Vector3, model: Model): boolean {
  const floor = [...model.parts.values()].find(({ kind }) => kind === "floor");
  const room = floor?.box.clone().expandByScalar(-ELBOW);
  const inside = !room || (eye.x > room.min.x && eye.x < room.max.x && eye.z > room.min.z && eye.z < room.max.z);
  const barring = solids(model).filter(({ kind, layer }) => layer !== "room" || !SHELL.has(kind));
  return inside && !barring.some(({ box }) => stands(box.clone().expandByScalar(ELBOW), eye));
}

function stands(box: ReturnType<typeof boxOf>, eye: Vector3): boolean {
  return eye.x > box.min.x && eye.x < box.max.x && eye.z > box.min.z && eye.z < box.max.z && box.min.y < EYE_HEIGHT;
}
