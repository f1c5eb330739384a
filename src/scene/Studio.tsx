/**
 * The lamp that throws shadows, and the bench they fall on. What metal mirrors is worked out in the shader
 * (`studio.ts`).
 *
 * The shadow's frame is laid close round what is looked at, and is drawn anew only when something has moved.
 */
import { useEffect, useMemo, type ReactNode } from 'react';
import { useThree } from '@react-three/fiber';
import { DirectionalLight, Object3D, PlaneGeometry, ShadowMaterial } from 'three';
import { BLACK, LIGHT, type Theme } from '../look.ts';
import { raycastNothing } from './picking.ts';
import type { Place } from './placement.ts';

/** What the shadow's frame holds: a sphere of the bike, mm. */
export interface Focus {
  readonly at: Place;
  readonly radius_mm: number;
}

interface Props {
  readonly theme: Theme;
  readonly focus: Focus;
  readonly hasShadows: boolean;
  /** Height of the bench under an opened pivot, mm, and where it reaches; nothing is thrown on it otherwise. */
  readonly ground?: { readonly y_mm: number; readonly at: Place; readonly size_mm: number } | undefined;
}

/** From where the lamp shines that throws shadows: above, behind, from the drive side. */
const KEY_LIGHT: Place = [-0.38, 0.82, 0.43];
const SHADOW_PIXELS = 2048;

/** Lamp and bench. */
export function Studio({ theme, focus, hasShadows, ground }: Props): ReactNode {
  const invalidate = useThree((state) => state.invalidate);
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
