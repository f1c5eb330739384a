/**
 * The jobs' place: the list of jobs, or one of them with its pages.
 */
import { useEffect, useMemo, useRef, useState, type ReactNode } from 'react';
import { jobView, type Analysis, type Job, type Silent } from '../../shared/index.ts';
import type { PlanInHand } from '../build/planned.ts';
import { act, useApp } from '../page/store.ts';
import { useWork } from '../page/useWork.ts';
import { PlaceHead } from '../tray/PlaceHead.tsx';
import { Deference } from '../widgets/Deference.tsx';
import { wordClashes } from '../words.ts';
import { FailedWork } from '../widgets/FailedWork.tsx';
import { TabList, type TabWord } from '../widgets/TabList.tsx';
import { JobList } from './JobList.tsx';
import { CamePage, HandOverPage, LayOutPage, OpenPage, PartsPage } from './JobPages.tsx';
import { useJob } from './jobStore.ts';
import { useNow } from './time.ts';
import { useShownStep, useWorkThrough, WorkBar, WorkCard, WorkPicture } from './WorkThrough.tsx';

type Tab = 'came' | 'lay-out' | 'work' | 'parts' | 'open' | 'end';
const TABS: readonly TabWord<Tab>[] = [
  { tab: 'came', word: 'Came' },
  { tab: 'lay-out', word: 'Lay out' },
  { tab: 'work', word: 'Work' },
  { tab: 'parts', word: 'Parts' },
  { tab: 'open', word: 'Open' },
  { tab: 'end', word: 'Hand over' },
];
const NONE: Silent = { torques: [], facings: [] };

export default function JobPlace({ analysis }: { readonly analysis: Analysis }): ReactNode {
  const id = useApp((state) => state.job);
  const opened = useJob((state) => state.id);
  const job = useJob((state) => state.job);
  const isMissing = useJob((state) => state.isMissing);
  const planned = useApp((state) => state.planned);
  useEffect(() => useJob.getState().openFor(id), [id]);
  if (id === undefined)
    return (
      <main className="job stack fit on-sheet">
        <PlaceHead title="Jobs" said={<p className="soft">{analysis.model.name}</p>}>
          {undefined}
        </PlaceHead>
        <div className="job-page anchor scroll" tabIndex={0} role="region" aria-label="Jobs of this device">
          <JobList analysis={analysis} />
          <Deference />
        </div>
      </main>
    );
  if (opened === id && isMissing) return <Elsewhere text="This job is not kept on this device." />;
  if (opened === id && job && job.model !== analysis.model.id)
    return <Elsewhere text="This job is one of another model: open it from the list." />;
  if (planned.is === 'failed')
    return (
      <main className="tray-wait">
        <FailedWork what="The steps" message={planned.message} />
      </main>
    );
  if (opened !== id || !job || planned.is === 'running' || planned.given.isSoFar)
    return (
      <main className="tray-wait" role="status">
        Opening…
      </main>
    );
  return <InHand key={id} id={id} job={job} analysis={analysis} given={planned.given} />;
}

function Elsewhere({ text }: { readonly text: string }): ReactNode {
  return (
    <main className="tray-wait stack gap-4 from-start">
      <p>{text}</p>
      <button type="button" className="button medium no-wrap" onClick={() => act.setJob(undefined)}>
        All jobs
      </button>
    </main>
  );
}

interface Props {
  readonly id: string;
  readonly job: Job;
  readonly analysis: Analysis;
  readonly given: PlanInHand;
}

