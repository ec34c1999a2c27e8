/** Walking: the eye at a standing person's height turns and steps; what it looks at goes with it. */

import { MathUtils, Ray, Vector3 } from "three";
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
/** From so far back one sees the kitchen; where the open side is barred nearer than that, one stands more aside. */
const BACK = 1.2;
const ASIDE = [0, 20, -20, 40, -40];
const UP = new Vector3(0, 1, 0);
const STEP = 0.1;

/** On the open side, as far back as the room allows, with nothing between the eye and the middle of the kitchen. */
export function entrance(model: Model): Standpoint {
  const middle = boxOf(furniture(model)).getCenter(new Vector3()).setY(EYE_HEIGHT);
  const ways = ASIDE.map((degrees) => openSide(model).applyAxisAngle(UP, MathUtils.degToRad(degrees)));
  const eyes = ways.map((way) => furthest(middle, way, model));
  const eye = eyes.find((one) => one.distanceTo(middle) >= BACK) ?? eyes.sort(nearerTo(middle)).at(-1)!;
  return looking(eye, azimuthOf(eye.equals(middle) ? ways[0]! : eye.clone().sub(middle).normalize()), GAZE);
}

/** The furthest free place on this way from which the middle is seen; the middle itself where there is none. */
function furthest(middle: Vector3, way: Vector3, model: Model): Vector3 {
  let eye = middle.clone();
  for (let away = 0; away < FURTHEST; away += STEP) {
    const place = middle.clone().addScaledVector(way, away);
    if (isFree(place, model) && sees(place, middle, model)) eye = place;
  }
  return eye;
}

/** Whether no column or other obstacle of the room, as tall as the eye, stands between; units may. */
function sees(eye: Vector3, middle: Vector3, model: Model): boolean {
  const ray = new Ray(eye, middle.clone().sub(eye).normalize());
  const standing = solids(model).filter(({ kind, layer }) => layer === "room" && !SHELL.has(kind));
  return !standing.some(({ box }) => {
    const met = ray.intersectBox(box, new Vector3());
    return met !== null && met.distanceTo(eye) < middle.distanceTo(eye);
  });
}

function nearerTo(middle: Vector3): (one: Vector3, other: Vector3) => number {
  return (one, other) => one.distanceTo(middle) - other.distanceTo(middle);
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
