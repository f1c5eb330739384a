/**
 * One thing on the list of what is kept.
 */
import { Fragment, useState, type ReactNode } from 'react';
import { openThing, removeThing, type Listed } from '../page/keep.ts';
import { openKept } from '../page/models.ts';
import { dayWords } from '../widgets/day.ts';
import { Removal } from '../widgets/Removal.tsx';
import { KEPT_WORDS } from '../words.ts';
import { Clashes } from './Clashes.tsx';
import { saveModel, saveThings } from './files.ts';
import { partsOf, tellThing, textOf } from './things.ts';

interface Props {
  readonly thing: Listed;
  readonly onChange: () => void;
  readonly onOpened: () => void;
}

const LONGEST_NAME = 80;

export function ThingRow({ thing: { name, sum, last_at_ms }, onChange, onOpened }: Props): ReactNode {
  const [asks, setAsks] = useState<'name' | 'removal' | undefined>(undefined);
  const { kind, id } = partsOf(name);
  const { title, more } = tellThing(name, sum);
  const text = kind === 'model' ? textOf(sum, 'text') : undefined;
  const texts =
    kind === 'model' ? (sum.clashes.get('text') ?? []).filter((one): one is string => typeof one === 'string') : [];
  const others = new Map([...sum.clashes].filter(([field]) => texts.length === 0 || field !== 'text'));
  const close = (): void => setAsks(undefined);
  const pickText = async (one: string): Promise<void> => {
    await (await openThing(name)).set({ text: one });
    onChange();
  };
  return (
    <li className="kept-row stack gap-2" aria-label={title}>
      <p className="kept-title">
        <strong className="any-break">{title}</strong>
        <span className="soft small any-break">
          {more === undefined ? '' : `${more}, `}
          {dayWords(last_at_ms)}
        </span>
      </p>
      {texts.length > 1 && (
        <div className="callout callout-warn stack gap-2">
          <p>{KEPT_WORDS.twoModels}</p>
          <div className="flow gap-3">
            {texts.map((one, k) => (
              <Fragment key={one}>
                <button type="button" className="button medium no-wrap" onClick={() => saveModel(id, one)}>
                  Save no. {k + 1}
                </button>
                <button type="button" className="button medium no-wrap" onClick={() => void pickText(one)}>
                  No. {k + 1} holds
                </button>
              </Fragment>
            ))}
          </div>
        </div>
      )}
      <Clashes name={name} clashes={others} onChange={onChange} />
      {asks === 'name' ? (
        <NameForm
          title={title}
          onClose={close}
          onName={async (next) => {
            await (await openThing(name)).set({ name: next });
            close();
            onChange();
          }}
        />
      ) : asks === 'removal' ? (
        <Removal
          label={`Remove ${title}`}
          says={KEPT_WORDS.remove}
          onRemove={() => void removeThing(name).then(onChange)}
          onKeep={close}
        />
      ) : (
        <div className="flow gap-3">
          {text !== undefined && (
            <>
              <button
                type="button"
                className="button medium no-wrap"
                onClick={() => {
                  void openKept(id);
                  onOpened();
                }}
              >
                Open
              </button>
              <button type="button" className="button medium no-wrap" onClick={() => setAsks('name')}>
                Rename
              </button>
            </>
          )}
          <button
            type="button"
            className="button medium no-wrap"
            onClick={() => (text === undefined ? void saveThings(name) : saveModel(id, text))}
          >
            Save as a file
          </button>
          <button type="button" className="button medium no-wrap" onClick={() => setAsks('removal')}>
            Remove…
          </button>
          <Turns name={name} onChange={onChange} />
        </div>
      )}
    </li>
  );
}

/** The last change taken back, as far as this device has made any. */
function Turns({ name, onChange }: { readonly name: string; readonly onChange: () => void }): ReactNode {
  const [is, setIs] = useState('');
  const turn = (how: 'undo' | 'redo') => async (): Promise<void> => {
    const thing = await openThing(name);
    if (thing.steps[how] === 0) return setIs(how === 'undo' ? 'Nothing to take back.' : 'Nothing to put back.');
    await thing[how]();
    setIs(how === 'undo' ? 'The last change is taken back.' : 'It is put back.');
    onChange();
  };
  return (
    <>
      <button type="button" className="button medium no-wrap" onClick={() => void turn('undo')()}>
        Undo
      </button>
      <button type="button" className="button medium no-wrap" onClick={() => void turn('redo')()}>
        Redo
      </button>
      <span className="kept-said soft" role="status">
        {is}
      </span>
    </>
  );
}

function NameForm({
  title,
  onName,
  onClose,
}: {
  readonly title: string;
  readonly onName: (name: string) => Promise<void>;
  readonly onClose: () => void;
}): ReactNode {
  const [name, setName] = useState(title);
  return (
    <form
      className="flow gap-3"
      onSubmit={(event) => {
        event.preventDefault();
        if (name.trim() !== '') void onName(name.trim());
      }}
    >
      <input
        className="input kept-name"
        aria-label="New name"
        maxLength={LONGEST_NAME}
        autoFocus
        value={name}
        onChange={(event) => setName(event.target.value)}
      />
      <button type="submit" className="button medium no-wrap">
        Rename
      </button>
      <button type="button" className="button medium no-wrap" onClick={onClose}>
        Cancel
      </button>
    </form>
  );
}
