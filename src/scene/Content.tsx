/**
 * The picture inside the canvas: what stands where, how it stands out, where the camera goes.
 *
 * A pure function of the picture's props once motion has settled; in between, offsets and ghosts are on their way
 * there.
 */
import { Suspense, useCallback, useEffect, useMemo, useRef, useState, type ReactNode } from 'react';
import { addAfterEffect, useFrame, useThree } from '@react-three/fiber';
import type { Group, PerspectiveCamera } from 'three';
import type { Obstacle, PivotAnalysis, PlacedItem } from '../../shared/index.ts';
import { later } from '../later.ts';
import type { Board, Clear } from './board.ts';
import { CameraRig } from './CameraRig.tsx';
import { Counter } from './Counter.tsx';
import { CutDriver, type HandleParts } from './CutHandle.tsx';
import { SceneContext, type Scene } from './context.ts';
import type { LabelSpec } from './labels.ts';
import { LabelDriver } from './Labels.tsx';
import { LineDriver } from './LineDriver.tsx';
import { Materials } from './materials.ts';
import { Members } from './Members.tsx';
import { LONGEST_STEP_s, Motion } from './motion.ts';
import { PivotParts } from './PivotParts.tsx';
import {
  anchorsOf,
  drawnPivots,
  itemsOf,
  radiusOf,
  accessOf,
  type ItemPlace,
  type Layout,
  type Place,
} from './placement.ts';
import type { Emphasis, PictureProps } from './props.ts';
import { Studio, type Focus } from './Studio.tsx';
import { Obstacles, Shock } from './Surroundings.tsx';
import { handlePlace, useCut } from './useCut.ts';
import type { Held } from './hold.ts';
import { Hold } from './Hold.tsx';
import { frameAxes } from './fit.ts';
import { useGrab } from './useGrab.ts';
import { useStand } from './useStand.ts';
import { useLatest } from './useLatest.ts';

/** Only a build has tools: they do not belong to the first picture. */
const BuildTools = later(() => import('./BuildTools.tsx'));

interface Props {
  readonly picture: PictureProps;
  readonly board: Board;
  readonly specs: readonly LabelSpec[];
  readonly layout: Layout;
  readonly places: Readonly<Record<string, ItemPlace>>;
  /** The part in the hand and what makes way for it. */
  readonly hold: Held | undefined;
  /** Width of the picture that the inset of the part in the hand covers, px: above 0 at its left. */
  readonly aside_px: number;
  readonly emphasis: Emphasis;
  readonly clear: Clear;
  readonly isTight: boolean;
  readonly isSoftware: boolean;
  /** How far a hand has rolled the cut, rad, and the handle it does so by. */
  readonly turn_rad: number;
  readonly handle: HandleParts;
  readonly root: { readonly current: HTMLElement | null };
}

const SLIDE_s = 0.055;
const FADE_s = 0.16;
/** Apart-ness at which the faces that bear have gone dark: they bear no more. */
const LIT_UNTIL = 0.12;

const NO_OBSTACLES: readonly Obstacle[] = [];

