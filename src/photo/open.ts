/**
 * A photo of the person's own: its head is read before the browser unpacks it, and nothing leaves the device.
 */
import { photoHeader, type PhotoHeader } from '../../shared/index.ts';

/** A photo that can be shown; its sizes as it is turned for the eye. */
export interface OpenPhoto {
  readonly address: string;
  readonly width_px: number;
  readonly height_px: number;
}

/** As much as holds the head of any photo, thumbnails and notes before it included, bytes. */
const HEAD_BYTES = 1_000_000;

/** What the head of a file says, whatever the rest of it holds. */
export async function headOf(file: File): Promise<PhotoHeader> {
  return photoHeader(new Uint8Array(await file.slice(0, HEAD_BYTES).arrayBuffer()), file.size);
}

/** Open a photo, or say why not. */
export async function openPhoto(file: File): Promise<OpenPhoto | { readonly trouble: string }> {
  const head = await headOf(file);
  if (!head.ok)
    return {
      trouble:
        head.why === 'too-large'
          ? `${file.name} is too large to unpack here: ${head.met}. Save it smaller and pick it again.`
          : `${file.name} is no photo that is read here: pick a JPEG, PNG or WebP.`,
    };
  const address = URL.createObjectURL(file);
  const image = new Image();
  image.src = address;
  try {
    await image.decode();
  } catch {
    URL.revokeObjectURL(address);
    return { trouble: `${file.name} cannot be unpacked: it may be cut short. Take or copy it again.` };
  }
  return { address, width_px: image.naturalWidth, height_px: image.naturalHeight };
}
