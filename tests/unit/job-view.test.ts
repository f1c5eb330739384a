/**
 * A whole job of each demo bike, gone through at the level of the core: the steps are the plan's and no others, each
 * asks for its value before it closes, what was found bad holds up what it would be fitted with, and nothing open is
 * lost.
 */
import { describe, expect, test } from 'vitest';
import {
  emptyJob,
  jobBike,
  jobField,
  jobFrom,
  jobView,
  OPEN_CODES,
  STOPS,
  wordCalendar,
  wordConsumable,
  wordFound,
  wordJobStep,
  wordJobTool,
  wordNeed,
  wordOpen,
  wordOrderLine,
  wordSecond,
  wordStop,
  type FieldValue,
  type Job,
  type JobBike,
  type OpenItem,
} from '../../shared/index.ts';
import { demoModels } from '../bench/models.ts';
import { MORNING_ms, storeOf, wholeJob } from '../setup/jobs.ts';
import { wordsOf } from '../setup/sentences.ts';

const HOUR_ms = 3_600_000;
const DAY_ms = 24 * HOUR_ms;
const bikes = demoModels().map((model) => ({ name: model.id, bike: jobBike(model, { follow: 'ours' }) }));
const begun = ({ plan }: JobBike): Job => emptyJob({ model: plan.analysis.model.id, key: plan.analysis.key });
const bikeOf = (name: string): JobBike => bikes.find((one) => one.name === name)!.bike;
const isOf =
  <K extends OpenItem['is']>(is: K) =>
  (open: OpenItem): open is OpenItem & { is: K } =>
    open.is === is;
const time = (at_ms: number): string => String(at_ms);

describe.each(bikes)('a whole job of $name', ({ bike }) => {
  const start = begun(bike);
  const first = jobView(bike, start, MORNING_ms);
  const { job, closed } = wholeJob(bike, start, storeOf(start, jobFrom));
  const built_ms = Math.max(...Object.values(job.steps).map(({ at_ms }) => at_ms));
  const view = jobView(bike, job, built_ms);

  test('goes through the strip-down and the build of the plan, each step once, and through nothing else', () => {
    expect(first.steps.map(({ id }) => id)).toEqual([
      ...bike.strip.steps.map(({ id }) => id),
      ...bike.plan.steps.map(({ id }) => id),
    ]);
    expect(closed).toEqual(first.steps.map(({ id }) => id));
    expect([first.done, view.done, view.next]).toEqual([0, closed.length, closed.length]);
    expect(first.minutes_left).toBe(first.minutes);
    expect(view.minutes_left).toBe(0);
  });

  test('asks for every torque, for what is felt and for every part’s condition, each before its step closes', () => {
    const needs = first.steps.flatMap((step) => step.needs);
    const torques = bike.plan.steps.filter(({ kind }) => kind === 'torque').map(({ stackId }) => stackId);
    expect(needs.flatMap((need) => (need.what === 'torque' ? [need.stackId] : []))).toEqual(torques);
    expect(new Set(needs.flatMap((need) => (need.what === 'felt' ? [`${need.when} ${need.stackId}`] : []))).size).toBe(
      2 * torques.length,
    );
    const asked = needs.flatMap((need) => (need.what === 'condition' ? [`${need.subject.of} ${need.subject.id}`] : []));
    expect(new Set(asked)).toEqual(new Set(first.subjects.map(({ of, id }) => `${of} ${id}`)));
    expect(first.steps.every((step) => step.lacks.length === step.needs.length)).toBe(true);
    expect(view.steps.every((step) => step.lacks.length === 0)).toBe(true);
  });

  test('leaves open what comes after the ride and what the model itself calls fitted for now, and nothing else', () => {
    const kinds = view.open.map(({ is }) => is);
    expect(kinds.filter((is) => is !== 'for-now')).toEqual(['first-ride', 'check-again', 'feel-again', 'strip-again']);
    const written = bike.plan.analysis.model.pivots.flatMap(({ stacks }) =>
      stacks.flatMap(({ id, fitted_for_now }) => (fitted_for_now === undefined ? [] : [`${id}/axle`])),
    );
    expect(view.open.filter(isOf('for-now')).map(({ id }) => id)).toEqual(written);
    for (const { opens, id } of view.open.filter(isOf('for-now'))) expect(opens).toContain(id.split('/')[0]);
  });

  test('has a second person sign silent torques and facings, each named once', () => {
    const seconds = first.steps.filter(({ second }) => second !== undefined);
    expect(
      seconds
        .filter(({ second }) => second === 'torque')
        .map(({ step }) => step.stackId!)
        .sort(),
    ).toEqual([...bike.silent.torques].sort());
    const unsigned = jobView(bike, { ...job, signs: {} }, built_ms).open.filter(isOf('unsigned'));
    expect(unsigned.map(({ step }) => step.id)).toEqual(seconds.map(({ id }) => id));
  });

  test('lays out every tool of its steps, and counts every bearing', () => {
    const drives = new Set(
      [...bike.plan.steps, ...bike.strip.steps.map(({ step }) => step)].flatMap(({ tools }) =>
        tools.flatMap((tool) => (tool.kind === 'drive' ? [`${tool.tool.tool} ${tool.tool.size_mm}`] : [])),
      ),
    );
    expect(new Set(first.tools.map(({ tool }) => `${tool.tool} ${tool.size_mm}`))).toEqual(drives);
    expect(first.tools).toHaveLength(drives.size);
    const bearings = first.subjects.filter(({ of, item }) => of === 'part' && item.role === 'bearing');
    expect(first.orders.flatMap(({ items }) => items).sort()).toEqual(bearings.map(({ id }) => id).sort());
    expect(first.orders.every(({ bearing, needed }) => bearing !== undefined && needed === 0)).toBe(true);
  });

  test('says everything in sentences that a hand can read', () => {
    const { analysis } = bike.plan;
    const told = [
      ...first.steps.flatMap((step) => [
        wordJobStep(step, analysis).text,
        ...(step.second ? [wordSecond(step.second)] : []),
      ]),
      ...first.steps.flatMap((step) => step.needs.map((need) => wordNeed(need, analysis, first.subjects))),
      ...view.open.flatMap((open) => Object.values(wordOpen(open, analysis, time))),
      ...first.tools.map((tool) => wordJobTool(tool).text),
      ...first.consumables.map((one) => wordConsumable(one).text),
      ...first.orders.flatMap((line) => Object.values(wordOrderLine(line))),
      ...STOPS.flatMap((stop) => Object.values(wordStop(stop)).flat()),
    ];
    for (const sentence of told.flatMap((text) => text.split(/(?<=[.!?]) /))) {
      expect(wordsOf(sentence), sentence).toBeLessThanOrEqual(30);
      expect(sentence).not.toMatch(/undefined|NaN|\bnull\b/);
    }
  });
});

