/**
 * Gives a text to the person as a file.
 */
export function saveFile(name: string, text: string, type: 'image/svg+xml' | 'application/json'): void {
  const address = URL.createObjectURL(new Blob([text], { type }));
  const link = document.createElement('a');
  link.href = address;
  link.download = name;
  link.click();
  URL.revokeObjectURL(address);
}