/** All of it. */
export function Content({
  picture,
  board,
  specs,
  layout,
  places,
  hold,
  aside_px,
  emphasis,
  clear,
  isTight,
  isSoftware,
  turn_rad,
  handle,
  root,
}: Props): ReactNode {
  const { analysis, pivotId, theme, reducedMotion } = picture;
  const pivot = analysis.pivots.find((candidate) => candidate.id === pivotId);
  const invalidate = useThree((state) => state.invalidate);
  const materials = useMaterials(theme);
  const motion = useMemo(() => new Motion(), []);
  const sliders = useMemo(() => new Map<string, Group>(), []);
  const isHeld = useRef(false);
  const isGliding = useRef(false);
  useContext3D(picture.onLost);
  const grab = useGrab({
    pivot,
    layout,
    apart: picture.apart,
    isStepping: picture.places !== undefined,
    onApart: picture.onApart,
    isHeld,
  });
  const hands = useHands(picture, grab, root);
  const scene = useMemo<Scene>(
    () => ({ theme, hasWeights: !isSoftware, materials, motion, sliders, hands }),
    [theme, isSoftware, materials, motion, sliders, hands],
  );
  const anchors = useMemo(() => anchorsOf(analysis.model), [analysis.model]);
  const materialOf = useCallback(
    (item: PlacedItem) => (item.member === undefined ? undefined : analysis.model.members[item.member]?.material),
    [analysis.model],
  );
  const { stand, aim } = useStand(picture, places, clear, hold, aside_px);
  const focus = useFocus(pivot, analysis, places);
  const [cut, faceCut] = useCut(stand, materials, pivot, turn_rad);
  const isGhosting = useFade(pivot !== undefined, reducedMotion, materials);

  const drawn = drawnPivots(analysis, pivotId);
  for (const candidate of drawn) {
    for (const stack of candidate.stacks) {
      for (const item of stack.items)
        motion.aim(
          item.id,
          picture.frame ? (picture.frame.items[item.id]?.z_mm ?? 0) : (places[item.id]?.offset_mm ?? 0),
          reducedMotion || picture.frame !== undefined,
        );
    }
  }
  useFrame(({ camera, size }, delta_s) => {
    materials.pixel.value =
      (2 * Math.tan(((camera as PerspectiveCamera).fov * Math.PI) / 360)) / Math.max(1, size.height);
    const moves = motion.step(Math.min(delta_s, LONGEST_STEP_s), SLIDE_s);
    for (const [id, group] of sliders) group.position.z = motion.at(id);
    if (moves) invalidate();
    if (root.current) root.current.dataset.moving = String(moves || isGliding.current);
  }, -3);
  // Anything that brought us here may have changed the picture; it has settled once a frame says so.
  useEffect(() => {
    if (root.current) root.current.dataset.moving = 'true';
    invalidate();
  });
  useReady(picture.onReady);

  return (
    <SceneContext value={scene}>
      <Counter root={root} />
      <Studio
        theme={theme}
        focus={focus}
        hasShadows
        ground={pivot && picture.view !== 'above' ? groundOf(pivot, focus) : undefined}
      />
      <CameraRig
        stand={stand}
        aim={aim}
        clear={clear}
        isRow={pivot !== undefined}
        isInstant={reducedMotion}
        isHeld={isHeld}
        isGliding={isGliding}
        onStand={picture.onStand}
        onLook={faceCut}
      />
      <Members
        members={analysis.model.members}
        anchors={anchors}
        isGhost={isGhosting}
        pose={picture.pose}
        hidden={picture.hidden}
        moving={picture.frame?.moving}
      />
      {picture.hidden?.has(analysis.model.shock?.body ?? '') !== true && (
        <Shock
          model={analysis.model}
          anchors={anchors}
          isGhost={isGhosting && picture.frame?.moving.includes(analysis.model.shock?.body ?? '') !== true}
          pose={picture.pose}
        />
      )}
      <Obstacles
        obstacles={analysis.model.obstacles ?? NO_OBSTACLES}
        isBikeShown={!isGhosting}
        wheelMotion={picture.pose?.[analysis.model.wheel?.member ?? '']}
        at={picture.frame?.obstacles}
        hidden={picture.hidden}
      />
      {drawn
        .filter(({ id }) => picture.hidden?.has(id) !== true)
        .map((candidate) => (
          <PivotParts
            key={candidate.id}
            pivot={candidate}
            at={picture.pivotPlaces?.[candidate.id]}
            materialOf={materialOf}
            isOpen={candidate === pivot}
            isGhost={isGhosting && candidate !== pivot}
            isCut={picture.cut}
            cutAngle_rad={cut.facing_rad - Math.PI / 2}
            isClamped={picture.places === undefined}
            places={places}
            hold={candidate === pivot ? hold : undefined}
            emphasis={emphasis}
            lit={picture.places === undefined && !picture.cut ? Math.max(0, 1 - picture.apart / LIT_UNTIL) : 0}
            frame={picture.frame}
          />
        ))}
      {picture.frame && (
        <Suspense>
          <BuildTools frame={picture.frame} analysis={analysis} heldId={hold?.id} />
        </Suspense>
      )}
      {pivot && hold && !hold.among && (
        <Hold pivot={pivot} held={hold} materialOf={materialOf} up={frameAxes(stand.direction)[1]} />
      )}
      {pivot && picture.cut && <CutDriver parts={handle} {...handlePlace(pivot, places)} handle_rad={cut.handle_rad} />}
      <LineDriver pivot={pivot} onLine={picture.onLine} />
      <LabelDriver board={board} specs={specs} clear={clear} isTight={isTight && pivot === undefined} />
    </SceneContext>
  );
}

/** How far the unseen bench lies under the widest part, mm. */
const BENCH_mm = 9;

