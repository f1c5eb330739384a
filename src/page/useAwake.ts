/**
 * The screen stays awake while one steps through a build; what the browser made of it is kept for the page to say.
 */
import { useEffect } from 'react';
import { create } from 'zustand';
import { keepAwake, type Awake } from './awake.ts';
import { useApp } from './store.ts';

/** Whether the screen is kept awake. */
export const useAwake = create<{ readonly awake: Awake }>(() => ({ awake: 'off' }));

/** Keep it awake while a step is shown; once for the page. */
export function useKeepAwake(): void {
  const isStepping = useApp((state) => state.step !== undefined && state.place === undefined);
  useEffect(
    () => (isStepping ? keepAwake({ navigator, document }, (awake) => useAwake.setState({ awake })) : undefined),
    [isStepping],
  );
}
