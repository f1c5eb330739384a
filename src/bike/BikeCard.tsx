/**
 * The card of the whole bike: what the model is, its verdict, and where to begin.
 */
import type { ReactNode } from 'react';
import { toldVerdict, wordVerdict, type Analysis } from '../../shared/index.ts';
import { focusPicked } from '../page/focus.ts';
import { act } from '../page/store.ts';
import { useRoving } from '../page/useRoving.ts';
import { FindingList } from '../widgets/FindingList.tsx';
import { VerdictMark } from '../widgets/marks.tsx';
import { MistakeSection } from '../mistakes/MistakeSection.tsx';
import { TravelEntry } from '../travel/TravelBar.tsx';

export function BikeCard({
  analysis,
  told,
}: {
  readonly analysis: Analysis;
  /** The same bike with the torques that were reached. */
  readonly told: Analysis;
}): ReactNode {
  const list = useRoving<HTMLUListElement>('list');
  const pick = (id: string): void => {
    act.pickPivot(id);
    focusPicked();
  };
  const { model } = analysis;
  const variant = model.variants?.find((candidate) => candidate.id === analysis.variant);
  const first = told.pivots.filter((pivot) => toldVerdict(pivot) !== 'sound');
  return (
    <>
      <h2 className="card-title huge">{model.name}</h2>
      {variant && <p className="card-sub">{variant.why}</p>}
      <p className="line gap-3 large bold">
        <VerdictMark verdict={toldVerdict(told)} /> {wordVerdict(told)}
      </p>
      {model.about !== undefined && <p>{model.about}</p>}
      {first.length > 0 && (
        <>
          <h3>Look at these first</h3>
          <ul className="stack hair" ref={list}>
            {first.slice(0, 12).map((pivot) => (
              <li key={pivot.id}>
                <button
                  type="button"
                  className="go-button warms press line gap-4 strong"
                  onClick={() => pick(pivot.id)}
                >
                  <VerdictMark verdict={toldVerdict(pivot)} />
                  <span>{pivot.name}</span>
                  <span className="go-end soft small end">{wordVerdict(pivot)}</span>
                </button>
              </li>
            ))}
          </ul>
          {first.length > 12 && <p>… and {first.length - 12} more in the strip of pivots.</p>}
        </>
      )}
      <FindingList findings={analysis.findings} analysis={analysis} />
      <p className="soft">Pick a pivot, on the picture or by its name, to take it apart.</p>
      <TravelEntry />
      <button type="button" className="button medium no-wrap" onClick={() => act.goToPlace('order')}>
        Build order of the whole bike
      </button>
      <button type="button" className="button medium no-wrap" onClick={() => act.goToPlace('job')}>
        Jobs: real bikes, strip-down to hand-over
      </button>
      <button type="button" className="button medium no-wrap" onClick={() => act.goToPlace('tray')}>
        Sort a tray of loose parts
      </button>
      <button type="button" className="button medium no-wrap" onClick={() => act.goToPlace('practice')}>
        Practise on this bike
      </button>
      <button type="button" className="button medium no-wrap" onClick={() => act.openDraft(undefined)}>
        Measure up a pivot of your own
      </button>
      <button type="button" className="button medium no-wrap" onClick={() => act.openDialog('torque-list')}>
        Torque list for the wall
      </button>
      <MistakeSection analysis={analysis} />
    </>
  );
}
