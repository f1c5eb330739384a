/**
 * Which torque wrench to take and what to set it to, with an adapter at any angle drawn as it would sit.
 *
 * What was typed is remembered from pivot to pivot: a mechanic has one wrench in hand.
 */
import { useId, useState, type ReactNode } from 'react';
import {
  adviseWrench,
  wordAdapter,
  wordChoice,
  wordOtherUnits,
  wordTake,
  wordTorque,
  type WrenchAdvice,
} from '../../shared/index.ts';
import { readTyped } from '../words.ts';

interface Typed {
  readonly hasAdapter: boolean;
  readonly length: string;
  readonly adapter: string;
  readonly angle_deg: number;
}

let last: Typed = { hasAdapter: false, length: '300', adapter: '40', angle_deg: 0 };

export function WrenchBox({ torque_Nm }: { readonly torque_Nm: number }): ReactNode {
  const [typed, setTyped] = useState(last);
  const angleId = useId();
  const change = (part: Partial<Typed>): void => {
    last = { ...typed, ...part };
    setTyped(last);
  };
  const advice = adviceFor(torque_Nm, typed);
  return (
    <div className="stack gap-3">
      <label className="choice">
        <input
          type="checkbox"
          checked={typed.hasAdapter}
          onChange={(event) => change({ hasAdapter: event.target.checked })}
        />
        An adapter moves the drive
      </label>
      {typed.hasAdapter && (
        <>
          <div className="fields stack gap-3">
            <Length word="Grip mark to drive, mm" value={typed.length} onChange={(length) => change({ length })} />
            <Length word="Drive to bolt, mm" value={typed.adapter} onChange={(adapter) => change({ adapter })} />
          </div>
          <label className="field stack gap-1 medium" htmlFor={angleId}>
            Adapter stands {typed.angle_deg}° from straight ahead
          </label>
          <input
            id={angleId}
            className="range full"
            type="range"
            min={0}
            max={180}
            step={5}
            value={typed.angle_deg}
            aria-valuetext={`${typed.angle_deg} degrees`}
            onChange={(event) => change({ angle_deg: Number(event.target.value) })}
          />
          <AdapterDrawing angle_deg={typed.angle_deg} />
        </>
      )}
      {'words' in advice ? (
        <p role="alert">{advice.words}</p>
      ) : (
        <>
          <p className="wrench-set large">
            Set <strong>{wordTorque(advice.setting['N·m'])}</strong>{' '}
            <span>{wordOtherUnits(advice.setting['N·m'])}</span>
          </p>
          <p role="status">{[wordAdapter(advice), wordTake(advice)].join(' ')}</p>
          <ul className="stack hair">
            {advice.choices.map((choice) => (
              <li key={choice.to_Nm} className={choice === advice.best ? 'wrench wrench-best strong' : 'wrench'}>
                {wordChoice(choice)}
              </li>
            ))}
          </ul>
        </>
      )}
    </div>
  );
}

function Length({
  word,
  value,
  onChange,
}: {
  readonly word: string;
  readonly value: string;
  readonly onChange: (value: string) => void;
}): ReactNode {
  const id = useId();
  return (
    <label className="field stack gap-1 medium" htmlFor={id}>
      {word}
      <input
        id={id}
        className="input numbers strong slim full on-sheet"
        inputMode="decimal"
        value={value}
        onChange={(event) => onChange(event.target.value)}
      />
    </label>
  );
}

/** The advice, or in words why there is none. */
function adviceFor(
  torque_Nm: number,
  { hasAdapter, length, adapter, angle_deg }: Typed,
): WrenchAdvice | { readonly words: string } {
  if (!hasAdapter) return adviseWrench({ torque_Nm });
  const [length_mm, adapter_mm] = [readTyped(length), readTyped(adapter)];
  if (!((length_mm ?? NaN) > 0)) return { words: 'The wrench’s length from grip mark to drive must be above 0 mm.' };
  if (!((adapter_mm ?? NaN) >= 0)) return { words: 'The adapter’s length from drive to bolt must be 0 mm or more.' };
  try {
    return adviseWrench({ torque_Nm, adapter: { length_mm: length_mm!, adapter_mm: adapter_mm!, angle_deg } });
  } catch (error) {
    if (error instanceof RangeError)
      return { words: 'Folded back so far the bolt would lie behind the grip: no setting serves.' };
    throw error;
  }
}

/** Wrench and adapter from above; the picture is not to scale, the angle is. */
function AdapterDrawing({ angle_deg }: { readonly angle_deg: number }): ReactNode {
  const angle = (angle_deg * Math.PI) / 180;
  const [x, y] = [150 + 46 * Math.cos(angle), 62 - 46 * Math.sin(angle)];
  return (
    <svg className="adapter-drawing full as-block" viewBox="0 0 208 80" aria-hidden="true">
      <path d="M12 62H150" className="turn-wrench" />
      <path d="M12 62h30" className="turn-grip" />
      <path d={`M150 62L${x.toFixed(1)} ${y.toFixed(1)}`} className="adapter-bar" />
      <circle cx="150" cy="62" r="8" className="turn-drive" />
      <circle cx={x.toFixed(1)} cy={y.toFixed(1)} r="10" className="turn-recess" />
    </svg>
  );
}
