/**
 * One question with its picture, how to find out, and its answers as large buttons.
 */
import type { ReactNode } from 'react';
import { SIDED, wordFeltQuestion, wordSymptom, type Analysis, type Ask, type FeltAnswer } from '../../shared/index.ts';
import { Pictogram } from './Pictogram.tsx';

interface Props {
  readonly ask: Pick<Ask, 'key' | 'code' | 'at'>;
  readonly analysis: Analysis;
  readonly title: string;
  readonly why?: string;
  /** How to find out, with what must come off. */
  readonly how?: string;
  readonly onAnswer: (answers: readonly FeltAnswer[]) => void;
  readonly onLeave?: () => void;
}

type Choice = readonly [word: string, answers: readonly FeltAnswer[]];

/** Yes, no, cannot say; what may be at one side is said with its side where nothing names it yet. */
function choicesOf({ key, code, at }: Props['ask']): readonly Choice[] {
  const one = (is: FeltAnswer['is']): readonly FeltAnswer[] => [{ key, is }];
  if (!SIDED.includes(code) || at !== undefined)
    return [
      ['Yes', one('yes')],
      ['No', one('no')],
      ['Cannot say', one('unsure')],
    ];
  const side = (name: string): readonly FeltAnswer[] => [{ key: `${code}:${name}`, is: 'yes' }];
  return [
    ['Non-drive side', side('non-drive')],
    ['Drive side', side('drive')],
    ['Yes, side not known', one('yes')],
    ['No', one('no')],
    ['Cannot say', one('unsure')],
  ];
}

export function AskCard({ ask, analysis, title, why, how, onAnswer, onLeave }: Props): ReactNode {
  const words = wordFeltQuestion(ask, analysis);
  const isWhole = SIDED.includes(ask.code) && ask.at === undefined;
  return (
    <section className="felt-ask stack gap-3" aria-label={title}>
      <p className="soft small medium">{title}</p>
      <div className="line gap-4">
        <Pictogram code={ask.code} size="4rem" />
        <h3 className="felt-question large">{isWhole ? `${wordSymptom(ask.code)}: where?` : words.title}</h3>
      </div>
      <p>{how ?? words.text}</p>
      <div className="flow gap-3">
        {choicesOf(ask).map(([word, answers]) => (
          <button
            key={word}
            type="button"
            className="felt-answer button strong no-wrap"
            onClick={() => onAnswer(answers)}
          >
            {word}
          </button>
        ))}
        {onLeave && (
          <button type="button" className="button medium no-wrap" onClick={onLeave}>
            Leave it
          </button>
        )}
      </div>
      {why !== undefined && <p className="soft small">{why}</p>}
    </section>
  );
}
