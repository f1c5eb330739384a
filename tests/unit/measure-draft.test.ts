/**
 * Drafts: a model and every manner completed are what they were; entries of all sorts are read and set; contradictions
 * are questions, and a file that is no draft is refused with all its problems at once.
 */
import { describe, expect, test } from 'vitest';
import {
  analyse,
  completed,
  draftOf,
  MANNERS,
  PART_KINDS,
  kindOf,
  questionsOf,
  readDraft,
  setSize,
  sizesOf,
  wordDraftHow,
  wordDraftQuestion,
  wordDraftSizeOf,
  writeDraft,
  readEnvelope,
  type Analysis,
  type Draft,
  type LinkageModel,
  type SizeEntry,
} from '../../shared/index.ts';
import { demoModels } from '../bench/models.ts';

const MODELS: readonly LinkageModel[] = [...demoModels(), ...MANNERS.map((manner) => manner.make())];
const rig = (): LinkageModel => structuredClone(demoModels().find(({ id }) => id === 'class-rig')!);
const into = (): LinkageModel => MANNERS.find(({ key }) => key === 'axle-into-frame')!.make();

/** What a check says, without the figures that a shift of the whole joint rounds differently. */
function said({ pivots }: Analysis): unknown {
  return pivots.map(({ id, verdict, findings }) => ({
    id,
    verdict,
    findings: findings.map(({ code, severity, parts }) => ({ code, severity, parts })),
  }));
}
const ofSize = (draft: Draft, path: string) => sizesOf(draft).find((size) => size.path === path)!;

describe('a draft of a model', () => {
  test.each(MODELS.map((model) => [model.id, model] as const))('%s, completed, is judged as the model', (_, model) => {
    const before = said(analyse(model));
    for (const from of ['written', 'guess'] as const) {
      const draft = draftOf(model, from);
      const { model: full, faults, assumed } = completed(draft);
      expect(faults).toEqual([]);
      expect(said(analyse(full))).toEqual(before);
      expect(assumed.length > 20).toBe(from === 'guess');
    }
  });

  test.each(MODELS.map((model) => [model.id, model] as const))('%s survives its file', (_, model) => {
    const draft = draftOf(model, 'guess');
    const text = writeDraft(draft, 'axlewright 1.0');
    const back = readDraft(text);
    expect(back.ok && back.draft).toEqual(draft);
    expect(back.ok && back.questions).toEqual([]);
    expect(readEnvelope(text, 'draft').ok).toBe(true);
    // A model is a draft in which everything is known.
    const plain = readDraft(JSON.stringify(model));
    expect(plain.ok && completed(plain.draft).model).toEqual(model);
  });

  test('names every size in words, with the calliper’s place on all that a hand takes', () => {
    for (const model of MODELS) {
      const sizes = sizesOf(draftOf(model, 'guess'));
      expect(new Set(sizes.map(({ path }) => path)).size).toBe(sizes.length);
      for (const size of sizes) {
        expect(wordDraftSizeOf(size)).not.toMatch(/_|undefined/);
        expect(wordDraftHow(size)).toMatch(/^[A-Z]/);
        const isTaken =
          size.owner.what !== 'stack' && !/land_mm$|_land_mm|lip|chamfer|flange_length|groove|margin_mm/.test(size.key);
        // A circlip is read across as it is free, under the name of the size it has in its groove.
        const isFreeClip = size.path.includes('circlip') && (size.key === 'bore_mm' || size.key === 'free_mm');
        if (isTaken && !isFreeClip) expect(size.place, size.path).toBeDefined();
        expect(size.band.least).toBeLessThanOrEqual(size.band.middle);
        expect(size.band.middle).toBeLessThanOrEqual(size.band.most);
      }
    }
  });

  test('every kind of part has its usual sizes', () => {
    const model = rig();
    for (const kind of PART_KINDS) model.parts[`one-${kind}`] = kindOf({ kind }).sample;
    const sizes = sizesOf(draftOf(model, 'guess'));
    for (const kind of PART_KINDS) expect(sizes.some(({ path }) => path.startsWith(`parts.one-${kind}.`))).toBe(true);
    const threads = sizes.filter(({ path, key }) => path.startsWith('parts.one-') && key === 'thread.length_mm');
    expect(threads.map(({ path }) => path)).toContain('parts.one-expander.thread.length_mm');
    for (const { path, place } of threads) expect(place, path).toBeDefined();
  });
});