/** A job of the rig with fields set, looked at. */
function rigWith(fields: Readonly<Record<string, FieldValue>>, now_ms = MORNING_ms) {
  const bike = bikeOf('class-rig');
  const job = storeOf(begun(bike), jobFrom)(fields);
  return { bike, job, view: jobView(bike, job, now_ms) };
}

const RIG = bikeOf('class-rig');
const RIG_BEARING = RIG.plan.analysis.pivots[0]!.stacks[0]!.items.find(({ role }) => role === 'bearing')!.id;
const RIG_SPACER = RIG.plan.analysis.pivots[0]!.stacks[0]!.items.find(({ role }) => role === 'spacer')!;

describe('what was found', () => {
  test('bad holds up the step that would fit it, until it is renewed, or fitted for now with what is opened for it', () => {
    const bad = { [jobField('part', RIG_BEARING, 'condition')]: ['notchy', 'rust'] };
    const fateOf = ({ view }: ReturnType<typeof rigWith>) =>
      view.steps.flatMap(({ kind, lacks }) => lacks.flatMap((need) => (need.what === 'fate' ? [kind] : [])));
    const found = rigWith(bad);
    expect(fateOf(found)).toEqual(['press-bearing']);
    expect(found.view.open.map(({ is }) => is)).toContain('bad');
    expect(found.view.orders.find(({ needed }) => needed > 0)).toMatchObject({ needed: 1, awaited: 0 });
    expect(wordFound(['notchy', 'rust'])).toBe('notchy, rust');

    const awaited = rigWith({ ...bad, [jobField('part', RIG_BEARING, 'awaited')]: 'bearing from the store' });
    expect(fateOf(awaited)).toEqual(['press-bearing']);
    expect(awaited.view.open.filter(isOf('awaited'))[0]).toMatchObject({ what: 'bearing from the store' });
    expect(awaited.view.orders.find((line) => line.awaited > 0)).toMatchObject({ needed: 0, awaited: 1 });

    // Asked after on the day a hand has set, and within a week where none was.
    const onDay = rigWith({
      ...bad,
      [jobField('part', RIG_BEARING, 'awaited')]: 'bearing from the store',
      [jobField('part', RIG_BEARING, 'awaited_on')]: '2027-02-03',
    });
    expect(onDay.view.open.filter(isOf('awaited'))[0]!.due_ms).toBe(Date.UTC(2027, 1, 3, 12));
    expect(awaited.view.open.filter(isOf('awaited'))[0]!.due_ms).toBe(MORNING_ms + 7 * DAY_ms);

    const renewed = rigWith({ ...bad, [jobField('part', RIG_BEARING, 'renewed')]: '6902' });
    expect(fateOf(renewed)).toEqual([]);
    expect(renewed.view.open.map(({ is }) => is)).not.toContain('bad');

    const forNow = rigWith({ ...bad, [jobField('part', RIG_BEARING, 'for_now')]: 'until the new one comes' });
    expect(fateOf(forNow)).toEqual([]);
    expect(forNow.view.open.filter(isOf('for-now'))).toEqual([
      expect.objectContaining({ id: RIG_BEARING, opens: [RIG_SPACER.stackId] }),
    ]);
  });

  test('by the calliper is bad where it is beyond the limit of the part’s own entry, and good within it', () => {
    const part = RIG.plan.analysis.model.parts[RIG_SPACER.part!]!;
    const length_mm = (part as { length_mm: number }).length_mm;
    const field = jobField('part', RIG_SPACER.id, 'measured');
    const foundAt = (mm: number) =>
      rigWith({ [field]: { length_mm: mm } }).view.subjects.find(({ id }) => id === RIG_SPACER.id)!.found;
    // A column short by more than the play of a bearing lets free parts rub: 0.1 mm.
    expect(foundAt(length_mm - 0.09)).toEqual([]);
    expect(foundAt(length_mm - 0.11)).toEqual(['short']);
  });

  test('on a seat is loose beyond its bearing and oval across two ways', () => {
    const field = jobField('seat', RIG_BEARING, 'measured');
    const seatAt = (across_mm: number, other_way_mm: number) =>
      rigWith({ [field]: { across_mm, other_way_mm } }).view.subjects.find(
        ({ of, id }) => of === 'seat' && id === RIG_BEARING,
      )!.found;
    const bearing = rigWith({}).view.orders[0]!.bearing!;
    expect(seatAt(bearing.outside_mm - 0.01, bearing.outside_mm - 0.02)).toEqual([]);
    expect(seatAt(bearing.outside_mm + 0.01, bearing.outside_mm + 0.02)).toEqual(['loose']);
    expect(seatAt(bearing.outside_mm, bearing.outside_mm - 0.04)).toEqual(['oval']);
  });

  test('with a stop point is decided: tried in order, mended, or the frame goes back to its maker', () => {
    const torn = { [jobField('seat', RIG_BEARING, 'condition')]: ['crack'] };
    const key = `${RIG_BEARING}/seat/cracked-arm`;
    const open = rigWith(torn).view;
    expect(open.decisions).toEqual([expect.objectContaining({ key, stop: 'cracked-arm', tried: 0, tries: 1 })]);
    expect(open.open.map(({ is }) => is)).toContain('decide');
    const back = rigWith({ ...torn, [jobField('decision', key)]: { tried: 1, came: 'to-maker' } }).view;
    expect(back.open.map(({ is }) => is)).toContain('to-maker');
    expect(back.steps.some(({ lacks }) => lacks.some(({ what }) => what === 'fate'))).toBe(true);
    const mended = rigWith({ ...torn, [jobField('decision', key)]: { tried: 1, came: 'mended' } }).view;
    expect(mended.open.map(({ is }) => is)).not.toContain('decide');
    expect(mended.steps.some(({ lacks }) => lacks.some(({ what }) => what === 'fate'))).toBe(false);
  });
});

