/**
 * The fit check, one finding at a time: for every code a minimal assembly that raises it, with the numbers worked out
 * by hand, beside the nearest good assembly that does not (`tests/fixtures/findings/findings.json`).
 */
import { describe, expect, test } from 'vitest';
import { analyse, FINDING_CODES, type Analysis, type Finding } from '../../shared/index.ts';
import { flippedModel, otherSide } from '../bench/models.ts';
import { assembly, FINDING_ROWS, type FindingRow } from '../fixtures/findings/rows.ts';
import { referenceModel } from '../fixtures/reference-joint.ts';
import { analysed } from '../setup/worked.ts';

const NAMED = FINDING_ROWS.map((row) => [`${row.code}: ${row.name}`, row] as const);

const findingsOf = (analysis: Analysis): Finding[] => [
  ...analysis.pivots.flatMap((pivot) => pivot.findings),
  ...analysis.findings,
];
const rowIds = (finding: Finding): string[] => finding.parts.map((id) => id.slice(id.indexOf('/') + 1));

function findingOf(analysis: Analysis, row: FindingRow, parts: readonly string[]): Finding | undefined {
  return findingsOf(analysis).find(
    (finding) =>
      finding.code === row.code && finding.severity === row.severity && rowIds(finding).join() === parts.join(),
  );
}

describe('the bad assembly', () => {
  test.each(NAMED)('%s', (_, row) => {
    const analysis = analysed(assembly(row, 'bad'));
    const all = findingsOf(analysis);
    const finding = findingOf(analysis, row, row.parts);
    expect(finding, JSON.stringify(all.map(({ code, severity, parts }) => ({ code, severity, parts })))).toBeDefined();
    for (const [key, [value, error]] of Object.entries(row.numbers)) {
      expect(
        Math.abs((finding!.numbers[key]?.value ?? NaN) - value),
        `${key}: ${finding!.numbers[key]?.value} for ${value}`,
      ).toBeLessThanOrEqual(error);
    }
    if (row.limit)
      expect(
        Math.abs((finding!.limit?.value ?? NaN) - row.limit[0]),
        `limit ${finding!.limit?.value}`,
      ).toBeLessThanOrEqual(row.limit[1]);
    if (row.about) expect(finding!.about).toMatchObject(row.about);
    if (row.rests) expect(finding!.rests).toEqual(row.rests);
    expect(analysis.verdict).toBe(row.verdict);
    expect([...new Set(all.map(({ code }) => code))].filter((code) => code !== row.code).sort()).toEqual(
      [...row.beside].sort(),
    );
  });
});

describe('a bearing left out', () => {
  test.each([
    ['rocker-bearing-nd', 'rocker-nd', 'drive'],
    ['frame-bearing-nd', 'shell', 'non-drive'],
    ['frame-bearing-d', 'shell', 'drive'],
    ['rocker-bearing-d', 'rocker-d', 'non-drive'],
  ])('%s is an empty seat of %s, and no spacer is missed for it', (left, boss, side) => {
    const missing = findingsOf(analyse(referenceModel([left]))).filter(({ code }) => code === 'part-missing');
    expect(missing.map(({ parts, about }) => ({ parts, ...about }))).toEqual([
      { parts: [`main/${boss}`], cause: 'seat', side },
    ]);
  });
});

describe('the good assembly beside it', () => {
  test.each(NAMED)('%s', (_, row) => {
    const analysis = analyse(assembly(row, 'good'));
    expect(findingsOf(analysis).map(({ code }) => code)).not.toContain(row.code);
    expect(analysis.verdict).toBe('sound');
    for (const pivot of analysis.pivots) for (const stack of pivot.stacks) expect(stack.clamp_N).toBeGreaterThan(0);
  });
});

describe('seen from the other side of the bike', () => {
  // Nothing in the trade knows left from right: the same fault must be found on the other side, with the same numbers.
  test.each(NAMED)('%s', (_, row) => {
    const there = findingsOf(analyse(flippedModel(assembly(row, 'bad'))));
    // An axle stuck in a bore stands where no axle can stand: beyond the stop itself nothing is promised.
    const here = findingsOf(analysed(assembly(row, 'bad'))).filter(
      (finding) => row.code !== 'axle-will-not-pass' || finding.code === row.code,
    );
    const key = ({ code, severity, parts, about }: Finding): string =>
      [code, severity, about?.['rule'] ?? '', ...[...parts].sort()].join(' ');
    for (const finding of here) {
      const twin = there.find((other) => key(other) === key(finding));
      expect(twin, `${finding.code} ${finding.parts.join()}`).toBeDefined();
      for (const [name, { value }] of Object.entries(finding.numbers))
        expect(twin!.numbers[name]!.value, name).toBeCloseTo(value, 4);
      const side = finding.about?.['side'];
      if (side !== undefined) expect(twin!.about?.['side']).toBe(otherSide(side as 'drive' | 'non-drive'));
    }
  });
});

describe('every finding', () => {
  test('has its fixture', () => {
    expect([...new Set(FINDING_ROWS.map((row) => row.code))].sort()).toEqual([...FINDING_CODES].sort());
    for (const row of FINDING_ROWS) expect(row.worked.length, row.name).toBeGreaterThan(5);
  });

  test('carries the unit its key names, finite numbers, and a limit with its source', () => {
    const units: Readonly<Record<string, string>> = { mm: 'mm', N: 'N', Nm: 'N·m', MPa: 'MPa' };
    for (const row of FINDING_ROWS) {
      for (const finding of findingsOf(analysed(assembly(row, 'bad')))) {
        for (const [key, { value, unit }] of Object.entries(finding.numbers)) {
          expect(Number.isFinite(value), `${finding.code} ${key}`).toBe(true);
          expect(unit, `${finding.code} ${key}`).toBe(units[key.split('_')[1] ?? ''] ?? '1');
        }
        if (finding.limit) expect(finding.limit.source.length, finding.code).toBeGreaterThanOrEqual(5);
      }
    }
  });

  test('stands worst first, and names things that are in its pivot', () => {
    const rank = { stop: 0, warn: 1, note: 2 } as const;
    for (const row of FINDING_ROWS) {
      for (const pivot of analysed(assembly(row, 'bad')).pivots) {
        const ids = pivot.stacks.flatMap((stack) => stack.items.map((item) => item.id));
        const ranks = pivot.findings.map((finding) => rank[finding.severity]);
        expect(ranks).toEqual([...ranks].sort());
        for (const finding of pivot.findings) {
          expect(finding.pivot).toBe(pivot.id);
          for (const id of finding.parts) expect(ids).toContain(id);
        }
      }
    }
  });
});
