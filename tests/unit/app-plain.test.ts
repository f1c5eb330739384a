// The small plain functions of the page: layout, keys, swipes, settings, movement.
import { describe, expect, test } from 'vitest';
import { actionOf, KEY_LIST, swipeOf, type KeyPress } from '../../src/page/keys.ts';
import { roomFor } from '../../src/page/room.ts';
import { entriesOf } from '../../src/page/keep.ts';
import { readSettings, USUAL_SETTINGS } from '../../src/page/settings.ts';
import { ease, isSameCast, mixNumber, mixPlaces } from '../../src/picture/tween.ts';
import type { EditorPart } from '../../src/editor/part.ts';
import { editOfKey, ROW_KEY_LIST, stepAlong } from '../../src/editor/rowKeys.ts';

describe('layout', () => {
  test.each([
    [390, 844, 1, 'tall'],
    [844, 390, 1, 'short'],
    [1024, 768, 1, 'flat'],
    [1366, 768, 1, 'flat'],
    [1440, 900, 1, 'wide'],
    [1024, 1366, 1, 'tall'],
    [768, 1024, 1, 'tall'],
    [1920, 1080, 1, 'wide'],
    [1920, 1080, 1.3, 'flat'],
    [1366, 1024, 1.3, 'flat'],
    [1024, 768, 1.3, 'short'],
    [1280, 560, 1, 'short'],
  ] as const)('%d by %d at type size %d is %s', (width, height, scale, room) => {
    expect(roomFor(width, height, scale)).toBe(room);
  });
});

describe('keys', () => {
  const press: KeyPress = { key: '', focus: 'nothing', hasDialog: false, hasModifier: false, letters: true };

  test('a presenter’s remote steps, even from a slider', () => {
    expect(actionOf({ ...press, key: 'PageDown', focus: 'arrows' })).toEqual({ do: 'step', by: 1 });
    expect(actionOf({ ...press, key: 'PageUp', focus: 'button' })).toEqual({ do: 'step', by: -1 });
  });

  test('arrows stay with a control that has its own use for them', () => {
    expect(actionOf({ ...press, key: 'ArrowRight', focus: 'arrows' })).toBeUndefined();
    expect(actionOf({ ...press, key: 'ArrowRight', focus: 'button' })).toEqual({ do: 'step', by: 1 });
  });

  test.each(['PageDown', 'ArrowLeft', 'Escape', 'c'])(
    '%s does nothing in a text field, a dialog or with a modifier',
    (key) => {
      expect(actionOf({ ...press, key, focus: 'text' })).toBeUndefined();
      expect(actionOf({ ...press, key, hasDialog: true })).toBeUndefined();
      expect(actionOf({ ...press, key, hasModifier: true })).toBeUndefined();
    },
  );

  test('single letters can be switched off, the others stay', () => {
    expect(actionOf({ ...press, key: 'c' })).toEqual({ do: 'cut' });
    expect(actionOf({ ...press, key: 'c', letters: false })).toBeUndefined();
    expect(actionOf({ ...press, key: 'Escape', letters: false })).toEqual({ do: 'escape' });
    expect(actionOf({ ...press, key: 'toString' })).toBeUndefined();
  });

  test('the search alone means the same in another place', () => {
    expect(actionOf({ ...press, key: '/', isElsewhere: true })).toEqual({ do: 'find' });
    expect(actionOf({ ...press, key: '/', isElsewhere: true, letters: false })).toBeUndefined();
    expect(actionOf({ ...press, key: '/', isElsewhere: true, focus: 'text' })).toBeUndefined();
    for (const key of ['PageDown', 'Escape', 'c', '?'])
      expect(actionOf({ ...press, key, isElsewhere: true }), key).toBeUndefined();
  });

  test('every key of the list does something', () => {
    const names: Readonly<Record<string, string>> = {
      'Page Down': 'PageDown',
      'Page Up': 'PageUp',
      '→': 'ArrowRight',
      '←': 'ArrowLeft',
      Esc: 'Escape',
      '−': '-',
      'Shift P': 'P',
    };
    for (const { keys } of KEY_LIST) {
      for (const shown of keys) {
        const key = names[shown] ?? (shown.length === 1 ? shown.toLowerCase() : shown);
        expect(actionOf({ ...press, key }), shown).toBeDefined();
      }
    }
  });

  test('every key of the row does something to a part that lies loose', () => {
    const part = (id: string): EditorPart => ({
      id,
      name: id,
      may: { turn: true, leaveOut: true, swap: ['b'], places: [0, 2] },
      goes: ['other'],
    });
    const row = [part('a'), { ...part('b'), may: { ...part('b').may, places: [0, 2] } }, part('c')];
    const names: Record<string, string> = { '→': 'ArrowRight', '←': 'ArrowLeft', Del: 'Delete' };
    const plain = { shiftKey: false, ctrlKey: false, metaKey: false, altKey: false };
    for (const { keys } of ROW_KEY_LIST) {
      for (const shown of keys) {
        const shiftKey = shown.startsWith('Shift ');
        const word = shiftKey ? shown.slice(6) : shown;
        const pressed = { ...plain, key: names[word] ?? word, shiftKey };
        const means = stepAlong(pressed, row, 'b') ?? editOfKey(pressed, row[1], row);
        expect(means, shown).toBeDefined();
      }
    }
    expect(editOfKey({ ...plain, key: 'r' }, undefined, row)).toBeUndefined();
    expect(editOfKey({ ...plain, key: 'z' }, undefined, row)).toBe('undo');
    expect(editOfKey({ ...plain, key: 'z', shiftKey: true }, undefined, row)).toBe('redo');
    expect(stepAlong({ ...plain, key: 'ArrowRight' }, row, 'c')).toBe('c');
    expect(stepAlong({ ...plain, key: 'ArrowLeft' }, row, 'c', ['a', 'c'])).toBe('a');
  });

  test('undo and redo go from anywhere but a text field', () => {
    const held = { ...press, hasModifier: true, hasControl: true };
    expect(actionOf({ ...held, key: 'z' })).toEqual({ do: 'undo' });
    expect(actionOf({ ...held, key: 'y' })).toEqual({ do: 'redo' });
    expect(actionOf({ ...held, key: 'z', focus: 'text' })).toBeUndefined();
    expect(actionOf({ ...held, key: 'p' })).toBeUndefined();
  });

  test('a swipe is long and level', () => {
    expect(swipeOf(-80, 10)).toBe(1);
    expect(swipeOf(80, -10)).toBe(-1);
    expect(swipeOf(-30, 0)).toBeUndefined();
    expect(swipeOf(-80, 70)).toBeUndefined();
  });
});