describe('torques', () => {
  const stackId = RIG.plan.analysis.pivots[0]!.stacks[0]!.id;
  const set_Nm = RIG.plan.analysis.pivots[0]!.stacks[0]!.tightening.torque_Nm;
  const reachedWith = (reached_Nm: number, wrench?: FieldValue) =>
    rigWith({
      [jobField('axle', stackId)]: { reached_Nm, set_Nm, ...(wrench === undefined ? {} : { wrench: 'w' }) },
      ...(wrench === undefined ? {} : { 'wrench/w': wrench }),
    }).view.open;

  test('that were not reached stay open, beyond what the wrench itself may be off', () => {
    expect(reachedWith(set_Nm)).toEqual([]);
    expect(reachedWith(set_Nm * 0.965)).toEqual([]);
    expect(reachedWith(set_Nm * 0.9)).toEqual([expect.objectContaining({ is: 'torque-off', stackId })]);
    expect(reachedWith(set_Nm * 1.1)).toEqual([expect.objectContaining({ is: 'torque-off', stackId })]);
  });

  test('of a wrench out of its range, or long uncalibrated, stay open', () => {
    const wrench = { name: 'blue', least_Nm: 2, most_Nm: set_Nm * 1.5, calibrated: '2026-09-01' };
    expect(reachedWith(set_Nm, wrench)).toEqual([]);
    expect(reachedWith(set_Nm, { ...wrench, calibrated: '2025-12-01' })).toEqual([
      expect.objectContaining({ is: 'wrench', why: 'calibration' }),
    ]);
    expect(reachedWith(set_Nm, { ...wrench, calibrated: '' })).toEqual([
      expect.objectContaining({ is: 'wrench', why: 'calibration' }),
    ]);
    expect(reachedWith(set_Nm, { ...wrench, least_Nm: set_Nm * 1.2 })).toEqual([
      expect.objectContaining({ is: 'wrench', why: 'range' }),
    ]);
  });
});

