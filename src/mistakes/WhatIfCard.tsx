/**
 * The card of a build that is looked at instead of the written one: what it does, how it feels, what riding would do,
 * and the check that shows it.
 */
import type { ReactNode } from 'react';
import { wordTried, type Analysis } from '../../shared/index.ts';
import { act } from '../page/store.ts';
import { VerdictMark } from '../widgets/marks.tsx';
import { FallEntry } from '../travel/TravelBar.tsx';
import type { WhatIf } from './mistakes.ts';

interface Props {
  readonly whatIf: WhatIf;
  readonly written: Analysis;
}

export function WhatIfCard({ whatIf, written }: Props): ReactNode {
  const words = wordTried(whatIf.row, written);
  return (
    <>
      <h2 className="card-title large">What if: {words.title}</h2>
      <p className="line gap-3 large bold">
        <VerdictMark verdict={whatIf.row.verdict} /> {words.verdict}
        {whatIf.row.isSilent && <span className="silent-word usual trouble-words">silent</span>}
      </p>
      <button type="button" className="button medium no-wrap" onClick={() => act.setTab('the-row')}>
        Work the row
      </button>
      <WhatIfWords whatIf={whatIf} written={written} />
    </>
  );
}

/** What it does, in words. */
export function WhatIfWords({ whatIf: { row }, written }: Props): ReactNode {
  const words = wordTried(row, written);
  return (
    <>
      <section>
        <h3>What gives it away</h3>
        <p className="callout medium">{words.check}</p>
      </section>
      <section>
        <h3>At the bench</h3>
        <p>{words.bench}</p>
        <FallEntry />
      </section>
      <section>
        <h3>On the trail</h3>
        <p>{words.trail}</p>
        {words.elsewhere !== undefined && <p>{words.elsewhere}</p>}
      </section>
      <section>
        <h3>In numbers</h3>
        <ul className="mistake-does stack gap-2">
          {words.does.map((line) => (
            <li key={line}>{line}</li>
          ))}
        </ul>
      </section>
      <p className="soft">
        The weight of an arm and the friction of its faces are estimates; the clamp, gaps and forces are solved.
      </p>
    </>
  );
}
