/** The travel on the screen as plain functions: state, address, the picture of a moment, play and fall. */
import { describe, expect, test } from 'vitest';
import { stripOf, pivotDrags, travel, type Analysis, type LinkageModel } from '../../shared/index.ts';
import { isNewPlace, readRoute, writeRoute } from '../../src/page/route.ts';
import { USUAL_SETTINGS } from '../../src/page/settings.ts';
import {
  firstState,
  goBack,
  open,
  pickPivot,
  routeOf,
  setTravel,
  show,
  shownOf,
  stepTo,
  tryWhatIf,
  type AppState,
  type Opened,
} from '../../src/page/state.ts';
import {
  driveAt,
  fallFrom,
  momentOf,
  shareAt,
  shareInFall,
  shareInPlay,
  SLOW,
  timeInPlay,
  travelledOf,
  type Travelled,
} from '../../src/travel/travel.ts';
import { planCame } from '../../src/build/planned.ts';
import { resolveModel } from '../../shared/model/resolve.ts';
import { pivotLabels } from '../../src/scene/labels.ts';
import { demoModels } from '../bench/models.ts';
import { sketchModel } from '../setup/linkages.ts';
import { analysed, plannedOnce } from '../setup/worked.ts';

const models = demoModels();
const skarn = models.find(({ id }) => id === 'skarn-140')!;
const analysis = analysed(skarn);

function opened(model: LinkageModel = skarn): AppState {
  const one: Opened = {
    analysis: model === skarn ? analysis : analysed(model),
    text: '',
    source: { kind: 'bundled', id: model.id },
    count: 1,
  };
  const first = firstState(USUAL_SETTINGS, 'ok');
  return { ...first, ...open(first, one, readRoute('')) };
}
const travelledOfBuild = (build: Analysis): Travelled =>
  travelledOf({ ...travel(build.model, { analysis: build }), drags: pivotDrags(build) })!;
const after = (state: AppState, change: Partial<AppState>): AppState => ({ ...state, ...change });
const moving = after(opened(), setTravel(opened(), { share: 0.4, isOut: false }));

describe('state', () => {
  test('a travel is begun, moved within its ends, and left', () => {
    expect(moving.travel).toEqual({ share: 0.4, isOut: false });
    expect(setTravel(moving, { share: 1.7, isOut: true }).travel).toEqual({ share: 1, isOut: true });
    expect(setTravel(moving, { share: -1, isOut: false }).travel!.share).toBe(0);
    expect(after(moving, goBack(moving)).travel).toBeUndefined();
    expect(after(moving, setTravel(moving, undefined)).travel).toBeUndefined();
  });

  test('a pivot or a step is no moment of a travel', () => {
    const id = skarn.pivots[1]!.id;
    expect(after(moving, pickPivot(moving, id)).travel).toBeUndefined();
    const there = after(opened(), pickPivot(opened(), id));
    const both = after(there, setTravel(there, { share: 0.5, isOut: false }));
    expect(both.pivotId).toBe(id);
    expect(after(both, pickPivot(both, id))).toMatchObject({ travel: undefined, pivotId: id });
    const plan = plannedOnce(analysis);
    const planned = { ...both, planned: planCame({ plan, strip: stripOf(plan) }) };
    expect(after(planned, stepTo(planned, 0)).travel).toBeUndefined();
    // Esc goes back to the pivot, not to the whole bike.
    expect(after(both, goBack(both))).toMatchObject({ travel: undefined, pivotId: id });
  });

  test('what does not move has none', () => {
    const still = sketchModel({
      pivots: { a: [0, 0], b: [9, 0] },
      members: { frame: { kind: 'frame', at: ['a', 'b'] } },
    });
    const state: AppState = {
      ...opened(),
      opened: { ...opened().opened!, analysis: { ...analysis, model: still, resolved: resolveModel(still) } },
    };
    expect(setTravel(state, { share: 0.5, isOut: false })).toEqual({});
    const nothing = firstState(USUAL_SETTINGS, 'ok');
    expect(setTravel(nothing, { share: 0.5, isOut: false })).toEqual({});
  });

  test('a mistake that is looked at keeps its build in the travel', () => {
    const there = after(opened(), pickPivot(opened(), 'rocker-frame'));
    const mistaken = after(there, tryWhatIf(there, 'turned:rocker-frame/cone-left'));
    const lifted = after(mistaken, setTravel(mistaken, { share: 1, isOut: true }));
    expect(lifted.whatIf).toBeDefined();
    const travelled = travelledOfBuild(shownOf(lifted)!);
    expect(fallFrom(travelled, 1)).toMatchObject({ isFree: false, held: { pivot: 'rocker-frame' } });
    expect(fallFrom(travelledOfBuild(analysis), 1).isFree).toBe(true);
  });
});

