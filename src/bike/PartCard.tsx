/**
 * The card of a part: where it goes, which way it looks, what each face bears on, and what it could be taken for.
 */
import type { ReactNode } from 'react';
import {
  nameOf,
  sideWord,
  wordFace,
  wordFacing,
  type Analysis,
  type FaceReading,
  type PivotAnalysis,
  type PlacedItem,
  type Side,
} from '../../shared/index.ts';
import { placeWords } from './places.ts';
import { FindingList } from '../widgets/FindingList.tsx';
import { LookAlikes } from '../widgets/LookAlikes.tsx';
import { BandGlyph, FacingGlyph, SidePlate, type Band } from '../widgets/marks.tsx';
import { PartWork } from '../mistakes/PartWork.tsx';
import { PartWays } from './Ways.tsx';

interface Props {
  readonly item: PlacedItem;
  readonly pivot: PivotAnalysis;
  readonly analysis: Analysis;
}

export function PartCard({ item, pivot, analysis }: Props): ReactNode {
  const stack = pivot.stacks.find((candidate) => candidate.id === item.stackId);
  const about = pivot.findings.filter((finding) => finding.parts.includes(item.id));
  return (
    <>
      <h2 className="card-title huge">{nameOf(item.id, analysis)}</h2>
      {stack && <p className="card-sub">{placeWords(item, stack)}</p>}
      <p className="line gap-4 strong">
        {item.role === 'spacer' && <FacingGlyph toward={item.smallFace ?? 'same'} />}{' '}
        <span>{wordFacing(item, analysis)}</span>
      </p>
      <PartWork id={item.id} />
      <PartWays item={item} pivot={pivot} />
      <FindingList findings={about} analysis={analysis} />
      <h3>What it bears on</h3>
      <Face side="non-drive" reading={item.nonDrive} analysis={analysis} />
      <Face side="drive" reading={item.drive} analysis={analysis} />
      {item.part !== undefined && <LookAlikes partId={item.part} parts={analysis.model.parts} />}
      <PartNotes item={item} analysis={analysis} />
    </>
  );
}

function Face({
  side,
  reading,
  analysis,
}: {
  readonly side: Side;
  readonly reading: FaceReading;
  readonly analysis: Analysis;
}): ReactNode {
  return (
    <div className="face stack gap-1">
      <p className="line gap-3 soft small">
        <SidePlate side={side} /> Face to the {sideWord(side)}
      </p>
      <p className="line gap-4 medium">
        <BandGlyph band={bandOf(reading)} /> <span>{wordFace(reading, analysis)}</span>
      </p>
    </div>
  );
}

function PartNotes({ item, analysis }: { readonly item: PlacedItem; readonly analysis: Analysis }): ReactNode {
  const notes =
    item.part === undefined ? analysis.model.members[item.member ?? '']?.notes : analysis.model.parts[item.part]?.notes;
  if (!notes) return null;
  return (
    <section>
      <h3>From the model file</h3>
      {notes.map((note) => (
        <p key={note}>{note}</p>
      ))}
    </section>
  );
}

function bandOf({ bears }: FaceReading): Band {
  return bears === 'land' ? 'ring' : bears;
}
