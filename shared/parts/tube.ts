/**
 * A plain tube, whatever it is for: its sizes under the calliper, its profile, and what contradicts itself.
 */
import { tubePolygon } from '../profile/polygon.ts';
import { noMore, within, type Contradiction } from './contradictions.ts';
import { ASSUMED, type AssumedSizes, type PartEntry } from './entry.ts';
import { across, along, keyed, type Wear } from './sizes.ts';
import type { MaterialKey } from '../standards/materials.ts';

/** What a plain tube is given by. */
export interface Tube {
  readonly outside_mm: number;
  readonly bore_mm: number;
  readonly length_mm: number;
  readonly length_tol_mm?: number | undefined;
  readonly chamfer_mm?: number | undefined;
  readonly material: MaterialKey;
}

type TubeEntry<P> = Pick<PartEntry<P>, 'sizes' | 'told' | 'fitting_mm' | 'profile' | 'check' | 'planes'>;

/** What an entry of a tube says; `bore` how its bore wears, where it does. */
export function tube<P extends Tube>(bore?: Wear): TubeEntry<P> {
  return {
    sizes: {
      outside_mm: keyed<P, 'outside_mm'>('outside_mm', {
        place: (part) => across('outside-jaws', part.outside_mm, part.length_mm / 2),
      }),
      bore_mm: keyed<P, 'bore_mm'>('bore_mm', {
        ...(bore ? { wears: bore } : {}),
        place: (part) => across('inside-jaws', part.bore_mm, 0),
      }),
      length_mm: keyed<P, 'length_mm'>('length_mm', {
        place: (part) => along('outside-jaws', (part.outside_mm + part.bore_mm) / 4, 0, part.length_mm),
      }),
    },
    told: ['bore_mm', 'outside_mm', 'length_mm'],
    fitting_mm: (part) => part.bore_mm,
    profile: (part, assumed: AssumedSizes = ASSUMED) => {
      const edge = part.chamfer_mm ?? Math.min(assumed.edge_mm, wall_mm(part) / 4, part.length_mm / 5);
      const polygon = tubePolygon(part.bore_mm / 2, part.outside_mm / 2, 0, part.length_mm, {
        inner: edge,
        outer: edge,
      });
      return {
        solids: [{ role: 'body', material: part.material, polygon }],
        from_mm: 0,
        to_mm: part.length_mm,
        hasTwoWays: false,
      };
    },
    check: (part): Contradiction[] => [
      ...within(['bore_mm', part.bore_mm], ['outside_mm', part.outside_mm]),
      ...noMore(['chamfer_mm', part.chamfer_mm ?? 0], Math.max(0, wall_mm(part) / 2), 'half the wall'),
    ],
    planes: (part) => [{ id: 'length', kind: 'length', z_mm: part.length_mm, tol_mm: part.length_tol_mm }],
  };
}

function wall_mm({ outside_mm, bore_mm }: Tube): number {
  return (outside_mm - bore_mm) / 2;
}
