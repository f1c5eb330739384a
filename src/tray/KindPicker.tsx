/**
 * The kinds by picture: ten small sections drawn from the same profiles as everything else.
 */
import type { ReactNode } from 'react';
import { drawPart } from '../drawings/part.ts';
import type { Drawing as Drawn } from '../drawings/shapes.ts';
import type { PartKindName } from './tray.ts';
import { KIND_HINTS, KIND_SAMPLES, KINDS } from '../app/trayWords.ts';
import { Drawing } from './Drawing.tsx';

const PICTURES: ReadonlyMap<PartKindName, Drawn> = new Map(
  KINDS.map(({ kind }) => [kind, drawPart({ part: KIND_SAMPLES[kind], scale: 2.25 })]),
);

interface Props {
  readonly onPick: (kind: PartKindName) => void;
  readonly onSkip: () => void;
}

export function KindPicker({ onPick, onSkip }: Props): ReactNode {
  return (
    <div className="kinds">
      <p className="tray-soft">What is it?</p>
      <ul className="kind-list">
        {KINDS.map(({ kind, word }) => (
          <li key={kind}>
            <button type="button" className="kind-button" onClick={() => onPick(kind)}>
              <Drawing drawing={PICTURES.get(kind)!} className="kind-picture" />
              <span className="kind-word">{word}</span>
              <span className="kind-hint">{KIND_HINTS[kind]}</span>
            </button>
          </li>
        ))}
      </ul>
      <button type="button" className="button" onClick={onSkip}>
        I cannot say: measure first
      </button>
    </div>
  );
}
