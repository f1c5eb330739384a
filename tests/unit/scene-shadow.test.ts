// A drawn shadow is kept while it holds, and drawn anew for whatever it depends on.
import { BoxGeometry, DirectionalLight, Group, Mesh, MeshBasicMaterial, PerspectiveCamera, Scene } from 'three';
import { expect, test } from 'vitest';
import { keepShadow } from '../../src/scene/shadow.ts';

type Given = Parameters<typeof keepShadow>[0];

/** A lamp, a part in a group, and a renderer that counts how often it draws the shadow. */
function stage() {
  const scene = new Scene();
  const lamp = new DirectionalLight();
  const group = new Group();
  const part = new Mesh(new BoxGeometry(), new MeshBasicMaterial());
  lamp.castShadow = true;
  part.castShadow = true;
  scene.add(lamp, group.add(part));
  const info = { render: { calls: 0, triangles: 0 } };
  let draws = 0;
  const shadowMap = {
    enabled: true,
    autoUpdate: true,
    needsUpdate: false,
    render: () => {
      if (!shadowMap.autoUpdate && !shadowMap.needsUpdate) return;
      draws += 1;
      shadowMap.needsUpdate = false;
      info.render.calls += 3;
      info.render.triangles += 12;
      lamp.shadow.map = {} as typeof lamp.shadow.map;
    },
  };
  const gl = { shadowMap, info } as unknown as Given;
  keepShadow(gl);
  const camera = new PerspectiveCamera();
  /** How often the shadow was drawn in one more frame. */
  const frame = (): number => {
    const before = draws;
    info.render = { calls: 0, triangles: 0 };
    scene.updateMatrixWorld();
    gl.shadowMap.render([lamp], scene, camera);
    return draws - before;
  };
  return { scene, lamp, group, part, info, shadowMap, gl, camera, frame };
}

test('is drawn once, and kept while all stands, whatever the camera does; its cost is counted either way', () => {
  const { frame, info, camera, gl } = stage();
  expect(frame()).toBe(1);
  expect(info.render).toEqual({ calls: 3, triangles: 12 });
  camera.position.set(1, 2, 3);
  expect(frame()).toBe(0);
  expect(info.render).toEqual({ calls: 3, triangles: 12 });
  keepShadow(gl);
  expect(frame()).toBe(0);
  expect(info.render).toEqual({ calls: 3, triangles: 12 });
});

test.each<[what: string, change: (on: ReturnType<typeof stage>) => void]>([
  ['a part moves', ({ part }) => part.position.setX(0.001)],
  ['what holds it moves', ({ group }) => group.rotateZ(0.001)],
  ['it is hidden', ({ group }) => void (group.visible = false)],
  ['it throws none any more', ({ part }) => void (part.castShadow = false)],
  ['it has another form', ({ part }) => void (part.geometry = new BoxGeometry(2))],
  ['it has another material', ({ part }) => void (part.material = new MeshBasicMaterial())],
  ['another part comes', ({ scene, part }) => scene.add(part.clone())],
  ['the lamp moves', ({ lamp }) => lamp.position.setX(5)],
  ['the lamp looks elsewhere', ({ lamp }) => lamp.target.position.setX(5) && lamp.target.updateMatrixWorld()],
  ['its frame is wider', ({ lamp }) => void (lamp.shadow.camera.right += 1)],
  ['a lost context has taken it', ({ lamp }) => void (lamp.shadow.map = null)],
])('is drawn anew, once, when %s', (_, change) => {
  const on = stage();
  expect(on.frame()).toBe(1);
  change(on);
  expect(on.frame()).toBe(1);
  expect(on.frame()).toBe(0);
});

test('a change in a frame that may not draw it is made good in the next that may', () => {
  const { frame, part, shadowMap } = stage();
  frame();
  shadowMap.autoUpdate = false;
  part.position.setX(1);
  expect(frame()).toBe(0);
  shadowMap.needsUpdate = true;
  expect(frame()).toBe(1);
  shadowMap.needsUpdate = true;
  expect(frame()).toBe(0);
  expect(shadowMap.needsUpdate).toBe(false);
});
