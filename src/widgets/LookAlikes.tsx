/**
 * What a part could be taken for, and the numbers that tell them apart.
 */
import type { ReactNode } from 'react';
import { lookAlikes, wordDifference, type LinkageModel } from '../../shared/index.ts';

export function LookAlikes({
  partId,
  parts,
}: {
  readonly partId: string;
  readonly parts: LinkageModel['parts'];
}): ReactNode {
  const list = lookAlikes(parts, partId);
  if (list.length === 0) return null;
  return (
    <section>
      <h3>Not to be taken for</h3>
      <ul className="alikes stack gap-3">
        {list.map(({ id, part, differences }) => (
          <li key={id}>
            <span className="strong">{part.name}</span>
            <span className="numbers">
              {differences.length === 0
                ? 'the file gives no size that tells them apart'
                : differences
                    .map(({ name, mine_mm, other_mm }) => wordDifference({ name, by: mine_mm - other_mm }, part.kind))
                    .join(', ')}
            </span>
          </li>
        ))}
      </ul>
    </section>
  );
}
