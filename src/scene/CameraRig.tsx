/**
 * The camera: orbit by hand, glides to where pivot and view ask it to be, and a hand that always wins.
 *
 * A new pivot or view starts a glide along a sphere round the target; touching the picture ends it where it is. While
 * no hand has moved the camera, it follows the fit as the pivot comes apart. Up stays up, and what is looked at stays
 * within reach: nobody gets lost. With the focus on the picture the keys turn, shift and near it.
 */
import { useEffect, useRef, type ReactNode } from 'react';
import { useFrame, useThree } from '@react-three/fiber';
import { OrbitControls } from '@react-three/drei';
import { Spherical, Vector3, type PerspectiveCamera } from 'three';
import type { OrbitControls as Controls } from 'three-stdlib';
import type { Clear } from './board.ts';
import { fieldOfView_deg, frameAxes, type Stand } from './fit.ts';
import { ease, LONGEST_STEP_s } from './motion.ts';

interface Props {
  readonly stand: Stand;
  /** Another value asks for a glide; the same one lets the camera follow `stand` unless a hand has moved it. */
  readonly aim: string;
  readonly clear: Clear;
  /** The row of an opened pivot is looked at, not the whole bike. */
  readonly isRow: boolean;
  readonly isInstant: boolean;
  /** True while a hand pulls the pivot apart: the camera keeps still. */
  readonly isHeld: { readonly current: boolean };
  readonly onStand: (side: 'drive' | 'non-drive') => void;
  /** Called in each frame with the direction to the camera. */
  readonly onLook: (direction: Vector3) => void;
  /** Told whether a glide is under way. */
  readonly isGliding: { current: boolean };
}

/** How far the camera may move away, as a share of the stand's distance. */
const FARTHEST_away = 3.2;
/**
 * How far what is looked at may be shifted along z and across it, as shares of the stand's distance: something stays in
 * sight.
 */
const SHIFT = { row: { along: 0.2, across: 0.08 }, bike: { along: 0.2, across: 0.16 } } as const;
const NEAREST_mm = 120;
const KEY_STEP = { turn_rad: Math.PI / 30, shift: 0.06, zoom: 1.15 } as const;
const GLIDE_s = 0.85;
/** How far over the middle plane one must step to stand on the other side, mm. */
const THRESHOLD_mm = 6;
/** Nearer than this the camera is where it should be, far within a pixel: the picture is the same whichever way led to it, mm. */
const SAME_mm = 1e-3;

/** Controls and glides. */
export function CameraRig({
  stand,
  aim,
  clear,
  isRow,
  isInstant,
  isHeld,
  onStand,
  onLook,
  isGliding,
}: Props): ReactNode {
  const controls = useRef<Controls>(null);
  const camera = useThree((state) => state.camera) as PerspectiveCamera;
  const size = useThree((state) => state.size);
  const invalidate = useThree((state) => state.invalidate);
  const glide = useRef<{ from: Pose; time_s: number } | undefined>(undefined);
  const lastAim = useRef<string | undefined>(undefined);
  const lastFrame = useRef('');
  const isTouched = useRef(false);
  const isMoved = useRef(false);
  const isOurs = useRef(false);
  const side = useRef<'drive' | 'non-drive' | undefined>(undefined);
  const look = useRef(new Vector3());

  useEffect(() => {
    // Lifts the middle of the picture to the middle of what the app leaves clear.
    camera.fov = fieldOfView_deg(size.width / Math.max(1, size.height));
    camera.setViewOffset(size.width, size.height, 0, (clear.bottom - clear.top) / 2, size.width, size.height);
    camera.updateProjectionMatrix();
    invalidate();
  }, [camera, size, clear, invalidate]);

  useFrame((_, delta_s) => {
    const own = controls.current;
    if (!own) return;
    if (lastAim.current !== aim) {
      const isFirst = lastAim.current === undefined;
      lastAim.current = aim;
      isMoved.current = false;
      glide.current = isFirst || isInstant ? undefined : { from: poseOf(own), time_s: 0 };
    }
    const goal: Pose = poseAt(stand);
    const frame = `${size.width} ${size.height} ${clear.top} ${clear.bottom}`;
    const run = glide.current;
    isOurs.current = true;
    if (run) {
      run.time_s += Math.min(delta_s, LONGEST_STEP_s);
      const t = ease(run.time_s / GLIDE_s);
      setPose(own, t >= 1 ? goal : between(run.from, goal, t));
      if (t >= 1) glide.current = undefined;
      invalidate();
    } else if (!isMoved.current && !isTouched.current && !isHeld.current && !isAt(own, goal)) {
      // A picture of another size is a new frame round the same things: nothing to glide for.
      const isReframed = lastFrame.current !== frame;
      if (isInstant || isReframed || isNear(own, goal)) setPose(own, goal);
      else glide.current = { from: poseOf(own), time_s: GLIDE_s * 0.35 };
      invalidate();
    }
    if (!run && isMoved.current) keepNear(own, stand, SHIFT[isRow ? 'row' : 'bike']);
    isOurs.current = false;
    lastFrame.current = frame;
    isGliding.current = glide.current !== undefined;
    onLook(look.current.copy(own.object.position).sub(own.target).normalize());
    const z = own.object.position.z;
    const now = Math.abs(z) < THRESHOLD_mm && side.current ? side.current : z >= 0 ? 'drive' : 'non-drive';
    if (now !== side.current) {
      side.current = now;
      onStand(now);
    }
  }, -2);

  const canvas = useThree((state) => state.gl.domElement);
  useEffect(() => {
    const press = (event: KeyboardEvent): void => {
      const own = controls.current;
      // A click leaves the focus here as well: the keys are the picture's only for who came by keyboard.
      if (!own || event.ctrlKey || event.altKey || event.metaKey || !canvas.matches(':focus-visible')) return;
      const pose = event.key === 'Home' ? undefined : poseByKey(poseOf(own), event.key, event.shiftKey);
      if (!pose && event.key !== 'Home') return;
      event.preventDefault();
      isMoved.current = pose !== undefined;
      glide.current = undefined;
      if (pose) {
        isOurs.current = true;
        setPose(own, pose);
        isOurs.current = false;
      }
      invalidate();
    };
    canvas.addEventListener('keydown', press);
    return () => canvas.removeEventListener('keydown', press);
  }, [canvas, invalidate]);

  return (
    <OrbitControls
      ref={controls}
      makeDefault
      enableDamping={!isInstant}
      dampingFactor={0.14}
      rotateSpeed={0.75}
      zoomSpeed={0.9}
      minDistance={NEAREST_mm}
      maxDistance={stand.distance_mm * FARTHEST_away}
      onStart={() => {
        isTouched.current = true;
      }}
      onEnd={() => {
        isTouched.current = false;
      }}
      onChange={() => {
        if (!isTouched.current || isOurs.current || isHeld.current) return;
        isMoved.current = true;
        glide.current = undefined;
      }}
    />
  );
}

