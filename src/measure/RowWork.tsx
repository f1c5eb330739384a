/**
 * What else a hand does to the row: put a part, a bearing or a boss in, double, mirror, tell apart, take out.
 */
import { useState, type ReactNode } from 'react';
import {
  addBoss,
  addPart,
  capital,
  duplicateItem,
  kindOf,
  mirrorItem,
  PART_KINDS,
  removeItem,
  tellApart,
  type Member,
  type PartKind,
  type Stack,
} from '../../shared/index.ts';
import { drawPart, partExtent } from '../drawings/part.ts';
import { Dialog, useSheet } from '../widgets/Dialog.tsx';
import { Drawing } from '../widgets/Drawing.tsx';
import type { Bench, Held } from './bench.ts';
import { useMake } from './measureStore.ts';
import { MEMBER_WORDS } from './words.ts';

/** A kind's picture, px. */
const KIND_px = { width: 84, height: 68 } as const;

export function RowWork({
  bench,
  stack,
  item,
  held,
}: {
  readonly bench: Bench;
  readonly stack: Stack;
  readonly item: string | undefined;
  readonly held: Held | undefined;
}): ReactNode {
  const make = useMake(bench.draft);
  const add = useSheet();
  const { model } = bench.draft;
  const isInRow = item !== undefined && item !== 'axle' && item !== 'receiver';
  const after = isInRow ? item : undefined;
  const doubled = isInRow ? duplicateItem(model, stack.id, item) : undefined;
  const mirrored = isInRow ? mirrorItem(model, stack.id, item) : undefined;
  const apart = isInRow ? tellApart(model, stack.id, item) : undefined;
  const without = isInRow ? removeItem(model, stack.id, item) : undefined;
  return (
    <div className="flow gap-2" role="group" aria-label="Change the row">
      <button type="button" className="button row-add medium no-wrap" onClick={add.open}>
        Add…
      </button>
      <Work word="One more" onPress={doubled && (() => make(doubled.model, doubled.item))} />
      <Work word="Mirror" onPress={mirrored && (() => make(mirrored.model, mirrored.item))} />
      {held && 'part' in held && held.times > 1 && (
        <Work word="Measure apart" onPress={apart && (() => make(apart, item))} />
      )}
      <Work word="Take out" onPress={without && (() => make(without))} />
      {add.isOpen && <AddSheet bench={bench} stack={stack} after={after} where={held?.name} onClose={add.close} />}
    </div>
  );
}

function Work({ word, onPress }: { readonly word: string; readonly onPress: (() => void) | undefined }): ReactNode {
  return (
    <button type="button" className="button medium no-wrap" aria-disabled={onPress === undefined} onClick={onPress}>
      {word}
    </button>
  );
}

/** Kinds that may be put in, bosses of the members there are, and new members. */
function AddSheet({
  bench,
  stack,
  after,
  where,
  onClose,
}: {
  readonly bench: Bench;
  readonly stack: Stack;
  readonly after: string | undefined;
  readonly where: string | undefined;
  readonly onClose: () => void;
}): ReactNode {
  const make = useMake(bench.draft);
  const { model } = bench.draft;
  const [kind, setKind] = useState<Member['kind']>('rocker');
  const parts = PART_KINDS.flatMap((own) => {
    const made = addPart(model, stack.id, own, after);
    return made ? [{ kind: own, made }] : [];
  });
  const bosses = Object.entries(model.members).flatMap(([id, { name }]) => {
    const made = addBoss(model, stack.id, id, after);
    return made ? [{ id, name, made }] : [];
  });
  const fresh = addBoss(model, stack.id, { kind, name: MEMBER_WORDS[kind] }, after);
  const put = (made: { readonly model: typeof model; readonly item: string }): void => {
    make(made.model, made.item);
    onClose();
  };
  return (
    <Dialog title="Put into the row" isWide onClose={onClose}>
      <p className="lead">
        {after === undefined
          ? 'It goes to the non-drive end. Pick a part first to put it on that part’s drive side.'
          : `It goes on the drive side of: ${where}. A bearing goes into a boss that is picked.`}
      </p>
      <section className="sheet-part">
        <h3>Parts</h3>
        <ul className="kind-list stack gap-2">
          {parts.map(({ kind: own, made }) => (
            <li key={own}>
              <button type="button" className="kind-button edged warms stack full" onClick={() => put(made)}>
                <KindPicture kind={own} />
                <strong className="snug">{capital(kindOf({ kind: own }).noun.one)}</strong>
                <span className="kind-hint soft snug">{kindOf({ kind: own }).hint}</span>
              </button>
            </li>
          ))}
        </ul>
      </section>
      {(bosses.length > 0 || fresh) && (
        <section className="sheet-part">
          <h3>Bosses</h3>
          <div className="flow gap-3">
            {bosses.map(({ id, name, made }) => (
              <button key={id} type="button" className="button medium" onClick={() => put(made)}>
                One more boss of {name}
              </button>
            ))}
          </div>
          {fresh && (
            <div className="flow gap-3">
              <select
                className="select strong on-sheet"
                aria-label="Kind of the new member"
                value={kind}
                onChange={({ target }) => setKind(target.value as Member['kind'])}
              >
                {Object.entries(MEMBER_WORDS).map(([own, word]) => (
                  <option key={own} value={own}>
                    {word}
                  </option>
                ))}
              </select>
              <button type="button" className="button medium no-wrap" onClick={() => put(fresh)}>
                A boss of a new member
              </button>
            </div>
          )}
        </section>
      )}
    </Dialog>
  );
}

function KindPicture({ kind }: { readonly kind: PartKind }): ReactNode {
  const part = kindOf({ kind }).sample;
  const { from_mm, to_mm, radius_mm } = partExtent(part);
  const scale = Math.min(KIND_px.width / (to_mm - from_mm + 2), KIND_px.height / (2 * radius_mm + 2));
  return <Drawing drawing={drawPart({ part, scale })} className="kind-picture" />;
}
