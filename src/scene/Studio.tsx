/**
 * Light: a small photographer's room, baked once into reflections, and two lamps, of which one throws shadows.
 *
 * Nothing is fetched. The room is a dark box with bright panels: long strips give turned metal its highlights, a broad
 * one above shows which way is up. After a lost context the baked room is made again. The shadow's frame is laid close
 * round what is looked at, and is drawn anew only when something has moved.
 */
import { useEffect, useMemo, useRef, type ReactNode } from 'react';
import { useThree } from '@react-three/fiber';
import {
  BackSide,
  BoxGeometry,
  Color,
  DirectionalLight,
  Mesh,
  MeshBasicMaterial,
  Object3D,
  PlaneGeometry,
  PMREMGenerator,
  Scene,
  ShadowMaterial,
  type WebGLRenderer,
  type WebGLRenderTarget,
} from 'three';
import { BLACK, LIGHT, type Theme } from '../look.ts';
import { raycastNothing } from './picking.ts';
import type { Place } from './placement.ts';

interface Panel {
  readonly at: readonly [number, number, number];
  readonly size: readonly [number, number, number];
  readonly power: number;
}

const PANELS: readonly Panel[] = [
  { at: [0, 9.5, 0], size: [9, 0.2, 9], power: 4.2 },
  { at: [-9.5, 3, 2], size: [0.2, 8, 2.2], power: 9 },
  { at: [-6, 4, 9.5], size: [4.5, 5, 0.2], power: 4.5 },
  { at: [7, 5, 9], size: [1.6, 8, 0.2], power: 6 },
  { at: [9.5, 2, -3], size: [0.2, 7, 3.5], power: 4 },
  { at: [-4, 5, -9.5], size: [7, 2.6, 0.2], power: 5 },
];
const WALL: Readonly<Record<Theme, number>> = { dark: 0.42, light: 0.8 };

/** What the shadow's frame holds: a sphere of the bike, mm. */
export interface Focus {
  readonly at: Place;
  readonly radius_mm: number;
}

interface Props {
  readonly theme: Theme;
  /** Rises when the context came back. */
  readonly generation: number;
  readonly focus: Focus;
  readonly hasShadows: boolean;
  /** Height of the bench under an opened pivot, mm, and where it reaches; nothing is thrown on it otherwise. */
  readonly ground?: { readonly y_mm: number; readonly at: Place; readonly size_mm: number } | undefined;
}

/** From where the lamp shines that throws shadows: above, behind, from the drive side. */
const KEY_LIGHT: Place = [-0.38, 0.82, 0.43];
const SHADOW_PIXELS = 2048;

/** Environment and lamps. */
export function Studio({ theme, generation, focus, hasShadows, ground }: Props): ReactNode {
  const invalidate = useThree((state) => state.invalidate);
  useEnvironment(theme, generation);
  const lamp = useMemo(() => {
    const light = new DirectionalLight(LIGHT.key);
    light.target = new Object3D();
    light.shadow.mapSize.set(SHADOW_PIXELS, SHADOW_PIXELS);
    light.shadow.radius = 7;
    light.shadow.blurSamples = 14;
    light.shadow.bias = -0.0004;
    light.shadow.intensity = 0.62;
    return light;
  }, []);
  useEffect(() => () => lamp.dispose(), [lamp]);
  const canvas = useThree((state) => state.gl.domElement);
  useEffect(() => {
    const forget = (): void => {
      // They went with the context; three would free them once more, which only raises warnings.
      lamp.shadow.map = null;
      lamp.shadow.mapPass = null;
    };
    canvas.addEventListener('webglcontextlost', forget);
    return () => canvas.removeEventListener('webglcontextlost', forget);
  }, [lamp, canvas]);
  useEffect(() => {
    const { at, radius_mm } = focus;
    const away = radius_mm * 3;
    lamp.target.position.set(...at);
    lamp.position.set(at[0] + KEY_LIGHT[0] * away, at[1] + KEY_LIGHT[1] * away, at[2] + KEY_LIGHT[2] * away);
    lamp.target.updateMatrixWorld();
    const { camera } = lamp.shadow;
    camera.left = camera.bottom = -radius_mm;
    camera.right = camera.top = radius_mm;
    camera.near = radius_mm;
    camera.far = radius_mm * 5;
    camera.updateProjectionMatrix();
    invalidate();
  }, [lamp, focus, invalidate]);
  useEffect(() => {
    lamp.castShadow = hasShadows;
    lamp.intensity = theme === 'dark' ? 1.7 : 1.8;
    invalidate();
  }, [lamp, hasShadows, theme, invalidate]);
  return (
    <>
      <primitive object={lamp} />
      {ground && hasShadows && <Ground theme={theme} {...ground} />}
      <directionalLight position={[-600, 250, -800]} intensity={0.6} color={LIGHT.fill} />
    </>
  );
}

