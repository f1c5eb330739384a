/**
 * The build order: the whole bike step by step on the page's one picture, and round it, where the page has its own, the
 * step, the order and why, the user's own order, access, and the variants.
 */
import { useEffect, useMemo, useRef, type ReactNode } from 'react';
import { accessTargets, type Analysis, type LinkageModel } from '../../shared/index.ts';
import type { OrderTab, OrderView } from './order.ts';
import { baseModel } from './orderBase.ts';
import { useOrderClock } from './orderClock.ts';
import { buildRun, emptyRun, stripRun, taskRows, turnedAt, type Run } from './orderRun.ts';
import { pickTab } from './orderTab.ts';
import { runIn, type PlanInHand } from './planned.ts';
import { useSheetHeight } from '../page/sheetHeight.ts';
import { useApp } from '../page/store.ts';
import { useOwnSteps, useAccess, useVariants } from './useOrder.ts';
import { useOrderKeys } from './useOrderKeys.ts';
import { useOwnOrder } from './useOwnOrder.ts';
import { useScreen } from '../page/useScreen.ts';
import { Deference } from '../widgets/Deference.tsx';
import { FailedWork } from '../widgets/FailedWork.tsx';
import { SheetHandle, useSheetDrag } from '../widgets/sheet.tsx';
import { TabList, type TabWord } from '../widgets/TabList.tsx';
import { TaskList } from './TaskList.tsx';
import { JobSheet } from './JobSheet.tsx';
import { LentPicture } from './OrderPicture.tsx';
import { OrderPivots } from './OrderPivots.tsx';
import { OrderTools } from './OrderTools.tsx';
import { OwnOrder } from './OwnOrder.tsx';
import { Player, PlayButton } from './Player.tsx';
import { AccessPanel } from './AccessPanel.tsx';
import { StepNow } from './StepNow.tsx';
import { stepWords } from './StepFacts.tsx';
import { Summary } from './Summary.tsx';
import { VariantPanel } from './VariantPanel.tsx';

const TABS: readonly TabWord<OrderTab>[] = [
  { tab: 'step', word: 'Step' },
  { tab: 'plan', word: 'Order' },
  { tab: 'own', word: 'Your own' },
  { tab: 'access', word: 'Access' },
  { tab: 'variants', word: 'Variants' },
];

export default function OrderPlace({ analysis }: { readonly analysis: Analysis }): ReactNode {
  const worked = useApp((state) => state.planned);
  if (worked.is === 'running')
    return (
      <div className="side stack fit on-sheet">
        <p className="tray-wait" role="status">
          Working out the order…
        </p>
      </div>
    );
  if (worked.is === 'failed')
    return (
      <div className="side stack fit on-sheet">
        <div className="tray-wait">
          <FailedWork what="The order" message={worked.message} />
        </div>
      </div>
    );
  return <InHand analysis={analysis} given={worked.given} />;
}

