/**
 * What a hand has set on the stage alone: which side comes apart. It is no place of the work and stands in no address.
 */
import { create } from 'zustand';
import type { ApartOf } from '../../shared/index.ts';

interface StageHand {
  readonly apartOf: ApartOf;
  readonly pull: (apartOf: ApartOf) => void;
}

/** The store of it. */
export const useStageHand = create<StageHand>()((set) => ({
  apartOf: 'both',
  pull: (apartOf) => set({ apartOf }),
}));