interface Pose {
  readonly target: Vector3;
  readonly sphere: Spherical;
}

function poseOf(controls: Controls): Pose {
  const offset = new Vector3().subVectors(controls.object.position, controls.target);
  return { target: controls.target.clone(), sphere: new Spherical().setFromVector3(offset) };
}

function poseAt(stand: Stand): Pose {
  const sphere = new Spherical().setFromVector3(new Vector3(...stand.direction));
  sphere.radius = stand.distance_mm;
  return { target: new Vector3(...stand.target), sphere };
}

const ARROWS: Readonly<Record<string, readonly [across: number, upward: number]>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, 1],
  ArrowDown: [0, -1],
};
/** Nearest the sight comes to straight up or down, rad. */
const POLE_rad = 0.02;

/** The pose after a key: arrows turn, with Shift they shift, Z nears and X backs away; undefined for any other key. */
function poseByKey({ target, sphere }: Pose, key: string, isShift: boolean): Pose | undefined {
  const zoom = key.toLowerCase() === 'z' ? 1 / KEY_STEP.zoom : key.toLowerCase() === 'x' ? KEY_STEP.zoom : undefined;
  if (zoom !== undefined)
    return { target, sphere: new Spherical(Math.max(NEAREST_mm, sphere.radius * zoom), sphere.phi, sphere.theta) };
  const arrow = ARROWS[key];
  if (!arrow) return undefined;
  if (!isShift) {
    const phi = Math.min(Math.PI - POLE_rad, Math.max(POLE_rad, sphere.phi - arrow[1] * KEY_STEP.turn_rad));
    return { target, sphere: new Spherical(sphere.radius, phi, sphere.theta + arrow[0] * KEY_STEP.turn_rad) };
  }
  const toCamera = new Vector3().setFromSpherical(sphere).normalize();
  const [right, up] = frameAxes([toCamera.x, toCamera.y, toCamera.z]);
  const step = sphere.radius * KEY_STEP.shift;
  return {
    target: target
      .clone()
      .addScaledVector(new Vector3(...right), arrow[0] * step)
      .addScaledVector(new Vector3(...up), arrow[1] * step),
    sphere,
  };
}

/** Brings back what is looked at to within reach of the stand, camera and all. */
function keepNear(
  controls: Controls,
  stand: Stand,
  { along, across }: { readonly along: number; readonly across: number },
): void {
  const off = controls.target.clone().sub(new Vector3(...stand.target));
  const z = Math.max(-along, Math.min(along, off.z / stand.distance_mm)) * stand.distance_mm;
  const share = Math.min(1, (across * stand.distance_mm) / Math.max(1e-9, Math.hypot(off.x, off.y)));
  const back = new Vector3(off.x * share, off.y * share, z).sub(off);
  if (back.length() < 1e-6) return;
  controls.target.add(back);
  controls.object.position.add(back);
  controls.update();
}

function between(a: Pose, b: Pose, t: number): Pose {
  let turn = b.sphere.theta - a.sphere.theta;
  turn -= 2 * Math.PI * Math.round(turn / (2 * Math.PI));
  const radius = Math.exp(Math.log(a.sphere.radius) * (1 - t) + Math.log(b.sphere.radius) * t);
  const phi = a.sphere.phi + (b.sphere.phi - a.sphere.phi) * t;
  return { target: a.target.clone().lerp(b.target, t), sphere: new Spherical(radius, phi, a.sphere.theta + turn * t) };
}

function setPose(controls: Controls, pose: Pose): void {
  controls.target.copy(pose.target);
  controls.object.position.setFromSpherical(pose.sphere).add(pose.target);
  controls.update();
}

function isAt(controls: Controls, pose: Pose): boolean {
  return distanceTo(controls, pose) < SAME_mm;
}

/** Near enough to be followed without a glide: the fit moves a little in each frame of a drag on the slider. */
function isNear(controls: Controls, pose: Pose): boolean {
  return distanceTo(controls, pose) < Math.max(12, pose.sphere.radius * 0.06);
}

function distanceTo(controls: Controls, pose: Pose): number {
  const place = new Vector3().setFromSpherical(pose.sphere).add(pose.target);
  return place.distanceTo(controls.object.position) + pose.target.distanceTo(controls.target);
}
