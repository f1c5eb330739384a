/**
 * The 3D picture with what every place of the page tells it alike: view, theme, motion, and what it tells back.
 *
 * The scene is loaded when it is first needed; a failure of it stays inside.
 */
import { Suspense, type ReactNode } from 'react';
import { later } from '../later.ts';
import { act, useApp } from '../page/store.ts';
import { useStillness } from '../page/useMedia.ts';
import { useTheme } from '../page/useScreen.ts';
import type { PictureProps } from '../scene/Picture.tsx';
import { PictureBoundary } from './PictureBoundary.tsx';

const Picture = later(() => import('../scene/Picture.tsx'));

type Alike = 'theme' | 'view' | 'glide' | 'reducedMotion' | 'litId' | 'onLight' | 'onStand' | 'onReady' | 'onLost';

/** What a place of the page says of the picture. */
export type OwnPicture = Omit<PictureProps, Alike>;

export function PictureFrame(own: OwnPicture): ReactNode {
  const view = useApp((state) => state.view);
  const looks = useApp((state) => state.looks);
  const litId = useApp((state) => state.litId);
  const theme = useTheme();
  const isStill = useStillness();
  return (
    <PictureBoundary onFailed={act.pictureLost}>
      <Suspense fallback={<p className="picture-note over stack soft">Setting up the picture…</p>}>
        <Picture
          {...own}
          theme={theme}
          view={view}
          glide={looks}
          reducedMotion={isStill}
          litId={litId}
          onLight={act.light}
          onStand={act.stand}
          onReady={act.pictureDrew}
          onLost={() => act.pictureLost()}
        />
      </Suspense>
    </PictureBoundary>
  );
}
