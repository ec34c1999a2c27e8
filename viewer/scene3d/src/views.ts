/** Standpoints: where the eye is, what it looks at, and how wide; and those that the toolbar offers. */

import { Box3, MathUtils, PerspectiveCamera, Spherical, Vector3 } from "three";
import { boxOf, furniture, solids } from "./model";
import type { Model, Part } from "./model";

/** `reach` is half the height seen at the target, so that a change of lens does not change the size of things. */
export interface Standpoint {
  readonly target: Vector3;
  readonly azimuth: number;
  readonly polar: number;
  readonly reach: number;
  readonly lens: number;
}

type Wall = Part & { readonly inward: Vector3 };

/** A view by its name: the room, the plan, or the elevation of a wall. */
export type View = "Room" | "Plan" | { readonly wall: string };

const LENS = 36;
/** Nearly parallel, as on a drawing. One perspective camera then serves every view, and orbiting goes on from it. */
export const DRAWING_LENS = 2;
/** As somebody stands who has stepped back: over the tops, under the ceiling. */
const ROOM_POLAR = MathUtils.degToRad(71);
const LEVEL = Math.PI / 2;
/** Straight down would leave the plan's top undetermined. */
const DOWN = 0.0005;
const MARGIN = 1.05;
/** Closer than this to square-on, a wall looks like an elevation and not like a room. */
const SQUARE_ON = MathUtils.degToRad(20);
const THREE_QUARTER = MathUtils.degToRad(28);
const GLANCE = MathUtils.degToRad(9);
/** A wall is on one's right or left where it faces across by more than this, the cosine of an angle. */
const HAND = 0.8;

export function standpoint(view: View, model: Model, aspect: number): Standpoint {
  const whole = corners(boxOf(solids(model)));
  if (view === "Room") return framed(kitchenOf(model), threeQuarter(model), ROOM_POLAR, LENS, aspect);
  if (view === "Plan") return framed(whole, azimuthOf(firstInward(model)), DOWN, DRAWING_LENS, aspect);
  const wall = walls(model).find((one) => one.wall === view.wall);
  return framed(whole, azimuthOf(wall?.inward ?? openSide(model)), LEVEL, DRAWING_LENS, aspect);
}

/** The walls at which something stands, in the order of the survey. */
export function wallsInUse(model: Model): string[] {
  const used = new Set(furniture(model).map(({ wall }) => wall));
  return walls(model).flatMap(({ wall }) => (used.has(wall) ? wall : []));
}

export function distance(from: Standpoint): number {
  return from.reach / halfTangent(from.lens);
}

export function halfTangent(lens: number): number {
  return Math.tan(MathUtils.degToRad(lens) / 2);
}

export function eyeOf(from: Standpoint): Vector3 {
  const offset = new Spherical(distance(from), from.polar, from.azimuth);
  return new Vector3().setFromSpherical(offset).add(from.target);
}

export function standpointOf(camera: PerspectiveCamera, target: Vector3): Standpoint {
  const offset = new Spherical().setFromVector3(camera.position.clone().sub(target));
  const reach = offset.radius * halfTangent(camera.fov);
  return { target: target.clone(), azimuth: offset.theta, polar: offset.phi, reach, lens: camera.fov };
}

/** Part of the way from one standpoint to another; turns the short way round. */
export function between(from: Standpoint, to: Standpoint, share: number): Standpoint {
  return {
    target: from.target.clone().lerp(to.target, share),
    azimuth: from.azimuth + turn(from.azimuth, to.azimuth) * share,
    polar: MathUtils.lerp(from.polar, to.polar, share),
    reach: MathUtils.lerp(from.reach, to.reach, share),
    lens: MathUtils.lerp(from.lens, to.lens, share),
  };
}

/**
 * The level direction from which the kitchen opens: each wall speaks for the way into the room, a full wall louder than
 * one with little on it, though not by as much. The legs of a U cancel out, an L opens towards its diagonal, an island
 * has no say.
 */
export function openSide(model: Model): Vector3 {
  const sum = new Vector3();
  for (const { wall, inward } of walls(model)) {
    const standing = furniture(model).filter((part) => part.wall === wall).length;
    sum.addScaledVector(inward, Math.sqrt(standing));
  }
  return (sum.length() < 1 ? sum.copy(firstInward(model)) : sum).setY(0).normalize();
}

