/**
 * The stage: the 3D picture of the linkage with its labels. Loaded lazily; three lives only in this folder.
 *
 * Draws on demand alone: no frame while nothing changes. The canvas is clear, the ground of the stage is CSS, the labels
 * are HTML above it.
 */
import { useEffect, useMemo, useRef, useState, type ReactNode } from 'react';
import { Canvas } from '@react-three/fiber';
import { NeutralToneMapping } from 'three';
import { Board, type Clear } from './board.ts';
import { Content, FIELD_OF_VIEW_deg } from './Content.tsx';
import { readGpu } from './gpu.ts';
import { NAMED_FROM, partLabels, pivotLabels, sideLabels, type LabelSpec } from './labels.ts';
import { Labels } from './Labels.tsx';
import { STAGE } from './palette.ts';
import type { Emphasis } from './emphasis.ts';
import { cornersOf, itemsOf, placeBeside, placeItems, radiusOf, reachOf, rubbingPairs, troubledItems, type ItemPlace } from './placement.ts';
import type { StageProps } from './props.ts';
import { Sharpener } from './Sharpener.tsx';
import './scene.css';

export type { StageProps } from './props.ts';

/** How far out the side markers of the whole bike are aimed, mm: enough for their direction to be plain. */
const OVERVIEW_REACH_mm = 220;
const NOWHERE: Readonly<Record<string, ItemPlace>> = {};
const NONE: ReadonlySet<string> = new Set();
/** Height of the app's own controls over and under the picture, px; narrow stages stack two rows below. */
const CONTROLS_px = { top: 52, bottom: 56, bottomNarrow: 62, narrow: 640 } as const;
/** Narrower than this the labels of a travel are the angles alone, px. */
const BRIEF_px = 900;

/** The 3D picture. */
export default function Stage(props: StageProps): ReactNode {
  const gpu = readGpu();
  const { onLost } = props;
  useEffect(() => {
    if (!gpu.hasWebGL) onLost();
  }, [gpu, onLost]);
  return gpu.hasWebGL ? <Picture stage={props} isSoftware={gpu.isSoftware} /> : null;
}

function Picture({ stage, isSoftware }: { readonly stage: StageProps; readonly isSoftware: boolean }): ReactNode {
  const { analysis, pivotId, beside, apart, places: stepPlaces, theme, litId, selectedId, activeIds, pivotPlaces, pivotWords, hidden } = stage;
  const root = useRef<HTMLDivElement>(null);
  const board = useMemo(() => new Board(), []);
  const { clear, width, height } = useClear(root);
  // Angles alone are short: they fit where names do not.
  const isBrief = pivotWords !== undefined && width < BRIEF_px;
  const room = isBrief ? 'narrow' : roomFor(analysis.pivots.length, width, height);
  const pivot = analysis.pivots.find((candidate) => candidate.id === pivotId);
  const places = useMemo(() => (pivot ? { ...placeItems(pivot, apart, stepPlaces), ...(beside ? placeBeside(beside, apart) : {}) } : NOWHERE), [pivot, beside, apart, stepPlaces]);
  const troubled = useMemo(() => troubledItems(analysis), [analysis]);
  const active = useMemo(() => new Set(activeIds), [activeIds]);
  const rubs = useMemo(() => rubbingPairs(analysis), [analysis]);
  const emphasis = useMemo<Emphasis>(() => ({ litId, selectedId, active, troubled, rubs }), [litId, selectedId, active, troubled, rubs]);
  const specs = useMemo((): LabelSpec[] => {
    if (!pivot) return [...pivotLabels(analysis, { pivotPlaces, pivotWords, hidden, isBrief }), ...overviewSides(analysis)];
    const isNamed = !beside && (apart > NAMED_FROM || stepPlaces !== undefined);
    const [from, to] = reachOf(pivot, places);
    // Names would lie over the row beside: there only what is pointed at is named.
    return [...partLabels(pivot, places, isNamed, beside ? { ...emphasis, troubled: NONE, active: NONE } : emphasis), ...sideLabels(pivot.x_mm, pivot.y_mm, [from, to], endRadius(pivot))];
  }, [analysis, pivot, beside, places, apart, stepPlaces, emphasis, pivotPlaces, pivotWords, hidden, isBrief]);

  return (
    <div ref={root} className="scene" data-theme={theme} data-room={room} style={{ background: ground(theme) }}>
      <Canvas
        frameloop="demand"
        dpr={isSoftware ? 1 : [1, 2]}
        gl={{ antialias: !isSoftware, alpha: true, powerPreference: 'high-performance' }}
        camera={{ fov: FIELD_OF_VIEW_deg, near: 12, far: 9000, position: [-500, 400, 900] }}
        onCreated={({ gl }) => {
          gl.localClippingEnabled = true;
          gl.toneMapping = NeutralToneMapping;
        }}
        onPointerMissed={(event) => {
          if (event.type === 'click') stage.onSelect(undefined);
        }}
      >
        <Content stage={stage} board={board} specs={specs} places={places} emphasis={emphasis} clear={clear} isTight={room === 'tight'} root={root} />
        {isSoftware && <Sharpener />}
      </Canvas>
      <Labels board={board} specs={specs} onPivot={stage.onPivot} onSelect={stage.onSelect} onLight={stage.onLight} />
    </div>
  );
}

