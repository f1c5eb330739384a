/**
 * The axle as the picture shows it while one looks square to it; nothing otherwise. It follows the picture, and stands
 * in no address.
 */
import { create } from 'zustand';
import type { SeenLine } from '../scene/props.ts';

interface Line {
  readonly line: SeenLine | undefined;
  readonly see: (line: SeenLine | undefined) => void;
}

export const useLine = create<Line>()((set) => ({ line: undefined, see: (line) => set({ line }) }));
