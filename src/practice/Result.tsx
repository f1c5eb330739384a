/**
 * What an answer came to: right or not, in a mark and in words.
 */
import type { ReactNode } from 'react';
import type { Grade } from '../../shared/index.ts';
import { VerdictMark } from '../widgets/marks.tsx';
import { GRADE_WORDS } from './words.ts';

export function Result({
  isRight,
  grade,
}: {
  readonly isRight: boolean;
  readonly grade?: Grade | undefined;
}): ReactNode {
  return (
    <p className="drill-result line gap-3 large bold" role="status">
      <VerdictMark verdict={isRight ? 'sound' : 'faulty'} />
      {isRight ? (grade ? GRADE_WORDS[grade] : 'Right') : 'Not right'}
    </p>
  );
}
