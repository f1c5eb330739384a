/**
 * What the window gives and the settings ask: layout, theme and size of type, put on the page's root for the styles.
 */
import { useEffect, useLayoutEffect, useState } from 'react';
import { roomFor, type Room } from './room.ts';
import { BIG_WORDS_SCALE } from './settings.ts';
import { useApp } from './store.ts';
import { useMedia } from './useGlide.ts';

/** The layout and theme in force. */
export function useScreen(): { readonly room: Room; readonly theme: 'dark' | 'light' } {
  const { theme: wanted, bigWords } = useApp((state) => state.settings);
  const isDarkSystem = useMedia('(prefers-color-scheme: dark)');
  const theme = wanted === 'auto' ? (isDarkSystem ? 'dark' : 'light') : wanted;
  const scale = bigWords ? BIG_WORDS_SCALE : 1;
  const [room, setRoom] = useState<Room>(() => roomFor(window.innerWidth, window.innerHeight, scale));

  useEffect(() => {
    const measure = (): void => setRoom(roomFor(window.innerWidth, window.innerHeight, scale));
    measure();
    window.addEventListener('resize', measure);
    return () => window.removeEventListener('resize', measure);
  }, [scale]);

  useLayoutEffect(() => {
    const { dataset } = document.documentElement;
    dataset.theme = theme;
    dataset.room = room;
    dataset.words = bigWords ? 'big' : 'usual';
  }, [theme, room, bigWords]);

  return { room, theme };
}
