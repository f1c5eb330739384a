/**
 * What a ring carries on its surfaces: arrow marks toward its small face, or a double line, and the bands on its faces.
 */
import type { ReactNode } from 'react';
import type { PlacedItem, Polygon } from '../../shared/index.ts';
import { useScene } from './context.ts';
import { profileKey, toGeometry, useGeometry } from './geometry.ts';
import { annulus, arrowMarks, doubleLine, faceBands, PROUD_mm, type FaceBand } from './marks.ts';
import { SIGNAL } from './palette.ts';
import { raycastNothing } from './picking.ts';

interface Props {
  readonly item: PlacedItem;
  readonly isCut: boolean;
}

interface FaceProps extends Props {
  /** Pairs of items that must not touch, as `a b`. */
  readonly rubs: ReadonlySet<string>;
}

/** Arrow marks or the double line, round the outside. */
export function RingMarks({ item, isCut }: Props): ReactNode {
  const solid = item.solids[0];
  return solid ? <Marks polygon={solid.polygon} toward={item.smallFace} isCut={isCut} /> : null;
}

function Marks({ polygon, toward, isCut }: { readonly polygon: Polygon; readonly toward: PlacedItem['smallFace']; readonly isCut: boolean }): ReactNode {
  const { materials } = useScene();
  const geometry = useGeometry(`marks ${toward ?? 'plain'} ${profileKey(polygon)}`, () =>
    toGeometry(toward === undefined ? doubleLine(polygon) : arrowMarks(polygon, toward)),
  );
  return <mesh geometry={geometry} material={materials.flat(SIGNAL.ink, isCut)} raycast={raycastNothing} />;
}

/** The bands on both end faces of an item. An axle or nut shows only where it bears, not where it is open. */
export function FaceMarks({ item, isCut, rubs }: FaceProps): ReactNode {
  return item.solids.flatMap((solid, s) => {
    const bands = [...faceBands(solid.polygon, item.nonDrive, -1), ...faceBands(solid.polygon, item.drive, 1)];
    const shown = item.role === 'ring' ? bands : bands.filter((band) => band.pattern !== 'open');
    return shown.map((band, k) => <Band key={`${s} ${k}`} band={band} isAmiss={rubs.has(`${item.id} ${band.with ?? ''}`)} isCut={isCut} />);
  });
}

/** Width of the rim round a band, and of the lines of an open or double one, mm. */
const RIM_mm = 0.28;

function Band({ band, isAmiss, isCut }: { readonly band: FaceBand; readonly isAmiss: boolean; readonly isCut: boolean }): ReactNode {
  const { materials } = useScene();
  const { pattern, r0_mm, r1_mm } = band;
  const ink = isAmiss ? SIGNAL.trouble : SIGNAL.ink;
  const rim = Math.min(RIM_mm, (r1_mm - r0_mm) / 5);
  const isLines = pattern === 'open' || pattern === 'double';
  return (
    <>
      {pattern !== 'open' && <Annulus band={band} r0={r0_mm} r1={r1_mm} lift={1} material={materials.flat(isLines || pattern === 'filled' ? SIGNAL.plate : ink, isCut)} />}
      {!isLines && <Annulus band={band} r0={r0_mm + rim} r1={r1_mm - rim} lift={2} material={materials.band(pattern, isAmiss, isCut)} />}
      {isLines && (
        <>
          <Annulus band={band} r0={r0_mm} r1={r0_mm + rim * 1.6} lift={2} material={materials.flat(ink, isCut)} />
          <Annulus band={band} r0={r1_mm - rim * 1.6} r1={r1_mm} lift={2} material={materials.flat(ink, isCut)} />
        </>
      )}
    </>
  );
}

interface AnnulusProps {
  readonly band: FaceBand;
  readonly r0: number;
  readonly r1: number;
  readonly lift: number;
  readonly material: ReturnType<ReturnType<typeof useScene>['materials']['flat']>;
}

function Annulus({ band, r0, r1, lift, material }: AnnulusProps): ReactNode {
  const z = band.z_mm + band.sign * PROUD_mm * lift;
  const key = `annulus ${r0.toFixed(3)} ${r1.toFixed(3)} ${z.toFixed(3)} ${band.sign}`;
  const geometry = useGeometry(key, () => toGeometry(annulus(r0, r1, z, band.sign)));
  return <mesh geometry={geometry} material={material} raycast={raycastNothing} />;
}
