/**
 * The marks of the picture's buttons, 24 by 24; words stand beside them or are kept for screen readers.
 */
import type { ReactNode } from 'react';
import type { View } from '../page/route.ts';

export function ViewIcon({ name }: { readonly name: View | 'bike' | 'cut' | 'legend' | 'apart' }): ReactNode {
  return (
    <svg className="view-icon icon rigid" viewBox="0 0 24 24" aria-hidden="true">
      {(name === 'drive' || name === 'non-drive') && (
        <text x="12" y="17.5">
          {name === 'drive' ? 'D' : 'N'}
        </text>
      )}
      {name === 'three-quarter' && <path d="m12 3 8 4.5v9L12 21l-8-4.5v-9ZM4 7.5l8 4.5 8-4.5M12 12v9" />}
      {name === 'above' && (
        <path d="M4 8c3.4-4.6 12.6-4.6 16 0-3.4 4.6-12.6 4.6-16 0ZM12 9.4a1.4 1.4 0 1 0 0-2.8a1.4 1.4 0 0 0 0 2.8ZM12 14v2.5M4 20.5h16" />
      )}
      {name === 'bike' && (
        <path d="M5.5 19.5a3.5 3.5 0 1 0 0-7a3.5 3.5 0 0 0 0 7ZM18.5 19.5a3.5 3.5 0 1 0 0-7a3.5 3.5 0 0 0 0 7ZM5.5 16l4-7.5h6l3 7.5M9.5 8.5 12.5 16l3-7.5M8 6h3" />
      )}
      {name === 'cut' && <path d="M4 5h16v14H4ZM4 12h16M7 15l2 4M12 12l4 7M18 12l2 3.5" />}
      {name === 'apart' && <path d="M10 6h4v12h-4ZM7 12H2m3-3-3 3 3 3M17 12h5m-3-3 3 3-3 3" />}
      {name === 'legend' && <path d="M4 6h5v4H4ZM4 14h5v4H4ZM13 8h7M13 16h7" />}
    </svg>
  );
}
