/**
 * Gives a text or a picture to the person as a file.
 */
export function saveFile(
  name: string,
  content: string | Blob,
  type: 'image/svg+xml' | 'application/json' | 'image/png' | 'text/calendar' | 'text/csv',
): void {
  const address = URL.createObjectURL(new Blob([content], { type }));
  const link = document.createElement('a');
  link.href = address;
  link.download = name;
  link.click();
  URL.revokeObjectURL(address);
}
