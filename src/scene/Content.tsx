/**
 * The picture inside the canvas: what stands where, how it stands out, where the camera goes.
 *
 * A pure function of the stage's props once motion has settled; in between, offsets and ghosts are on their way there.
 */
import { useCallback, useEffect, useMemo, useRef, useState, type ReactNode } from 'react';
import { addAfterEffect, useFrame, useThree } from '@react-three/fiber';
import type { Group, Vector3 } from 'three';
import type { Obstacle } from '../../shared/index.ts';
import type { Board, Clear } from './board.ts';
import { CameraRig } from './CameraRig.tsx';
import { SceneContext, type Scene } from './context.ts';
import { fitStand, isWide, overviewDirection, pivotDirection, type Stand } from './fit.ts';
import type { LabelSpec } from './labels.ts';
import { LabelDriver } from './LabelDriver.tsx';
import { Materials } from './materials.ts';
import { Members } from './Members.tsx';
import { LONGEST_STEP_s, Motion } from './motion.ts';
import type { Emphasis } from './emphasis.ts';
import { PivotParts } from './PivotParts.tsx';
import { anchorsOf, cornersOf, drawnPivots, type ItemPlace } from './placement.ts';
import type { StageProps } from './props.ts';
import { Studio } from './Studio.tsx';
import { Obstacles, Shock } from './Surroundings.tsx';
import { useGrab } from './useGrab.ts';

interface Props {
  readonly stage: StageProps;
  readonly board: Board;
  readonly specs: readonly LabelSpec[];
  readonly places: Readonly<Record<string, ItemPlace>>;
  readonly emphasis: Emphasis;
  readonly clear: Clear;
  readonly isTight: boolean;
  readonly root: { readonly current: HTMLElement | null };
}

/** Field of view upward, degrees: a long lens, as in a manual. */
export const FIELD_OF_VIEW_deg = 26;
const SLIDE_s = 0.055;
const FADE_s = 0.16;
/** Height kept free over and under an opened pivot for its labels, px. */
const LABEL_ROOM_px = 62;
/** Width kept free on each side of the whole linkage for the pivots' names, px. */
const CALLOUT_ROOM_px = 190;

const NO_OBSTACLES: readonly Obstacle[] = [];

