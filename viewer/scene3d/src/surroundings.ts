/** What shines back from glass and steel: a light room with a ceiling, a floor, and tall windows on three sides. */

import { BackSide, BoxGeometry, Color, Mesh, MeshBasicMaterial, PMREMGenerator, Scene, SphereGeometry } from "three";
import type { Texture, WebGLRenderer } from "three";

const CEILING = new Color(1.15, 1.13, 1.1);
const WALL = new Color(0.62, 0.61, 0.6);
const FLOOR = new Color(0.3, 0.27, 0.24);
const WINDOW = new Color(3, 3.1, 3.2);
/** Where windows stand, degrees round the room, and how wide each is. */
const WINDOWS = [
  [20, 0.55],
  [140, 0.3],
  [255, 0.8],
] as const;
const AWAY = 5;
const BLUR = 0.03;

export function surroundings(renderer: WebGLRenderer): Texture {
  const room = new Scene();
  room.add(shell(), ...WINDOWS.map(([degrees, width]) => windowAt((degrees / 180) * Math.PI, width * AWAY)));
  const maker = new PMREMGenerator(renderer);
  const { texture } = maker.fromScene(room, BLUR);
  maker.dispose();
  room.traverse((object) => {
    if (object instanceof Mesh) for (const thing of [object.geometry, object.material]) thing.dispose();
  });
  return texture;
}

/** Light falls off from the ceiling down the walls, and the floor throws some back. */
function shell(): Mesh {
  const material = new MeshBasicMaterial({ side: BackSide });
  material.onBeforeCompile = (shader) => {
    Object.assign(shader.uniforms, { up: { value: CEILING }, level: { value: WALL }, down: { value: FLOOR } });
    shader.vertexShader = shader.vertexShader
      .replace("#include <common>", "#include <common>\nvarying float rise;")
      .replace("#include <begin_vertex>", "#include <begin_vertex>\nrise = normalize(position).y;");
    shader.fragmentShader = shader.fragmentShader
      .replace("#include <common>", "#include <common>\nuniform vec3 up, level, down;\nvarying float rise;")
      .replace(
        "#include <opaque_fragment>",
        `outgoingLight = rise > 0.0 ? mix(level, up, smoothstep(0.0, 0.7, rise)) : mix(level, down, smoothstep(0.0, 0.35, -rise));
        #include <opaque_fragment>`,
      );
  };
  return new Mesh(new SphereGeometry(2 * AWAY, 48, 32), material);
}

function windowAt(turn: number, width: number): Mesh {
  const made = new Mesh(new BoxGeometry(width, AWAY * 0.75, 0.1), new MeshBasicMaterial({ color: WINDOW }));
  made.position.set(Math.sin(turn) * AWAY, AWAY * 0.28, Math.cos(turn) * AWAY);
  made.lookAt(0, made.position.y, 0);
  return made;
}
