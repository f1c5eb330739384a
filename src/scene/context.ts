/**
 * What every part of the picture needs and none of them owns: materials, motion, the cut, and what a hand may do.
 */
import { createContext, useContext } from 'react';
import type { Group } from 'three';
import type { ThreeEvent } from '@react-three/fiber';
import type { Materials } from './materials.ts';
import type { Motion } from './motion.ts';
import type { Theme } from '../look.ts';

/** What a hand on the picture does. The functions keep their identity. */
export interface Hands {
  readonly light: (id?: string) => void;
  readonly select: (id?: string) => void;
  readonly pick: (pivotId: string) => void;
  /** The mouse is over something that can be pressed. */
  readonly over: (isOver: boolean) => void;
  /** A finger or the mouse went down on a part: a drag along the axis may follow. */
  readonly grab: (id: string, event: ThreeEvent<PointerEvent>) => void;
}

/** Shared by everything inside the canvas. */
export interface Scene {
  readonly theme: Theme;
  /** A graphics card draws: lines have weights of their own. */
  readonly hasWeights: boolean;
  readonly materials: Materials;
  readonly motion: Motion;
  /** Groups that slide along the axis, by item id. */
  readonly sliders: Map<string, Group>;
  readonly hands: Hands;
}

/** Provided by `Content`. */
export const SceneContext = createContext<Scene | undefined>(undefined);

/** The scene around a component. */
export function useScene(): Scene {
  const scene = useContext(SceneContext);
  if (!scene) throw new Error('scene: a part of the picture stands outside the picture');
  return scene;
}
