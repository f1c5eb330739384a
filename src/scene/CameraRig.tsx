/**
 * The camera: orbit by hand, glides to where pivot and view ask it to be, and a hand that always wins.
 *
 * A new pivot or view starts a glide along a sphere round the target; touching the picture ends it where it is. While no
 * hand has moved the camera, it follows the fit as the pivot comes apart. Up stays up.
 */
import { useEffect, useRef, type ReactNode } from 'react';
import { useFrame, useThree } from '@react-three/fiber';
import { OrbitControls } from '@react-three/drei';
import { Spherical, Vector3, type PerspectiveCamera } from 'three';
import type { OrbitControls as Controls } from 'three-stdlib';
import type { Clear } from './board.ts';
import type { Stand } from './fit.ts';
import { ease, LONGEST_STEP_s } from './motion.ts';

interface Props {
  readonly stand: Stand;
  /** Another value asks for a glide; the same one lets the camera follow `stand` unless a hand has moved it. */
  readonly aim: string;
  readonly clear: Clear;
  readonly isInstant: boolean;
  /** True while a hand pulls the pivot apart: the camera keeps still. */
  readonly isHeld: { readonly current: boolean };
  readonly onStand: (side: 'drive' | 'non-drive') => void;
  /** Called in each frame with the direction to the camera. */
  readonly onLook: (direction: Vector3) => void;
  /** Told whether a glide is under way. */
  readonly isGliding: { current: boolean };
}

const GLIDE_s = 0.85;
/** How far over the middle plane one must step to stand on the other side, mm. */
const THRESHOLD_mm = 6;

/** Controls and glides. */
export function CameraRig({ stand, aim, clear, isInstant, isHeld, onStand, onLook, isGliding }: Props): ReactNode {
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

  return (
    <OrbitControls
      ref={controls}
      makeDefault
      enableDamping={!isInstant}
      dampingFactor={0.14}
      rotateSpeed={0.75}
      zoomSpeed={0.9}
      minDistance={60}
      maxDistance={4200}
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
  return distanceTo(controls, pose) < 0.05;
}

/** Near enough to be followed without a glide: the fit moves a little in each frame of a drag on the slider. */
function isNear(controls: Controls, pose: Pose): boolean {
  return distanceTo(controls, pose) < Math.max(12, pose.sphere.radius * 0.06);
}

function distanceTo(controls: Controls, pose: Pose): number {
  const place = new Vector3().setFromSpherical(pose.sphere).add(pose.target);
  return place.distanceTo(controls.object.position) + pose.target.distanceTo(controls.target);
}
