/**
 * Why something stands where it does, folded away until asked for.
 */
import type { ReactNode } from 'react';
import { wordBecause, type Analysis, type Because } from '../../shared/index.ts';

interface Props {
  readonly because: readonly Because[];
  readonly analysis: Analysis;
  /** The task the reasons are about. */
  readonly title?: string;
  /** Unfolded from the start. */
  readonly isOpen?: boolean;
}

export function BecauseFold({ because, analysis, title = 'Why here', isOpen = false }: Props): ReactNode {
  if (because.length === 0) return null;
  return (
    <details className="fold plan-fold" open={isOpen || undefined}>
      <summary>
        {title}
        <span className="plan-fold-count soft">{because.length}</span>
      </summary>
      <BecauseList because={because} analysis={analysis} />
    </details>
  );
}

/** The reasons as sentences, each once. */
export function BecauseList({ because, analysis }: Omit<Props, 'title' | 'isOpen'>): ReactNode {
  const sentences = [...new Set(because.map((one) => wordBecause(one, analysis)))];
  return (
    <ul className="plan-because stack gap-2">
      {sentences.map((sentence) => (
        <li key={sentence}>{sentence}</li>
      ))}
    </ul>
  );
}
