/**
 * What the window gives and the settings ask: layout, theme and size of type, put on the page's root for the styles.
 */
import { useEffect, useLayoutEffect, useState } from 'react';
import { roomFor, type Room } from './room.ts';
import { BIG_WORDS_SCALE } from './settings.ts';
import { useApp } from './store.ts';
import { useMedia } from './useMedia.ts';

/** The theme in force. */
export function useTheme(): 'dark' | 'light' {
  const wanted = useApp((state) => state.settings.theme);
  const isDarkSystem = useMedia('(prefers-color-scheme: dark)');
  return wanted === 'auto' ? (isDarkSystem ? 'dark' : 'light') : wanted;
}

/** The layout in force. */
export function useScreen(): Room {
  const bigWords = useApp((state) => state.settings.bigWords);
  const theme = useTheme();
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

  return room;
}
