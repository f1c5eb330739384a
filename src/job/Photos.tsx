/**
 * Photos of how the bike came, made small before they are kept: they stay on this device with the rest of the job.
 */
import { useState, type ReactNode } from 'react';
import { jobField, type Job } from '../../shared/index.ts';
import { headOf } from '../photo/open.ts';
import { FilePicker } from '../widgets/FilePicker.tsx';
import { useJob } from './jobStore.ts';

/** Longer side of a kept photo, px, and how hard it is pressed: hoses and clips can be told, some 100 kB each. */
const SIDE_px = 1024;
const QUALITY = 0.6;
const LARGEST = 400_000;

/** A photo made small; undefined where the file is no picture this browser knows. */
async function smallJpeg(file: File): Promise<string | undefined> {
  // A file that would unpack to more than this device holds is refused by its head.
  if (!(await headOf(file)).ok) return undefined;
  const picture = await createImageBitmap(file).catch(() => undefined);
  if (!picture) return undefined;
  const scale = Math.min(1, SIDE_px / Math.max(picture.width, picture.height));
  const canvas = document.createElement('canvas');
  canvas.width = Math.max(1, Math.round(picture.width * scale));
  canvas.height = Math.max(1, Math.round(picture.height * scale));
  canvas.getContext('2d')?.drawImage(picture, 0, 0, canvas.width, canvas.height);
  picture.close();
  const jpeg = canvas.toDataURL('image/jpeg', QUALITY);
  return jpeg.length <= LARGEST ? jpeg : undefined;
}

/** The photos there are, and one more. */
export function PhotoField({ job }: { readonly job: Job }): ReactNode {
  const put = useJob((state) => state.put);
  const [trouble, setTrouble] = useState<string | undefined>(undefined);
  const take = async (file: File): Promise<void> => {
    const jpeg = await smallJpeg(file);
    setTrouble(jpeg === undefined ? `${file.name} is no picture that this browser can make small.` : undefined);
    if (jpeg === undefined) return;
    const [chance = 0] = crypto.getRandomValues(new Uint32Array(1));
    put({ [jobField('photo', chance.toString(36))]: { jpeg, at_ms: Date.now() } });
  };
  return (
    <div className="stack gap-3">
      <div>
        <FilePicker accept="image/*" label="Photo" onPicked={(file) => void take(file)}>
          Add a photo of hoses and cables
        </FilePicker>
      </div>
      {trouble !== undefined && <p role="alert">{trouble}</p>}
      <PhotoRow job={job} remove={(key) => put({ [jobField('photo', key)]: null })} />
    </div>
  );
}

/** Photos side by side. */
export function PhotoRow({ job, remove }: { readonly job: Job; readonly remove?: (key: string) => void }): ReactNode {
  const photos = Object.entries(job.photos).sort(([, a], [, b]) => a.at_ms - b.at_ms);
  if (photos.length === 0) return null;
  return (
    <ul className="flow gap-3" aria-label="Photos as it came">
      {photos.map(([key, { jpeg }], k) => (
        <li key={key} className="stack gap-1">
          <img className="job-photo" src={jpeg} alt={`As it came, photo ${k + 1}`} />
          {remove && (
            <button type="button" className="button button-small medium no-wrap" onClick={() => remove(key)}>
              Remove<span className="away clip no-wrap"> photo {k + 1}</span>
            </button>
          )}
        </li>
      ))}
    </ul>
  );
}
