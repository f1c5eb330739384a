/**
 * The picture's scene as a test reads it: through the hook that React keeps for developers, so that the app ships none.
 *
 * An id pass draws the part in flat colours, alone and among everything that hides, and counts its pixels. What is seen
 * through (ghosts, what is faded) hides nothing; words and buttons that lie over the picture do.
 */
import type { Page } from 'playwright-core';

/** Put into a page before it loads: remembers the store of the picture's root. */
export const KEEP_SCENE = `(() => {
  let renderers = 0;
  const nothing = () => {};
  window.__REACT_DEVTOOLS_GLOBAL_HOOK__ = {
    supportsFiber: true, isDisabled: false, renderers: new Map(),
    inject: () => (renderers += 1), checkDCE: nothing, setStrictMode: nothing,
    onScheduleFiberRoot: nothing, onCommitFiberUnmount: nothing, onPostCommitFiberRoot: nothing,
    onCommitFiberRoot: (_, { containerInfo }) => {
      if (typeof containerInfo?.getState === 'function') window.keptScene = containerInfo;
    },
  };
})()`;

/** How much of a part is seen. */
export interface Seen {
  /** Pixels of it among everything, as a share of its silhouette alone. */
  readonly share: number;
  /** The longer side of what its silhouette fills, CSS px. */
  readonly across_px: number;
  /** Whether it stands clear of the picture's edges. */
  readonly isWhole: boolean;
  /** The longer side of what it fills in the inset beside it, CSS px; 0 without one. */
  readonly inset_px: number;
}

/** Width of an id pass, px. */
const WIDE_px = 480;

// As text: it reaches into what the app has built, of which a test has no types.
const MEASURE = `(id) => {
  const { gl, scene, camera, size, invalidate } = window.keptScene.getState();
  const part = scene.getObjectByName(id);
  if (!part) return undefined;
  const flat = [];
  scene.traverse((object) => { if (object.material?.type === 'MeshBasicMaterial') flat.push(object.material); });
  const Basic = flat[0].constructor;
  const paint = (colour, from) => Object.assign(new Basic({ color: colour }), {
    toneMapped: false, side: from.side, clippingPlanes: from.clippingPlanes, fog: false,
  });
  const ratio = gl.getPixelRatio();
  const undo = [];
  const own = new Set();
  part.traverse((object) => own.add(object));
  const others = [];
  scene.traverse((object) => {
    if (!object.isMesh && !object.isLine && !object.isPoints) return;
    const { material, visible, geometry } = object;
    const { start, count } = geometry.drawRange;
    undo.push(() => { object.material = material; object.visible = visible; geometry.setDrawRange(start, count); });
    const hides = object.isMesh && visible && material.visible && material.colorWrite && !material.transparent;
    if (!hides) { object.visible = false; return; }
    // The ink round a part is no part of it.
    if (geometry.userData.touched) geometry.setDrawRange(0, Math.min(count, geometry.userData.touched));
    object.material = paint(own.has(object) ? 0xff0000 : 0x00ff00, material);
    if (!own.has(object)) others.push(object);
  });
  const update = gl.shadowMap.autoUpdate;
  gl.shadowMap.autoUpdate = false;
  gl.setPixelRatio(${WIDE_px} / size.width);
  const { width, height } = gl.domElement;
  const draw = () => {
    gl.render(scene, camera);
    const pixels = new Uint8Array(4 * width * height);
    const context = gl.getContext();
    context.readPixels(0, 0, width, height, context.RGBA, context.UNSIGNED_BYTE, pixels);
    return (x, y) => {
      const at = 4 * (x + (height - 1 - y) * width);
      return pixels[at] > 127 && pixels[at + 1] < 128 && pixels[at + 3] > 127;
    };
  };
  const scale = width / size.width;
  const around = gl.domElement.getBoundingClientRect();
  const over = [...document.querySelectorAll('.scene-inset, .scene-part, .scene-side, .stand-line, .views, .picture-foot .button, .side, .bar')]
    .filter((element) => getComputedStyle(element).visibility !== 'hidden')
    .map((element) => element.getBoundingClientRect())
    .map((box) => [box.left - around.left, box.top - around.top, box.right - around.left, box.bottom - around.top].map((edge) => edge * scale));
  const isOver = (x, y) => over.some(([left, top, right, bottom]) => x >= left && x < right && y >= top && y < bottom);
  for (const object of others) object.visible = false;
  const alone = draw();
  for (const object of others) object.visible = true;
  const among = draw();
  let [whole, seen, left, right, top, bottom] = [0, 0, Infinity, -Infinity, Infinity, -Infinity];
  for (let y = 0; y < height; y += 1) {
    for (let x = 0; x < width; x += 1) {
      if (!alone(x, y)) continue;
      whole += 1;
      if (among(x, y) && !isOver(x, y)) seen += 1;
      [left, right, top, bottom] = [Math.min(left, x), Math.max(right, x + 1), Math.min(top, y), Math.max(bottom, y + 1)];
    }
  }
  const boxes = [...document.querySelectorAll('.scene-inset [data-own]')].map((shape) => shape.getBoundingClientRect());
  const span = (low, high) => Math.max(...boxes.map((box) => box[high])) - Math.min(...boxes.map((box) => box[low]));
  const inset_px = boxes.length === 0 ? 0 : Math.max(span('left', 'right'), span('top', 'bottom'));
  for (const back of undo) back();
  gl.setPixelRatio(ratio);
  gl.shadowMap.autoUpdate = update;
  invalidate();
  return { share: whole === 0 ? 0 : seen / whole, across_px: Math.max(0, right - left, bottom - top) / scale,
    isWhole: left > 0 && right < width && top > 0 && bottom < height, inset_px };
}`;