describe('settings', () => {
  test.each([null, '', '{', '[]', 'null', '3', '{"theme":"pink","bigWords":"yes"}'])(
    '%j leaves the usual ones',
    (text) => {
      expect(readSettings(entriesOf(text))).toEqual(USUAL_SETTINGS);
    },
  );

  test('are read as stored', () => {
    const kept = { theme: 'dark', bigWords: true, letterKeys: false, followsSide: false } as const;
    expect(readSettings(kept)).toEqual(kept);
  });
});

describe('movement', () => {
  test('starts and ends at rest and never runs back', () => {
    expect(ease(0)).toBe(0);
    expect(ease(1)).toBe(1);
    expect(ease(-1)).toBe(0);
    expect(ease(2)).toBe(1);
    for (let k = 1; k <= 100; k += 1) expect(ease(k / 100)).toBeGreaterThan(ease((k - 1) / 100));
    expect(ease(0.01)).toBeLessThan(0.001);
  });

  test('mixes numbers and lands exactly', () => {
    expect(mixNumber(2, 6, 0.25)).toBe(3);
    expect(mixNumber(0.1, 0.3, 1)).toBe(0.3);
  });

  test('a part going in or coming out is on the bike along the way', () => {
    const out = { ring: { offset_mm: 20, on: false }, nut: { offset_mm: 0, on: true } };
    const home = { ring: { offset_mm: 0, on: true }, nut: { offset_mm: 0, on: true } };
    expect(mixPlaces(out, home, 0.5)).toEqual({ ring: { offset_mm: 10, on: true }, nut: { offset_mm: 0, on: true } });
    expect(mixPlaces(home, out, 0.5).ring).toEqual({ offset_mm: 10, on: true });
    expect(mixPlaces(home, out, 1)).toBe(out);
  });

  test('only between the same parts', () => {
    expect(isSameCast({ a: { offset_mm: 0, on: true } }, { a: { offset_mm: 3, on: false } })).toBe(true);
    expect(isSameCast({ a: { offset_mm: 0, on: true } }, { b: { offset_mm: 0, on: true } })).toBe(false);
    expect(isSameCast({}, { b: { offset_mm: 0, on: true } })).toBe(false);
  });
});
