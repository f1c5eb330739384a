/**
 * The kinds by picture: small sections drawn from the same profiles as everything else.
 */
import type { ReactNode } from 'react';
import { capital, kindOf, PART_KINDS, wordKind } from '../../shared/index.ts';
import { drawPart } from '../drawings/part.ts';
import type { PartKindName } from './tray.ts';
import { Drawing } from '../widgets/Drawing.tsx';

const KINDS = PART_KINDS.map((kind) => {
  const { hint, sample } = kindOf({ kind });
  return { kind, word: capital(wordKind(kind)), hint, drawing: drawPart({ part: sample, scale: 2.25 }) };
});

interface Props {
  readonly onPick: (kind: PartKindName) => void;
  readonly onSkip: () => void;
}

export function KindPicker({ onPick, onSkip }: Props): ReactNode {
  return (
    <div className="kinds stack gap-3 from-start">
      <p className="soft">What is it?</p>
      <ul className="kind-list stack gap-2 full">
        {KINDS.map(({ kind, word, hint, drawing }) => (
          <li key={kind}>
            <button type="button" className="kind-button edged warms stack snug full" onClick={() => onPick(kind)}>
              <Drawing drawing={drawing} className="kind-picture" />
              <span className="bold">{word}</span>
              <span className="kind-hint soft">{hint}</span>
            </button>
          </li>
        ))}
      </ul>
      <button type="button" className="button medium no-wrap" onClick={onSkip}>
        I cannot say: measure first
      </button>
    </div>
  );
}
