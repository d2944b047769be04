import {
  Color,
  DataTexture,
  DoubleSide,
  FrontSide,
  LinearFilter,
  LinearMipmapLinearFilter,
  LineBasicMaterial,
  type Material,
  MeshBasicMaterial,
  MeshMatcapMaterial,
  RepeatWrapping,
  SRGBColorSpace,
  type Texture,
} from 'three';
import {
  type Finish,
  grainPixels,
  hatchPixels,
  matcapPixels,
  type Pixels,
  REFERENCE_BRIGHTNESS,
  strandPixels,
  streakPixels,
} from '../build/surface-pixels.ts';
import type { ScenePalette, Side, SlabMaterial } from '../types.ts';

/** Metres that one repeat of a texture covers along u and v. */
const HATCH_PITCH = 0.0032;
const GRAIN_PITCH = 0.04;
const STREAK_PITCH = 0.009;

function texture(pixels: Pixels, repeatU: number, repeatV: number): DataTexture {
  const t = new DataTexture(pixels.data, pixels.size, pixels.size);
  t.colorSpace = SRGBColorSpace;
  t.wrapS = RepeatWrapping;
  t.wrapT = RepeatWrapping;
  t.repeat.set(repeatU, repeatV);
  t.magFilter = LinearFilter;
  t.minFilter = LinearMipmapLinearFilter;
  t.generateMipmaps = true;
  t.needsUpdate = true;
  return t;
}

/** A palette colour such that a surface at the finish's reference brightness shows exactly that colour. */
function paint(colour: string, finish: Finish): Color {
  const grey = REFERENCE_BRIGHTNESS[finish];
  return new Color(colour).multiplyScalar(1 / new Color().setRGB(grey, grey, grey, SRGBColorSpace).r);
}

/** Ferrite is darker than any paper: on a dark page its token, made to be seen as a drawn area, is toned down. */
const DARK_FERRITE = 0.5;

/** Every material and texture of the scene, made once and shared; `colour(palette)` repaints them in place. */
export class Materials {
  readonly winding: Readonly<Record<Side, MeshMatcapMaterial>>;
  readonly litz: Readonly<Record<Side, MeshMatcapMaterial>>;
  readonly ferrite: MeshMatcapMaterial;
  readonly metal: MeshMatcapMaterial;
  readonly ferriteCut: MeshMatcapMaterial;
  readonly metalCut: MeshMatcapMaterial;
  readonly slab: Readonly<Record<Exclude<SlabMaterial, 'air'>, MeshMatcapMaterial>>;
  readonly slabCut: Readonly<Record<Exclude<SlabMaterial, 'air'>, MeshMatcapMaterial>>;
  readonly edge: LineBasicMaterial;
  readonly faintEdge: LineBasicMaterial;
  readonly grid: LineBasicMaterial;
  readonly shadow: MeshBasicMaterial;
  /** Of the receiver on the transmitter. */
  readonly cast: MeshBasicMaterial;
  readonly field: MeshMatcapMaterial;
  readonly #textures: Texture[] = [];
  readonly #materials: Material[] = [];

