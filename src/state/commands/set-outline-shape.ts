import type { DesignDocument } from '../../design/schema.ts';
import type { Command } from '../command.ts';

export type EditableShape = 'circle' | 'roundedRectangle' | 'stadium';

export interface SetOutlineShapeArgs {
  readonly side: 'transmitter' | 'receiver';
  readonly shape: EditableShape;
}

type Outline = DesignDocument['transmitter']['coil']['outline'];

interface Sizes {
  readonly width: number;
  readonly height: number;
  /** Width of the winding, outer edge to inner edge. */
  readonly build: number;
}

function tidy(value: number): number {
  return Number(value.toFixed(2));
}

function sizesOf(outline: Outline): Sizes {
  if (outline.shape === 'circle') {
    const size = outline.outerDiameterMm;
    return { width: size, height: size, build: (size - outline.innerDiameterMm) / 2 };
  }
  if (outline.shape === 'path') {
    const xs = outline.pointsMm.map((point) => point[0]);
    const ys = outline.pointsMm.map((point) => point[1]);
    const width = Math.max(...xs) - Math.min(...xs);
    const height = Math.max(...ys) - Math.min(...ys);
    return { width, height, build: Math.min(width, height) / 4 };
  }
  return {
    width: outline.outerWidthMm,
    height: outline.outerHeightMm,
    build: (outline.outerWidthMm - outline.innerWidthMm) / 2,
  };
}

/** The outline in another shape of about the same size and the same width of winding. */
export function reshaped(outline: Outline, shape: EditableShape): Outline {
  if (outline.shape === shape) return outline;
  const { width, height, build } = sizesOf(outline);
  if (shape === 'circle') {
    const outer = Math.sqrt(width * height);
    return { shape, outerDiameterMm: tidy(outer), innerDiameterMm: tidy(Math.max(outer - 2 * build, outer / 10)) };
  }
  const inner = (outer: number): number => tidy(Math.max(outer - 2 * build, outer / 10));
  const sizes = {
    outerWidthMm: tidy(width),
    outerHeightMm: tidy(height),
    innerWidthMm: inner(width),
    innerHeightMm: inner(height),
  };
  if (shape === 'stadium') return { shape, ...sizes };
  return { shape, ...sizes, outerCornerRadiusMm: tidy(Math.min(width, height) / 4) };
}

/** Changes a coil's outline to another shape; turns, conductor and everything else stay. */
export const setOutlineShape: Command<SetOutlineShapeArgs> = Object.freeze({
  name: 'set-outline-shape',
  label: () => 'Change the shape',
  perform: (document: DesignDocument, { side, shape }: SetOutlineShapeArgs): DesignDocument => {
    const part = document[side];
    return { ...document, [side]: { ...part, coil: { ...part.coil, outline: reshaped(part.coil.outline, shape) } } };
  },
});
