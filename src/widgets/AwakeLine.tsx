/**
 * Says whether the screen will stay awake through the steps, also where it will not.
 */
import type { ReactNode } from 'react';
import type { Awake } from '../page/awake.ts';
import { useAwake } from '../page/useAwake.ts';

const WORDS: Readonly<Record<Exclude<Awake, 'off'>, string>> = {
  held: 'The screen stays awake while you step.',
  refused: 'The screen may go dark: the browser will not keep it awake just now, as on a low battery.',
  'not-offered':
    'The screen may go dark: this browser offers no way to keep it awake. Give the screen a longer time-out in the system.',
};

export function AwakeLine(): ReactNode {
  const awake = useAwake((state) => state.awake);
  return awake === 'off' ? null : <p className="awake-line soft small">{WORDS[awake]}</p>;
}
