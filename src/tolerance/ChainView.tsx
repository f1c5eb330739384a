/**
 * One dimension chain: what it adds up to, the sampled gaps as a histogram against the limits at which the joint still
 * clamps, and each dimension's share of the variance.
 */
import type { ReactNode } from 'react';
import {
  wordChain,
  wordDimension,
  wordDimensionLimits,
  type Analysis,
  type ChainReport,
  type ToleranceReport,
} from '../../shared/index.ts';
import { Histogram } from './Histogram.tsx';

interface Props {
  readonly chain: ChainReport;
  readonly report: ToleranceReport;
  readonly analysis: Analysis;
}

export function ChainView({ chain, report, analysis }: Props): ReactNode {
  const { title, text } = wordChain(chain, analysis);
  const sampled = report.sampling.chains.find(({ id }) => id === chain.id);
  const byId = new Map(report.dimensions.map((dimension) => [dimension.id, dimension] as const));
  return (
    <section className="chain stack gap-3">
      <h4>{title}</h4>
      {sampled && <Histogram chain={chain} bins={sampled.bins} />}
      <p>{text}</p>
      <details className="fold fold-box">
        <summary>Whose tolerance it is</summary>
        <ul className="fold-page chain-shares stack gap-3">
          {[...chain.terms]
            .sort((a, b) => b.share - a.share)
            .map(({ dimension, coefficient, share }) => (
              <li key={dimension}>
                <span
                  className="chain-bar as-block"
                  style={{ width: `${Math.max(1, 100 * share).toFixed(1)}%` }}
                  aria-hidden="true"
                />
                <span>
                  {coefficient > 0 ? '+' : '−'} {wordDimension(byId.get(dimension)!, analysis)},{' '}
                  {wordDimensionLimits(byId.get(dimension)!)}: <strong>{Math.round(100 * share)} %</strong>
                </span>
              </li>
            ))}
        </ul>
      </details>
    </section>
  );
}