/** All of it. */
export function Content({ stage, board, specs, places, emphasis, clear, isTight, root }: Props): ReactNode {
  const { analysis, pivotId, theme, reducedMotion } = stage;
  const pivot = analysis.pivots.find((candidate) => candidate.id === pivotId);
  const invalidate = useThree((state) => state.invalidate);
  const materials = useMaterials(theme);
  const motion = useMemo(() => new Motion(), []);
  const sliders = useMemo(() => new Map<string, Group>(), []);
  const isHeld = useRef(false);
  const isGliding = useRef(false);
  const generation = useContext3D(stage.onLost);
  const grab = useGrab({ pivot, apart: stage.apart, isStepping: stage.places !== undefined, onApart: stage.onApart, isHeld });
  const hands = useHands(stage, grab, root);
  const scene = useMemo<Scene>(() => ({ theme, materials, motion, sliders, hands }), [theme, materials, motion, sliders, hands]);
  const anchors = useMemo(() => anchorsOf(analysis.model), [analysis.model]);
  const { stand, aim } = useStand(stage, places, clear);
  const [cutAngle, faceCut] = useCutAngle(stand, materials, pivot);
  const isGhosting = useFade(pivot !== undefined, reducedMotion, materials);

  const { beside } = stage;
  const drawn = [...drawnPivots(analysis, pivotId), ...(beside ? [beside] : [])];
  for (const candidate of drawn) {
    for (const stack of candidate.stacks) {
      for (const item of stack.items) motion.aim(item.id, places[item.id]?.offset_mm ?? 0, reducedMotion);
    }
  }
  useFrame((_, delta_s) => {
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
  useReady(stage.onReady);

  return (
    <SceneContext value={scene}>
      <Studio theme={theme} generation={generation} />
      <CameraRig stand={stand} aim={aim} clear={clear} isInstant={reducedMotion} isHeld={isHeld} isGliding={isGliding} onStand={stage.onStand} onLook={faceCut} />
      <Members members={analysis.model.members} anchors={anchors} isGhost={isGhosting} pose={stage.pose} hidden={stage.hidden} />
      {stage.hidden?.has(analysis.model.shock?.body ?? '') !== true && <Shock model={analysis.model} anchors={anchors} isGhost={isGhosting} pose={stage.pose} />}
      <Obstacles obstacles={analysis.model.obstacles ?? NO_OBSTACLES} isBikeShown={!isGhosting} wheelMotion={stage.pose?.[analysis.model.wheel?.member ?? '']} />
      {drawn.filter(({ id }) => stage.hidden?.has(id) !== true).map((candidate) => (
        <PivotParts
          key={candidate.id}
          pivot={candidate}
          at={stage.pivotPlaces?.[candidate.id]}
          members={analysis.model.members}
          isOpen={candidate === pivot}
          isGhost={isGhosting && candidate !== pivot && candidate !== beside}
          isBeside={candidate === beside}
          isCut={stage.cut}
          cutAngle_rad={cutAngle}
          places={places}
          emphasis={emphasis}
        />
      ))}
      <LabelDriver board={board} specs={specs} clear={clear} isTight={isTight && pivot === undefined} />
    </SceneContext>
  );
}

function useMaterials(theme: StageProps['theme']): Materials {
  const materials = useMemo(() => new Materials(theme), [theme]);
  useEffect(() => () => materials.dispose(), [materials]);
  return materials;
}

function useHands(stage: StageProps, grab: Scene['hands']['grab'], root: { readonly current: HTMLElement | null }): Scene['hands'] {
  const latest = useRef(stage);
  useEffect(() => {
    latest.current = stage;
  });
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

/** Where the camera should stand, and the key whose change is worth a glide. */
function useStand(stage: StageProps, places: Readonly<Record<string, ItemPlace>>, clear: Clear): { stand: Stand; aim: string } {
  const { width, height } = useThree((state) => state.size);
  const { analysis, pivotId, beside, sweep, view } = stage;
  const aspect = width / Math.max(1, height);
  const wide = isWide(aspect);
  const stand = useMemo(() => {
    const pivot = analysis.pivots.find((candidate) => candidate.id === pivotId);
    const points = pivot ? [...cornersOf(pivot, places), ...(beside ? cornersOf(beside, places) : [])] : [...analysis.pivots.flatMap((candidate) => cornersOf(candidate, {})), ...(sweep ?? [])];
    const direction = pivot ? pivotDirection(view, aspect) : overviewDirection(view);
    const room = pivot ? Math.min(beside ? LABEL_ROOM_px / 4 : LABEL_ROOM_px, height * 0.16 + 10) : Math.min(wide ? 40 : 110, height * (wide ? 0.08 : 0.17));
    const margin = {
      across: pivot ? (wide ? 0.1 : 0.16) : wide ? Math.min(0.5, (2 * CALLOUT_ROOM_px) / Math.max(1, width)) : 0.2,
      upward: Math.min(0.75, (clear.top + clear.bottom + 2 * room) / Math.max(1, height)),
    };
    return fitStand(points, direction, FIELD_OF_VIEW_deg, aspect, margin);
  }, [analysis, pivotId, beside, sweep, view, places, aspect, wide, width, height, clear]);
  return { stand, aim: `${analysis.model.id} ${pivotId ?? ''} ${beside?.id ?? ''} ${view} ${wide} ${sweep !== undefined} ${stage.glide ?? 0}` };
}

/** How far from face-on the cut may be seen before it turns to face the viewer again. */
const FACING_LIMIT = Math.cos((72 * Math.PI) / 180);

/** The angle of the section about the axis; its open side faces the viewer. */
function useCutAngle(stand: Stand, materials: Materials, pivot: { readonly x_mm: number; readonly y_mm: number } | undefined): [number, (look: Vector3) => void] {
  const wanted = Math.atan2(stand.direction[1], stand.direction[0]);
  const [turned, setTurned] = useState<{ from: number; facing: number } | undefined>(undefined);
  const facing = turned && turned.from === wanted ? turned.facing : wanted;
  const x = pivot?.x_mm ?? 0;
  const y = pivot?.y_mm ?? 0;
  // Materials hold the plane itself: moving it is enough.
  materials.plane.normal.set(-Math.cos(facing), -Math.sin(facing), 0);
  materials.plane.constant = Math.cos(facing) * x + Math.sin(facing) * y;
  const faceCut = useCallback(
    (look: Vector3) => {
      const across = Math.hypot(look.x, look.y);
      if (across < 0.25) return;
      const cosine = (look.x * Math.cos(facing) + look.y * Math.sin(facing)) / across;
      if (cosine < FACING_LIMIT) setTurned({ from: wanted, facing: Math.atan2(look.y, look.x) });
    },
    [facing, wanted],
  );
  return [facing - Math.PI / 2, faceCut];
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

/** Watches the context; the number rises when it came back and baked things must be made again. */
function useContext3D(onLost: () => void): number {
  const canvas = useThree((state) => state.gl.domElement);
  const invalidate = useThree((state) => state.invalidate);
  const [generation, setGeneration] = useState(0);
  const lost = useRef(onLost);
  useEffect(() => {
    lost.current = onLost;
  });
  useEffect(() => {
    const onGone = (event: Event): void => {
      // Without this the browser never gives the context back.
      event.preventDefault();
      lost.current();
    };
    const onBack = (): void => {
      setGeneration((count) => count + 1);
      invalidate();
    };
    canvas.addEventListener('webglcontextlost', onGone);
    canvas.addEventListener('webglcontextrestored', onBack);
    return () => {
      canvas.removeEventListener('webglcontextlost', onGone);
      canvas.removeEventListener('webglcontextrestored', onBack);
    };
  }, [canvas, invalidate]);
  return generation;
}

/** Calls once, after the first frame that was really drawn. */
function useReady(onReady: () => void): void {
  const latest = useRef(onReady);
  const gl = useThree((state) => state.gl);
  useEffect(() => {
    latest.current = onReady;
  });
  useEffect(() => {
    const stop = addAfterEffect(() => {
      if (gl.info.render.frame === 0 || gl.info.render.calls === 0) return;
      stop();
      latest.current();
    });
    return stop;
  }, [gl]);
}
