/**
 * The sheets that lie over the page: menu, keys, cautions, legend, and the trouble of a file that did not open.
 */
import { Suspense, type ReactNode } from 'react';
import { later } from '../later.ts';
import { CAUTIONS } from '../../shared/index.ts';
import { KEY_LIST } from '../page/keys.ts';
import { ROW_KEY_LIST } from '../editor/rowKeys.ts';
import type { Theme } from '../page/settings.ts';
import { toldOf } from '../page/state.ts';
import { useClass } from '../class/classStore.ts';
import { act, useApp } from '../page/store.ts';
import { PlaceBoundary } from '../widgets/PlaceBoundary.tsx';
import { Dialog } from '../widgets/Dialog.tsx';
import { Legend } from './Legend.tsx';
import { ModelControls } from './ModelControls.tsx';
import { TroubleSheet } from './TroubleSheet.tsx';

const KeptSheet = later(() => import('../kept/KeptSheet.tsx'));
const FindSheet = later(() => import('./FindSheet.tsx'));
const ShareSheet = later(() => import('./ShareSheet.tsx'));
const PivotPaper = later(() => import('./PivotPaper.tsx'));
const TorqueSheets = later(() => import('./TorqueSheets.tsx'));

/** Whichever sheet is open. */
export function Sheets(): ReactNode {
  const dialog = useApp((state) => state.dialog);
  const trouble = useApp((state) => state.trouble);
  const close = (): void => act.openDialog(undefined);
  if (trouble) return <TroubleSheet key={trouble.name} trouble={trouble} onClose={act.closeTrouble} />;
  switch (dialog) {
    case 'menu':
      return <MenuSheet key="menu" onClose={close} />;
    case 'keys':
      return <KeysSheet key="keys" onClose={close} />;
    case 'safety':
      return <SafetySheet key="safety" onClose={close} />;
    case 'legend':
      return (
        <Dialog key="legend" title="Colours and marks" onClose={close}>
          <Legend />
        </Dialog>
      );
    case 'find':
    case 'share':
    case 'pivot-sheet':
    case 'kept':
    case 'torque-list':
    case 'tolerance':
      return (
        <PlaceBoundary
          key={dialog}
          frame={(fault) => (
            <Dialog title="This did not come" onClose={close}>
              {fault}
            </Dialog>
          )}
        >
          <Suspense>
            <LateSheet which={dialog} onClose={close} />
          </Suspense>
        </PlaceBoundary>
      );
    case undefined:
      return null;
  }
}

type Late = 'find' | 'share' | 'pivot-sheet' | 'kept' | 'torque-list' | 'tolerance';

/** A sheet that is loaded when it is first opened. */
function LateSheet({ which, onClose }: { readonly which: Late; readonly onClose: () => void }): ReactNode {
  switch (which) {
    case 'find':
      return <FindSheet onClose={onClose} />;
    case 'share':
      return <ShareSheet onClose={onClose} />;
    case 'pivot-sheet':
      return <PivotSheet onClose={onClose} />;
    case 'kept':
      return <KeptSheet onClose={onClose} />;
    default:
      return <TorqueSheets which={which} onClose={onClose} />;
  }
}

/** The picked pivot on paper, as written: a mistake that is looked at is never printed as if it were the build. */
function PivotSheet({ onClose }: { readonly onClose: () => void }): ReactNode {
  const analysis = useApp((state) => (state.whatIf ? state.opened?.analysis : toldOf(state)));
  const pivotId = useApp((state) => state.pivotId);
  const pivot = analysis?.pivots.find(({ id }) => id === pivotId);
  return analysis && pivot ? <PivotPaper pivot={pivot} analysis={analysis} onClose={onClose} /> : null;
}

const THEMES: readonly { readonly theme: Theme; readonly word: string }[] = [
  { theme: 'auto', word: 'As the system' },
  { theme: 'light', word: 'Light' },
  { theme: 'dark', word: 'Dark' },
];

