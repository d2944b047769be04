import type { CoilDocument, OutlineDocument } from '../../design/types.ts';

/** Box that an outline fills, mm, to the outermost conductor edges. */
export interface Box {
  readonly widthMm: number;
  readonly heightMm: number;
}

/** Width and height over the outermost edges, mm. A free path: its points' extent plus one conductor width. */
export function outerBox(coil: CoilDocument): Box {
  const { outline } = coil;
  if (outline.shape === 'circle') return { widthMm: outline.outerDiameterMm, heightMm: outline.outerDiameterMm };
  if (outline.shape !== 'path') return { widthMm: outline.outerWidthMm, heightMm: outline.outerHeightMm };
  const extent = (axis: 0 | 1): number => {
    const values = outline.pointsMm.map((point) => point[axis]);
    return Math.max(...values) - Math.min(...values) + conductorWidthMm(coil);
  };
  return { widthMm: extent(0), heightMm: extent(1) };
}

/** Width of a coil's conductor in its plane, mm, insulation included where it is stated. */
export function conductorWidthMm({ conductor }: CoilDocument): number {
  if (conductor.kind === 'litz') return conductor.bundleDiameterMm;
  return conductor.kind === 'solid' ? conductor.insulatedDiameterMm : conductor.widthMm;
}

/** Wires side by side in the fullest layer. */
export function wiresAcross({ turns, layers, filars }: CoilDocument): number {
  return Math.ceil(turns / layers) * filars;
}

/**
 * Area inside an outline's outer edge, mm2, exact for circle, rounded rectangle and stadium. A free path: of its outermost
 * centre line.
 */
export function outerArea(outline: OutlineDocument): number {
  switch (outline.shape) {
    case 'circle':
      return (Math.PI / 4) * outline.outerDiameterMm ** 2;
    case 'roundedRectangle':
      return roundedArea(outline.outerWidthMm, outline.outerHeightMm, outline.outerCornerRadiusMm);
    case 'stadium':
      return roundedArea(
        outline.outerWidthMm,
        outline.outerHeightMm,
        Math.min(outline.outerWidthMm, outline.outerHeightMm) / 2,
      );
    case 'path':
      return pathArea(outline.pointsMm);
  }
}

/** Area of the opening, mm2. A rounded rectangle whose inner corners follow from the pitch counts them as square where that is sharper. */
export function openingArea(coil: CoilDocument): number {
  const { outline } = coil;
  switch (outline.shape) {
    case 'circle':
      return (Math.PI / 4) * outline.innerDiameterMm ** 2;
    case 'roundedRectangle': {
      const { innerWidthMm: width, innerHeightMm: height } = outline;
      const band = Math.min(outline.outerWidthMm - width, outline.outerHeightMm - height) / 2;
      const radius = outline.innerCornerRadiusMm ?? Math.max(0, outline.outerCornerRadiusMm - band);
      return roundedArea(width, height, Math.min(radius, width / 2, height / 2));
    }
    case 'stadium':
      return roundedArea(
        outline.innerWidthMm,
        outline.innerHeightMm,
        Math.min(outline.innerWidthMm, outline.innerHeightMm) / 2,
      );
    case 'path': {
      const area = pathArea(outline.pointsMm);
      const band = (wiresAcross(coil) - 1) * (outline.pitchMm / coil.filars) + conductorWidthMm(coil);
      // The same shape, smaller: the ratio of widths squared.
      const { widthMm, heightMm } = outerBox(coil);
      const left = Math.max(0, 1 - (2 * band) / Math.min(widthMm, heightMm));
      return area * left * left;
    }
  }
}

/** Area of a rectangle with round corners, mm2. */
export function roundedArea(width: number, height: number, radius: number): number {
  return width * height - (4 - Math.PI) * radius * radius;
}

function pathArea(points: readonly (readonly [number, number])[]): number {
  let twice = 0;
  points.forEach(([x, y], i) => {
    const [u, v] = points[(i + 1) % points.length]!;
    twice += x * v - u * y;
  });
  return Math.abs(twice) / 2;
}
