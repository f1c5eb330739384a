/**
 * What draws: asked once, on a small canvas that is let go at once.
 *
 * A software renderer pays for every pixel, so the picture draws one per CSS pixel there, and at most two elsewhere.
 */

/** What the browser can draw with. */
interface Gpu {
  readonly hasWebGL: boolean;
  readonly isSoftware: boolean;
}

let known: Gpu | undefined;

/** Reads the renderer's name; without WebGL 2 there is none. */
export function readGpu(): Gpu {
  known ??= askGpu();
  return known;
}

/** Asks now, whatever was read before: a graphics process that starts anew has none for a moment. */
export function askGpu(): Gpu {
  try {
    const context = document.createElement('canvas').getContext('webgl2');
    if (!context) return { hasWebGL: false, isSoftware: true };
    const info = context.getExtension('WEBGL_debug_renderer_info');
    const name = String(context.getParameter(info ? info.UNMASKED_RENDERER_WEBGL : context.RENDERER));
    context.getExtension('WEBGL_lose_context')?.loseContext();
    return { hasWebGL: true, isSoftware: /swiftshader|llvmpipe|softpipe|software|basic render/i.test(name) };
  } catch {
    return { hasWebGL: false, isSoftware: true };
  }
}
