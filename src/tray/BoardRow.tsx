/**
 * One loose part on the tray: its drawing, what it is, how it differs from what it could be taken for; opened, where it
 * goes and what else it could be.
 */
import { memo, type ReactNode } from 'react';
import {
  capital,
  nearestLookAlike,
  nearestOf,
  placesOf,
  wordPlaceBrief,
  wordDifference,
  wordReadingSizes,
  wordTrayRow,
  type Analysis,
  type Candidate,
  type Tray,
  type TrayRow,
} from '../../shared/index.ts';
import { isMeasured, type Draft, type FieldTrouble } from './tray.ts';
import { useTray } from './trayStore.ts';
import { drawnPart, STANDING_WORDS, standingOf } from './trayWords.ts';
import { drawPart } from '../drawings/part.ts';
import { Drawing } from '../widgets/Drawing.tsx';
import { RowDetail } from './RowDetail.tsx';
import { FacingGlyph } from '../widgets/marks.tsx';
import { StandingMark } from './StandingMark.tsx';

interface Props {
  readonly draft: Draft;
  readonly number: number;
  readonly row: TrayRow | undefined;
  readonly troubles: readonly FieldTrouble[] | undefined;
  readonly tray: Tray;
  readonly analysis: Analysis;
  readonly scale: number;
  readonly lead_mm: number;
}

export const BoardRow = memo(function BoardRow({
  draft,
  number,
  row,
  troubles,
  tray,
  analysis,
  scale,
  lead_mm,
}: Props): ReactNode {
  const { hand, unfolded, unfold, takeInHand } = useTray();
  const isOpen = unfolded === draft.key;
  const name = draft.texts.label ?? `No. ${number}`;
  // A kind is no measurement: what has none yet gets no name.
  if (!row || !isMeasured(draft)) {
    return (
      <li className={troubles ? 'board-row board-row-bad' : 'board-row'} data-held={hand === draft.key}>
        <button
          type="button"
          className="board-button tints press line wrap"
          onClick={() => takeInHand(draft.key, troubles?.find(({ field }) => field !== 'kind')?.field as undefined)}
        >
          <span className="board-picture clip rigid as-block" />
          <span className="board-words stack slim">
            <span className="soft small">{name}</span>
            <span className="board-title flex gap-3 large">{troubles ? 'Cannot be right' : 'Not measured yet'}</span>
            {troubles?.map(({ words }) => (
              <span key={words} className="medium trouble-words any-break">
                {words}
              </span>
            ))}
            <span className="soft">
              {troubles ? 'Tap to put it right; nothing typed is lost.' : 'Tap to measure it.'}
            </span>
          </span>
        </button>
      </li>
    );
  }
  const standing = standingOf(row);
  const part = drawnPart(row, tray);
  const alike = lookAlikeOf(row, tray);
  const ghost = alike?.other.part;
  const drawing =
    part &&
    drawPart({
      part,
      scale,
      lead_mm,
      ...(ghost ? { ghost } : {}),
      ...(alike?.telling ? { telling: alike.telling.name } : {}),
    });
  return (
    <li className="board-row" data-standing={standing} data-held={hand === draft.key}>
      <button
        type="button"
        className="board-button tints press line wrap"
        aria-expanded={isOpen}
        onClick={() => unfold(isOpen ? undefined : draft.key)}
      >
        <span className="board-picture clip rigid as-block">
          {drawing !== undefined && <Drawing drawing={drawing} />}
        </span>
        <span className="board-words stack slim">
          <span className="soft small">
            {name}
            {row.reading.count > 1 ? `, ${row.reading.count} alike` : ''}
          </span>
          <span className="board-title flex gap-3 large">
            <StandingMark standing={standing} /> <span>{wordTrayRow(row, tray).title}</span>
          </span>
          {standing !== 'nothing' && (
            <span className="board-standing medium">
              {STANDING_WORDS[standing]}
              {row.alternatives.length > 0
                ? `: or ${row.alternatives.length === 1 ? 'another part' : `one of ${row.alternatives.length} others`}`
                : row.byElimination
                  ? ', by elimination'
                  : ''}
            </span>
          )}
          {row.isSure && <Places id={row.placements[0]?.candidate} analysis={analysis} />}
          {alike?.telling && (
            <span className="board-telling numbers">
              {capital(wordDifference(alike.telling, alike.other.kind))} than {alike.other.name}
            </span>
          )}
        </span>
      </button>
      {isOpen && (
        <RowDetail draft={draft} row={row} tray={tray} analysis={analysis} said={wordReadingSizes(row.reading)} />
      )}
    </li>
  );
});

/** Where a part goes and which way it looks, each place a line. */
function Places({ id, analysis }: { readonly id: string | undefined; readonly analysis: Analysis }): ReactNode {
  const places = id === undefined ? [] : placesOf(analysis, id);
  return places.map((place) => (
    <span key={place.itemId} className="board-place line gap-3">
      {place.role === 'spacer' && <FacingGlyph toward={place.smallFace ?? 'same'} />}
      <span className="slim">{wordPlaceBrief(place, analysis)}</span>
    </span>
  ));
}

/** The likeliest rival, else the part of the list most easily taken for it. */
function lookAlikeOf(row: TrayRow, tray: Tray): ReturnType<typeof nearestLookAlike> {
  const own = tray.candidates.get(row.placements[0]?.candidate ?? '');
  if (!own || own.from !== 'list') return undefined;
  const rivals = row.alternatives.flatMap(({ candidate }) => tray.candidates.get(candidate ?? '') ?? []);
  const listed: Candidate[] = [...tray.candidates.values()].filter(({ from }) => from === 'list');
  const { accuracy_mm } = tray.setting;
  return rivals.length > 0 ? nearestOf(own, rivals, accuracy_mm) : nearestLookAlike(own, listed, accuracy_mm);
}
