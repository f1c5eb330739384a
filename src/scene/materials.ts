/**
 * Materials of one stage, made once each and shared by everything that looks alike.
 *
 * A material is asked for by look and state; the store keeps it until the stage goes. Those of the opened pivot carry the
 * cutting plane while the cut is on. Ghosts fade together: one call sets how far. Signal colours (marks, bands, caps) are
 * unlit and not tone-mapped, so that they are on the screen what the palette says.
 */
import {
  BackSide,
  DataTexture,
  DoubleSide,
  FrontSide,
  LinearFilter,
  LinearMipmapLinearFilter,
  LineBasicMaterial,
  MeshBasicMaterial,
  MeshStandardMaterial,
  Plane,
  RepeatWrapping,
  SRGBColorSpace,
  Vector3,
  type Material,
  type Texture,
} from 'three';
import type { BandPattern } from './marks.ts';
import { mix, SIGNAL, STAGE, type Look, type Theme } from './palette.ts';
import { tilePixels, type Tile } from './patterns.ts';

/** How an item stands out: `ghost` is not part of the opened pivot, `away` not fitted yet, `faint` only surroundings. */
export type State = 'plain' | 'lit' | 'picked' | 'active' | 'trouble' | 'ghost' | 'away' | 'faint';

const BAND_TILE: Readonly<Record<BandPattern, Tile | undefined>> = {
  filled: undefined,
  open: undefined,
  double: undefined,
  hatched: 'hatch-bold',
  dotted: 'dots',
  diagonal: 'diagonal',
};
const TILE_PIXELS = 64;
/** Size of a band's tiles on the face (single lines wide apart, bold ones close), of a cap's hatch on the section, and of the woven strands; mm. */
const BAND_TILE_mm: Readonly<Partial<Record<Tile, number>>> = { 'hatch-bold': 1.4, dots: 1.5, diagonal: 2.6 };
const CAP_TILE_mm = 3;
const WEAVE_TILE_mm = 9;

/** All materials of one stage. */
export class Materials {
  /** The cutting plane; what lies on its negative side is cut away. */
  readonly plane = new Plane(new Vector3(1, 0, 0), 0);
  private readonly theme: Theme;
  private readonly store = new Map<string, Material>();
  private readonly textures = new Map<string, Texture>();
  private fade = 0;

  constructor(theme: Theme) {
    this.theme = theme;
  }

  /** The surface of an item or member. */
  surface(look: Look, state: State, isCut: boolean): MeshStandardMaterial {
    return this.keep(`surface ${JSON.stringify(look)} ${state} ${isCut}`, () => {
      const material = new MeshStandardMaterial({
        color: look.colour,
        metalness: look.metal,
        roughness: look.rough,
        side: FrontSide,
      });
      if (look.isWoven === true && state !== 'ghost') {
        material.map = this.tile('weave', WEAVE_TILE_mm, mix(look.colour, '#000000', 0.25), mix(look.colour, '#ffffff', 0.26));
        material.color.set('#ffffff');
      }
      this.dress(material, state);
      if (isCut) material.clippingPlanes = [this.plane];
      return material;
    });
  }

  /** Writes depth alone: drawn before a ghost, so that only its nearest surface shows. */
  depth(): MeshBasicMaterial {
    return this.keep('depth', () => new MeshBasicMaterial({ colorWrite: false, transparent: true }));
  }

  /** The drawn lines of an item. */
  line(state: State, isCut: boolean): LineBasicMaterial {
    return this.keep(`line ${state} ${isCut}`, () => {
      const stage = STAGE[this.theme];
      const material = new LineBasicMaterial({
        color: state === 'ghost' || state === 'away' || state === 'faint' ? stage.line : stage.edge,
        transparent: true,
        opacity: stage.edgeOpacity,
        depthWrite: false,
      });
      if (state === 'away') material.opacity = 0.4;
      if (state === 'faint') material.opacity = 0.14;
      if (state === 'ghost') {
        material.userData.solidOpacity = stage.edgeOpacity;
        material.userData.ghostOpacity = 0.16;
        this.fadeOne(material);
      }
      if (isCut) material.clippingPlanes = [this.plane];
      return material;
    });
  }

  /** The drawn outline round an item that is picked, lit or in trouble. */
  outline(colour: string, isCut: boolean): MeshBasicMaterial {
    return this.keep(`outline ${colour} ${isCut}`, () => {
      const material = new MeshBasicMaterial({ color: colour, side: BackSide, toneMapped: false });
      if (isCut) material.clippingPlanes = [this.plane];
      return material;
    });
  }

  /** Flat unlit colour: arrow marks, rims of bands, lines of the axis. */
  flat(colour: string, isCut: boolean, opacity = 1): MeshBasicMaterial {
    return this.keep(`flat ${colour} ${isCut} ${opacity}`, () => {
      const material = new MeshBasicMaterial({ color: colour, side: DoubleSide, toneMapped: false, opacity, transparent: opacity < 1 });
      material.polygonOffset = true;
      material.polygonOffsetFactor = -1;
      material.polygonOffsetUnits = -2;
      if (isCut) material.clippingPlanes = [this.plane];
      return material;
    });
  }

