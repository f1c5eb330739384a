/**
 * How likely each thing is before anything is asked, where that comes from, and a field for the shop's own figure.
 */
import { useEffect, useId, useState, type ReactNode } from 'react';
import { CAUSE_KINDS, PRIORS, wordCauseKind, type CauseKind } from '../../shared/index.ts';
import { readTyped } from '../words.ts';
import { useFelt } from './feltStore.ts';

export function Chances(): ReactNode {
  const { own, openOwn } = useFelt();
  useEffect(openOwn, [openOwn]);
  const count = Object.keys(own).length;
  return (
    <details className="fold">
      <summary>
        How likely each is before you say anything
        {count > 0 && `: ${count} of your own`}
      </summary>
      <div className="stack gap-4">
        <p>
          Put in your own figures where your shop knows better: these are plain ones, since nobody has counted. How
          often in 1,000, at one place.
        </p>
        <ul className="felt-chances stack gap-4">
          {CAUSE_KINDS.map((kind) => (
            <Chance key={kind} kind={kind} />
          ))}
        </ul>
      </div>
    </details>
  );
}

/** As a field shows it: how many in 1,000. */
const shown = (chance: number): string => String(Number((1000 * chance).toPrecision(4)));

function Chance({ kind }: { readonly kind: CauseKind }): ReactNode {
  const own = useFelt((state) => state.own[kind]);
  const { setOwn } = useFelt.getState();
  const { value, source } = PRIORS[kind];
  const [typed, setTyped] = useState<string | undefined>(undefined);
  const id = useId();
  const number = typed === undefined ? undefined : readTyped(typed);
  const isGood = number === undefined || (number > 0 && number <= 1000);
  const change = (text: string): void => {
    setTyped(text);
    const next = readTyped(text);
    if (next === undefined) setOwn(kind, undefined);
    else if (next > 0 && next <= 1000) setOwn(kind, next / 1000);
  };
  return (
    <li className="felt-chance">
      <label className="medium" htmlFor={id}>
        {wordCauseKind(kind)}
      </label>
      <input
        id={id}
        className="input numbers strong slim on-sheet"
        inputMode="decimal"
        value={typed ?? shown(own ?? value)}
        aria-invalid={!isGood}
        aria-describedby={`${id}-source`}
        onChange={(event) => change(event.target.value)}
        onBlur={() => setTyped(undefined)}
      />
      <p className="felt-source soft small" id={`${id}-source`}>
        {isGood ? (own === undefined ? '' : `Your own; as written ${shown(value)}. `) : 'Above 0, at most 1,000. '}
        {source}
      </p>
      {own !== undefined && (
        <button
          type="button"
          className="felt-source button button-small medium no-wrap"
          onClick={() => {
            setTyped(undefined);
            setOwn(kind, undefined);
          }}
        >
          {`As written: ${wordCauseKind(kind)}`}
        </button>
      )}
    </li>
  );
}