/** How much of the part with this id is seen now; nothing where there is no such part. */
export async function seenOf(page: Page, id: string): Promise<Seen | undefined> {
  return page.evaluate(`(${MEASURE})(${JSON.stringify(id)})`);
}

// Round the middle of the part, where a ray meets it before anything else.
const MEET = `(id) => {
  const { scene, camera, raycaster, gl } = window.keptScene.getState();
  const part = scene.getObjectByName(id);
  const own = new Set();
  const spheres = [];
  part.traverse((object) => {
    own.add(object);
    if (!object.isMesh) return;
    object.geometry.computeBoundingSphere();
    spheres.push(object.geometry.boundingSphere.center.clone().applyMatrix4(object.matrixWorld).project(camera));
  });
  const { left, top, width, height } = gl.domElement.getBoundingClientRect();
  for (let out_px = 0; out_px < 90; out_px += 3) {
    for (let turn = 0; turn < 16; turn += 1) {
      const x = ((spheres[0].x + 1) / 2) * width + out_px * Math.cos((turn * Math.PI) / 8);
      const y = ((1 - spheres[0].y) / 2) * height + out_px * Math.sin((turn * Math.PI) / 8);
      raycaster.setFromCamera({ x: (2 * x) / width - 1, y: 1 - (2 * y) / height }, camera);
      const [hit] = raycaster.intersectObjects(scene.children, true);
      const isBare = document.elementFromPoint(left + x, top + y) === gl.domElement;
      if (hit && own.has(hit.object) && isBare) return [left + x, top + y];
    }
  }
  return undefined;
}`;

/** A point of the page where a hand meets the part itself on the picture, px. */
export async function pointOf(page: Page, id: string): Promise<[number, number]> {
  const point = await page.evaluate<[number, number] | undefined>(`(${MEET})(${JSON.stringify(id)})`);
  if (!point) throw new Error(`no point of the picture belongs to ${id}`);
  return point;
}

// Two frames of the page after the address, the picture has what it is to show; where nothing moves then, it stands. A
// model that is opened on the way comes later.
const STANDS = `(id) => new Promise((resolve) => {
  let turns = 0;
  const look = () => {
    const isThere = window.keptScene.getState().scene.getObjectByName(id) !== undefined;
    turns = isThere && document.querySelector('.scene')?.dataset.moving === 'false' ? turns + 1 : 0;
    if (turns > 3) resolve();
    else requestAnimationFrame(look);
  };
  requestAnimationFrame(() => requestAnimationFrame(look));
})`;

/**
 * Goes to an address on the open page and waits until the picture has the part with this id and stands; `settled` waits
 * for its fine still as well.
 */
export async function stepTo(page: Page, hash: string, id: string): Promise<void> {
  await page.evaluate((to) => {
    window.location.hash = to;
  }, hash);
  await page.evaluate(`(${STANDS})(${JSON.stringify(id)})`);
}