  /** A band on an end face. */
  band(pattern: BandPattern, isAmiss: boolean, isCut: boolean): MeshBasicMaterial {
    const ink = isAmiss ? SIGNAL.trouble : SIGNAL.ink;
    const tile = BAND_TILE[pattern];
    if (!tile) return this.flat(pattern === 'filled' ? ink : SIGNAL.plate, isCut);
    return this.keep(`band ${pattern} ${isAmiss} ${isCut}`, () => {
      const material = new MeshBasicMaterial({ map: this.tile(tile, BAND_TILE_mm[tile] ?? 1.5, SIGNAL.plate, ink), toneMapped: false });
      material.polygonOffset = true;
      material.polygonOffsetFactor = -1;
      material.polygonOffsetUnits = -2;
      if (isCut) material.clippingPlanes = [this.plane];
      return material;
    });
  }

  /** The face of a section: the part's colour, hatched. */
  cap(colour: string, tile: Tile): MeshBasicMaterial {
    return this.keep(`cap ${colour} ${tile}`, () => {
      const ink = mix(colour, '#000000', 0.55);
      return new MeshBasicMaterial({ map: this.tile(tile, CAP_TILE_mm, colour, ink), toneMapped: false, side: DoubleSide });
    });
  }

  /** The rim of a section's face. */
  rim(): LineBasicMaterial {
    return this.keep('rim', () => new LineBasicMaterial({ color: '#0b0d0f', toneMapped: false }));
  }

  /** The centre line of a pivot. */
  axis(colour: string): LineBasicMaterial {
    return this.keep(`axis ${colour}`, () => new LineBasicMaterial({ color: colour, toneMapped: false, transparent: true, opacity: 0.8 }));
  }

  /** How far the ghosts have faded, 0 solid to 1 gone to their faintest. */
  setFade(fade: number): void {
    this.fade = fade;
    for (const material of this.store.values()) this.fadeOne(material);
  }

  /** Frees what the graphics card holds. The store stays: a material that is drawn once more is simply sent again. */
  dispose(): void {
    for (const material of this.store.values()) material.dispose();
    for (const texture of this.textures.values()) texture.dispose();
  }

  private dress(material: MeshStandardMaterial, state: State): void {
    const stage = STAGE[this.theme];
    if (state === 'lit' || state === 'active') {
      material.emissive.set(stage.pick);
      material.emissiveIntensity = state === 'lit' ? 0.16 : 0.08;
    } else if (state === 'picked') {
      material.emissive.set(stage.pick);
      material.emissiveIntensity = 0.22;
    } else if (state === 'trouble') {
      material.emissive.set(SIGNAL.trouble);
      material.emissiveIntensity = 0.12;
    } else if (state === 'away') {
      material.transparent = true;
      material.opacity = 0.34;
      material.depthWrite = false;
    } else if (state === 'faint') {
      material.transparent = true;
      material.opacity = 0.1;
      material.depthWrite = false;
      material.color.set(stage.ghost);
    } else if (state === 'ghost') {
      material.transparent = true;
      material.userData.solidOpacity = 1;
      material.userData.ghostOpacity = stage.ghostOpacity;
      material.userData.solidColour = material.color.clone();
      this.fadeOne(material);
    }
  }

  private fadeOne(material: Material): void {
    const { solidOpacity, ghostOpacity, solidColour } = material.userData as {
      solidOpacity?: number;
      ghostOpacity?: number;
      solidColour?: MeshStandardMaterial['color'];
    };
    if (solidOpacity === undefined || ghostOpacity === undefined) return;
    material.opacity = solidOpacity + (ghostOpacity - solidOpacity) * this.fade;
    if (solidColour && material instanceof MeshStandardMaterial) {
      material.color.set(STAGE[this.theme].ghost).lerp(solidColour, 1 - 0.75 * this.fade);
    }
  }

  private tile(tile: Tile, size_mm: number, ground: string, ink: string): Texture {
    const key = `${tile} ${size_mm} ${ground} ${ink}`;
    const known = this.textures.get(key);
    if (known) return known;
    const shares = tilePixels(tile, TILE_PIXELS);
    const bytes = new Uint8Array(shares.length * 4);
    const from = channels(ground);
    const to = channels(ink);
    shares.forEach((share, k) => {
      for (let c = 0; c < 3; c += 1) bytes[4 * k + c] = Math.round(from[c]! + (to[c]! - from[c]!) * share);
      bytes[4 * k + 3] = 255;
    });
    const texture = new DataTexture(bytes, TILE_PIXELS, TILE_PIXELS);
    texture.colorSpace = SRGBColorSpace;
    texture.wrapS = RepeatWrapping;
    texture.wrapT = RepeatWrapping;
    texture.magFilter = LinearFilter;
    texture.minFilter = LinearMipmapLinearFilter;
    texture.generateMipmaps = true;
    texture.anisotropy = 4;
    // uv are in mm: the repeat turns them into tiles.
    texture.repeat.set(1 / size_mm, 1 / size_mm);
    texture.needsUpdate = true;
    this.textures.set(key, texture);
    return texture;
  }

  private keep<M extends Material>(key: string, make: () => M): M {
    const known = this.store.get(key);
    if (known) return known as M;
    const fresh = make();
    this.store.set(key, fresh);
    return fresh;
  }
}

function channels(hex: string): number[] {
  return [1, 3, 5].map((k) => Number.parseInt(hex.slice(k, k + 2), 16));
}