test('threadlocker sets until its hour, then no more, and the step that waits for it closes only then', () => {
  const bike = bikeOf('skarn-140');
  const locked = bike.plan.analysis.model.pivots
    .flatMap(({ stacks }) => stacks)
    .find(({ thread_treatment }) => thread_treatment === 'threadlocked')!.id;
  const torque = bike.plan.steps.find(({ kind, stackId }) => kind === 'torque' && stackId === locked)!.id;
  const job = storeOf(begun(bike), jobFrom)({ [jobField('step', torque)]: { is: 'done', at_ms: MORNING_ms } });
  const at = (hours: number) => jobView(bike, job, MORNING_ms + hours * HOUR_ms);
  expect(at(23).open.filter(isOf('cures'))).toEqual([
    expect.objectContaining({ stacks: [locked], until_ms: MORNING_ms + 24 * HOUR_ms }),
  ]);
  expect(at(24).open.filter(isOf('cures'))).toEqual([]);
  const waits = (hours: number) =>
    at(hours)
      .steps.find(({ kind }) => kind === 'cure')!
      .lacks.map(({ what }) => what);
  expect([waits(23), waits(24)]).toEqual([['cured'], []]);
  const entry = wordCalendar(at(1), job, 'job-1', time).find(({ uid }) => uid.includes('cures'))!;
  expect(entry.at_ms).toBe(MORNING_ms + 24 * HOUR_ms);
});

test('a calendar forgets nothing: what has no day of its own is told with the first that has one', () => {
  const end = RIG.plan.steps.find(({ kind }) => kind === 'hand-over')!.id;
  const stackId = RIG.plan.analysis.pivots[0]!.stacks[0]!.id;
  const { view, job } = rigWith({
    [jobField('step', end)]: { is: 'done', at_ms: MORNING_ms },
    [jobField('axle', stackId)]: { reached_Nm: 1, set_Nm: 10 },
  });
  const [first, ...later] = wordCalendar(view, job, 'job-1', time);
  expect(first!.uid).toContain('first-ride');
  expect(first!.text).toMatch(/Still open: Torque not reached/);
  expect(later.map(({ text }) => text).join()).not.toContain('Still open');
});

test('a step put off, and one that is not on this bike, are told from one that is done', () => {
  const first = RIG.strip.steps[0]!.id;
  const last = RIG.strip.steps[1]!.id;
  const { view } = rigWith({
    [jobField('step', first)]: { is: 'not-yet', at_ms: MORNING_ms, why: 'the vice is taken' },
    [jobField('step', last)]: { is: 'not-here', at_ms: MORNING_ms, why: 'no such part' },
  });
  expect(view.steps.slice(0, 3).map(({ state }) => state)).toEqual(['not-yet', 'not-here', 'open']);
  expect([view.next, view.done]).toEqual([2, 1]);
  expect(view.open).toEqual([expect.objectContaining({ is: 'put-off', why: 'the vice is taken' })]);
  expect(view.minutes_left).toBe(view.minutes);
});

test('every code of what is open has its words in one place, and the days after a hand-over are counted from it', () => {
  expect(OPEN_CODES.length).toBe(new Set(OPEN_CODES).size);
  const end = RIG.plan.steps.find(({ kind }) => kind === 'hand-over')!.id;
  const { view } = rigWith({ [jobField('step', end)]: { is: 'done', at_ms: MORNING_ms } });
  expect(view.open.map(({ is, due_ms }) => [is, (due_ms! - MORNING_ms) / DAY_ms])).toEqual([
    ['first-ride', 7],
    ['check-again', 30],
    ['feel-again', 180],
    ['strip-again', 365],
  ]);
  const seen = rigWith({
    [jobField('step', end)]: { is: 'done', at_ms: MORNING_ms },
    [jobField('step', 'after:first-ride')]: { is: 'done', at_ms: MORNING_ms + DAY_ms },
  });
  expect(seen.view.open.map(({ is }) => is)).not.toContain('first-ride');
});

test('a model that has changed since the job was begun is told', () => {
  expect(rigWith({}).view.isSameModel).toBe(true);
  expect(rigWith({ key: 'another' }).view.isSameModel).toBe(false);
});
