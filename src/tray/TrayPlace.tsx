/**
 * The sorting tray: loose parts entered one by one, each told what it is, with the next measurement and what is
 * missing. What lies on it is its picture and stands where the page's picture does, the part in the hand in the side
 * sheet, and what else a hand does in the bar.
 */
import { useEffect, useMemo, type ReactNode } from 'react';
import { wordSetting, type Analysis } from '../../shared/index.ts';
import { act } from '../page/store.ts';
import { isMeasured, sortDrafts } from './tray.ts';
import { useTray } from './trayStore.ts';
import { standingOf } from './trayWords.ts';
import { useSheet } from '../widgets/Dialog.tsx';
import { Deference } from '../widgets/Deference.tsx';
import { Entry } from './Entry.tsx';
import { TaskPanel } from './TaskPanel.tsx';
import { NextPanel } from './NextPanel.tsx';
import { PasteSheet } from './PasteSheet.tsx';
import { SettingSheet } from './SettingSheet.tsx';
import { PlaceHead } from './PlaceHead.tsx';
import { TrayBoard } from './TrayBoard.tsx';

export default function TrayPlace({ analysis }: { readonly analysis: Analysis }): ReactNode {
  const { modelId, openFor, drafts, unit, accuracy, wear, hand, steps } = useTray();
  const { add, clear, undo, redo } = useTray.getState();
  const paste = useSheet();
  const setting = useSheet();
  const { model } = analysis;
  useEffect(() => openFor(model.id), [openFor, model.id]);
  const sorted = useMemo(
    () => sortDrafts(model, { drafts, unit, accuracy, wear }),
    [model, drafts, unit, accuracy, wear],
  );
  if (modelId !== model.id) return <main className="tray-wait">Opening…</main>;
  const settled = drafts.filter((draft) => {
    const row = sorted.tray.rows[sorted.rowOf.get(draft.key) ?? -1];
    return row && isMeasured(draft) && standingOf(row) === 'sure';
  }).length;
  return (
    <main className="tray stack fit on-sheet" data-hand={hand === undefined ? 'free' : 'full'}>
      <div className="tray-side anchor scroll" tabIndex={0} role="region" aria-label="What lies on the tray">
        <NextPanel sorted={sorted} />
        <TrayBoard sorted={sorted} analysis={analysis} />
        <TaskPanel sorted={sorted} analysis={analysis} />
        <p className="soft small">{wordSetting(sorted.tray.setting)}</p>
        <Deference />
      </div>
      <Entry sorted={sorted} analysis={analysis} />
      <PlaceHead
        title="Sorting tray"
        said={
          <p className="tray-count soft" role="status">
            {drafts.length === 0 ? 'empty' : `${drafts.length} on the tray, ${settled} found`}
          </p>
        }
      >
        {steps.undo > 0 && (
          <button type="button" className="button medium no-wrap" onClick={undo}>
            Undo
          </button>
        )}
        {steps.redo > 0 && (
          <button type="button" className="button medium no-wrap" onClick={redo}>
            Redo
          </button>
        )}
        <button type="button" className="button medium no-wrap" onClick={paste.open}>
          Paste a table
        </button>
        <button type="button" className="button medium no-wrap" onClick={setting.open}>
          Calliper
        </button>
        <button type="button" className="button medium no-wrap" onClick={() => act.goToPlace('mat')}>
          Sorting mat
        </button>
        {drafts.length > 0 && (
          <button type="button" className="button medium no-wrap" onClick={clear}>
            Clear the tray
          </button>
        )}
      </PlaceHead>
      <button type="button" className="button button-main tray-add medium no-wrap" onClick={add}>
        Add a loose part
      </button>
      {paste.isOpen && <PasteSheet onClose={paste.close} />}
      {setting.isOpen && <SettingSheet onClose={setting.close} />}
    </main>
  );
}