/** What catches the soft shadow of an opened pivot: an unseen bench under it. */
function Ground({
  theme,
  y_mm,
  at,
  size_mm,
}: {
  readonly theme: Theme;
  readonly y_mm: number;
  readonly at: Place;
  readonly size_mm: number;
}): ReactNode {
  const geometry = useMemo(() => new PlaneGeometry(1, 1), []);
  const material = useMemo(() => new ShadowMaterial({ color: BLACK, transparent: true, depthWrite: false }), []);
  useEffect(() => () => geometry.dispose(), [geometry]);
  useEffect(() => () => material.dispose(), [material]);
  material.opacity = theme === 'dark' ? 0.45 : 0.2;
  return (
    <mesh
      geometry={geometry}
      material={material}
      position={[at[0], y_mm, at[2]]}
      rotation={[-Math.PI / 2, 0, 0]}
      scale={[size_mm, size_mm, 1]}
      renderOrder={-1}
      receiveShadow
      raycast={raycastNothing}
    />
  );
}

/** The room of either theme is baked when it is first asked for, and kept: a change of theme and back bakes nothing. */
function useEnvironment(theme: Theme, generation: number): void {
  const gl = useThree((state) => state.gl);
  const scene = useThree((state) => state.scene);
  const invalidate = useThree((state) => state.invalidate);
  const rooms = useRef(new Map<Theme, WebGLRenderTarget>());
  useEffect(() => {
    const baked = rooms.current;
    const onGone = (): void => baked.clear();
    gl.domElement.addEventListener('webglcontextlost', onGone);
    return () => {
      gl.domElement.removeEventListener('webglcontextlost', onGone);
      scene.environment = null;
      // What a lost context held went with it; freeing it again would only raise warnings.
      for (const room of baked.values()) room.dispose();
      baked.clear();
    };
  }, [gl, scene, generation]);
  useEffect(() => {
    const baked = rooms.current.get(theme) ?? bake(gl, theme);
    rooms.current.set(theme, baked);
    scene.environment = baked.texture;
    invalidate();
  }, [gl, scene, invalidate, theme, generation]);
}

function bake(gl: WebGLRenderer, theme: Theme): WebGLRenderTarget {
  const room = makeRoom(theme);
  const generator = new PMREMGenerator(gl);
  const baked = generator.fromScene(room, 0.025);
  generator.dispose();
  room.traverse((part) => {
    if (!(part instanceof Mesh)) return;
    (part.geometry as BoxGeometry).dispose();
    (part.material as MeshBasicMaterial).dispose();
  });
  return baked;
}

function makeRoom(theme: Theme): Scene {
  const room = new Scene();
  const wall = WALL[theme];
  const box = new Mesh(
    new BoxGeometry(20, 20, 20),
    new MeshBasicMaterial({ color: new Color(wall, wall, wall * 1.04), side: BackSide }),
  );
  const floor = new Mesh(
    new BoxGeometry(20, 0.2, 20),
    new MeshBasicMaterial({ color: new Color(wall * 0.5, wall * 0.49, wall * 0.47) }),
  );
  floor.position.y = -9.5;
  room.add(box, floor);
  for (const { at, size, power } of PANELS) {
    const panel = new Mesh(new BoxGeometry(...size), new MeshBasicMaterial({ color: new Color(power, power, power) }));
    panel.position.set(...at);
    room.add(panel);
  }
  return room;
}
