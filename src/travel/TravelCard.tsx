/**
 * The card of the travel: what is wrong in it, what the free check should feel like, and which pivots work hardest.
 */
import { memo, useMemo, type ReactNode } from 'react';
import {
  CAUTIONS,
  wordDrag,
  wordFall,
  wordForce,
  wordJoint,
  wordLowPivots,
  wordMeasure,
  wordPassing,
  wordPivotReason,
  wordPivotTravel,
  wordTravelFeel,
  wordTravelFinding,
  wordTravelVerdict,
  type Analysis,
  type Travel,
  type TravelFinding,
} from '../../shared/index.ts';
import { focusPicked } from '../page/focus.ts';
import { act, useApp } from '../page/store.ts';
import { fallFrom, type Travelled } from './travel.ts';
import { useTravelled } from './useTravel.ts';
import { FindingBody } from '../widgets/FindingList.tsx';
import { VerdictMark } from '../widgets/marks.tsx';
import { Strip } from './Strip.tsx';

const GAPS = 6;

export default memo(function TravelCard({ analysis }: { readonly analysis: Analysis }): ReactNode {
  const { work, travelled } = useTravelled();
  if (work.state.is !== 'done') return <h2 className="card-title huge">Travel</h2>;
  if (!travelled) return <p>Nothing of this model moves.</p>;
  const { travel } = travelled;
  const { model } = analysis;
  const pressing = travel.findings.filter(({ severity }) => severity !== 'note');
  const notes = travel.findings.filter(({ severity }) => severity === 'note');
  const low = wordLowPivots(travel, model);
  return (
    <>
      <h2 className="card-title huge">Travel</h2>
      <p className="line gap-3 large bold">
        <VerdictMark verdict={travel.verdict} /> {wordTravelVerdict(travel)}
      </p>
      <Facts travel={travel} />
      <Findings findings={pressing} analysis={analysis} />
      <FreeCheck travelled={travelled} analysis={analysis} />
      <section>
        <h3>{travel.forceCheck_N === undefined ? 'What turns' : 'Which pivots work hardest'}</h3>
        <Ranking travel={travel} analysis={analysis} />
        {low !== '' && <p className="travel-low">{low}</p>}
        {travel.forceCheck_N !== undefined && (
          <p className="soft">
            Forces for {wordForce(travel.load_N)} upright at the rear axle, a round figure: they grow in step with it.
          </p>
        )}
      </section>
      {travel.gaps.length > 0 && (
        <details className="fold travel-fold">
          <summary>Smallest gaps</summary>
          <ul className="travel-fold-page travel-gaps stack gap-3">
            {travel.gaps.slice(0, GAPS).map((gap) => (
              <li key={`${gap.one.id} ${gap.other.id}`}>{wordPassing(gap, model, travel.drive.kind === 'turn')}</li>
            ))}
          </ul>
        </details>
      )}
      <Strip travelled={travelled} name={model.id} />
      {notes.length > 0 && (
        <section>
          <h3>Good to know</h3>
          <Findings findings={notes} analysis={analysis} />
        </section>
      )}
      <p className="soft">{CAUTIONS.air}</p>
    </>
  );
});

function Facts({ travel: { shock, rear } }: { readonly travel: Travel }): ReactNode {
  if (!shock && !rear) return null;
  const mm = (value: number): string => wordMeasure({ value, unit: 'mm' });
  return (
    <dl className="facts stack gap-1">
      {rear && (
        <div className="fact stack gap-3">
          <dt>Rear axle</dt>
          <dd>
            rises <strong className="fact-number numbers">{mm(rear.rise_mm)}</strong>
            {rear.stated_mm !== undefined && ` (stated ${mm(rear.stated_mm)})`}
          </dd>
        </div>
      )}
      {shock && (
        <div className="fact stack gap-3">
          <dt>Shock</dt>
          <dd>
            {mm(shock.used_mm)} between the eyes, {mm(shock.stroke_mm)} stroke
            {shock.reached_mm < shock.stroke_mm && `, ${mm(shock.reached_mm)} of it usable`}
          </dd>
        </div>
      )}
    </dl>
  );
}

function Findings({
  findings,
  analysis,
}: {
  readonly findings: readonly TravelFinding[];
  readonly analysis: Analysis;
}): ReactNode {
  if (findings.length === 0) return null;
  return (
    <ul className="findings stack gap-2">
      {findings.map((finding, k) => (
        <li key={`${finding.code} ${k}`}>
          <div className={`finding edged flex gap-4 full finding-${finding.severity}`}>
            <FindingBody severity={finding.severity} {...wordTravelFinding(finding, analysis.model)} />
          </div>
        </li>
      ))}
    </ul>
  );
}

function FreeCheck({ travelled, analysis }: { readonly travelled: Travelled; readonly analysis: Analysis }): ReactNode {
  const view = useApp((state) => state.travel?.isOut ?? false);
  const fall = useMemo(() => fallFrom(travelled, 1), [travelled]);
  const hasShock = travelled.run.drive.kind === 'shock';
  const words = wordFall(fall, travelled.drags, analysis.model);
  return (
    <section>
      <h3>Free check</h3>
      {hasShock && (
        <div
          className={
            fall.isFree ? 'travel-fall callout stack gap-3' : 'travel-fall callout callout-trouble stack gap-3'
          }
        >
          <p>
            <strong>{words.title}.</strong> {words.text}
          </p>
          {!view && (
            <button
              type="button"
              className="button button-small small medium no-wrap"
              onClick={() => act.setTravel({ share: 1, isOut: true })}
            >
              Take the shock out and lift it
            </button>
          )}
        </div>
      )}
      <p>{wordTravelFeel(travelled.travel, analysis.model)}</p>
      <details className="fold travel-fold">
        <summary>Drag of each pivot</summary>
        <ul className="travel-fold-page travel-gaps stack gap-3">
          {[...travelled.drags]
            .sort((one, other) => other.drag_Nm - one.drag_Nm)
            .map((drag) => (
              <li key={drag.joint}>{wordDrag(drag, analysis.model)}</li>
            ))}
        </ul>
      </details>
    </section>
  );
}

function Ranking({ travel, analysis }: { readonly travel: Travel; readonly analysis: Analysis }): ReactNode {
  const hardest = Math.max(1e-9, ...travel.pivots.map(({ work_Nrad }) => work_Nrad));
  const isLoaded = travel.forceCheck_N !== undefined;
  return (
    <ol className="travel-ranks stack hair">
      {travel.pivots.map((work) => {
        const reason = wordPivotReason(work, travel);
        return (
          <li key={work.joint}>
            <button
              type="button"
              className="go-button warms travel-rank press line gap-4 strong anchor"
              onClick={() => {
                act.setTravel(undefined);
                act.pickPivot(work.pivot);
                focusPicked();
              }}
            >
              {isLoaded && (
                <span
                  className="travel-rank-bar"
                  style={{ width: `${Math.max(1, (100 * work.work_Nrad) / hardest).toFixed(1)}%` }}
                  aria-hidden="true"
                />
              )}
              <span className="stack slim">
                <span>{wordJoint(analysis.model, work)}</span>
                <span className="travel-rank-numbers numbers">{wordPivotTravel(work, travel)}</span>
                {reason !== '' && <span className="travel-rank-reason soft numbers">{reason}</span>}
              </span>
            </button>
          </li>
        );
      })}
    </ol>
  );
}
