/**
 * The shader of painted surfaces: three's own lit material with a coat read at every corner (see `painted.ts`).
 *
 * Lit corners take metal, roughness and finish from their coat and mirror the room of `studio.ts`. Flat ones are unlit and
 * not tone-mapped, so that they are on the screen what the palette says, with a pattern drawn from the place on the
 * surface in mm. Shell corners move outward by so many pixels and are drawn as ink.
 */
import { Color, MeshStandardMaterial, Vector3, type WebGLProgramParametersWithUniforms } from 'three';
import { MARK, TROUBLE, type Room } from '../look.ts';
import { STUDIO_HEAD, STUDIO_LIGHT } from './studio.ts';

/** What coats share or tell one another apart by. */
interface CoatUniforms {
  /** Height of one pixel at a distance of 1 mm, mm. */
  readonly pixel: { value: number };
  readonly inkColour: { value: Color };
  /** Round what is black itself. */
  readonly inkOfBlack: { value: Color };
  readonly ink_px: { value: number };
  readonly room: Room;
}

const VERTEX_HEAD = /* glsl */ `
attribute vec4 coat;
varying vec4 vCoat;
varying vec2 vAt;
varying vec3 vRing;
uniform float pixel;
uniform float inkPx;
void main() {
  vCoat = coat;
  vAt = uv;
  // Round the axis of whatever is turned about its own z.
  vRing = normalMatrix * vec3(-position.y, position.x, 0.0);
`;

const VERTEX_PROJECT = /* glsl */ `
#include <project_vertex>
if (coat.z > 0.5 && coat.z < 1.5) {
  // Marks come a little nearer to the eye, straight at it: they must not sink into the surface between their corners.
  gl_Position = projectionMatrix * vec4(mvPosition.xyz * (1.0 + 0.3 / mvPosition.z), 1.0);
}
if (coat.z > 1.5) {
  mvPosition.xyz += normalMatrix * normal * (inkPx * pixel * -mvPosition.z);
  gl_Position = projectionMatrix * mvPosition;
}
`;

const FRAGMENT_HEAD = /* glsl */ `
varying vec4 vCoat;
varying vec2 vAt;
varying vec3 vRing;
uniform vec3 inkColour;
uniform vec3 inkOfBlack;
uniform vec3 markInk;
uniform vec3 markTrouble;

/** Ink share of parallel lines of a width, both as shares of their spacing; even where they are finer than a pixel. */
float lines(float at, float width) {
  float soft = fwidth(at);
  float off = abs(fract(at - 0.5) - 0.5);
  float sharp = 1.0 - smoothstep(width * 0.5 - soft * 0.5, width * 0.5 + soft * 0.5, off);
  return mix(sharp, width, smoothstep(0.4, 0.9, soft));
}

float dots(vec2 at) {
  float d = min(length(fract(at) - 0.25), length(fract(at) - 0.75));
  float soft = fwidth(at.x) + fwidth(at.y);
  return 1.0 - smoothstep(0.17 - soft * 0.4, 0.17 + soft * 0.4, d);
}

float patternInk(float code, float size) {
  vec2 at = vAt / size;
  if (code < 0.5) return 0.0;
  if (code < 1.5) return lines((at.x + at.y) * 0.7071, max(0.16, fwidth(at.x + at.y) * 0.75));
  if (code < 2.5) return lines((at.x - at.y) * 0.7071, max(0.16, fwidth(at.x - at.y) * 0.75));
  if (code < 3.5) return lines(at.x + at.y, 0.45);
  if (code < 4.5) return dots(at);
  return lines(at.x - at.y, 0.16);
}

/** A 2 by 2 twill: strands over two, under two; 1 on average, and everywhere once it is finer than the pixels. */
float twill(vec2 at) {
  vec2 cell = at / 1.5;
  float warp = step(mod(floor(cell.x) + floor(cell.y), 4.0), 1.5);
  float across = fract(mix(cell.y, cell.x, warp));
  float strand = mix(0.72, 1.22, warp) + 0.22 * (sin(3.14159 * across) - 0.64);
  return mix(strand, 0.97, smoothstep(0.16, 0.42, max(fwidth(cell.x), fwidth(cell.y))));
}

${STUDIO_HEAD}

void main() {
`;

const FRAGMENT_COLOUR = /* glsl */ `
#include <color_fragment>
if (vCoat.z < 0.5 && vCoat.w > 0.5 && vCoat.w < 1.5) diffuseColor.rgb *= twill(vAt);
`;

const FRAGMENT_END = /* glsl */ `
if (vCoat.z > 0.5) {
  vec3 flatColour = vCoat.x < 0.5 ? inkColour : inkOfBlack;
  if (vCoat.z < 1.5) {
    vec3 drawn = vCoat.x < 0.5 ? markInk : vCoat.x < 1.5 ? markTrouble : vColor.rgb * 0.2;
    flatColour = mix(vColor.rgb, drawn, patternInk(vCoat.w, vCoat.y));
  }
  gl_FragColor = linearToOutputTexel(vec4(flatColour, gl_FragColor.a));
}
#include <dithering_fragment>
`;

const MARK_INK = new Color(MARK.ink);
const MARK_TROUBLE = new Color(TROUBLE);

/** A lit material that reads coats. */
export function coatMaterial(uniforms: CoatUniforms): MeshStandardMaterial {
  const material = new MeshStandardMaterial({ vertexColors: true });
  material.onBeforeCompile = (shader) => dressShader(shader, uniforms);
  material.customProgramCacheKey = () => 'coat';
  return material;
}

function dressShader(
  shader: WebGLProgramParametersWithUniforms,
  { pixel, inkColour, inkOfBlack, ink_px, room }: CoatUniforms,
): void {
  Object.assign(shader.uniforms, {
    pixel,
    inkColour,
    inkOfBlack,
    inkPx: ink_px,
    markInk: { value: MARK_INK },
    markTrouble: { value: MARK_TROUBLE },
    roomWall: { value: new Vector3(...room.wall) },
    roomFloor: { value: new Vector3(...room.floor) },
    roomPanels: { value: room.panels },
  });
  shader.vertexShader = swap(
    swap(shader.vertexShader, 'void main() {', VERTEX_HEAD),
    '#include <project_vertex>',
    VERTEX_PROJECT,
  );
  let text = swap(shader.fragmentShader, 'void main() {', FRAGMENT_HEAD);
  text = swap(text, '#include <color_fragment>', FRAGMENT_COLOUR);
  text = swap(text, '#include <roughnessmap_fragment>', 'float roughnessFactor = vCoat.z < 0.5 ? vCoat.y : 1.0;');
  text = swap(text, '#include <metalnessmap_fragment>', 'float metalnessFactor = vCoat.z < 0.5 ? vCoat.x : 0.0;');
  text = swap(text, '#include <lights_fragment_maps>', STUDIO_LIGHT);
  shader.fragmentShader = swap(text, '#include <dithering_fragment>', FRAGMENT_END);
}

function swap(text: string, old: string, fresh: string): string {
  if (!text.includes(old)) throw new Error(`coat: three's shader has no ${old}`);
  return text.replace(old, fresh);
}
