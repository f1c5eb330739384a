/**
 * The torque window as a strip: the one setting stands large, its limits beside it are where rings turn, the clamp
 * is lost or something gives. What lies between is left blank: it is no range to choose from.
 *
 * Zones differ by pattern as well as by colour; the sentence under it says the same.
 */
import type { CSSProperties, ReactNode } from 'react';
import { wordFades, wordSlips, wordTooLittle, wordTorque, wordWindow, type TorqueWindow } from '../../shared/index.ts';
import { layStrip, type ZoneKind } from './torque.ts';

const WORDS: readonly { readonly kind: ZoneKind; readonly word: string }[] = [
  { kind: 'perhaps-little', word: 'as friction goes' },
  { kind: 'too-much', word: 'something gives' },
];

const share = (value: number): string => `${(100 * value).toFixed(2)}%`;
const place = (left: number): CSSProperties => ({ left: share(left) });

export function WindowStrip({ window }: { readonly window: TorqueWindow }): ReactNode {
  const strip = layStrip(window);
  const { title, text } = wordWindow(window);
  const isRoomy = strip.zones.some(({ kind }) => kind === 'between');
  const fades = wordFades(window);
  const slips = wordSlips(window);
  return (
    <figure className="window">
      <div className="window-spec numbers anchor large" aria-hidden="true">
        <span style={place(strip.spec)}>Set {wordTorque(window.spec_Nm)}</span>
      </div>
      <div className="window-bar tinted anchor clip" aria-hidden="true">
        {strip.zones.map((zone) => (
          <span
            key={zone.kind}
            className={`window-zone zone-${zone.kind}`}
            style={{ ...place(zone.from), width: share(zone.to - zone.from) }}
          />
        ))}
        {strip.fades !== undefined && <span className="window-fades" style={place(strip.fades)} />}
        {strip.slips !== undefined && <span className="window-slips" style={place(strip.slips)} />}
        <span className="window-needle" style={place(strip.spec)} />
      </div>
      {isRoomy && (
        <div className="window-ends numbers anchor" aria-hidden="true">
          <span
            className={
              strip.from! < 0.16
                ? 'window-end window-end-after small strong no-wrap'
                : 'window-end window-end-before small strong no-wrap'
            }
            style={place(strip.from!)}
          >
            {wordTorque(window.from_Nm!).replace(' N·m', '')}
          </span>
          <span
            className={
              strip.to > 0.84
                ? 'window-end window-end-before small strong no-wrap'
                : 'window-end window-end-after small strong no-wrap'
            }
            style={place(strip.to)}
          >
            {wordTorque(window.to_Nm)}
          </span>
        </div>
      )}
      <ul className="window-key flow small" aria-hidden="true">
        {[{ kind: 'too-little', word: wordTooLittle(window) } as const, ...WORDS].map(({ kind, word }) => (
          <li key={kind}>
            <span className={`window-swatch zone-${kind}`} /> {word}
          </li>
        ))}
        {fades !== undefined && (
          <li>
            <span className="window-swatch window-swatch-fades" /> {fades}
          </li>
        )}
        {slips !== undefined && (
          <li>
            <span className="window-swatch window-swatch-slips" /> {slips}
          </li>
        )}
      </ul>
      <figcaption>
        <strong>{title}.</strong> {text}
      </figcaption>
    </figure>
  );
}
