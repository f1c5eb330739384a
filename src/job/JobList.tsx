/**
 * The shop's jobs: search, archive, a new one of the open model or like the last one of it; and what they come to.
 */
import { useEffect, useState, type ReactNode } from 'react';
import {
  emptyJob,
  isEnough,
  learned,
  learnedCsv,
  nextJob,
  wordLearned,
  type Analysis,
  type Job,
} from '../../shared/index.ts';
import { BUNDLED } from '../page/models.ts';
import { readRoute, writeRoute } from '../page/route.ts';
import { act, useApp } from '../page/store.ts';
import { dayWords, today } from '../widgets/day.ts';
import { saveFile } from '../widgets/saveFile.ts';
import { beginJob, putIn, useJob, type ListedJob } from './jobStore.ts';

const bikeName = (id: string, { model }: Analysis): string =>
  model.id === id ? model.name : (BUNDLED.find((known) => known.id === id)?.name ?? id);

export function JobList({ analysis }: { readonly analysis: Analysis }): ReactNode {
  const list = useJob((state) => state.list);
  const follow = useApp((state) => state.follow);
  const [search, setSearch] = useState('');
  const [hasArchive, setArchive] = useState(false);
  const dialog = useApp((state) => state.dialog);
  // A sheet over the page may have taken jobs in.
  useEffect(() => {
    if (dialog === undefined) useJob.getState().readList();
  }, [dialog]);
  const { model, variant, key } = analysis;
  const words = search.toLowerCase().split(/\s+/);
  const shown = (list ?? []).filter(
    ({ job }) => (hasArchive || !job.is_archived) && words.every((word) => textOf(job, analysis).includes(word)),
  );
  const last = list?.find(({ job }) => job.model === model.id);
  const begin = (job: Job): void => void beginJob({ ...job, date: today() }).then((id) => act.setJob(id));
  return (
    <>
      <div className="flow gap-3">
        <button
          type="button"
          className="button button-main medium no-wrap"
          onClick={() =>
            begin(emptyJob({ model: model.id, key, follow, ...(variant === undefined ? {} : { variant }) }))
          }
        >
          New job
        </button>
        {last && (
          <button type="button" className="button medium no-wrap" onClick={() => begin(nextJob(last.job, key))}>
            New, like the last one
          </button>
        )}
      </div>
      <p className="soft">
        A job is one real {model.name}, from strip-down to hand-over. It is kept on this device.
        {last ? ' Like the last one: its wrenches and your initials.' : ''}
      </p>
      {list !== undefined && list.length > 0 && (
        <div className="flow gap-3 job-ends">
          <label className="stack gap-1 slim">
            <span className="soft small medium">Search jobs</span>
            <input
              className="input full on-sheet"
              type="search"
              value={search}
              onChange={(event) => setSearch(event.target.value)}
            />
          </label>
          <label className="choice">
            <input type="checkbox" checked={hasArchive} onChange={(event) => setArchive(event.target.checked)} />
            With the archive
          </label>
        </div>
      )}
      {list === undefined ? (
        <p>Opening…</p>
      ) : list.length > 0 && shown.length === 0 ? (
        <p role="status">No job has these words.</p>
      ) : (
        <ul className="stack gap-3" aria-label="Jobs">
          {shown.map((one) => (
            <Row key={one.id} listed={one} analysis={analysis} />
          ))}
        </ul>
      )}
      {list !== undefined && list.length > 0 && <Learnings list={list} analysis={analysis} />}
    </>
  );
}

function textOf(job: Job, analysis: Analysis): string {
  return [job.reference, job.frame, job.date, job.initials, job.remarks, bikeName(job.model, analysis)]
    .join(' ')
    .toLowerCase();
}

function Row({ listed, analysis }: { readonly listed: ListedJob; readonly analysis: Analysis }): ReactNode {
  const { id, job, last_at_ms } = listed;
  const title = job.reference === '' ? 'Without a reference' : job.reference;
  const closed = Object.values(job.steps).filter(({ is }) => is !== 'not-yet').length;
  const open = (): void => {
    const isHere = job.model === analysis.model.id && job.variant === analysis.variant;
    if (isHere) return act.setJob(id);
    const isBundled = BUNDLED.some((known) => known.id === job.model);
    window.location.hash = writeRoute({
      ...readRoute(''),
      ...(isBundled ? { model: job.model } : { file: job.model }),
      ...(job.variant === undefined ? {} : { variant: job.variant }),
      place: 'job',
      job: id,
    });
  };
  return (
    <li className="job-row line wrap gap-3 apart-ends">
      <span className="stack hair slim">
        <strong className="any-break">{title}</strong>
        <span className="soft small any-break">
          {[
            bikeName(job.model, analysis),
            job.frame,
            closed === 0 ? 'not begun' : closed === 1 ? '1 step closed' : `${closed} steps closed`,
          ]
            .filter((word) => word !== '')
            .join(', ')}
          , {dayWords(last_at_ms)}
          {job.is_archived ? ', archived' : ''}
        </span>
      </span>
      <span className="flow gap-3">
        <button type="button" className="button medium no-wrap" onClick={open}>
          Open<span className="away clip no-wrap"> {title}</span>
        </button>
        <button
          type="button"
          className="button medium no-wrap"
          onClick={() => void putIn(id, { is_archived: job.is_archived ? null : true })}
        >
          {job.is_archived ? 'Back from the archive' : 'Archive'}
          <span className="away clip no-wrap"> {title}</span>
        </button>
      </span>
    </li>
  );
}

/** Which axles wear first, and how torques stood, once there are enough jobs to say so. */
function Learnings({
  list,
  analysis,
}: {
  readonly list: readonly ListedJob[];
  readonly analysis: Analysis;
}): ReactNode {
  const jobs = list.map(({ job }) => job);
  const stacks = analysis.pivots.flatMap((pivot) => pivot.stacks);
  return (
    <details className="fold">
      <summary>What the shop learned</summary>
      <div className="stack gap-4">
        {isEnough(jobs.length) ? (
          <ul className="job-lines stack hair">
            {learned(jobs).map((row) => (
              <li key={`${row.model} ${row.stackId}`} className="job-line stack hair">
                <span className="medium">
                  {bikeName(row.model, analysis)},{' '}
                  {(row.model === analysis.model.id && stacks.find(({ id }) => id === row.stackId)?.name) ||
                    row.stackId.replaceAll('-', ' ')}
                </span>
                <span className="soft">{wordLearned(row)}</span>
              </li>
            ))}
          </ul>
        ) : (
          <p>From 10 jobs on this tells which pivots wear first. So far: {jobs.length}.</p>
        )}
        <div>
          <button
            type="button"
            className="button medium no-wrap"
            onClick={() => saveFile('axlewright-jobs.csv', learnedCsv(jobs), 'text/csv')}
          >
            Save all findings as a table
          </button>
        </div>
      </div>
    </details>
  );
}
