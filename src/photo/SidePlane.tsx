/**
 * Where the pivots of a draft stand in the side plane: by numbers, or from a photo laid under, each click corrected by
 * how far from the middle plane its row says that it stands.
 */
import { useEffect, useMemo, useState, type ReactNode } from 'react';
import { figure, sideOf, type PhotoBoard } from '../../shared/index.ts';
import { Dialog } from '../widgets/Dialog.tsx';
import { FilePicker } from '../widgets/FilePicker.tsx';
import { openPhoto, type OpenPhoto } from './open.ts';
import { MillimetreField } from './MillimetreField.tsx';
import { PhotoPicture } from './PhotoPicture.tsx';

/** A pivot of the draft, and how far its axle's end on the drive side stands from the middle plane. */
export interface SidePivot {
  readonly id: string;
  readonly name: string;
  readonly x_mm: number;
  readonly y_mm: number;
  readonly z_mm: number;
}

type Places = Readonly<Record<string, { readonly x_mm: number; readonly y_mm: number }>>;

interface Props {
  readonly pivots: readonly SidePivot[];
  readonly give: (places: Places) => void;
  readonly onClose: () => void;
}

const FARTHEST_mm = 2000;
const USUAL_BOARD: PhotoBoard = { columns: 4, rows: 3, across_mm: 200, down_mm: 150, z_mm: 60 };
const USUAL_DISTANCE_mm = 3000;
const USUAL_AXLE_END_mm = 70;

export default function SidePlane({ pivots, give, onClose }: Props): ReactNode {
  return (
    <Dialog title="Where the pivots stand" isWide onClose={onClose}>
      <section className="sheet-part stack gap-4">
        <h3>By numbers</h3>
        <p className="soft">Forward and up from any one point, mm, seen from the drive side.</p>
        <ul className="stack gap-3">
          {pivots.map(({ id, name, x_mm, y_mm }) => (
            <li key={id} className="flow gap-3">
              <span className="medium photo-name">{name}</span>
              <MillimetreField
                label={`Forward: ${name}`}
                shown="Forward, mm"
                value={x_mm}
                most={FARTHEST_mm}
                give={(value) => give({ [id]: { x_mm: value, y_mm } })}
              />
              <MillimetreField
                label={`Up: ${name}`}
                shown="Up, mm"
                value={y_mm}
                most={FARTHEST_mm}
                give={(value) => give({ [id]: { x_mm, y_mm: value } })}
              />
            </li>
          ))}
        </ul>
      </section>
      <FromPhoto pivots={pivots} give={give} />
    </Dialog>
  );
}

