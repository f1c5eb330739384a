/**
 * The card of a mistake that is looked at: what it does, how it feels, what riding would do, and the check that shows
 * it.
 */
import type { ReactNode } from 'react';
import { wordTried, type Analysis } from '../../shared/index.ts';
import type { WhatIf } from './mistakes.ts';
import { VerdictMark } from '../widgets/marks.tsx';
import { FallEntry } from '../travel/TravelBar.tsx';
import { BackToRight } from './WhatIfBanner.tsx';

interface Props {
  readonly whatIf: WhatIf;
  readonly written: Analysis;
}

export function WhatIfCard({ whatIf: { row }, written }: Props): ReactNode {
  const words = wordTried(row, written);
  return (
    <>
      <BackToRight />
      <h2 className="card-title huge">What if: {words.title}</h2>
      <p className="line gap-3 large bold">
        <VerdictMark verdict={row.verdict} /> {words.verdict}
        {row.isSilent && <span className="silent-word usual trouble-words">silent</span>}
      </p>
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
