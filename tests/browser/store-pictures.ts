/**
 * `npm run pictures`: takes the pictures that `pictures.spec.ts` compares with and stores them under `pictures/`. Look
 * at each of them before they are committed: from then on they are what is right.
 */
import { closeAll, openApp, waitReady } from './harness.ts';
import { rendererOf, shrink, storePicture, storeRenderer, takePictureHand } from './pictures.ts';
import { eachLook, viewAddress, WINDOWS } from './picture-view.ts';

const sizes: number[] = [];
for (const { width, height } of WINDOWS) {
  const app = await openApp({ width, height, stillness: true, isPainted: true, path: viewAddress('bike') });
  await waitReady(app.page);
  storeRenderer(await rendererOf(app.page));
  await eachLook(app.page, async ({ name }) => {
    sizes.push(storePicture(name, shrink(await takePictureHand(app.page), width)));
  });
  await app.close();
}
await closeAll();
console.log(`${sizes.length} pictures, ${Math.round(sizes.reduce((sum, size) => sum + size, 0) / 1000)} kB`);
