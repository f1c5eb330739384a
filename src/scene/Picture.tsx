/**
 * The picture: the 3D picture of the linkage with its labels. Loaded lazily; three lives only in this folder.
 *
 * Draws on demand alone: no frame while nothing changes. The canvas is clear, the ground of the picture is CSS, the
 * labels are HTML above it.
 */
import { useCallback, useEffect, useLayoutEffect, useMemo, useRef, useState, type ReactNode } from 'react';
import { NeutralToneMapping } from 'three';
import type { PivotAnalysis, PlacedItem } from '../../shared/index.ts';
import { layoutFor } from './apart.ts';
import { Board, type Clear } from './board.ts';
import { framed, labelled } from './build.ts';
import { Canvas } from './Canvas.tsx';
import { Content } from './Content.tsx';
import { CutHandle, type HandleParts } from './CutHandle.tsx';
import type { Frame } from './fit.ts';
import { readGpu } from './gpu.ts';
import { heldFrom, heldStand, withHeld } from './hold.ts';
import { hasInset } from './inset.ts';
import { Inset } from './Inset.tsx';
import { partLabels, pivotLabels, sideLabels, type LabelSpec } from './labels.ts';
import { Labels } from './Labels.tsx';
import { Pace } from './Pace.tsx';
import { PICTURE } from '../look.ts';
import {
  cornersOf,
  itemsOf,
  placeItems,
  radiusOf,
  accessOf,
  rubbingPairs,
  troubledItems,
  type ItemPlace,
  type Layout,
} from './placement.ts';
import type { Emphasis, PictureProps } from './props.ts';
import './scene.css';

export type { PictureProps } from './props.ts';

/** How far out the side markers of the whole bike are aimed, mm: enough for their direction to be plain. */
const OVERVIEW_REACH_mm = 220;
const NOWHERE: Readonly<Record<string, ItemPlace>> = {};
const NO_LAYOUT: Layout = {};
/**
 * Height of the app's own controls over and under the picture, px at the usual size of words; narrow pictures stack two
 * rows below.
 */
const CONTROLS_px = { top: 52, bottom: 56, bottomNarrow: 62, narrow: 640 } as const;
/** Taken for the picture's size until it has been measured. */
const UNMEASURED_px = { width: 960, height: 540 } as const;
/** Narrower than this the labels of a travel are the angles alone, px. */
const BRIEF_px = 900;

/** The 3D picture. */
export default function Picture(props: PictureProps): ReactNode {
  const gpu = readGpu();
  const { onLost } = props;
  useEffect(() => {
    if (!gpu.hasWebGL) onLost();
  }, [gpu, onLost]);
  return gpu.hasWebGL ? <Drawn picture={framed(props)} isSoftware={gpu.isSoftware} /> : null;
}

