/**
 * An address as a square of dots, for a camera to read: dark on white in either theme, with the quiet edge it needs.
 */
import { useMemo, type ReactNode } from 'react';
import { encode } from 'uqr';

/** Free modules round the code that a reader needs: four, ISO/IEC 18004. */
const QUIET = 4;

export function Qr({ address }: { readonly address: string }): ReactNode {
  const code = useMemo(() => {
    const { data, size } = encode(address, { ecc: 'M', border: QUIET });
    const dots = data.flatMap((row, y) => row.flatMap((isDark, x) => (isDark ? [`M${x} ${y}h1v1h-1z`] : [])));
    return { size, dots: dots.join('') };
  }, [address]);
  return (
    <svg
      className="qr on-paper"
      viewBox={`0 0 ${code.size} ${code.size}`}
      role="img"
      aria-label="The link as a code for a camera"
      shapeRendering="crispEdges"
    >
      <path className="qr-dots" d={code.dots} />
    </svg>
  );
}
