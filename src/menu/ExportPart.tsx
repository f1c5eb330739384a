/**
 * Files for other programs: the picture, the table of parts, a row at its own size, and a part to print.
 */
import { useState, type ReactNode } from 'react';
import { nameOf, readNumber, type Analysis } from '../../shared/index.ts';
import type { ExportWish } from '../exports/files.ts';
import { STL_SCALES as SCALE } from '../exports/forms.ts';
import { useApp } from '../page/store.ts';
import { SaveButton, type Made } from '../widgets/SaveButton.tsx';
import type { FileType } from '../widgets/saveFile.ts';

const TYPES: Readonly<Record<ExportWish['form'], FileType>> = {
  glb: 'model/gltf-binary',
  csv: 'text/csv',
  dxf: 'image/vnd.dxf',
  svg: 'image/svg+xml',
  stl: 'model/stl',
};

async function made(analysis: Analysis, wish: ExportWish): Promise<Made> {
  const { exported, exportName } = await import('../exports/files.ts');
  return { name: exportName(analysis, wish), content: exported(analysis, wish), type: TYPES[wish.form] };
}

export function ExportPart({ analysis }: { readonly analysis: Analysis }): ReactNode {
  const shownStack = useApp((state) => state.stackId);
  const shownPart = useApp((state) => state.selectedId);
  const stacks = analysis.pivots.flatMap((pivot) => pivot.stacks);
  const [stackId, setStack] = useState(shownStack ?? stacks[0]?.id);
  const stack = stacks.find(({ id }) => id === stackId) ?? stacks[0];
  const parts = (stack?.items ?? []).filter(({ role }) => role !== 'boss');
  const [itemId, setItem] = useState(shownPart);
  const item = parts.find(({ id }) => id === itemId) ?? parts[0];
  const [typed, setTyped] = useState(String(SCALE.usual));
  const scale = readNumber(typed);
  const isScale = scale !== undefined && scale >= SCALE.least && scale <= SCALE.most;
  return (
    <section className="sheet-part stack gap-4">
      <h3>For other programs</h3>
      <div className="choices flow gap-3">
        <SaveButton make={() => made(analysis, { form: 'glb' })}>Picture of the bike, glTF</SaveButton>
        <SaveButton make={() => made(analysis, { form: 'csv' })}>Parts as a table, CSV</SaveButton>
      </div>
      {stack && item && (
        <>
          <label className="stack gap-1 slim">
            <span className="soft small medium">Row</span>
            <select className="select" value={stack.id} onChange={(event) => setStack(event.target.value)}>
              {stacks.map(({ id, name }) => (
                <option key={id} value={id}>
                  {name}
                </option>
              ))}
            </select>
          </label>
          <div className="choices flow gap-3">
            <SaveButton make={() => made(analysis, { form: 'dxf', stack })}>Section 1:1, DXF</SaveButton>
            <SaveButton make={() => made(analysis, { form: 'svg', stack })}>Section 1:1, SVG</SaveButton>
          </div>
          <div className="flow gap-3 export-ends">
            <label className="stack gap-1 slim">
              <span className="soft small medium">Part to print</span>
              <select className="select" value={item.id} onChange={(event) => setItem(event.target.value)}>
                {parts.map(({ id }) => (
                  <option key={id} value={id}>
                    {nameOf(id, analysis)}
                  </option>
                ))}
              </select>
            </label>
            <label className="stack gap-1 slim">
              <span className="soft small medium">Times its size</span>
              <input
                className="input numbers on-sheet export-scale"
                inputMode="decimal"
                autoComplete="off"
                value={typed}
                aria-invalid={!isScale}
                onChange={(event) => setTyped(event.target.value)}
              />
            </label>
            <SaveButton isWaiting={!isScale} make={() => made(analysis, { form: 'stl', item, scale })}>
              Part, STL
            </SaveButton>
          </div>
          <p className="soft small">
            Lengths in the STL are mm times that number, {SCALE.least} to {SCALE.most}. Printed parts are for teaching:
            never fit one to a bike.
          </p>
        </>
      )}
    </section>
  );
}