function FromPhoto({ pivots, give }: Omit<Props, 'onClose'>): ReactNode {
  const [photo, setPhoto] = useState<OpenPhoto | undefined>(undefined);
  const [trouble, setTrouble] = useState<string | undefined>(undefined);
  const [board, setBoard] = useState(USUAL_BOARD);
  const [distance_mm, setDistance] = useState(USUAL_DISTANCE_mm);
  const [axleEnd_mm, setAxleEnd] = useState(USUAL_AXLE_END_mm);
  const [higher_mm, setHigher] = useState(0);
  const [clicks, setClicks] = useState<readonly (readonly [number, number])[]>([]);
  useEffect(() => () => photo && URL.revokeObjectURL(photo.address), [photo]);
  const count = board.columns * board.rows;
  const wanted = [
    ...Array.from(
      { length: count },
      (_, k) => `mark ${k + 1}: row ${Math.floor(k / board.columns) + 1}, ${(k % board.columns) + 1} from the left`,
    ),
    'end of the rear wheel’s axle',
    'end of the front wheel’s axle',
    ...pivots.map(({ name }) => `axle’s end of ${name}`),
  ];
  const side = useMemo(() => {
    if (!photo || clicks.length < count) return undefined;
    const [rear, front] = [clicks[count], clicks[count + 1]];
    return sideOf({
      width_px: photo.width_px,
      height_px: photo.height_px,
      board,
      distance_mm,
      marks: clicks.slice(0, count),
      ...(rear &&
        front && {
          axles: {
            rear: { at_px: rear, z_mm: axleEnd_mm },
            front: { at_px: front, z_mm: axleEnd_mm },
            higher_mm,
          },
        }),
      pivots: clicks.slice(count + 2).map((at_px, k) => ({ at_px, z_mm: pivots[k]?.z_mm ?? 0 })),
    });
  }, [photo, clicks, board, distance_mm, axleEnd_mm, higher_mm, pivots, count]);
  const open = async (file: File): Promise<void> => {
    const opened = await openPhoto(file);
    setTrouble('trouble' in opened ? opened.trouble : undefined);
    if ('trouble' in opened) return;
    setPhoto(opened);
    setClicks([]);
  };
  const next = wanted[clicks.length];
  const [first] = pivots;
  const take = (): void => {
    if (!side || !first) return;
    give(
      Object.fromEntries(
        side.pivots.flatMap((place, k) =>
          place && pivots[k]
            ? [[pivots[k].id, { x_mm: tenth(first.x_mm + place.x_mm), y_mm: tenth(first.y_mm + place.y_mm) }] as const]
            : [],
        ),
      ),
    );
  };
  const whole = (value: number, least: number): number => Math.max(least, Math.round(value));
  return (
    <section className="sheet-part stack gap-4" aria-label="From a photo">
      <h3>From a photo</h3>
      <ol className="photo-how stack gap-2">
        <li>Hang a board with marks in rows against the drive side, level, near the axles’ ends.</li>
        <li>Take the photo from the drive side, 2 to 4 m away, the bike filling it. Do not crop it.</li>
        <li>Measure from the lens to the middle of the bike.</li>
        <li>Pick the photo, and mark what is asked for.</li>
      </ol>
      <div className="flow gap-3">
        <MillimetreField
          label="Marks in a row"
          value={board.columns}
          most={12}
          give={(value) => setBoard({ ...board, columns: whole(value, 2) })}
        />
        <MillimetreField
          label="Rows of marks"
          value={board.rows}
          most={12}
          give={(value) => setBoard({ ...board, rows: whole(value, 2) })}
        />
        <MillimetreField
          label="From mark to mark across, mm"
          value={board.across_mm}
          most={FARTHEST_mm}
          give={(across_mm) => setBoard({ ...board, across_mm })}
        />
        <MillimetreField
          label="From row to row, mm"
          value={board.down_mm}
          most={FARTHEST_mm}
          give={(down_mm) => setBoard({ ...board, down_mm })}
        />
        <MillimetreField
          label="Board from the middle plane, mm"
          value={board.z_mm}
          most={500}
          give={(z_mm) => setBoard({ ...board, z_mm })}
        />
        <MillimetreField
          label="Lens from the middle plane, mm"
          value={distance_mm}
          most={20_000}
          give={(value) => value > 0 && setDistance(value)}
        />
        <MillimetreField
          label="Wheel axles’ ends from the middle plane, mm"
          value={axleEnd_mm}
          most={200}
          give={setAxleEnd}
        />
        <MillimetreField label="Front axle higher than the rear by, mm" value={higher_mm} most={200} give={setHigher} />
      </div>
      {count < 9 && <p className="callout callout-warn">Nine marks at least: fewer cannot tell the lens.</p>}
      <div>
        <FilePicker
          accept="image/jpeg,image/png,image/webp"
          label="Photo of the side"
          onPicked={(file) => void open(file)}
        >
          {photo ? 'Another photo' : 'Pick a photo'}
        </FilePicker>
      </div>
      {trouble !== undefined && <p role="alert">{trouble}</p>}
      {photo && count >= 9 && (
        <>
          <p className="line gap-3" role="status">
            {next === undefined ? 'All is marked.' : `Now the ${next}.`}
          </p>
          <div className="flow gap-3">
            <button
              type="button"
              className="button medium no-wrap"
              aria-disabled={clicks.length === 0}
              onClick={() => setClicks(clicks.slice(0, -1))}
            >
              Take the last back
            </button>
          </div>
          <PhotoPicture
            photo={photo}
            clicks={clicks}
            onClick={next === undefined ? undefined : (at) => setClicks([...clicks, at])}
          />
        </>
      )}
      {photo && clicks.length >= count && !side && (
        <p className="callout callout-trouble" role="alert">
          These marks give no camera: take them back and mark them row by row, from the upper left.
        </p>
      )}
      {side && (
        <div className="stack gap-3">
          <p>
            The marks fit within {figure(side.camera.spread_px, 1)} px. The camera stood{' '}
            {figure(side.camera.place_mm[2] / 1000, 2)} m away, {figure(side.camera.tilt_deg, 1)}° askew.
            {side.level_deg === undefined
              ? ''
              : ` The board hung ${figure(Math.abs(side.level_deg), 1)}° off level; the wheels stand ${figure(side.wheelbase_mm!, 0)} mm apart.`}
          </p>
          {side.camera.doubtful.length > 0 && (
            <p className="callout callout-warn">
              Look again at mark {side.camera.doubtful.map((k) => k + 1).join(', ')}: it does not fit the others.
            </p>
          )}
          <ul className="stack gap-1">
            {side.pivots.map((place, k) => (
              <li key={pivots[k]?.id ?? k} className="numbers">
                {pivots[k]?.name}:{' '}
                {place
                  ? `${figure(place.x_mm, 1)} forward, ${figure(place.y_mm, 1)} up, ± ${figure(2 * place.error_mm, 1)} mm`
                  : 'not on this plane'}
              </li>
            ))}
          </ul>
          {side.pivots.length > 1 && (
            <>
              <p className="soft small">
                ± holds nineteen times of twenty. A pivot that is off by it moves the travel’s figures in proportion:
                check them by a tape from pivot to pivot.
              </p>
              <div>
                <button type="button" className="button button-main medium no-wrap" onClick={take}>
                  Take these places
                </button>
              </div>
            </>
          )}
        </div>
      )}
    </section>
  );
}

const tenth = (value: number): number => Math.round(value * 10) / 10;