/**
 * The open side; if that is square on to a wall, turned aside, to where less stands in the way. Between runs on either
 * hand one looks in and hardly turns: the end of one would stand before the rest.
 */
function threeQuarter(model: Model): number {
  const open = openSide(model);
  const squareOn = walls(model).some((wall) => wall.inward.angleTo(open) < SQUARE_ON);
  const aside = new Vector3(open.z, 0, -open.x);
  const crowded = massOf(model).sub(boxOf(solids(model)).getCenter(new Vector3())).dot(aside) > 0;
  const turned = isBetween(model, aside) ? GLANCE : THREE_QUARTER;
  return azimuthOf(open) + (squareOn ? (crowded ? -turned : turned) : 0);
}

/** Whether something stands at walls on both hands. */
function isBetween(model: Model, aside: Vector3): boolean {
  const used = new Set(wallsInUse(model));
  const hands = walls(model).flatMap(({ wall, inward }) => (used.has(wall) ? inward.dot(aside) : []));
  return Math.min(...hands) < -HAND && Math.max(...hands) > HAND;
}

/** The middle of what stands in the room, by the space that it takes. */
function massOf(model: Model): Vector3 {
  const sum = new Vector3();
  let total = 0;
  for (const { box } of furniture(model)) {
    const size = box.getSize(new Vector3());
    const volume = size.x * size.y * size.z;
    sum.addScaledVector(box.getCenter(new Vector3()), volume);
    total += volume;
  }
  return sum.divideScalar(total || 1);
}

/** The short way round from one azimuth to another. */
function turn(from: number, to: number): number {
  return MathUtils.euclideanModulo(to - from + Math.PI, 2 * Math.PI) - Math.PI;
}

function walls(model: Model): Wall[] {
  return [...model.parts.values()].filter((part): part is Wall => part.kind === "wall" && part.inward !== null);
}

function firstInward(model: Model): Vector3 {
  return walls(model)[0]?.inward.clone() ?? new Vector3(0, 0, 1);
}

export function azimuthOf(direction: Vector3): number {
  return Math.atan2(direction.x, direction.z);
}

/** What is furnished, from floor to ceiling; of an empty room everything. Bare floor before it may be cut off. */
function kitchenOf(model: Model): Vector3[] {
  const standing = furniture(model);
  const ceiling = boxOf(solids(model)).max.y;
  const points = (standing.length ? standing : solids(model)).flatMap(({ box }) => corners(box));
  return [...points, ...points.map((point) => point.clone().setY(ceiling))];
}

/** The standpoint from which all the points just fill the view. */
function framed(points: Vector3[], azimuth: number, polar: number, lens: number, aspect: number): Standpoint {
  const toEye = new Vector3().setFromSphericalCoords(1, polar, azimuth);
  const right = new Vector3(0, 1, 0).cross(toEye).normalize();
  const up = toEye.clone().cross(right);
  const half = halfTangent(lens) / MARGIN;
  const across = grip(points, right, toEye, half * aspect);
  const along = grip(points, up, toEye, half);
  const away = Math.max(across.nearest, along.nearest);
  const depth = new Box3().setFromPoints(points).getCenter(new Vector3()).dot(toEye);
  const target = right
    .multiplyScalar(across.middle)
    .addScaledVector(up, along.middle)
    .addScaledVector(toEye, depth);
  return { target, azimuth, polar, reach: (away - depth) * halfTangent(lens), lens };
}

interface Grip {
  readonly nearest: number;
  readonly middle: number;
}

/**
 * Two sight planes that lean by `lean`, pushed against the points from either side. Where they meet is the `nearest`
 * that the eye may come, and the `middle` leaves equal room on both sides.
 */
function grip(points: Vector3[], axis: Vector3, toEye: Vector3, lean: number): Grip {
  const top = Math.max(...points.map((point) => lean * point.dot(toEye) + point.dot(axis)));
  const bottom = Math.max(...points.map((point) => lean * point.dot(toEye) - point.dot(axis)));
  return { nearest: (top + bottom) / (2 * lean), middle: (top - bottom) / 2 };
}

function corners(box: Box3): Vector3[] {
  const { min, max } = box;
  const level = (y: number) => [
    new Vector3(min.x, y, min.z),
    new Vector3(min.x, y, max.z),
    new Vector3(max.x, y, min.z),
    new Vector3(max.x, y, max.z),
  ];
  return [...level(min.y), ...level(max.y)];
}
