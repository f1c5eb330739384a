/** Whether the browser gives a WebGL 2 context; asked once on a canvas of its own, which is let go at once. */
export function hasWebGL(): boolean {
  try {
    const context = document.createElement('canvas').getContext('webgl2');
    context?.getExtension('WEBGL_lose_context')?.loseContext();
    return context !== null;
  } catch {
    return false;
  }
}
