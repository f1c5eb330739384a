/**
 * The 3D picture with what every place of the page tells it alike: view, theme, motion, and what it tells back.
 *
 * The scene is loaded when it is first needed; a failure of it stays inside.
 */
import { lazy, Suspense, type ReactNode } from 'react';
import { act, useApp } from '../page/store.ts';
import { useStillness } from '../page/useMedia.ts';
import { useTheme } from '../page/useScreen.ts';
import type { StageProps } from '../scene/Stage.tsx';
import { StageBoundary } from './StageBoundary.tsx';

const Stage = lazy(() => import('../scene/Stage.tsx'));

type Alike = 'theme' | 'view' | 'glide' | 'reducedMotion' | 'litId' | 'onLight' | 'onStand' | 'onReady' | 'onLost';

export function StagePicture(own: Omit<StageProps, Alike>): ReactNode {
  const view = useApp((state) => state.view);
  const looks = useApp((state) => state.looks);
  const litId = useApp((state) => state.litId);
  const theme = useTheme();
  const isStill = useStillness();
  return (
    <StageBoundary onFailed={act.stageLost}>
      <Suspense fallback={<p className="stage-note">Setting up the stage…</p>}>
        <Stage
          {...own}
          theme={theme}
          view={view}
          glide={looks}
          reducedMotion={isStill}
          litId={litId}
          onLight={act.light}
          onStand={act.stand}
          onReady={act.stageDrew}
          onLost={act.stageLost}
        />
      </Suspense>
    </StageBoundary>
  );
}