describe('address', () => {
  test('holds the moment and the shock, and is read back', () => {
    const route = routeOf(after(moving, setTravel(moving, { share: 0.256, isOut: true })));
    const hash = writeRoute(route);
    expect(hash).toContain('travel=0.256');
    expect(hash).toContain('shock=out');
    expect(readRoute(hash).travel).toEqual({ share: 0.256, isOut: true });
    expect(after(opened(), show(opened(), readRoute(hash))).travel).toEqual({ share: 0.256, isOut: true });
    expect(after(moving, show(moving, readRoute('#model=skarn-140'))).travel).toBeUndefined();
  });

  test.each(['travel=2', 'travel=-0.1', 'travel=far', 'travel='])('%s is left aside', (words) => {
    expect(readRoute(`#model=a&${words}`)).not.toHaveProperty('travel');
  });

  test('beginning a travel is a place of its own, moving within it is not', () => {
    const still = readRoute('#model=a');
    const [one, other] = ['#model=a&travel=0.1', '#model=a&travel=0.9&shock=out'].map(readRoute);
    expect(isNewPlace(still, one!)).toBe(true);
    expect(isNewPlace(one!, still)).toBe(true);
    expect(isNewPlace(one!, other!)).toBe(false);
  });
});

describe('a moment', () => {
  const travelled = travelledOfBuild(analysis);

  test('tells stroke, rise and what each pivot has turned', () => {
    const moment = momentOf(travelled, { share: 1, isOut: false });
    const { turn_deg } = travelled.travel.pivots.find(({ pivot }) => pivot === 'rocker-frame')!;
    const turned = `${Math.round(turn_deg)}°`;
    expect(moment.drive).toBe('55.0 mm of 55 mm stroke');
    expect(moment.rise).toBe(`axle ${travelled.travel.rear!.rise_mm.toFixed(1)} mm up`);
    expect(moment.picture.pivotWords['rocker-frame']).toBe(turned);
    expect(moment.picture.hidden.size).toBe(0);
    expect(moment.picture.sweep).toEqual([]);
    expect(momentOf(travelled, { share: 0, isOut: false }).rise).toBe('axle 0.0 mm up');
  });

  test('pivots of the frame stand still, the others are where their members are', () => {
    const { pose, pivotPlaces } = momentOf(travelled, { share: 0.7, isOut: false }).picture;
    expect(pose['frame']).toEqual({ x_mm: 0, y_mm: 0, angle_rad: 0 });
    for (const { id, x_mm, y_mm } of skarn.pivots.filter(({ id: pivot }) =>
      ['main', 'rocker-frame', 'shock-frame'].includes(pivot),
    )) {
      expect(pivotPlaces[id]).toEqual({ x_mm, y_mm });
    }
    expect(pivotPlaces['seatstay-rocker']!.y_mm).toBeGreaterThan(
      skarn.pivots.find(({ id }) => id === 'seatstay-rocker')!.y_mm + 10,
    );
  });

  test('with the shock out its halves and its own pivots are gone', () => {
    const { hidden } = momentOf(travelled, { share: 0.5, isOut: true }).picture;
    expect([...hidden].sort()).toEqual(['shock-body', 'shock-frame', 'shock-rocker', 'shock-shaft'].sort());
    expect(pivotLabels(analysis, { hidden }).map(({ id }) => id)).not.toContain('pivot shock-rocker');
  });

  test('labels say the angle, alone where there is no room for the name', () => {
    const { pivotPlaces, pivotWords } = momentOf(travelled, { share: 1, isOut: false }).picture;
    const full = pivotLabels(analysis, { pivotPlaces, pivotWords }).find(({ id }) => id === 'pivot rocker-frame')!;
    const { turn_deg } = travelled.travel.pivots.find(({ pivot }) => pivot === 'rocker-frame')!;
    const turned = `${Math.round(turn_deg)}°`;
    expect(full.text).toBe(`Rocker to frame ${turned}`);
    const brief = pivotLabels(analysis, { pivotPlaces, pivotWords, isBrief: true }).find(
      ({ id }) => id === 'pivot rocker-frame',
    )!;
    expect(brief).toMatchObject({ text: turned, spoken: `Rocker to frame ${turned}` });
    expect(pivotLabels(analysis).find(({ id }) => id === 'pivot rocker-frame')!.text).toBe('Rocker to frame');
  });

  test('a rig of one pivot swings, and its picture makes room for the arm', () => {
    const rig = travelledOfBuild(analysed(models.find(({ id }) => id === 'class-rig')!));
    expect(momentOf(rig, { share: 0, isOut: false }).drive).toBe('−30° from as drawn');
    expect(momentOf(rig, { share: 0.5, isOut: false }).drive).toBe('0° from as drawn');
    const { sweep } = momentOf(rig, { share: 0.5, isOut: true }).picture;
    expect(Math.max(...sweep.map(([x]) => x))).toBeGreaterThan(100);
    expect(momentOf(rig, { share: 0.5, isOut: true }).picture.hidden.size).toBe(0);
  });

  test('shares and strokes are two names of one thing', () => {
    for (const share of [0, 0.3, 1]) expect(shareAt(travelled, driveAt(travelled, share))).toBeCloseTo(share, 12);
    expect(shareAt(travelled, 1e9)).toBe(1);
  });
});