function InHand({ id, job, analysis, given }: Props): ReactNode {
  const [tab, setTab] = useState<Tab>(() => (Object.keys(job.steps).length > 0 ? 'work' : 'came'));
  const now_ms = useNow();
  const silent = useWork(analysis, 'job-silent', { kind: 'job-silent', asked: { model: analysis.model } }).state;
  const watched = silent.is === 'done' ? silent.given : NONE;
  const view = useMemo(
    () => jobView({ plan: given.plan, strip: given.strip, silent: watched }, job, now_ms),
    [given, watched, job, now_ms],
  );
  const { go } = useShownStep(view);
  // Where the hand left off, and not where the build order's own place was left.
  const begin = useRef(() => go(view.next));
  useEffect(() => begin.current(), []);
  const tabs = (
    <TabList
      tabs={TABS}
      tab={tab}
      label="Job"
      className="plan-tabs job-tabs stack slim on-sheet"
      idFrom="job-tab-"
      panelId="job-page"
      onPick={setTab}
    />
  );
  const head = <Head job={job} done={view.done} total={view.steps.length} isPlain={tab === 'work'} />;
  if (tab === 'work') return <Working view={view} job={job} given={given} now_ms={now_ms} head={head} tabs={tabs} />;
  return (
    <main className="job stack fit on-sheet" data-tab={tab}>
      {head}
      {tabs}
      <div
        className="job-page anchor scroll"
        role="tabpanel"
        id="job-page"
        aria-labelledby={`job-tab-${tab}`}
        tabIndex={0}
      >
        <TwoValues />
        {tab === 'came' && <CamePage view={view} job={job} />}
        {tab === 'lay-out' && <LayOutPage view={view} job={job} />}
        {tab === 'parts' && <PartsPage view={view} job={job} />}
        {tab === 'open' && <OpenPage view={view} job={job} id={id} />}
        {tab === 'end' && <HandOverPage view={view} job={job} id={id} plan={given.plan} />}
        <Deference />
      </div>
    </main>
  );
}

/** Two devices have written this job further without knowing of one another. */
function TwoValues(): ReactNode {
  const clashes = useJob((state) => state.clashes);
  if (clashes === 0) return null;
  return (
    <div className="callout callout-warn stack gap-2" role="status">
      <p>{wordClashes(clashes)}</p>
      <div>
        <button type="button" className="button medium no-wrap" onClick={() => act.openDialog('kept')}>
          Own files
        </button>
      </div>
    </div>
  );
}

interface HeadProps {
  readonly job: Job;
  readonly done: number;
  readonly total: number;
  /** The work-through has its own undo, beside what it undoes. */
  readonly isPlain: boolean;
}

function Head({ job, done, total, isPlain }: HeadProps): ReactNode {
  const { undo, redo } = useJob.getState();
  const steps = useJob((state) => state.steps);
  return (
    <PlaceHead
      title={job.reference === '' ? 'Job' : `Job ${job.reference}`}
      said={
        <p className="soft" role="status">
          {done} of {total} steps closed
        </p>
      }
    >
      {!isPlain && (
        <>
          <button type="button" className="button medium no-wrap" aria-disabled={steps.undo === 0} onClick={undo}>
            Undo
          </button>
          <button type="button" className="button medium no-wrap" aria-disabled={steps.redo === 0} onClick={redo}>
            Redo
          </button>
        </>
      )}
    </PlaceHead>
  );
}

interface WorkingProps extends Pick<Props, 'job' | 'given'> {
  readonly view: ReturnType<typeof jobView>;
  readonly now_ms: number;
  readonly head: ReactNode;
  readonly tabs: ReactNode;
}

function Working({ view, job, given, now_ms, head, tabs }: WorkingProps): ReactNode {
  const work = useWorkThrough({ view, job, now_ms });
  return (
    <main className="plan job-work stack hair fit anchor" data-tab="work">
      {head}
      <WorkPicture view={view} given={given} />
      {tabs}
      <div
        className="plan-page fit on-sheet anchor scroll"
        role="tabpanel"
        id="job-page"
        aria-labelledby="job-tab-work"
        tabIndex={0}
        data-scrolls
      >
        <TwoValues />
        <WorkCard work={work} view={view} job={job} />
        <Deference />
      </div>
      <WorkBar work={work} view={view} />
    </main>
  );
}
