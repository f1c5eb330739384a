/**
 * What stands behind a torque card's number: every limit of the window, the short form, the wrench and the torque for a
 * wanted clamp. Folded away until it is asked for.
 */
import { useId, useMemo, useState, type ReactNode } from 'react';
import {
  limitsOf,
  torqueStack,
  setUpTorque,
  torqueForClamp,
  wordFriction,
  wordLimit,
  wordShortForm,
  wordTorqueForClamp,
  wordWeakest,
  type Analysis,
  type TorqueCard,
} from '../../shared/index.ts';
import { readTyped } from '../words.ts';
import { WrenchBox } from './WrenchBox.tsx';

interface Props {
  readonly card: TorqueCard;
  readonly analysis: Analysis;
}

export function TorqueMore({ card, analysis }: Props): ReactNode {
  return (
    <div className="stack hair">
      <Fold title="What sets these limits">
        <ul className="limits stack gap-4">
          {limitsOf(card.window).map((limit) => {
            const { title, text } = wordLimit(limit, analysis);
            return (
              <li key={limit.kind}>
                <strong>{title}.</strong> {text} <span className="soft small as-block">{limit.source}</span>
              </li>
            );
          })}
        </ul>
        <p>{wordFriction(card)}</p>
        <p>{wordShortForm(card.shortForm, card.tightening)}</p>
      </Fold>
      <Fold title="Which wrench, and what to set">
        <WrenchBox torque_Nm={card.torque['N·m']} />
      </Fold>
      <Fold title="Torque for a wanted clamp">
        <ClampBox card={card} analysis={analysis} />
      </Fold>
    </div>
  );
}

/** A part that opens when its title is tapped; what is in it is made only then. */
function Fold({ title, children }: { readonly title: string; readonly children: ReactNode }): ReactNode {
  const [isOpen, setOpen] = useState(false);
  return (
    <details className="fold fold-box" onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>{title}</summary>
      {isOpen && <div className="fold-page">{children}</div>}
    </details>
  );
}

function ClampBox({ card, analysis }: Props): ReactNode {
  const [typed, setTyped] = useState(String(Math.round(card.clamp_N / 100) / 10));
  const id = useId();
  const weakest = wordWeakest(card.stackId, analysis);
  const bench = useMemo(
    () => torqueStack(setUpTorque(analysis.resolved, card.pivotId), card.stackId),
    [analysis, card],
  );
  const clamp_kN = readTyped(typed);
  const isGood = clamp_kN !== undefined && Number.isFinite(clamp_kN) && clamp_kN > 0;
  const words = useMemo(
    () => (isGood ? wordTorqueForClamp(torqueForClamp(bench, 1000 * clamp_kN), 1000 * clamp_kN, weakest) : ''),
    [bench, isGood, clamp_kN, weakest],
  );
  return (
    <div className="stack gap-3">
      <label className="field stack gap-1 medium" htmlFor={id}>
        Clamp on the {weakest}, kN
        <input
          id={id}
          className="input numbers strong slim full on-sheet"
          inputMode="decimal"
          value={typed}
          aria-invalid={!isGood}
          onChange={(event) => setTyped(event.target.value)}
        />
      </label>
      <p role="status">{isGood ? words : 'A force above 0, in kN.'}</p>
    </div>
  );
}
