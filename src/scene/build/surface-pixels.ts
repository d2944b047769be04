/**
 * Pixels of the small textures, computed: no image file, no light source, no shadow pass. Light falls from the upper left
 * of the picture, as in a drawing, and stays there while the viewer walks round.
 */

export type Finish = 'strand' | 'ceramic' | 'brushed' | 'paper';

/** Square images, RGBA, first row at the bottom. */
export interface Pixels {
  readonly size: number;
  readonly data: Uint8Array;
}

const clamp = (v: number): number => Math.max(0, Math.min(1, v));
const mix = (a: number, b: number, t: number): number => a + (b - a) * t;

/** Brightness of a surface whose outward normal is (x, y, z) in the picture's frame, z towards the viewer; 0..1. */
export function brightness(finish: Finish, x: number, y: number, z: number): number {
  const light = clamp((-0.42 * x + 0.68 * y + 0.6 * z) * 0.5 + 0.5);
  // Half-way between the light and the viewer.
  const gloss = clamp(-0.235 * x + 0.38 * y + 0.895 * z);
  const facing = clamp(z);
  switch (finish) {
    case 'strand':
      return clamp(mix(0.3, 0.8, light ** 1.1) * mix(0.42, 1, facing ** 0.6) + 0.2 * gloss ** 18);
    case 'ceramic':
      return clamp(mix(0.34, 0.78, light ** 1.4) * mix(0.86, 1, facing ** 0.5) + 0.07 * gloss ** 8);
    case 'brushed':
      return clamp(mix(0.4, 0.8, light ** 1.2) + 0.2 * Math.exp(-(((x + 0.25) * 2.6) ** 2)) * gloss ** 2);
    case 'paper':
      return clamp(mix(0.58, 0.84, light ** 1.1));
  }
}

/** The brightness at which a material shows its own colour; brighter is a highlight. */
export const REFERENCE_BRIGHTNESS: Readonly<Record<Finish, number>> = Object.freeze({
  strand: 0.66,
  ceramic: 0.74,
  brushed: 0.74,
  paper: 0.74,
});

/** A sphere's picture: looked up by the surface normal. */
export function matcapPixels(finish: Finish, size = 64): Pixels {
  const data = new Uint8Array(4 * size * size);
  for (let j = 0; j < size; j++)
    for (let i = 0; i < size; i++) {
      let x = ((i + 0.5) / size) * 2 - 1;
      let y = ((j + 0.5) / size) * 2 - 1;
      const r = Math.hypot(x, y);
      // Outside the sphere: its rim, so that filtering finds no hard edge.
      if (r > 0.999) {
        x *= 0.999 / r;
        y *= 0.999 / r;
      }
      const value = Math.round(255 * brightness(finish, x, y, Math.sqrt(1 - x * x - y * y)));
      data.set([value, value, value, 255], 4 * (j * size + i));
    }
  return { size, data };
}

const grey = (size: number, at: (u: number, v: number) => number): Pixels => {
  const data = new Uint8Array(4 * size * size);
  for (let j = 0; j < size; j++)
    for (let i = 0; i < size; i++) {
      const value = Math.round(255 * clamp(at((i + 0.5) / size, (j + 0.5) / size)));
      data.set([value, value, value, 255], 4 * (j * size + i));
    }
  return { size, data };
};

/** Twisted strands: u runs round the bundle, v along it; four strands a turn, with thin dark furrows. */
export function strandPixels(size = 32): Pixels {
  return grey(size, (u, v) => {
    const across = (4 * u + 2 * v) % 1;
    const ridge = Math.sin(Math.PI * across);
    return 0.74 + 0.26 * ridge ** 0.6;
  });
}

/** Thin slanting lines on a cut face; tiles without a seam. */
export function hatchPixels(size = 64): Pixels {
  return grey(size, (u, v) => {
    const d = Math.abs((((((u - v) * 2) % 1) + 1.5) % 1) - 0.5);
    return d < 0.09 ? 0.8 : 1;
  });
}

/** Fine streaks along x, for brushed metal; deterministic. */
export function streakPixels(size = 64): Pixels {
  const row = (j: number): number => {
    const s = Math.sin(j * 127.1 + 3.7) * 43758.5453;
    return s - Math.floor(s);
  };
  return grey(size, (u, v) => {
    const j = Math.floor(v * size);
    return 0.93 + 0.07 * mix(row(j), row(j + 17), 0.5 + 0.5 * Math.sin(2 * Math.PI * u + 9 * row(j + 5)));
  });
}

/** Quiet wood grain along x; tiles without a seam. */
export function grainPixels(size = 128): Pixels {
  return grey(size, (u, v) => {
    const wave = 0.035 * Math.sin(2 * Math.PI * u) + 0.02 * Math.sin(4 * Math.PI * u + 1.3);
    const t = v + wave;
    const rings = Math.sin(2 * Math.PI * 5 * t + 0.8 * Math.sin(2 * Math.PI * 2 * t));
    const fine = Math.sin(2 * Math.PI * 19 * t + 2 * Math.sin(2 * Math.PI * u));
    return 0.955 + 0.03 * rings + 0.012 * fine;
  });
}
