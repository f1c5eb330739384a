/**
 * What a part could be taken for, and the numbers that tell them apart.
 */
import type { ReactNode } from 'react';
import type { Analysis } from '../../shared/index.ts';
import { differenceWords } from '../app/figures.ts';
import { lookAlikes, type Difference } from '../app/lookAlikes.ts';

export function LookAlikes({ partId, analysis }: { readonly partId: string; readonly analysis: Analysis }): ReactNode {
  const list = lookAlikes(analysis.model, partId);
  if (list.length === 0) return null;
  return (
    <section>
      <h3>Not to be taken for</h3>
      <ul className="alikes">
        {list.map((other) => (
          <li key={other.part}>
            <span className="alike-name">{other.name}</span>
            <span className="alike-words">
              {other.differences.length === 0
                ? 'the file gives no size that tells them apart'
                : other.differences.map(words).join(', ')}
            </span>
          </li>
        ))}
      </ul>
    </section>
  );
}

function words({ size, mine_mm, other_mm }: Difference): string {
  const by_mm = other_mm - mine_mm;
  switch (size) {
    case 'length':
      return differenceWords(by_mm, 'longer', 'shorter');
    case 'width':
      return differenceWords(by_mm, 'wider', 'narrower');
    case 'outside':
      return differenceWords(by_mm, 'larger outside', 'smaller outside');
    case 'thread':
      return differenceWords(by_mm, 'more thread', 'less thread');
    case 'shank':
      return differenceWords(by_mm, 'thicker shank', 'thinner shank');
    default:
      return differenceWords(by_mm, `larger ${size}`, `smaller ${size}`);
  }
}
