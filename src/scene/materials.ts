/**
 * Materials of one picture, made once each and shared by everything that looks alike.
 *
 * What a part is made of stands in its coat (`painted.ts`), so that one material a state serves all parts. Those of the
 * opened pivot carry the cutting plane while the cut is on. Ghosts fade together: one call sets how far.
 */
import {
  Color,
  DoubleSide,
  LineBasicMaterial,
  MeshBasicMaterial,
  Plane,
  Vector3,
  type Material,
  type MeshStandardMaterial,
} from 'three';
import { coatMaterial } from './coat.ts';
import { LIGHT, PICTURE, ROOM, TROUBLE, type Theme } from '../look.ts';

/**
 * How an item stands out: `ghost` is not part of the opened pivot, `away` not fitted yet, `faint` only surroundings.
 */
export type State = 'plain' | 'lit' | 'picked' | 'active' | 'trouble' | 'ghost' | 'away' | 'faint';

/** States that are seen through: their shells must not be drawn. */
export const VEILED: ReadonlySet<State> = new Set(['ghost', 'away', 'faint']);
/** Width of the ink round a silhouette, px: usual, and of what is lit, active, picked or in trouble. */
const INK_px: Readonly<Partial<Record<State, number>>> = { lit: 3, active: 2, picked: 4, trouble: 4 };
const USUAL_INK_px = 1.2;
const CONTACT_OPACITY = 0.82;

/** All materials of one picture. */
export class Materials {
  /** The cutting plane; what lies on its negative side is cut away. */
  readonly plane = new Plane(new Vector3(1, 0, 0), 0);
  /** Height of one pixel at a distance of 1 mm, mm; the camera keeps it up to date. */
  readonly pixel = { value: 0.001 };
  private readonly theme: Theme;
  private readonly store = new Map<string, Material>();
  private fade = 0;

  constructor(theme: Theme) {
    this.theme = theme;
  }

  /** The surface of whatever is painted. */
  paint(state: State, isCut: boolean): MeshStandardMaterial {
    return this.keep(`paint ${state} ${isCut}`, () => {
      const picture = PICTURE[this.theme];
      const isUsual = INK_px[state] === undefined;
      const colour = state === 'trouble' ? TROUBLE : isUsual ? picture.edge : picture.pick;
      const uniforms = {
        pixel: this.pixel,
        inkColour: { value: new Color(colour) },
        inkOfBlack: { value: new Color(isUsual ? picture.edgeOfBlack : colour) },
        ink_px: { value: INK_px[state] ?? USUAL_INK_px },
        room: ROOM[this.theme],
      };
      const material = coatMaterial(uniforms);
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
      const picture = PICTURE[this.theme];
      const material = new LineBasicMaterial({
        color: VEILED.has(state) ? picture.line : picture.edge,
        transparent: true,
        opacity: picture.edgeOpacity,
        depthWrite: false,
      });
      if (state === 'away') material.opacity = 0.55;
      if (state === 'faint') material.opacity = 0.2;
      if (state === 'ghost') {
        material.userData.solidOpacity = picture.edgeOpacity;
        material.userData.ghostOpacity = 0.16;
        this.fadeOne(material);
      }
      if (isCut) material.clippingPlanes = [this.plane];
      return material;
    });
  }

  /** The rim of a section's face. */
  rim(): LineBasicMaterial {
    return this.keep('rim', () => new LineBasicMaterial({ color: LIGHT.rim, toneMapped: false }));
  }

  /** Faces that bear, seen through the parts before them. */
  contact(lit: number): MeshBasicMaterial {
    const material = this.keep(
      'contact',
      () =>
        new MeshBasicMaterial({
          vertexColors: true,
          side: DoubleSide,
          toneMapped: false,
          transparent: true,
          depthTest: false,
          depthWrite: false,
        }),
    );
    material.opacity = CONTACT_OPACITY * lit;
    return material;
  }

  /** The centre line of a pivot. */
  axis(): LineBasicMaterial {
    return this.keep(
      'axis',
      () =>
        new LineBasicMaterial({ color: PICTURE[this.theme].axis, toneMapped: false, transparent: true, opacity: 0.8 }),
    );
  }

  /** How far the ghosts have faded, 0 solid to 1 gone to their faintest. */
  setFade(fade: number): void {
    this.fade = fade;
    for (const material of this.store.values()) this.fadeOne(material);
  }

  /** Frees what the graphics card holds. The store stays: a material that is drawn once more is simply sent again. */
  dispose(): void {
    for (const material of this.store.values()) material.dispose();
  }

  private dress(material: MeshStandardMaterial, state: State): void {
    const picture = PICTURE[this.theme];
    if (state === 'lit' || state === 'active') {
      material.emissive.set(picture.pick);
      material.emissiveIntensity = state === 'lit' ? 0.14 : 0.06;
    } else if (state === 'picked') {
      material.emissive.set(picture.pick);
      material.emissiveIntensity = 0.18;
    } else if (state === 'trouble') {
      material.emissive.set(TROUBLE);
      material.emissiveIntensity = 0.1;
    } else if (state === 'away') {
      material.transparent = true;
      material.opacity = 0.34;
      material.depthWrite = false;
    } else if (state === 'faint') {
      material.transparent = true;
      material.opacity = 0.16;
      material.depthWrite = false;
      material.emissive.set(picture.ghost);
      material.emissiveIntensity = 0.25;
    } else if (state === 'ghost') {
      material.transparent = true;
      material.userData.solidOpacity = 1;
      material.userData.ghostOpacity = picture.ghostOpacity;
      this.fadeOne(material);
    }
  }

  private fadeOne(material: Material): void {
    const { solidOpacity, ghostOpacity } = material.userData as { solidOpacity?: number; ghostOpacity?: number };
    if (solidOpacity === undefined || ghostOpacity === undefined) return;
    material.opacity = solidOpacity + (ghostOpacity - solidOpacity) * this.fade;
    if (!('emissiveIntensity' in material)) return;
    // A ghost has one pale colour: its own is taken back as the pale one comes in.
    const surface = material as MeshStandardMaterial;
    surface.color.setScalar(1 - 0.7 * this.fade);
    surface.emissive.set(PICTURE[this.theme].ghost);
    surface.emissiveIntensity = 0.3 * this.fade;
  }

  /** A material made once under its key, and freed with the others. */
  keep<M extends Material>(key: string, make: () => M): M {
    const known = this.store.get(key);
    if (known) return known as M;
    const fresh = make();
    this.store.set(key, fresh);
    return fresh;
  }
}
