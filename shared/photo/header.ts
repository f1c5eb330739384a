/**
 * How large a photo is, read off the first bytes of its file: what would unpack to more than a workshop's tablet holds
 * is refused before anything unpacks it. PNG (its specification, section 11.2.2), JPEG (ITU-T T.81, B.2.2) and WebP
 * (RFC 9649), all from memory.
 */
import { PHOTO_LIMITS } from './limits.ts';

/** What a file says it is. */
export type PhotoHeader =
  | { readonly ok: true; readonly kind: 'png' | 'jpeg' | 'webp'; readonly width_px: number; readonly height_px: number }
  | { readonly ok: false; readonly why: 'no-photo' | 'too-large'; readonly met: string };

const NO_PHOTO: PhotoHeader = { ok: false, why: 'no-photo', met: 'no JPEG, PNG or WebP' };

/** The head of a file; `bytes` may be its first part alone, `size` is that of the whole. */
export function photoHeader(bytes: Uint8Array, size: number = bytes.length): PhotoHeader {
  const { side_px, dots, file_bytes } = PHOTO_LIMITS;
  if (size > file_bytes.value) return { ok: false, why: 'too-large', met: `${size} bytes` };
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const found = pngSize(view) ?? jpegSize(view) ?? webpSize(view);
  if (!found || found.width_px < 1 || found.height_px < 1) return NO_PHOTO;
  const { width_px, height_px } = found;
  if (Math.max(width_px, height_px) > side_px.value || width_px * height_px > dots.value)
    return { ok: false, why: 'too-large', met: `${width_px} × ${height_px} px` };
  return { ok: true, ...found };
}

type Size = Pick<Extract<PhotoHeader, { ok: true }>, 'kind' | 'width_px' | 'height_px'>;

const holds = (view: DataView, at: number, text: string): boolean =>
  at + text.length <= view.byteLength && [...text].every((letter, k) => view.getUint8(at + k) === letter.charCodeAt(0));

function pngSize(view: DataView): Size | undefined {
  if (view.byteLength < 24 || view.getUint32(0) !== 0x89504e47 || view.getUint32(4) !== 0x0d0a1a0a) return undefined;
  return holds(view, 12, 'IHDR')
    ? { kind: 'png', width_px: view.getUint32(16), height_px: view.getUint32(20) }
    : undefined;
}

function jpegSize(view: DataView): Size | undefined {
  if (view.byteLength < 4 || view.getUint16(0) !== 0xffd8) return undefined;
  for (let at = 2; at + 9 <= view.byteLength; ) {
    if (view.getUint8(at) !== 0xff) return undefined;
    const marker = view.getUint8(at + 1);
    if (marker === 0xff) {
      at += 1;
      continue;
    }
    // Start of a frame, in any of its ways of coding; among them are a table and two that are none.
    if (marker >= 0xc0 && marker <= 0xcf && ![0xc4, 0xc8, 0xcc].includes(marker))
      return { kind: 'jpeg', height_px: view.getUint16(at + 5), width_px: view.getUint16(at + 7) };
    if (marker === 0xd9 || marker === 0xda) return undefined;
    const length = view.getUint16(at + 2);
    if (length < 2) return undefined;
    at += 2 + length;
  }
  return undefined;
}

function webpSize(view: DataView): Size | undefined {
  if (view.byteLength < 30 || !holds(view, 0, 'RIFF') || !holds(view, 8, 'WEBP')) return undefined;
  const three = (at: number): number => view.getUint16(at, true) + (view.getUint8(at + 2) << 16);
  if (holds(view, 12, 'VP8X')) return { kind: 'webp', width_px: three(24) + 1, height_px: three(27) + 1 };
  if (holds(view, 12, 'VP8L')) {
    const bits = view.getUint32(21, true);
    return { kind: 'webp', width_px: (bits & 0x3fff) + 1, height_px: ((bits >>> 14) & 0x3fff) + 1 };
  }
  if (holds(view, 12, 'VP8 '))
    return { kind: 'webp', width_px: view.getUint16(26, true) & 0x3fff, height_px: view.getUint16(28, true) & 0x3fff };
  return undefined;
}