describe('a size', () => {
  const entries: readonly (readonly [string, SizeEntry, number, number])[] = [
    ['a number', 6, 6, 6],
    ['a reading', { value: 6, accuracy: 0.02, from: 'measured', when: '2026-11-30', by: 'A' }, 5.98, 6.02],
    ['a reading without accuracy', { value: 6, from: 'measured' }, 5.95, 6.05],
    ['the manual', { value: 6, from: 'manual', page: '12' }, 6, 6],
    ['a range', { least: 5, most: 7, from: 'standard' }, 5, 7],
    ['two readings that agree', [6, 6.06].map((value) => ({ value, accuracy: 0.05, from: 'measured' })), 6.01, 6.05],
  ];
  test.each(entries)('may be %s', (_, entry, least, most) => {
    const draft = setSize(draftOf(rig(), 'guess'), 'parts.rig-plain.length_mm', entry);
    const { band } = ofSize(draft, 'parts.rig-plain.length_mm');
    expect(band.least).toBeCloseTo(least, 9);
    expect(band.most).toBeCloseTo(most, 9);
    const back = readDraft(writeDraft(draft, 'x'));
    expect(back.ok && back.draft).toEqual(draft);
  });

  test('unknown is bounded by what stands beside it, and the shank draws the bores along', () => {
    let draft = draftOf(rig(), 'guess');
    draft = setSize(draft, 'parts.rig-axle.shank[0].diameter_mm', { value: 11.98, accuracy: 0.03, from: 'measured' });
    draft = setSize(draft, 'parts.rig-tube.bore_mm', null);
    const { band } = ofSize(draft, 'parts.rig-tube.bore_mm');
    expect(band.least).toBeGreaterThan(11.9);
    expect(band.most).toBeLessThan(15);
    expect(band.from).toBe('beside');
    const { model } = completed(draft);
    const bearing = model.parts['rig-bearing']!;
    expect(bearing.kind === 'bearing' && bearing.designation).toMatch(/^6.*(00|01)/);
  });

  test('two readings of a bearing name it', () => {
    let draft = draftOf(rig(), 'guess');
    for (const [key, value] of [
      ['bore_mm', 17.01],
      ['outside_mm', 29.98],
    ] as const)
      draft = setSize(draft, `parts.rig-bearing.${key}`, { value, accuracy: 0.05, from: 'measured' });
    const width = ofSize(draft, 'parts.rig-bearing.width_mm').band;
    expect(width).toMatchObject({ least: 7, most: 7, from: 'standard', isOpen: false });
    const part = completed(draft).model.parts['rig-bearing']!;
    expect(part.kind === 'bearing' && part.designation).toBe('61903');
  });

  test('a crest that was read names its thread', () => {
    const draft = setSize(draftOf(rig(), 'guess'), 'parts.rig-axle.thread.size_mm', {
      value: 11.87,
      accuracy: 0.05,
      from: 'measured',
    });
    expect(ofSize(draft, 'parts.rig-axle.thread.size_mm').band).toMatchObject({ least: 12, most: 12 });
  });

  test('that is none is refused, and the draft given stays as it was', () => {
    const draft = draftOf(rig());
    const before = JSON.stringify(draft);
    for (const path of ['parts.no.length_mm', 'parts.rig-tube.name', 'members.arm.bores.left', ''])
      expect(() => setSize(draft, path, 5)).toThrow(RangeError);
    setSize(draft, 'members.arm.bores.left.width_mm', 9.2);
    expect(JSON.stringify(draft)).toBe(before);
  });

  test('a boss told by its ends is told by width and distance once one of them is read', () => {
    const plain = readDraft(JSON.stringify(rig()));
    const draft = setSize(plain.ok ? plain.draft : draftOf(rig()), 'members.arm.bores.right.gap_mm', {
      value: 52.4,
      from: 'measured',
    });
    const { left, right } = completed(draft).model.members['arm']!.bores;
    expect(right!.z_from_mm - left!.z_to_mm).toBeCloseTo(52.4, 9);
    expect(left!.z_to_mm - left!.z_from_mm).toBeCloseTo(9, 9);
  });
});

