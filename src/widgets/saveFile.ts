/** Kinds of file that the page gives away. */
export type FileType =
  | 'image/svg+xml'
  | 'application/json'
  | 'image/png'
  | 'text/csv'
  | 'text/calendar'
  | 'application/pdf'
  | 'model/gltf-binary'
  | 'model/stl'
  | 'image/vnd.dxf';

/**
 * Gives a text or a picture to the person as a file.
 */
export function saveFile(name: string, content: string | Blob, type: FileType): void {
  const address = URL.createObjectURL(new Blob([content], { type }));
  const link = document.createElement('a');
  link.href = address;
  link.download = name;
  link.click();
  URL.revokeObjectURL(address);
}