function MenuSheet({ onClose }: { readonly onClose: () => void }): ReactNode {
  const settings = useApp((state) => state.settings);
  return (
    <Dialog title="Menu" onClose={onClose}>
      <section className="sheet-part">
        <h3>Model</h3>
        <ModelControls onOpened={onClose} />
      </section>
      <fieldset className="sheet-part">
        <legend>Light or dark</legend>
        <div className="choices flow gap-3">
          {THEMES.map(({ theme, word }) => (
            <label key={theme} className="choice">
              <input type="radio" name="theme" checked={settings.theme === theme} onChange={() => act.set({ theme })} />
              {word}
            </label>
          ))}
        </div>
      </fieldset>
      <section className="sheet-part">
        <h3>In the steps</h3>
        <label className="choice">
          <input
            type="checkbox"
            checked={settings.followsSide}
            onChange={(event) => act.set({ followsSide: event.target.checked })}
          />
          Go round to the side each step is done from
        </label>
      </section>
      <section className="sheet-part">
        <h3>For a class</h3>
        <label className="choice">
          <input
            type="checkbox"
            checked={settings.bigWords}
            onChange={(event) => act.set({ bigWords: event.target.checked })}
          />
          Big words, for a projector
        </label>
        <div className="choices flow gap-3">
          <button
            type="button"
            className="button medium"
            onClick={() => {
              useClass.getState().begin();
              onClose();
            }}
          >
            Class screen in a second window
          </button>
          <button type="button" className="button medium" onClick={() => act.goToPlace('class')}>
            This window as the class screen
          </button>
        </div>
      </section>
      <section className="sheet-part">
        <h3>More</h3>
        <div className="choices flow gap-3">
          <button type="button" className="button medium no-wrap" onClick={() => act.openDialog('safety')}>
            Before you start
          </button>
          <button type="button" className="button medium no-wrap" onClick={() => act.goToPlace('order')}>
            Build order
          </button>
          <button type="button" className="button medium no-wrap" onClick={() => act.goToPlace('tray')}>
            Sorting tray
          </button>
          <button type="button" className="button medium no-wrap" onClick={() => act.goToPlace('job')}>
            Jobs
          </button>
          <button type="button" className="button medium no-wrap" onClick={() => act.goToPlace('felt')}>
            What is wrong with it?
          </button>
          <button type="button" className="button medium no-wrap" onClick={() => act.goToPlace('practice')}>
            Practice
          </button>
          <button type="button" className="button medium no-wrap" onClick={() => act.openDraft(undefined)}>
            Measure up
          </button>
          <button type="button" className="button medium no-wrap" onClick={() => act.openDialog('torque-list')}>
            Torque list
          </button>
          <button type="button" className="button medium no-wrap" onClick={() => act.openDialog('share')}>
            Link, picture, paper
          </button>
          <button type="button" className="button medium no-wrap" onClick={() => act.openDialog('legend')}>
            Colours and marks
          </button>
          <button type="button" className="button medium no-wrap" onClick={() => act.openDialog('kept')}>
            Own files
          </button>
          <button type="button" className="button medium no-wrap" onClick={() => act.openDialog('keys')}>
            Keys
          </button>
          <a className="button medium no-wrap" href="./notices.txt" target="_blank" rel="noopener">
            Licences of all that is inside
          </a>
        </div>
      </section>
    </Dialog>
  );
}

function KeysSheet({ onClose }: { readonly onClose: () => void }): ReactNode {
  const letterKeys = useApp((state) => state.settings.letterKeys);
  return (
    <Dialog title="Keys" onClose={onClose}>
      <p>A presenter’s remote works too: its forward and back buttons step.</p>
      <dl className="keys">
        {KEY_LIST.map(({ keys, what, letter }) => (
          <div key={what} className={letter && !letterKeys ? 'soft' : undefined}>
            <dt>
              {keys.map((key) => (
                <kbd key={key}>{key}</kbd>
              ))}
            </dt>
            <dd>
              {what}
              {letter && !letterKeys ? ' (off)' : ''}
            </dd>
          </div>
        ))}
      </dl>
      <h3>While a part of the row has the focus</h3>
      <dl className="keys">
        {ROW_KEY_LIST.map(({ keys, what }) => (
          <div key={what}>
            <dt>
              {keys.map((key) => (
                <kbd key={key}>{key}</kbd>
              ))}
            </dt>
            <dd>{what}</dd>
          </div>
        ))}
      </dl>
      <label className="choice">
        <input
          type="checkbox"
          checked={letterKeys}
          onChange={(event) => act.set({ letterKeys: event.target.checked })}
        />
        Single letters work as keys
      </label>
    </Dialog>
  );
}

function SafetySheet({ onClose }: { readonly onClose: () => void }): ReactNode {
  return (
    <Dialog title="Before you start" onClose={onClose}>
      <ul className="cautions stack gap-5 usual">
        {Object.values(CAUTIONS).map((caution) => (
          <li key={caution}>{caution}</li>
        ))}
      </ul>
    </Dialog>
  );
}
