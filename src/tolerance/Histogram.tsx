/**
 * The sampled gaps of a chain: a bar a bin, by what its sets do, between the limits at which the joint still clamps.
 *
 * Drawn at the size it has on the page, so that its type stays readable; patterns tell the classes apart beside colour.
 */
import { useId, useRef, type ReactNode } from 'react';
import { SET_CLASSES, figure, wordSetClass, type Bin, type ChainReport } from '../../shared/index.ts';
import { layAxis, layBars } from './histogram.ts';
import { useSize } from '../widgets/useSize.ts';

const [HEIGHT_px, TOP_px, FOOT_px] = [150, 26, 48];
/** Room the words at a limit take at the usual size of type. */
const LABEL_px = 132;

interface Props {
  readonly chain: ChainReport;
  readonly bins: readonly Bin[];
}

export function Histogram({ chain, bins }: Props): ReactNode {
  const frame = useRef<HTMLDivElement>(null);
  const { width_px, typeScale } = useSize(frame);
  return (
    <div className="histogram slim clip" ref={frame}>
      {width_px > 0 && <Drawing chain={chain} bins={bins} width_px={width_px} scale={typeScale} />}
    </div>
  );
}

const withMinus = (value_mm: number): string => figure(value_mm).replace('-', '−');

function Drawing({
  chain,
  bins,
  width_px,
  scale,
}: Props & { readonly width_px: number; readonly scale: number }): ReactNode {
  const pattern = useId();
  const { sum, limits } = chain;
  // The room on a thread has one limit: nothing.
  const [low, high] = chain.kind === 'room' ? [0, undefined] : [limits?.low_mm, limits?.high_mm];
  const seen = [low, high, sum.worstLow_mm, sum.worstHigh_mm].flatMap((value) => (value === undefined ? [] : [value]));
  const axis = layAxis(bins, seen, width_px);
  const [top, foot] = [TOP_px * scale, FOOT_px * scale];
  const height = top + HEIGHT_px + foot;
  const ground = top + HEIGHT_px;
  const bars = layBars(bins, axis, HEIGHT_px);
  // Bars as thin as a hair stand without a gap, or they would look like a comb.
  const gap = (bars[0]?.width_px ?? 0) < 5 ? 0 : 1;
  return (
    <svg
      width={width_px}
      height={height}
      viewBox={`0 0 ${width_px} ${height}`}
      role="img"
      aria-label={spoken(chain, bins, low, high)}
      style={{ fontSize: 14 * scale }}
    >
      <defs>
        <pattern
          id={`${pattern}-pinches`}
          width="7"
          height="7"
          patternUnits="userSpaceOnUse"
          patternTransform="rotate(45)"
        >
          <rect width="7" height="7" className="hist-pinch-field" />
          <path d="M0 0V7" className="hist-pinch-line" />
        </pattern>
        <pattern id={`${pattern}-plays`} width="7" height="7" patternUnits="userSpaceOnUse">
          <rect width="7" height="7" className="hist-play-field" />
          <circle cx="3.5" cy="3.5" r="1.8" className="hist-play-dot" />
        </pattern>
      </defs>
      {low !== undefined && (
        <rect x="0" y={top} width={Math.max(0, axis.at(low))} height={HEIGHT_px} className="hist-beyond" />
      )}
      {high !== undefined && (
        <rect
          x={axis.at(high)}
          y={top}
          width={Math.max(0, width_px - axis.at(high))}
          height={HEIGHT_px}
          className="hist-beyond"
        />
      )}
      {bars.flatMap((bar, k) =>
        bar.stacks.map((stack) => (
          <rect
            key={`${k} ${stack.class}`}
            x={bar.x_px + gap / 2}
            y={ground - stack.from_px - stack.height_px}
            width={Math.max(1, bar.width_px - gap)}
            height={stack.height_px}
            className={`hist-${stack.class}`}
            fill={stack.class === 'clamps' ? undefined : `url(#${pattern}-${stack.class})`}
          />
        )),
      )}
      <path d={`M0 ${ground}H${width_px}`} className="hist-axis" />
      {axis.ticks.map((tick) => (
        <g key={tick}>
          <path d={`M${axis.at(tick)} ${ground}v5`} className="hist-axis" />
          <text x={axis.at(tick)} y={ground + 5 + 14 * scale} textAnchor="middle" className="hist-words numbers">
            {withMinus(tick)}
          </text>
        </g>
      ))}
      <text x={width_px} y={ground + 10 + 28 * scale} textAnchor="end" className="hist-words numbers">
        {chain.kind === 'room' ? 'room left on the thread, mm' : 'gap of the column, mm'}
      </text>
      {low !== undefined && (
        <Limit
          at_px={axis.at(low)}
          words={`clamps from ${withMinus(low)}`}
          top={top}
          ground={ground}
          side={axis.at(low) > LABEL_px * scale ? 'left' : 'right'}
        />
      )}
      {high !== undefined && (
        <Limit
          at_px={axis.at(high)}
          words={`to ${withMinus(high)}`}
          top={top}
          ground={ground}
          side={width_px - axis.at(high) > LABEL_px * scale ? 'right' : 'left'}
        />
      )}
    </svg>
  );
}

interface LimitProps {
  readonly at_px: number;
  readonly words: string;
  readonly top: number;
  readonly ground: number;
  /** The side of the line on which there is room for the words. */
  readonly side: 'left' | 'right';
}

function Limit({ at_px, words, top, ground, side }: LimitProps): ReactNode {
  return (
    <g>
      <path d={`M${at_px} ${top - 22}V${ground}`} className="hist-limit" />
      <text
        x={at_px + (side === 'left' ? -6 : 6)}
        y={top - 8}
        textAnchor={side === 'left' ? 'end' : 'start'}
        className="hist-words numbers bold"
      >
        {words}
      </text>
    </g>
  );
}

/** The histogram for an ear. */
function spoken(
  { kind, sum }: ChainReport,
  bins: readonly Bin[],
  low: number | undefined,
  high: number | undefined,
): string {
  const counts = SET_CLASSES.map(
    (name) => `${bins.reduce((total, bin) => total + bin.counts[name], 0)} ${wordSetClass(name)}`,
  ).join(', ');
  const limits = [
    low === undefined ? '' : `from ${withMinus(low)} mm`,
    high === undefined ? '' : `to ${withMinus(high)} mm`,
  ]
    .filter((word) => word !== '')
    .join(' ');
  return `Histogram of the ${kind === 'room' ? 'room left on the thread' : 'gap'}: middle ${withMinus(sum.mean_mm)} mm, nearly all within ${withMinus(sum.rss_mm)} mm of it; clamps ${limits === '' ? 'throughout' : limits}; ${counts}.`;
}
