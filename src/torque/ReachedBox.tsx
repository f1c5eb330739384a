/**
 * The torque that was reached, as the mechanic read it, and what it is worth against the setting.
 *
 * It stays in the address, so that whoever takes over sees it.
 */
import { useId, useState, type ReactNode } from 'react';
import { wordFinding, wordTorque, type Analysis, type StackAnalysis } from '../../shared/index.ts';
import { toldOf } from '../page/state.ts';
import { LARGEST_TORQUE_Nm } from '../page/route.ts';
import { act, useApp } from '../page/store.ts';
import { SeverityMark } from '../widgets/marks.tsx';
import { readTyped } from '../words.ts';

interface Props {
  readonly stack: StackAnalysis;
  readonly analysis: Analysis;
}

export function ReachedBox({ stack, analysis }: Props): ReactNode {
  const reached_Nm = useApp((state) => state.reached[stack.id]);
  const [typed, setTyped] = useState(reached_Nm === undefined ? '' : String(reached_Nm));
  const id = useId();
  const value = readTyped(typed);
  const isGood = value === undefined || (value > 0 && value <= LARGEST_TORQUE_Nm);
  const findings = useApp(toldOf)
    ?.pivots.find(({ id: pivotId }) => pivotId === stack.pivotId)
    ?.findings.filter((finding) => finding.stack === stack.id && finding.about?.['rule'] === 'reached');
  const change = (text: string): void => {
    setTyped(text);
    const next = readTyped(text);
    act.setReached(stack.id, next !== undefined && next > 0 && next <= LARGEST_TORQUE_Nm ? next : undefined);
  };
  return (
    <div className="reached stack gap-2">
      <label className="field stack gap-1 medium" htmlFor={id}>
        Torque reached, N·m
        <input
          id={id}
          className="input numbers strong slim full on-sheet"
          inputMode="decimal"
          placeholder="as read off the wrench"
          value={typed}
          aria-invalid={!isGood}
          onChange={(event) => change(event.target.value)}
        />
      </label>
      <div role="status">
        {!isGood && <p>A torque above 0, in N·m.</p>}
        {reached_Nm !== undefined && findings?.length === 0 && (
          <p>
            {wordTorque(reached_Nm)} agrees with the setting. A wrench that clicks shows that it was reached, not that
            it was passed.
          </p>
        )}
        {findings?.map((finding) => (
          <p key={finding.code} className="line gap-3 bold">
            <SeverityMark severity={finding.severity} /> {wordFinding(finding, analysis).title}
          </p>
        ))}
      </div>
    </div>
  );
}
