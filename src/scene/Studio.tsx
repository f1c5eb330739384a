/**
 * Light: a small photographer's room, baked once into reflections, and two lamps.
 *
 * Nothing is fetched. The room is a dark box with bright panels: long strips give turned metal its highlights, a broad one
 * above shows which way is up. After a lost context the baked room is made again.
 */
import { useEffect, type ReactNode } from 'react';
import { useThree } from '@react-three/fiber';
import { BackSide, BoxGeometry, Color, Mesh, MeshBasicMaterial, PMREMGenerator, Scene } from 'three';
import type { Theme } from './palette.ts';

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

/** Environment and lamps. `generation` rises when the context came back. */
export function Studio({ theme, generation }: { readonly theme: Theme; readonly generation: number }): ReactNode {
  const gl = useThree((state) => state.gl);
  const scene = useThree((state) => state.scene);
  const invalidate = useThree((state) => state.invalidate);
  useEffect(() => {
    const room = makeRoom(theme);
    const generator = new PMREMGenerator(gl);
    const baked = generator.fromScene(room, 0.025);
    scene.environment = baked.texture;
    invalidate();
    generator.dispose();
    room.traverse((part) => {
      if (!(part instanceof Mesh)) return;
      (part.geometry as BoxGeometry).dispose();
      (part.material as MeshBasicMaterial).dispose();
    });
    let isGone = false;
    const onGone = (): void => {
      isGone = true;
    };
    gl.domElement.addEventListener('webglcontextlost', onGone);
    return () => {
      gl.domElement.removeEventListener('webglcontextlost', onGone);
      scene.environment = null;
      // What a lost context held went with it; freeing it again would only raise warnings.
      if (!isGone) baked.dispose();
    };
  }, [gl, scene, invalidate, theme, generation]);
  return (
    <>
      <directionalLight position={[-500, 900, 700]} intensity={theme === 'dark' ? 1.25 : 1.4} />
      <directionalLight position={[-600, 250, -800]} intensity={0.7} color="#dfe9f5" />
    </>
  );
}

function makeRoom(theme: Theme): Scene {
  const room = new Scene();
  const wall = WALL[theme];
  const box = new Mesh(new BoxGeometry(20, 20, 20), new MeshBasicMaterial({ color: new Color(wall, wall, wall * 1.04), side: BackSide }));
  const floor = new Mesh(new BoxGeometry(20, 0.2, 20), new MeshBasicMaterial({ color: new Color(wall * 0.5, wall * 0.49, wall * 0.47) }));
  floor.position.y = -9.5;
  room.add(box, floor);
  for (const { at, size, power } of PANELS) {
    const panel = new Mesh(new BoxGeometry(...size), new MeshBasicMaterial({ color: new Color(power, power, power) }));
    panel.position.set(...at);
    room.add(panel);
  }
  return room;
}
