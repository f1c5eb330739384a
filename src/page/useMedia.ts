/**
 * What the system says of the person's screen and wishes, followed as it changes.
 */
import { useEffect, useState } from 'react';

/** Whether the person's system asks for less motion; follows a change of it. */
export function useStillness(): boolean {
  return useMedia('(prefers-reduced-motion: reduce)');
}

/** Whether a media query holds; follows it. */
export function useMedia(query: string): boolean {
  const [holds, setHolds] = useState(() => window.matchMedia(query).matches);
  useEffect(() => {
    const list = window.matchMedia(query);
    const follow = (): void => setHolds(list.matches);
    follow();
    list.addEventListener('change', follow);
    return () => list.removeEventListener('change', follow);
  }, [query]);
  return holds;
}
