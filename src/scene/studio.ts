/**
 * The light that surfaces mirror: a photographer's room worked out in the shader, direction by direction.
 *
 * Long panels above and behind give turned metal its strips, upright ones to the left and right light end faces, a low
 * one lifts the underside. A rough surface sees their edges softer. The room keeps up with the viewer as he goes round
 * a part, as lamps on a turntable do: every side is lit as well as any other. Nothing is baked and nothing fetched; the
 * first frame is lit like the last, and a lost context loses none of it.
 */

/**
 * Declares `studioLight(direction, rough)` and `studioWash(normal)`, both of directions in view space: what a surface
 * mirrors, and what falls on a dull one.
 */
export const STUDIO_HEAD = /* glsl */ `
uniform vec3 roomWall;
uniform vec3 roomFloor;
uniform float roomPanels;

/** A view direction in the room: x to the right, y upward, z level toward the viewer. */
vec3 inRoom(vec3 d) {
  vec2 up = normalize(viewMatrix[1].yz);
  return vec3(d.x, dot(d.yz, up), dot(d.yz, vec2(-up.y, up.x)));
}

/** How much of a panel is seen: its middle and half size on a wall at distance 1, its edges as soft as told. */
float panel(vec2 at, vec2 middle, vec2 size, float soft) {
  vec2 off = (abs(at - middle) - size) / soft;
  vec2 share = clamp(0.5 - 0.5 * off, 0.0, 1.0);
  share *= share * (3.0 - 2.0 * share);
  vec2 spread = size / (size + 0.35 * soft);
  return share.x * share.y * spread.x * spread.y;
}

vec3 studioLight(vec3 direction, float rough) {
  vec3 d = inRoom(direction);
  float soft = 0.04 + 1.6 * rough * rough;
  vec3 way = 1.0 / max(abs(d), vec3(0.02));
  vec3 light = mix(roomFloor, roomWall, smoothstep(-0.12 - soft, 0.16 + soft, d.y));
  light *= 1.0 - 0.35 * smoothstep(0.1, 1.0, d.y);
  float above = panel(d.xz * way.y, vec2(0.0, 0.55), vec2(2.8, 0.4), soft * 1.3) * step(0.0, d.y);
  float behind = panel(d.xy * way.z, vec2(0.0, 0.42), vec2(2.2, 0.16), soft) * step(d.z, 0.0);
  float left = panel(d.zy * way.x, vec2(0.45, 0.25), vec2(0.22, 0.75), soft) * step(d.x, 0.0);
  float right = panel(d.zy * way.x, vec2(0.75, 0.3), vec2(0.34, 0.8), soft) * step(0.0, d.x);
  float under = panel(d.xz * way.y, vec2(0.3, 0.8), vec2(2.4, 0.3), soft * 1.6) * step(d.y, 0.0);
  vec3 warm = vec3(1.03, 1.0, 0.95);
  vec3 cool = vec3(0.94, 0.99, 1.06);
  return light + roomPanels * (
    warm * (2.7 * above + 1.5 * right) + cool * (1.7 * behind + 1.3 * left) + roomFloor * 1.6 * under
  );
}

/**
 * What the rings of a lathe or a grinder do to a highlight: they fan it out across themselves, a bow on an end face,
 * and stripe it finely where they are wider than a pixel.
 */
vec3 turnedLight(vec3 light, vec3 normal, vec3 toViewer) {
  vec2 up = normalize(viewMatrix[1].yz);
  vec3 lamp = vec3(0.25, 0.8 * up + 0.55 * vec2(-up.y, up.x));
  vec3 half3 = normalize(normalize(lamp) + toViewer);
  float across = dot(half3, normalize(vRing + vec3(0.0, 1e-5, 0.0)));
  float bow = exp2(-42.0 * across * across) * max(0.0, dot(normal, half3));
  float pitch = vCoat.w > 2.5 ? 5.0 : 2.6;
  float at = vAt.y * pitch;
  float stripes = sin(6.2832 * at) * (1.0 - smoothstep(0.12, 0.5, fwidth(at)));
  return light * (1.0 + 0.07 * stripes) + roomPanels * 0.55 * bow;
}

vec3 studioWash(vec3 normal) {
  vec3 n = inRoom(normal);
  vec3 wash = mix(roomFloor * 1.3, roomWall * 1.25, 0.5 + 0.5 * n.y);
  wash += roomPanels * 0.55 * max(0.0, dot(n, vec3(0.12, 0.83, 0.54)));
  return 3.14159 * wash;
}
`;

/** Takes the place of three's own look-up in a baked environment. */
export const STUDIO_LIGHT = /* glsl */ `
if (vCoat.z < 0.5) {
  iblIrradiance += studioWash(geometryNormal);
  radiance += studioLight(reflect(-geometryViewDir, geometryNormal), material.roughness);
  if (vCoat.w > 1.5 && vCoat.w < 3.5) radiance = turnedLight(radiance, geometryNormal, geometryViewDir);
}
`;