describe('what contradicts itself', () => {
  test('a lug that reads narrower than its thread is a question, and the draft is judged', () => {
    const draft = setSize(draftOf(into(), 'manual'), 'members.frame.bores.left.width_mm', {
      value: 19.987,
      accuracy: 0.05,
      from: 'measured',
    });
    const back = readDraft(writeDraft(draft, 'x'));
    expect(back.ok).toBe(true);
    expect(back.ok && back.questions).toEqual([
      expect.objectContaining({ code: 'contradicts', path: 'members.frame.bores.left.width_mm', met: '19.987' }),
    ]);
    expect(completed(draft).faults).toEqual([]);
    expect(wordDraftQuestion(questionsOf(draft)[0]!, 'The lug')).toMatch(/19\.987/);
  });

  test('two readings that do not agree are a question', () => {
    const draft = setSize(draftOf(rig()), 'parts.rig-plain.length_mm', [
      { value: 6, accuracy: 0.02, from: 'measured' },
      { value: 5.5, accuracy: 0.02, from: 'measured' },
    ]);
    expect(questionsOf(draft)).toEqual([
      expect.objectContaining({ code: 'readings-differ', path: 'parts.rig-plain.length_mm' }),
    ]);
    const { band } = ofSize(draft, 'parts.rig-plain.length_mm');
    expect([band.least, band.most]).toEqual([5.48, 6.02]);
  });

  test('a bore wider than its part is a question', () => {
    const draft = setSize(draftOf(rig()), 'parts.rig-plain.bore_mm', 27);
    expect(questionsOf(draft).map(({ path }) => path)).toContain('parts.rig-plain.outside_mm');
    expect(completed(draft).faults.length).toBeGreaterThan(0);
  });
});

describe('what is no draft', () => {
  test('is refused with all its problems at once, by their places', () => {
    const draft = structuredClone(draftOf(rig(), 'guess')) as unknown as {
      model: { parts: Record<string, Record<string, unknown>>; pivots: { stacks: { axle: string }[] }[] };
    };
    draft.model.parts['rig-plain']!['length_mm'] = { valu: 6, from: 'measured' };
    draft.model.parts['rig-tube']!['lenth_mm'] = 3;
    draft.model.parts['rig-nut']!['material'] = 'cheese';
    const reading = readDraft(JSON.stringify({ kind: 'draft', schema: 1, app: 'x', body: draft }));
    expect(reading.ok).toBe(false);
    if (reading.ok) return;
    expect(reading.problems.map(({ path }) => path).sort()).toEqual([
      'body.model.parts.rig-nut.material',
      'body.model.parts.rig-plain.length_mm',
      'body.model.parts.rig-tube.lenth_mm',
    ]);
    expect(reading.problems.find(({ path }) => path.endsWith('lenth_mm'))!.suggestion).toBe('length_mm');
  });

  test.each([
    ['{', 'not-json'],
    ['{"kind":"kept","schema":1,"app":"x","body":{}}', 'not-one-of'],
    ['{"kind":"draft","schema":2,"app":"x","body":{}}', 'not-one-of'],
    ['[]', 'wrong-type'],
    ['{}', 'missing'],
  ])('%s', (text, code) => {
    const reading = readDraft(text);
    expect(!reading.ok && reading.problems[0]!.code).toBe(code);
  });

  test('a name that leads nowhere is a problem, not a crash', () => {
    const draft = structuredClone(draftOf(rig())) as unknown as { model: { pivots: { stacks: { axle: string }[] }[] } };
    draft.model.pivots[0]!.stacks[0]!.axle = 'rig-axel';
    const reading = readDraft(JSON.stringify(draft));
    expect(!reading.ok && reading.problems.map(({ code, path }) => [code, path])).toEqual([
      ['no-such-part', 'model.pivots[0].stacks[0].axle'],
    ]);
  });
});
