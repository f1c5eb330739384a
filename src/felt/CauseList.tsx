/**
 * What it may be, the likeliest first: a bar and its words, what to do, and the way to its picture.
 */
import { useState, type ReactNode } from 'react';
import { wordCause, wordRemedy, type Analysis, type Cause, type Diagnosis } from '../../shared/index.ts';
import { goToPart, goToPivot } from '../page/go.ts';
import { act } from '../page/store.ts';

const SHOWN = 5;
const MORE = 20;

interface Props {
  readonly found: Diagnosis;
  readonly pivotId: string;
  readonly analysis: Analysis;
}

export function CauseList({ found, pivotId, analysis }: Props): ReactNode {
  const [isLong, setLong] = useState(false);
  const shown = found.causes.slice(0, isLong ? MORE : SHOWN);
  const rest = found.causes.slice(shown.length).reduce((sum, { probability }) => sum + probability, 0);
  return (
    <>
      <ol className="stack gap-3">
        {shown.map(({ cause, probability }) => (
          <li key={`${cause.pivot} ${cause.id}`} className="felt-cause stack gap-1">
            <div className="line gap-3">
              <strong>{wordCause(cause, pivotId, analysis)}</strong>
              <span className="end numbers no-wrap">{percentOf(probability)}</span>
            </div>
            <div className="felt-bar" aria-hidden="true">
              <div className="felt-fill" style={{ width: `${100 * probability}%` }} />
            </div>
            <p className="small">{wordRemedy(cause)}</p>
            <Picture cause={cause} />
          </li>
        ))}
      </ol>
      <p className="soft small numbers">
        {percentOf(rest)} for {found.causes.length - shown.length} others together.
      </p>
      <button type="button" className="felt-way button medium no-wrap" onClick={() => setLong(!isLong)}>
        {isLong ? 'Show fewer' : 'Show more'}
      </button>
    </>
  );
}

/** To the picture of the cause: the mistake built, to be held against the right build, or the part itself. */
function Picture({ cause }: { readonly cause: Cause }): ReactNode {
  const { mistake, pivot, isStuck } = cause;
  const [slot] = mistake?.slots ?? [];
  const item = cause.item ?? (slot && `${slot.stack}/${slot.row}`) ?? (cause.stack && `${cause.stack}/axle`);
  if (item === undefined) return null;
  const isShown = mistake !== undefined && isStuck !== true;
  return (
    <>
      {isStuck && <p className="soft small">It does not go together like that: there is no build to show.</p>}
      <button
        type="button"
        className="felt-way button button-small medium no-wrap"
        onClick={() => {
          if (!isShown) return goToPart(pivot, item);
          goToPivot(pivot);
          act.tryWhatIf(mistake.id);
        }}
      >
        {isShown ? 'Picture before and after' : 'Show the part'}
      </button>
    </>
  );
}

function percentOf(probability: number): string {
  return probability < 0.01 ? 'under 1 %' : `${Math.round(100 * probability)} %`;
}