function Drawn({ picture, isSoftware }: { readonly picture: PictureProps; readonly isSoftware: boolean }): ReactNode {
  const {
    analysis,
    pivotId,
    apart,
    apartOf = 'both',
    view,
    places: stepPlaces,
    inHand,
    theme,
    litId,
    selectedId,
    activeIds,
    pivotPlaces,
    pivotWords,
    hidden,
    faulty,
  } = picture;
  const root = useRef<HTMLDivElement>(null);
  const board = useMemo(() => new Board(), []);
  const [turn, setTurn] = useTurn(`${analysis.model.id} ${pivotId ?? ''}`);
  const [isClose, setClose] = useState(false);
  const handle: HandleParts = { button: useRef<HTMLDivElement>(null), line: useRef<SVGLineElement>(null) };
  const { clear, width, height } = useClear(root);
  // Angles alone are short: they fit where names do not.
  const isBrief = pivotWords !== undefined && width < BRIEF_px;
  const room = isBrief ? 'narrow' : roomFor(analysis.pivots.length, width, height);
  const pivot = analysis.pivots.find((candidate) => candidate.id === pivotId);
  const frame = useMemo<Frame>(
    () => ({
      width: width || UNMEASURED_px.width,
      height: height || UNMEASURED_px.height,
      clear,
    }),
    [width, height, clear],
  );
  const layout = useMemo(
    () => (pivot ? layoutFor(pivot, view, frame, apartOf) : NO_LAYOUT),
    [pivot, view, frame, apartOf],
  );
  const hand = stepPlaces ? inHand : undefined;
  const places = useMemo(() => {
    if (!pivot) return NOWHERE;
    return withHeld(pivot, hand, placeItems(pivot, layout, apart, stepPlaces));
  }, [pivot, hand, layout, apart, stepPlaces]);
  const set = pivot && hand?.from ? itemsOf(pivot).find(({ id }) => id === hand.id) : undefined;
  // A narrow picture has a button at its lower left.
  const isSmall = width < CONTROLS_px.narrow;
  const among = hand?.among;
  // Where the step is shown moving: what is on once it is done, so that nothing changes over on the way.
  const standing = useMemo(
    () => (pivot && among ? placeItems(pivot, layout, 1, among) : places),
    [pivot, among, layout, places],
  );
  const setSide = !isSmall && set && pivot && isOnRight(set, pivot, standing) ? 'left' : 'right';
  const aside_px = set ? insetWidth_px(width) * (setSide === 'left' ? 1 : -1) : 0;
  const hold = useMemo(
    () => pivot && hand && heldFrom(pivot, hand, standing, heldStand(pivot, hand, standing, view, frame, aside_px)),
    [pivot, hand, standing, view, frame, aside_px],
  );
  const troubled = useMemo(() => troubledItems(analysis), [analysis]);
  const active = useMemo(() => new Set(activeIds), [activeIds]);
  const rubs = useMemo(() => rubbingPairs(analysis), [analysis]);
  const emphasis = useMemo<Emphasis>(
    () => ({ litId, selectedId, heldId: hand?.id, active, troubled, rubs }),
    [litId, selectedId, hand, active, troubled, rubs],
  );
  const specs = useMemo((): LabelSpec[] => {
    if (!pivot)
      return [
        ...pivotLabels(analysis, { pivotPlaces, pivotWords, hidden, faulty, isBrief }),
        ...overviewSides(analysis),
      ];
    const [from, to] = accessOf(pivot, places);
    return [
      ...partLabels(pivot, places, emphasis),
      ...sideLabels(pivot.x_mm, pivot.y_mm, [from, to], endRadius(pivot)),
    ];
  }, [analysis, pivot, places, emphasis, pivotPlaces, pivotWords, hidden, faulty, isBrief]);

  const shown = useMemo(() => {
    // Beside an inset on a narrow picture there is room for one name.
    const isOnly = isSmall && hand !== undefined;
    return labelled(picture.frame, isOnly ? specs.filter(({ kind, id }) => kind !== 'part' || id === hand.id) : specs);
  }, [picture.frame, specs, isSmall, hand]);
  const picked = pivot ? itemsOf(pivot).find((item) => item.id === selectedId && hasInset(item)) : undefined;
  // The one part a step sets is shown as it will bear: on the bike it stands inside the parts around it.
  const held = picked ?? set;
  const insetSide = held === set ? setSide : held && pivot && isOnRight(held, pivot, places) ? 'left' : 'right';
  return (
    <div
      ref={root}
      className="scene over clip"
      data-theme={theme}
      data-room={room}
      style={{ background: ground(theme) }}
    >
      <Canvas
        dpr={isSoftware ? 1 : [1, 2]}
        isAntialiased={!isSoftware}
        onCreated={({ gl }) => {
          gl.localClippingEnabled = true;
          gl.toneMapping = NeutralToneMapping;
        }}
        onMissed={(event) => {
          if (event.type === 'click') picture.onSelect(undefined);
        }}
      >
        <Content
          picture={picture}
          board={board}
          specs={shown}
          layout={layout}
          places={places}
          hold={hold}
          aside_px={hold ? aside_px : 0}
          emphasis={emphasis}
          clear={clear}
          isTight={room === 'tight'}
          isSoftware={isSoftware}
          turn_rad={turn}
          handle={handle}
          root={root}
        />
        <Pace isSoftware={isSoftware} root={root} />
      </Canvas>
      {picked && (
        <button
          ref={board.keep('closer')}
          type="button"
          className={`scene-closer line beside-${insetSide} ${(insetSide === 'right') === (view === 'non-drive') ? 'is-high' : 'is-low'}`}
          aria-pressed={isClose}
          onClick={() => setClose(!isClose)}
        >
          <svg viewBox="0 0 24 24" aria-hidden="true">
            <path d="M10 3a7 7 0 1 0 0 14a7 7 0 0 0 0-14Zm5 12 6 6M7 10h6m-3-3v6" />
          </svg>
          <span>Closer</span>
        </button>
      )}
      {pivot && picture.cut && <CutHandle parts={handle} board={board} turn_rad={turn} onTurn={setTurn} />}
      <Labels
        board={board}
        specs={shown}
        onPivot={picture.onPivot}
        onSelect={picture.onSelect}
        onLight={picture.onLight}
      />
      {held && pivot && (isClose || !picked) && (
        <Inset
          board={board}
          analysis={analysis}
          pivot={pivot}
          item={held}
          side={insetSide}
          isSmall={isSmall && held === set}
          isHeld={held === set}
        />
      )}
    </div>
  );
}

