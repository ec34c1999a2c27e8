/**
 * The sky: how much of the light that comes from everywhere reaches a point. What stands in the room is drawn from many
 * directions, its depth alone, into one picture of many tiles; a surface is lit from a direction if nothing there lies
 * nearer. The mean is the soft shade under wall units, in the recess of the plinth and behind what stands before a wall.
 */

import {
  Box3,
  DepthTexture,
  LessEqualCompare,
  LinearFilter,
  Matrix4,
  MeshBasicMaterial,
  OrthographicCamera,
  RedFormat,
  Vector3,
  WebGLRenderTarget,
} from "three";
import type { MeshStandardMaterial, Object3D, Plane, Scene, WebGLRenderer } from "three";

/** Tiles across and down: one for each direction. */
const ACROSS = 6;
const DOWN = 4;
const COUNT = ACROSS * DOWN;
const TILE = 512;
/** The lowest directions stand just over the horizon. */
const LOWEST = 0.97;
const GOLDEN = Math.PI * (3 - Math.sqrt(5));
/** What keeps light out of the sky, beside what is drawn in any case. */
const LAYER = 1;
/** Metres by which a point is raised off its face before it is asked what lies above it. */
const LIFT = 0.006;
/** Radius, metres, within which each direction is asked elsewhere, so that no single one draws an edge. */
const SPREAD = 0.055;
/** What faces a direction by less is not asked: it would get next to nothing from there. */
const GRAZING = 0.06;
/** Share of its light that is left where no sky is seen: walls and floor throw back the rest. */
const LEAST = 0.3;
/** Weight of what floor and walls throw back, half of which is taken to arrive; it decides where no sky is faced. */
const BOUNCE = 0.6;

const WAYS = Array.from({ length: COUNT }, (_, index) => wayOf(index));

const VERTEX = /* glsl */ `
  varying vec3 skyPlace;
`;
const FRAGMENT = /* glsl */ `
  varying vec3 skyPlace;
  uniform sampler2DShadow skyDepth;
  uniform mat4 skyMatrices[${COUNT}];
  float skyShare(vec3 place, vec3 normal) {
    vec3 raised = place + ${LIFT.toFixed(4)} * normal;
    vec3 along = normalize(cross(normal, abs(normal.y) < 0.9 ? vec3(0.0, 1.0, 0.0) : vec3(1.0, 0.0, 0.0)));
    vec3 across = cross(normal, along);
    float turn = 6.2832 * fract(52.9829189 * fract(dot(gl_FragCoord.xy, vec2(0.06711056, 0.00583715))));
    vec3 one = ${SPREAD.toFixed(3)} * (cos(turn) * along + sin(turn) * across);
    vec3 other = cross(normal, one);
    float got = ${(BOUNCE / 2).toFixed(3)};
    float could = ${BOUNCE.toFixed(3)};
    float facing;
    ${WAYS.map(asked).join("")}
    return mix(${LEAST.toFixed(3)}, 1.0, got / could);
  }
`;
const SHADED = /* glsl */ `
  float sky = skyShare(skyPlace, normalize((vec4(normal, 0.0) * viewMatrix).xyz));
  reflectedLight.indirectDiffuse *= sky;
  reflectedLight.indirectSpecular *= sky;
`;

export type Shader = Parameters<MeshStandardMaterial["onBeforeCompile"]>[0];

export class Sky {
  private readonly cameras = WAYS.map(cameraAlong);
  private readonly depth = new MeshBasicMaterial({ colorWrite: false, polygonOffset: true, polygonOffsetFactor: 2, polygonOffsetUnits: 4 });
  private readonly target = targetOf();
  private readonly uniforms = {
    skyDepth: { value: this.target.depthTexture },
    skyMatrices: { value: WAYS.map(() => new Matrix4()) },
  };

  /** Let what is drawn with a shader be shaded. */
  shade(shader: Shader): void {
    Object.assign(shader.uniforms, this.uniforms);
    shader.vertexShader = `${VERTEX}${shader.vertexShader}`.replace(
      "#include <worldpos_vertex>",
      "#include <worldpos_vertex>\n  skyPlace = (modelMatrix * vec4(transformed, 1.0)).xyz;",
    );
    shader.fragmentShader = shader.fragmentShader
      .replace("#include <common>", `#include <common>\n${FRAGMENT}`)
      .replace("#include <aomap_fragment>", `#include <aomap_fragment>\n${SHADED}`);
  }

