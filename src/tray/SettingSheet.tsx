/**
 * What the tray knows of the calliper: its accuracy, its unit, and whether parts may have worn.
 */
import { useState, type ReactNode } from 'react';
import { readNumber } from '../../shared/index.ts';
import { useTray } from './trayStore.ts';
import { Dialog } from '../widgets/Dialog.tsx';

const ACCURACIES = ['0.02', '0.05', '0.1', '0.2'] as const;

export function SettingSheet({ onClose }: { readonly onClose: () => void }): ReactNode {
  const { unit, accuracy, wear, setUnit, setAccuracy, setWear } = useTray();
  // What is typed or picked stands under the hand at once; the tray follows once it is kept.
  const [typed, setTyped] = useState(accuracy);
  const [picked, setPicked] = useState({ unit, wear });
  const given = readNumber(typed);
  const change = (text: string): void => {
    setTyped(text);
    setAccuracy(text);
  };
  const isBad = given === undefined || given < 0.001 || given > 2;
  return (
    <Dialog title="Calliper and wear" onClose={onClose}>
      <fieldset className="sheet-part">
        <legend>The calliper shows</legend>
        <div className="choices flow gap-3">
          {(['mm', 'in'] as const).map((known) => (
            <label key={known} className="choice">
              <input
                type="radio"
                name="unit"
                checked={picked.unit === known}
                onChange={() => {
                  setPicked({ ...picked, unit: known });
                  setUnit(known);
                }}
              />
              {known === 'mm' ? 'Millimetres' : 'Inches'}
            </label>
          ))}
        </div>
        <p className="soft">
          It counts for numbers without a unit. Numbers already on the tray are read anew: set it before you measure.
        </p>
      </fieldset>
      <fieldset className="sheet-part">
        <legend>Accuracy of the calliper, ± mm</legend>
        <div className="choices flow gap-3">
          {ACCURACIES.map((known) => (
            <button
              key={known}
              type="button"
              className="button medium no-wrap"
              aria-pressed={given === Number(known)}
              onClick={() => change(known)}
            >
              {known}
            </button>
          ))}
          <label className="tray-accuracy gap-3">
            <span>Other</span>
            <input
              className="input tray-input large numbers bold slim full on-sheet"
              inputMode="decimal"
              value={typed}
              aria-invalid={isBad}
              aria-describedby="accuracy-words"
              onChange={(event) => change(event.target.value)}
            />
          </label>
        </div>
        <p className="soft" id="accuracy-words">
          {isBad
            ? 'Give a number from 0.001 to 2; until then 0.05 serves.'
            : 'About 95 readings in 100 lie within it. A workshop calliper in a steady hand: 0.05.'}
        </p>
      </fieldset>
      <section className="sheet-part">
        <h3>Wear</h3>
        <label className="choice">
          <input
            type="checkbox"
            checked={picked.wear}
            onChange={(event) => {
              setPicked({ ...picked, wear: event.target.checked });
              setWear(event.target.checked);
            }}
          />
          Parts may have worn: spacers shorter, bores wider, shanks thinner
        </label>
      </section>
    </Dialog>
  );
}
