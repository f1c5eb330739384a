/**
 * To take away: the link to what is shown, the picture and the section as files, the pivot on paper.
 */
import { useState, type ReactNode } from 'react';
import type { Analysis } from '../../shared/index.ts';
import { drawSection } from '../drawings/section.ts';
import { svg } from '../drawings/svg.ts';
import { writeRoute } from '../page/route.ts';
import { saveFile } from '../widgets/saveFile.ts';
import { routeOf } from '../page/state.ts';
import { act, useApp } from '../page/store.ts';
import { useTheme } from '../page/useScreen.ts';
import { madePdf, SaveButton } from '../widgets/SaveButton.tsx';
import { Dialog } from '../widgets/Dialog.tsx';
import { ExportPart } from './ExportPart.tsx';
import { Qr } from './Qr.tsx';

/** Wide enough that every name stands beside its part, px. */
const SECTION_px = 1024;

export default function ShareSheet({ onClose }: { readonly onClose: () => void }): ReactNode {
  const opened = useApp((state) => state.opened);
  const pivotId = useApp((state) => state.pivotId);
  const stackId = useApp((state) => state.stackId);
  const plan = useApp(({ planned }) => (planned.is === 'done' ? planned.given.plan : undefined));
  const pivot = opened?.analysis.pivots.find(({ id }) => id === pivotId);
  return (
    <Dialog title="Link, picture, paper" onClose={onClose}>
      <LinkPart />
      <section className="sheet-part">
        <h3>Picture</h3>
        <div className="choices flow gap-3">
          <PictureButton name={[opened?.analysis.model.id, pivotId].filter((word) => word !== undefined).join('-')} />
          {opened &&
            pivot?.stacks
              .filter(({ id }) => id === stackId)
              .map((stack) => (
                <button
                  key={stack.id}
                  type="button"
                  className="button medium no-wrap"
                  onClick={() =>
                    saveFile(
                      `${opened.analysis.model.id}-${stack.id}.svg`,
                      sectionFile(opened.analysis, stack),
                      'image/svg+xml',
                    )
                  }
                >
                  Section as SVG
                </button>
              ))}
        </div>
        <p className="soft small">
          {pivot
            ? 'The section is the build as written, tight, drawn in mm.'
            : 'Pick a pivot first to save its section.'}
        </p>
      </section>
      <section className="sheet-part">
        <h3>Paper</h3>
        <div className="choices flow gap-3">
          {pivot && (
            <button type="button" className="button medium no-wrap" onClick={() => act.openDialog('pivot-sheet')}>
              This pivot on one sheet
            </button>
          )}
          <button type="button" className="button medium no-wrap" onClick={() => act.openDialog('torque-list')}>
            Torque list
          </button>
          <SaveButton
            isWaiting={!plan}
            make={() =>
              madePdf(`${plan!.analysis.model.id}-job`, async () => (await import('../sheet/files.ts')).jobPages(plan!))
            }
          >
            Job sheet as PDF
          </SaveButton>
          <SaveButton
            isWaiting={!plan}
            make={() =>
              madePdf(`${plan!.analysis.model.id}-chart`, async () =>
                (await import('../sheet/files.ts')).chartPages(plan!),
              )
            }
          >
            Wall chart as PDF
          </SaveButton>
        </div>
      </section>
      {opened && <ExportPart analysis={opened.analysis} />}
    </Dialog>
  );
}

function LinkPart(): ReactNode {
  const address = useApp((state) => new URL(writeRoute(routeOf(state)), window.location.href).href);
  const isOwn = useApp((state) => state.opened?.source.kind === 'file');
  const [told, setTold] = useState('');
  const copy = (): void => {
    // Without a clipboard, or without leave to use it, the link stands there to be copied by hand.
    Promise.resolve()
      .then(() => navigator.clipboard.writeText(address))
      .then(
        () => setTold('Copied.'),
        () => setTold('The browser did not let it be copied. Mark the link and copy it by hand.'),
      );
  };
  return (
    <section className="sheet-part">
      <h3>Link to what is shown now</h3>
      <div className="share-link flow gap-3">
        <input
          className="input slim"
          aria-label="Link"
          readOnly
          value={address}
          onFocus={(event) => event.target.select()}
        />
        <button type="button" className="button button-main medium no-wrap" onClick={copy}>
          Copy link
        </button>
      </div>
      <p className="small" role="status">
        {told}
      </p>
      <Qr address={address} />
      {isLoopback(window.location.hostname) && (
        <p className="soft small">
          This address opens on this machine alone. For a class, start Axlewright with one of the machine’s own
          addresses: npm start -- --share ADDRESS
        </p>
      )}
      {isOwn && <p className="soft small">Your file is not in the link. Who opens it needs the file, too.</p>}
    </section>
  );
}

function isLoopback(host: string): boolean {
  return host === 'localhost' || host.startsWith('127.');
}

function PictureButton({ name }: { readonly name: string }): ReactNode {
  const hasPicture = useApp((state) => state.webgl === 'ok' && state.place !== 'tray' && state.place !== 'mat');
  const theme = useTheme();
  const [told, setTold] = useState('');
  if (!hasPicture) return null;
  const shoot = (): void => {
    import('../scene/shoot.ts')
      .then(({ shootPicture }) => shootPicture(theme))
      .then(
        (blob) => (blob ? saveFile(`${name}.png`, blob, 'image/png') : setTold('There is no picture to save yet.')),
        () => setTold('The picture could not be saved here.'),
      );
  };
  return (
    <>
      <button type="button" className="button medium no-wrap" onClick={shoot}>
        Picture as PNG
      </button>
      {told !== '' && <p role="alert">{told}</p>}
    </>
  );
}

/** The section on its own: all in mm, for paper and for drawing programs. */
function sectionFile(analysis: Analysis, stack: Analysis['pivots'][number]['stacks'][number]): string {
  const { style: _, ...drawing } = drawSection(stack, analysis, {
    theme: 'print',
    heading: true,
    width_px: SECTION_px,
  });
  return svg({ ...drawing, unit: 'mm', shown: { scale: 1, unit: 'mm' } });
}