function InHand({ analysis, given }: { readonly analysis: Analysis; readonly given: PlanInHand }): ReactNode {
  const { plan, strip } = given;
  const room = useScreen();
  const view = useApp((state) => state.order);
  const text = useApp((state) => state.opened?.text);
  const base = useMemo<LinkageModel | undefined>(() => baseModel(analysis, text), [analysis, text]);
  const isNarrow = room === 'tall' || room === 'short';
  const tab: OrderTab = view.tab === 'step' && !isNarrow ? view.of : view.tab;
  const isUpright = room === 'tall';
  const height = useSheetHeight((state) => state.height);
  const drag = useSheetDrag();
  const own = useOwnOrder(plan, view);
  const isAccess = view.of === 'access';
  const targets = useMemo(() => (isAccess ? accessTargets(plan) : []), [plan, isAccess]);
  const target = targets.find(({ id }) => id === view.access);
  const access = useAccess(analysis, target?.id);
  const variants = useVariants(tab === 'variants' && (base?.variants?.length ?? 0) > 0 ? base : undefined);
  // An order with a task in a wrong place is gone through as far as it works.
  const ownTasks = useMemo(
    () => (own.isOwn ? own.order.slice(0, own.good).map((k) => plan.tasks[k]!.id) : undefined),
    [own.isOwn, own.good, own.order, plan],
  );
  const ownSteps = useOwnSteps(analysis, ownTasks);

  const planned = runIn({ is: 'done', given }, undefined, view.way);
  const ownRun = useMemo((): Run => {
    if (!ownTasks) return planned;
    if (ownSteps.is !== 'done') return emptyRun(analysis, view.way === 'strip');
    const source = { of: 'own', way: view.way, tasks: ownTasks } as const;
    return view.way === 'strip'
      ? stripRun(analysis, ownSteps.given.strip.steps, source)
      : buildRun(analysis, ownSteps.given.steps, source);
  }, [ownTasks, ownSteps, planned, analysis, view.way]);
  const accessRun = useMemo(
    () =>
      access.is === 'done'
        ? stripRun(
            analysis,
            access.given.strip,
            { of: 'access', way: 'strip', id: access.given.target.id },
            access.given.back,
          )
        : emptyRun(analysis, true),
    [access, analysis],
  );
  const run = { plan: planned, own: ownRun, access: accessRun }[view.of];
  const rows = useMemo(() => taskRows(run, plan), [run, plan]);
  const planRows = useMemo(() => taskRows(planned, plan), [planned, plan]);
  const total = run.steps.length;
  const at = Math.min(view.at, total);
  useOrderClock(analysis, run);
  useOrderKeys(total);
  const shown = run.steps[at - 1];
  const title = shown && stepWords(shown, analysis).title;
  const now = <StepNow run={run} at={at} analysis={analysis} />;
  const sheet =
    view.of === 'access'
      ? 'access'
      : view.way === 'strip'
        ? 'strip-down'
        : view.of === 'own' && own.isOwn
          ? 'build, own order'
          : 'build';
  const turn = (way: OrderView['way']): void => {
    const steps = view.of === 'own' && ownSteps.is === 'done' ? ownSteps.given : { steps: plan.steps, strip };
    useApp.getState().act.setOrder({ ...view, way, at: turnedAt(steps.steps, steps.strip.steps, at, way) });
  };

  const tools = (
    <OrderTools plan={plan} view={view} turn={turn} canPrint={total > 0 && (view.of !== 'own' || own.isPossible)} />
  );
  const pick = (to: OrderTab): void => {
    if (isUpright) useSheetHeight.getState().show(true);
    pickTab(to);
  };
  const pivots = <OrderPivots analysis={analysis} run={run} at={at} />;

  return (
    <>
      <LentPicture analysis={analysis} run={run} foot={isUpright && <PlayButton total={total} />} />
      <div className="side order-side stack fit on-sheet" data-sheet={isUpright ? height : undefined}>
        <Title />
        {!isNarrow && now}
        <div className="side-head flex" {...(isUpright ? drag : {})}>
          <TabList
            tabs={isNarrow ? TABS : TABS.slice(1)}
            tab={tab}
            label="Build order"
            className="tabs stack"
            idFrom="plan-tab-"
            panelId="plan-page"
            onPick={pick}
          />
          {isUpright && <SheetHandle />}
        </div>
        <div
          className="plan-page fit on-sheet anchor scroll"
          role="tabpanel"
          id="plan-page"
          aria-labelledby={`plan-tab-${tab}`}
          tabIndex={0}
          data-scrolls
          hidden={isUpright && height === 'low'}
        >
          {(tab === 'plan' || tab === 'own') && tools}
          {tab === 'step' && now}
          {tab === 'plan' && (
            <>
              <Summary plan={plan} analysis={analysis} />
              <TaskList rows={planRows} run={planned} at={view.of === 'plan' ? at : 0} analysis={analysis} />
            </>
          )}
          {tab === 'own' && (
            <OwnOrder
              plan={plan}
              analysis={analysis}
              own={own.order}
              before={own.before}
              change={own.change}
              putBack={own.putBack}
              isKept={own.isKept}
            />
          )}
          {tab === 'access' && (
            <AccessPanel
              analysis={analysis}
              targets={targets}
              target={target}
              worked={access}
              run={accessRun}
              at={at}
              pick={pickAccess}
            />
          )}
          {tab === 'variants' && (
            <VariantPanel
              model={base}
              analysis={analysis}
              worked={variants}
              against={view.against}
              pick={pickVariant}
            />
          )}
          {(tab === 'step' || tab === 'access') && tools}
          <Deference />
        </div>
      </div>
      <div className="bar line gap-5 slim on-sheet">
        {!isUpright && pivots}
        <Player run={run} title={title} isUpright={isUpright} />
      </div>
      {isUpright && pivots}
      <p className="away clip no-wrap" aria-live="polite" aria-atomic="true">
        {shown && title !== undefined ? `Step ${at} of ${total}: ${title}. ${stepWords(shown, analysis).text}` : ''}
      </p>
      <JobSheet title={sheet} rows={rows} run={run} analysis={analysis} />
    </>
  );
}

/** What one has come to: the head of the page shows it, and a screen reader is told it here. */
function Title(): ReactNode {
  const head = useRef<HTMLHeadingElement>(null);
  useEffect(() => head.current?.focus({ preventScroll: true }), []);
  return (
    <h2 className="away clip no-wrap" ref={head} tabIndex={-1}>
      Build order
    </h2>
  );
}

function pickAccess(access: string | undefined): void {
  const { act, order } = useApp.getState();
  const { access: _, ...rest } = order;
  act.setOrder({ ...rest, at: 0, ...(access === undefined ? {} : { access }) });
}

function pickVariant(against: string): void {
  const { act, order } = useApp.getState();
  act.setOrder({ ...order, against });
}
