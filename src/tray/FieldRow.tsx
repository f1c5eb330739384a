/**
 * One size of the part in the hand: its name, what was typed, and for some fields what to pick from.
 */
import type { ReactNode } from 'react';
import { kindOf, type LinkageModel } from '../../shared/index.ts';
import { TWO_VALUES } from '../words.ts';
import type { Draft, Field, Unit } from './tray.ts';
import { useClash, useFieldText, useTray } from './trayStore.ts';
import { fieldWord } from './trayWords.ts';

interface Props {
  readonly draft: Draft;
  readonly field: Field;
  readonly unit: Unit;
  readonly isActive: boolean;
  readonly isWrong: boolean;
  readonly model: LinkageModel;
  readonly onNext: () => void;
}

export function FieldRow({ draft, field, unit, isActive, isWrong, model, onNext }: Props): ReactNode {
  const { type, goTo } = useTray();
  const text = useFieldText(draft.key, field);
  const clash = useClash(draft.key, field);
  const id = `field-${draft.key}-${field}`;
  const isBare =
    field === 'turns' ||
    field === 'count' ||
    field === 'label' ||
    field === 'drive' ||
    field === 'slides' ||
    (field === 'thread' && /^m/i.test(text.trim()));
  const suffix = isBare ? '' : `, ${field === 'pitch' ? 'mm' : unit}`;
  return (
    <div
      className={isActive ? 'tray-field edged tray-field-active stack tinted' : 'tray-field edged stack tinted'}
      data-wide={field === 'slides'}
    >
      <label htmlFor={id} className="soft small">
        {fieldWord(field, draft.kind)}
        {suffix}
      </label>
      {field === 'slides' ? (
        <select
          id={id}
          data-field={field}
          className="select tray-slides strong slim full on-sheet"
          value={text}
          aria-invalid={isWrong}
          aria-describedby={isWrong ? `guess-${draft.key}` : undefined}
          onFocus={() => goTo(field)}
          onChange={(event) => type(draft.key, field, event.target.value)}
        >
          <option value="">not tried</option>
          {axlesOf(model, text).map(({ value, word }) => (
            <option key={value} value={value}>
              {word}
            </option>
          ))}
        </select>
      ) : (
        <input
          id={id}
          data-field={field}
          className="input tray-input large numbers bold slim full on-sheet"
          // The pad below types; a keyboard of the system would cover the part that is being measured.
          inputMode={field === 'label' ? 'text' : 'none'}
          autoComplete="off"
          enterKeyHint="next"
          maxLength={60}
          placeholder={field === 'count' ? '1' : field === 'thread' ? 'M12×1' : field === 'drive' ? 'hex 6' : ''}
          value={text}
          aria-invalid={isWrong}
          aria-describedby={isWrong ? `guess-${draft.key}` : undefined}
          onFocus={() => goTo(field)}
          onChange={(event) => type(draft.key, field, event.target.value)}
          onKeyDown={(event) => {
            if (event.key !== 'Enter') return;
            event.preventDefault();
            onNext();
          }}
        />
      )}
      {clash.length > 0 && (
        <div className="tray-clash callout callout-warn stack gap-2" role="group" aria-label={TWO_VALUES}>
          <p className="small">{TWO_VALUES}</p>
          <div className="flow gap-2">
            {clash.map((value) => (
              <button
                key={value ?? ''}
                type="button"
                className="button medium no-wrap"
                onClick={() => type(draft.key, field, value ?? '')}
              >
                {value ?? 'none'}
              </button>
            ))}
          </div>
        </div>
      )}
    </div>
  );
}

/** Axles a spacer can have been tried on: those of the list, and labelled ones of the tray. */
function axlesOf(model: LinkageModel, chosen: string): readonly { readonly value: string; readonly word: string }[] {
  const listed = Object.entries(model.parts).flatMap(([id, part]) =>
    'shank' in part ? [{ value: id, word: part.name }] : [],
  );
  const labelled = useTray
    .getState()
    .drafts.flatMap(({ kind, texts }) =>
      texts.label !== undefined && kind !== undefined && kindOf({ kind }).stands.includes('axle')
        ? [{ value: texts.label, word: `“${texts.label}” of this tray` }]
        : [],
    );
  const all = [...listed, ...labelled];
  return chosen === '' || all.some(({ value }) => value === chosen) ? all : [...all, { value: chosen, word: chosen }];
}