/** Width of the inset with the air beside it, as its style has it, px. */
const insetWidth_px = (width: number): number => Math.min(304, width * (width < CONTROLS_px.narrow ? 0.47 : 0.44)) + 12;

/** Whether a part stands in the drive half of its pivot, which lies on the right on a wide picture. */
function isOnRight(item: PlacedItem, pivot: PivotAnalysis, places: Readonly<Record<string, ItemPlace>>): boolean {
  const [low, high] = accessOf(pivot, NOWHERE);
  return item.from_mm + item.to_mm + 2 * (places[item.id]?.offset_mm ?? 0) > low + high;
}

/** How far a hand has rolled the cut of a pivot, rad; another pivot is cut facing the viewer again. */
function useTurn(of: string): [number, (turn_rad: number) => void] {
  const [turn, setTurn] = useState({ of, turn_rad: 0 });
  const roll = useCallback((turn_rad: number) => setTurn({ of, turn_rad }), [of]);
  return [turn.of === of ? turn.turn_rad : 0, roll];
}

/** `narrow` sets small names above and below the linkage; `tight` has no room for names: the dots alone are pressed. */
function roomFor(names: number, width: number, height: number): 'wide' | 'narrow' | 'tight' {
  if (width >= CONTROLS_px.narrow) return height < 60 + 26 * names ? 'tight' : 'wide';
  return height < 220 + 26 * names ? 'tight' : 'narrow';
}

function ground(theme: PictureProps['theme']): string {
  const { inner, outer } = PICTURE[theme];
  return `radial-gradient(ellipse 75% 80% at 50% 46%, ${inner}, ${outer})`;
}

/** The side markers of the whole bike: under it, to the left and right of everything. */
function overviewSides(analysis: PictureProps['analysis']): LabelSpec[] {
  const corners = analysis.pivots.flatMap((pivot) => cornersOf(pivot, NOWHERE));
  if (corners.length === 0) return [];
  const span = (k: 0 | 1 | 2): [number, number] => [
    Math.min(...corners.map((c) => c[k])),
    Math.max(...corners.map((c) => c[k])),
  ];
  const [x0, x1] = span(0);
  const [y0] = span(1);
  const [z0, z1] = span(2);
  return sideLabels((x0 + x1) / 2, y0, [z0 - OVERVIEW_REACH_mm, z1 + OVERVIEW_REACH_mm], 0);
}

/** Of the widest part of a pivot, mm: a side marker must clear the parts behind the last one, too. */
function endRadius(pivot: PictureProps['analysis']['pivots'][number]): number {
  return Math.max(6, ...itemsOf(pivot).map(radiusOf));
}

/** What the app's controls cover, taken back where the picture is low. */
function useClear(root: { readonly current: HTMLElement | null }): { clear: Clear; width: number; height: number } {
  const [{ scale, ...size }, setSize] = useState({ width: 0, height: 0, scale: 1 });
  // Before anything is drawn: the first picture stands where the later ones do.
  useLayoutEffect(() => {
    const element = root.current;
    if (!element) return undefined;
    const page = document.documentElement;
    // A picture that is hidden for a while keeps the size it had.
    const measure = (): void => {
      const next = {
        width: element.clientWidth,
        height: element.clientHeight,
        scale: parseFloat(getComputedStyle(page).fontSize) / 16,
      };
      if (next.width > 0)
        setSize((now) =>
          now.width === next.width && now.height === next.height && now.scale === next.scale ? now : next,
        );
    };
    measure();
    const watch = new ResizeObserver(measure);
    watch.observe(element);
    const words = new MutationObserver(measure);
    words.observe(page, { attributeFilter: ['data-words'] });
    return () => {
      watch.disconnect();
      words.disconnect();
    };
  }, [root]);
  const { width, height } = size;
  return useMemo(() => {
    const most = height * (scale > 1 ? 0.3 : 0.2);
    const bottom = width > 0 && width < CONTROLS_px.narrow ? CONTROLS_px.bottomNarrow : CONTROLS_px.bottom;
    return {
      clear: { top: Math.min(CONTROLS_px.top * scale, most), bottom: Math.min(bottom * scale, most) },
      width,
      height,
    };
  }, [width, height, scale]);
}