  /** What keeps out light. A lamp must be told as well, or the renderer would count other lamps than for the picture. */
  static heed(object: Object3D): void {
    object.layers.enable(LAYER);
  }

  /** Look from every direction at a box that holds all there is. */
  aim(box: Box3): void {
    this.cameras.forEach((camera, index) => {
      fit(camera, box);
      const seen = this.uniforms.skyMatrices.value[index]!.copy(tileOf(index));
      seen.multiply(camera.projectionMatrix).multiply(camera.matrixWorldInverse);
    });
  }

  /** Draw the depths anew; `planes` cut away what is cut away in the picture. */
  draw(renderer: WebGLRenderer, scene: Scene, planes: Plane[]): void {
    this.depth.clippingPlanes = planes;
    scene.overrideMaterial = this.depth;
    this.tile(0, 0, ACROSS, DOWN);
    renderer.setRenderTarget(this.target);
    renderer.clear();
    this.cameras.forEach((camera, index) => {
      this.tile(index % ACROSS, Math.floor(index / ACROSS), 1, 1);
      renderer.setRenderTarget(this.target);
      renderer.render(scene, camera);
    });
    scene.overrideMaterial = null;
    renderer.setRenderTarget(null);
  }

  free(): void {
    this.target.dispose();
    this.depth.dispose();
  }

  private tile(x: number, y: number, wide: number, tall: number): void {
    this.target.viewport.set(x * TILE, y * TILE, wide * TILE, tall * TILE);
    this.target.scissor.copy(this.target.viewport);
  }
}

/** What is lit from one direction. All are written out: a loop over them takes far longer where no card draws. */
function asked(way: Vector3, index: number): string {
  const [x, y, z] = way.toArray().map((part) => part.toFixed(5));
  // Over all directions the places fill the disc evenly.
  const reach = Math.sqrt((((index * 7) % COUNT) + 0.5) / COUNT);
  const [u, v] = [Math.cos(index * GOLDEN), Math.sin(index * GOLDEN)].map((part) => (reach * part).toFixed(5));
  return /* glsl */ `
    facing = dot(normal, vec3(${x}, ${y}, ${z}));
    if (facing > ${GRAZING.toFixed(3)}) {
      could += facing;
      got += facing * texture(skyDepth, (skyMatrices[${index}] * vec4(raised + ${u} * one + ${v} * other, 1.0)).xyz);
    }`;
}

/** Evenly over the dome by the light that falls on what is level, in a spiral. */
function wayOf(index: number): Vector3 {
  const radius = Math.sqrt((index + 0.5) / COUNT) * LOWEST;
  const turn = index * GOLDEN;
  return new Vector3(radius * Math.cos(turn), Math.sqrt(1 - radius ** 2), radius * Math.sin(turn));
}

function cameraAlong(way: Vector3): OrthographicCamera {
  const camera = new OrthographicCamera();
  camera.position.copy(way);
  camera.lookAt(0, 0, 0);
  camera.layers.set(LAYER);
  camera.updateMatrixWorld();
  return camera;
}

/** From a camera's sight, −1 to 1, to its tile of the whole and to depth, 0 to 1. */
function tileOf(index: number): Matrix4 {
  const [x, y] = [index % ACROSS, Math.floor(index / ACROSS)];
  const middle = new Matrix4().makeTranslation((x + 0.5) / ACROSS, (y + 0.5) / DOWN, 0.5);
  return middle.scale(new Vector3(0.5 / ACROSS, 0.5 / DOWN, 0.5));
}

/** As narrow as shows the whole box; it looks from the middle of the world, before and behind it. */
function fit(camera: OrthographicCamera, box: Box3): void {
  const seen = box.clone().applyMatrix4(camera.matrixWorldInverse);
  const { min, max } = seen.expandByVector(seen.getSize(new Vector3()).multiplyScalar(0.01));
  Object.assign(camera, { left: min.x, right: max.x, bottom: min.y, top: max.y, near: -max.z, far: -min.z });
  camera.updateProjectionMatrix();
}

function targetOf(): WebGLRenderTarget & { depthTexture: DepthTexture } {
  const [width, height] = [ACROSS * TILE, DOWN * TILE];
  const depthTexture = new DepthTexture(width, height);
  depthTexture.compareFunction = LessEqualCompare;
  depthTexture.minFilter = depthTexture.magFilter = LinearFilter;
  const target = new WebGLRenderTarget(width, height, { depthTexture, format: RedFormat });
  target.scissorTest = true;
  return Object.assign(target, { depthTexture });
}