/** `narrow` sets small names above and below the linkage; `tight` has no room for names: the dots alone are pressed. */
function roomFor(names: number, width: number, height: number): 'wide' | 'narrow' | 'tight' {
  if (width >= CONTROLS_px.narrow) return height < 60 + 26 * names ? 'tight' : 'wide';
  return height < 220 + 26 * names ? 'tight' : 'narrow';
}

function ground(theme: StageProps['theme']): string {
  const { inner, outer } = STAGE[theme];
  return `radial-gradient(ellipse 75% 80% at 50% 46%, ${inner}, ${outer})`;
}

/** The side markers of the whole bike: under it, to the left and right of everything. */
function overviewSides(analysis: StageProps['analysis']): LabelSpec[] {
  const corners = analysis.pivots.flatMap((pivot) => cornersOf(pivot, NOWHERE));
  if (corners.length === 0) return [];
  const span = (k: 0 | 1 | 2): [number, number] => [Math.min(...corners.map((c) => c[k])), Math.max(...corners.map((c) => c[k]))];
  const [x0, x1] = span(0);
  const [y0] = span(1);
  const [z0, z1] = span(2);
  return sideLabels((x0 + x1) / 2, y0, [z0 - OVERVIEW_REACH_mm, z1 + OVERVIEW_REACH_mm], 0);
}

/** Of the widest part of a pivot, mm: a side marker must clear the parts behind the last one, too. */
function endRadius(pivot: StageProps['analysis']['pivots'][number]): number {
  return Math.max(6, ...itemsOf(pivot).map(radiusOf));
}

/** What the app's controls cover, taken back where the stage is low. */
function useClear(root: { readonly current: HTMLElement | null }): { clear: Clear; width: number; height: number } {
  const [size, setSize] = useState({ width: 0, height: 0 });
  useEffect(() => {
    const element = root.current;
    if (!element) return undefined;
    const watch = new ResizeObserver(() => setSize({ width: element.clientWidth, height: element.clientHeight }));
    watch.observe(element);
    return () => watch.disconnect();
  }, [root]);
  return useMemo(() => {
    const most = size.height * 0.2;
    const bottom = size.width > 0 && size.width < CONTROLS_px.narrow ? CONTROLS_px.bottomNarrow : CONTROLS_px.bottom;
    return { clear: { top: Math.min(CONTROLS_px.top, most), bottom: Math.min(bottom, most) }, ...size };
  }, [size]);
}
