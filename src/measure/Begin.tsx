/**
 * Where a draft begins: one of the manners by its picture, one that is kept, or a file.
 */
import { useCallback, useEffect, useMemo, useState, type ReactNode } from 'react';
import { analyse, draftOf, MANNERS, readDraft, type Manner } from '../../shared/index.ts';
import { drawSection } from '../drawings/section.ts';
import { svg } from '../drawings/svg.ts';
import { listThings, removeThing, type Listed } from '../page/keep.ts';
import { useTheme } from '../page/useScreen.ts';
import { act } from '../page/store.ts';
import { PlaceHead } from '../tray/PlaceHead.tsx';
import { Deference } from '../widgets/Deference.tsx';
import { FilePicker } from '../widgets/FilePicker.tsx';
import { Removal } from '../widgets/Removal.tsx';
import { draftFrom, draftIdOf } from './kept.ts';
import { beginDraft } from './measureStore.ts';
import { MEASURE_WORDS } from './words.ts';

/** Width of a manner's picture, px: it is shown as wide as its card. */
const CARD_px = 420;

export function Begin({
  isGone,
  refused: before,
}: {
  readonly isGone: boolean;
  readonly refused: string | undefined;
}): ReactNode {
  const [own, setRefused] = useState<string | undefined>(undefined);
  const refused = own ?? before;
  const take = async (file: File): Promise<void> => setRefused(await takeDraft(file.name, await file.text()));
  return (
    <main className="draft-begin stack fit on-sheet">
      <PlaceHead title="Measure up" said={<p className="tray-count soft">a pivot of your own</p>}>
        <FilePicker label="Draft file" onPicked={(file) => void take(file)}>
          Open a draft…
        </FilePicker>
      </PlaceHead>
      <div className="draft-scroll scroll stack gap-5" tabIndex={0} role="region" aria-label="Begin a draft">
        {isGone && <p className="callout callout-warn">{MEASURE_WORDS.gone}</p>}
        {refused !== undefined && (
          <p className="callout callout-trouble any-break" role="alert">
            {refused}
          </p>
        )}
        <Kept />
        <section className="stack gap-3" aria-label="How the pivot is held together">
          <p className="large balanced">{MEASURE_WORDS.begin}</p>
          <ul className="manners">
            {MANNERS.map((manner) => (
              <li key={manner.key}>
                <Card manner={manner} />
              </li>
            ))}
          </ul>
        </section>
        <Deference />
      </div>
    </main>
  );
}

function Card({ manner }: { readonly manner: Manner }): ReactNode {
  const theme = useTheme();
  const html = useMemo(() => {
    const analysis = analyse(manner.make());
    const stack = analysis.pivots[0]!.stacks[0]!;
    return { __html: svg(drawSection(stack, analysis, { theme, width_px: CARD_px, bare: true, column: false })) };
  }, [manner, theme]);
  return (
    <button
      type="button"
      className="manner edged warms stack gap-2"
      onClick={() => void beginDraft(draftOf(manner.make(), 'guess'))}
    >
      <span className="manner-picture as-block" aria-hidden="true" dangerouslySetInnerHTML={html} />
      <strong className="large snug">{manner.name}</strong>
      <span>{manner.when}</span>
    </button>
  );
}

/** Take a draft's text in and open it; why not, where it is none. */
export async function takeDraft(name: string, text: string): Promise<string | undefined> {
  const reading = readDraft(text);
  if (reading.ok) {
    await beginDraft(reading.draft);
    return undefined;
  }
  const [first] = reading.problems;
  return `${MEASURE_WORDS.badFile}: ${name}. At ${first!.path}: ${first!.met}; it takes ${first!.allowed}.`;
}

/** The drafts that are kept, the one last worked first. */
function Kept(): ReactNode {
  const [list, setList] = useState<readonly Listed[]>([]);
  const read = useCallback(() => void listThings().then(setList), []);
  useEffect(read, [read]);
  const drafts = list.flatMap(({ name, sum }) => {
    const id = draftIdOf(name);
    const draft = id === undefined ? undefined : draftFrom(sum);
    return id === undefined || !draft ? [] : [{ id, thing: name, title: draft.model.name }];
  });
  if (drafts.length === 0) return null;
  return (
    <section className="stack gap-3" aria-label="Drafts on this device">
      <h3>Go on with</h3>
      <ul className="stack gap-2">
        {drafts.map(({ id, thing, title }) => (
          <KeptDraft key={id} id={id} thing={thing} title={title} onChange={read} />
        ))}
      </ul>
    </section>
  );
}

function KeptDraft({
  id,
  thing,
  title,
  onChange,
}: {
  readonly id: string;
  readonly thing: string;
  readonly title: string;
  readonly onChange: () => void;
}): ReactNode {
  const [isAsking, setAsking] = useState(false);
  return (
    <li className="stack gap-2">
      <div className="line gap-2">
        <button type="button" className="go-button warms press line gap-4 strong" onClick={() => act.openDraft(id)}>
          <span className="any-break">{title}</span>
        </button>
        <button
          type="button"
          className="button medium no-wrap"
          aria-label={`Remove ${title}…`}
          onClick={() => setAsking(!isAsking)}
        >
          Remove…
        </button>
      </div>
      {isAsking && (
        <Removal
          label={`Remove ${title}`}
          says={MEASURE_WORDS.remove}
          onRemove={() => void removeThing(thing).then(onChange)}
          onKeep={() => setAsking(false)}
        />
      )}
    </li>
  );
}
