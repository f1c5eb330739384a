/**
 * Keeps a drawn shadow as long as it holds: while what throws it and the lamp stand as they stood when it was drawn,
 * three would only draw the same again, and on a slow machine that is a third of a frame.
 *
 * What a frame costs is counted with the pass in, drawn or kept: the next movement pays it.
 */
import type { DirectionalLight, Light, Mesh, Scene, WebGLRenderer } from 'three';

type ShadowMap = WebGLRenderer['shadowMap'];

const kept = new WeakSet<ShadowMap>();

/** From now on the renderer draws its shadows only when they have changed; to be called again after a lost context. */
export function keepShadow({ shadowMap, info }: Pick<WebGLRenderer, 'shadowMap' | 'info'>): void {
  if (kept.has(shadowMap)) return;
  kept.add(shadowMap);
  const draw = shadowMap.render.bind(shadowMap);
  let drawn: readonly number[] = [];
  let cost = { calls: 0, triangles: 0 };
  shadowMap.render = (lights, scene, camera) => {
    const isAsked = shadowMap.enabled && lights.length > 0 && (shadowMap.autoUpdate || shadowMap.needsUpdate);
    if (!isAsked) return draw(lights, scene, camera);
    const now = standing(lights, scene);
    // A lost context takes the drawn shadow with it.
    const isThere = lights.every((light) => (light as DirectionalLight).shadow.map !== null);
    if (isThere && now.length === drawn.length && now.every((value, k) => value === drawn[k])) {
      shadowMap.needsUpdate = false;
      info.render.calls += cost.calls;
      info.render.triangles += cost.triangles;
      return;
    }
    const { calls, triangles } = info.render;
    draw(lights, scene, camera);
    cost = { calls: info.render.calls - calls, triangles: info.render.triangles - triangles };
    drawn = now;
  };
}

/** All that a shadow depends on: geometries never change, and of a material only which one it is counts. */
function standing(lights: readonly Light[], scene: Scene): number[] {
  const found = [scene.id];
  for (const light of lights as readonly DirectionalLight[]) {
    const { target, shadow } = light;
    const { left, right, top, bottom, near, far } = shadow.camera;
    found.push(light.id, ...light.matrixWorld.elements, ...target.matrixWorld.elements);
    found.push(left, right, top, bottom, near, far);
  }
  scene.traverseVisible((part) => {
    const { isMesh, geometry, material, matrixWorld } = part as Mesh;
    if (!isMesh || !part.castShadow) return;
    found.push(part.id, geometry.id, ...[material].flat().map(({ id }) => id), ...matrixWorld.elements);
  });
  return found;
}