function groundOf(pivot: PivotAnalysis, { at, radius_mm }: Focus): { y_mm: number; at: Place; size_mm: number } {
  return { y_mm: pivot.y_mm - Math.max(...itemsOf(pivot).map(radiusOf)) - BENCH_mm, at, size_mm: 2 * radius_mm };
}

/** What the shadow's frame must hold: the opened pivot as far apart as it is, or all pivots. */
function useFocus(
  pivot: PivotAnalysis | undefined,
  analysis: PictureProps['analysis'],
  places: Readonly<Record<string, ItemPlace>>,
): Focus {
  const [low, high] = pivot ? accessOf(pivot, places) : [0, 0];
  // In whole steps, so that a hand on the slider does not lay a new frame in every picture.
  const reach = 40 * Math.ceil(Math.max(high - low, 60) / 40);
  const middle = 20 * Math.round((low + high) / 40);
  return useMemo(() => {
    if (pivot) return { at: [pivot.x_mm, pivot.y_mm, middle], radius_mm: reach / 2 + 30 };
    const xs = analysis.pivots.map(({ x_mm }) => x_mm);
    const ys = analysis.pivots.map(({ y_mm }) => y_mm);
    const at: Place = [(Math.min(...xs) + Math.max(...xs)) / 2, (Math.min(...ys) + Math.max(...ys)) / 2, 0];
    return { at, radius_mm: Math.min(600, Math.hypot(Math.max(...xs) - at[0], Math.max(...ys) - at[1]) + 160) };
  }, [pivot, analysis, middle, reach]);
}

function useMaterials(theme: PictureProps['theme']): Materials {
  const materials = useMemo(() => new Materials(theme), [theme]);
  useEffect(() => () => materials.dispose(), [materials]);
  return materials;
}

function useHands(
  picture: PictureProps,
  grab: Scene['hands']['grab'],
  root: { readonly current: HTMLElement | null },
): Scene['hands'] {
  const latest = useLatest(picture);
  return useMemo(
    () => ({
      light: (id) => latest.current.onLight(id),
      select: (id) => latest.current.onSelect(id),
      pick: (id) => latest.current.onPivot(id),
      over: (isOver) => root.current?.classList.toggle('is-over', isOver),
      grab,
    }),
    [grab, root],
  );
}

/** Whether the rest of the bike is drawn as a ghost, fading there and back. */
function useFade(isOpen: boolean, isInstant: boolean, materials: Materials): boolean {
  const invalidate = useThree((state) => state.invalidate);
  const fade = useMemo(() => new Motion(0.01), []);
  const [isLingering, setLingering] = useState(isOpen);
  fade.aim('fade', isOpen ? 1 : 0, isInstant);
  useEffect(() => materials.setFade(fade.at('fade')));
  useEffect(() => {
    if (isOpen) setLingering(true);
    else if (isInstant) setLingering(false);
  }, [isOpen, isInstant]);
  useFrame((_, delta_s) => {
    if (fade.isStill()) return;
    if (fade.step(Math.min(delta_s, LONGEST_STEP_s), FADE_s)) invalidate();
    else if (!isOpen) setLingering(false);
    materials.setFade(fade.at('fade'));
  }, -3);
  return isOpen || (isLingering && !isInstant);
}

/** Watches the context: a lost one is asked for again, and what comes back is drawn anew. */
function useContext3D(onLost: () => void): void {
  const canvas = useThree((state) => state.gl.domElement);
  const invalidate = useThree((state) => state.invalidate);
  const lost = useLatest(onLost);
  useEffect(() => {
    const onGone = (event: Event): void => {
      // Without this the browser never gives the context back.
      event.preventDefault();
      lost.current();
    };
    const onBack = (): void => invalidate();
    canvas.addEventListener('webglcontextlost', onGone);
    canvas.addEventListener('webglcontextrestored', onBack);
    return () => {
      canvas.removeEventListener('webglcontextlost', onGone);
      canvas.removeEventListener('webglcontextrestored', onBack);
    };
  }, [canvas, invalidate]);
}

/** Calls once, after the first frame that was really drawn. */
function useReady(onReady: () => void): void {
  const latest = useLatest(onReady);
  const gl = useThree((state) => state.gl);
  useEffect(() => {
    const stop = addAfterEffect(() => {
      if (gl.info.render.frame === 0 || gl.info.render.calls === 0) return;
      stop();
      latest.current();
    });
    return stop;
  }, [gl]);
}