describe('play and fall', () => {
  const travelled = travelledOfBuild(analysis);
  test('playing goes to and fro, slow at both ends, and takes up from any share', () => {
    expect(shareInPlay(0)).toBe(0);
    for (const share of [0, 0.2, 0.9, 1]) expect(shareInPlay(timeInPlay(share))).toBeCloseTo(share, 12);
    const step = shareInPlay(0.01);
    expect(step).toBeLessThan(shareInPlay(1.21) - shareInPlay(1.2));
    const there = timeInPlay(1);
    expect(shareInPlay(there + 0.5)).toBeCloseTo(shareInPlay(there - 0.5), 12);
  });

  test('a fall runs down from where it is let go, in slowed time, and ends at the bottom', () => {
    const fall = fallFrom(travelled, 1);
    const whole = fall.steps.at(-1)!.time_s * SLOW;
    expect(shareInFall(travelled, fall, 0)).toBeCloseTo(1, 12);
    expect(shareInFall(travelled, fall, whole + 1)).toBe(0);
    let last = 1;
    for (let time = 0; time <= whole; time += whole / 40) {
      const share = shareInFall(travelled, fall, time);
      expect(share).toBeLessThanOrEqual(last + 1e-12);
      last = share;
    }
    expect(fallFrom(travelled, 0.5).steps[0]!.stroke_mm).toBeCloseTo(27.5, 9);
  });

  test('one that hangs stays where it was let go', () => {
    const held = { ...travelled, drags: [{ joint: 'rocker-frame', pivot: 'rocker-frame', drag_Nm: 9 }] };
    const fall = fallFrom(held, 0.8);
    expect(fall.isFree).toBe(false);
    expect(shareInFall(held, fall, 5)).toBeCloseTo(0.8, 1);
  });
});