  constructor() {
    const matcaps = new Map<Finish, Texture>();
    const keepTexture = <T extends Texture>(t: T): T => {
      this.#textures.push(t);
      return t;
    };
    const matcap = (finish: Finish): Texture => {
      const known = matcaps.get(finish);
      if (known !== undefined) return known;
      const made = keepTexture(texture(matcapPixels(finish), 1, 1));
      matcaps.set(finish, made);
      return made;
    };
    const keep = <T extends Material>(m: T): T => {
      this.#materials.push(m);
      return m;
    };
    // A map everywhere, if only a white one: fewer kinds of shader, and compiling them is what the first frame waits for.
    const white = keepTexture(texture({ size: 1, data: new Uint8Array(4).fill(255) }, 1, 1));
    const solid = (finish: Finish, map: Texture = white): MeshMatcapMaterial =>
      keep(new MeshMatcapMaterial({ matcap: matcap(finish), map, side: FrontSide }));
    // The lay of a litz bundle is drawn at some five diameters; the strand count itself would be a blur.
    const strand = keepTexture(texture(strandPixels(), 1, 1 / 0.0052));
    const hatch = keepTexture(texture(hatchPixels(), 1 / HATCH_PITCH, 1 / HATCH_PITCH));
    const grain = keepTexture(texture(grainPixels(), 1 / GRAIN_PITCH, 1 / GRAIN_PITCH));
    const streak = keepTexture(texture(streakPixels(), 1 / STREAK_PITCH, 1 / STREAK_PITCH));
    this.winding = { transmitter: solid('strand'), receiver: solid('strand') };
    this.litz = { transmitter: solid('strand', strand), receiver: solid('strand', strand) };
    this.ferrite = solid('ceramic');
    this.metal = solid('brushed', streak);
    this.ferriteCut = solid('paper');
    this.metalCut = solid('paper', hatch);
    const body = (opacity: number, map: Texture = white): MeshMatcapMaterial => {
      const m = solid('paper', map);
      m.transparent = true;
      m.opacity = opacity;
      m.depthWrite = false;
      return m;
    };
    this.slab = {
      wood: body(0.72, grain),
      textile: body(0.5),
      plastic: body(0.5),
      glass: body(0.28),
      stone: body(0.72),
    };
    this.slabCut = {
      wood: solid('paper', hatch),
      textile: solid('paper'),
      plastic: solid('paper', hatch),
      glass: solid('paper'),
      stone: solid('paper', hatch),
    };
    this.edge = keep(new LineBasicMaterial({ transparent: true, opacity: 0.55 }));
    this.faintEdge = keep(new LineBasicMaterial({ transparent: true, opacity: 0.35 }));
    this.grid = keep(new LineBasicMaterial({ transparent: true, opacity: 1, depthWrite: false, vertexColors: true }));
    const dark = (): MeshBasicMaterial =>
      keep(
        new MeshBasicMaterial({
          color: 0x000000,
          transparent: true,
          depthWrite: false,
          vertexColors: true,
          side: DoubleSide,
        }),
      );
    this.shadow = dark();
    this.cast = dark();
    this.field = solid('strand');
  }

  colour(palette: ScenePalette): void {
    for (const set of [this.winding, this.litz]) {
      set.transmitter.color.copy(paint(palette.copper, 'strand'));
      set.receiver.color.copy(paint(palette.steel, 'strand'));
    }
    const dark = palette.scheme === 'dark' ? DARK_FERRITE : 1;
    this.ferrite.color.copy(paint(palette.ferrite, 'ceramic')).multiplyScalar(dark);
    this.ferriteCut.color.copy(paint(palette.ferrite, 'paper')).multiplyScalar(dark);
    this.metal.color.copy(paint(palette.metal, 'brushed'));
    this.metalCut.color.copy(paint(palette.metal, 'paper'));
    const slab = {
      wood: palette.wood,
      textile: palette.textile,
      plastic: palette.plain,
      glass: palette.plain,
      stone: palette.plain,
    } as const;
    for (const name of Object.keys(slab) as (keyof typeof slab)[]) {
      this.slab[name].color.copy(paint(slab[name], 'paper'));
      this.slabCut[name].color.copy(paint(slab[name], 'paper'));
    }
    this.edge.color.set(palette.ink);
    this.faintEdge.color.set(palette.ink);
    this.grid.color.set(palette.soft);
    this.shadow.opacity = palette.scheme === 'dark' ? 0.5 : 0.2;
    this.cast.opacity = palette.scheme === 'dark' ? 0.5 : 0.36;
    this.field.color.copy(paint(palette.ink, 'strand'));
  }

  dispose(): void {
    for (const m of this.#materials) m.dispose();
    for (const t of this.#textures) t.dispose();
  }
}
