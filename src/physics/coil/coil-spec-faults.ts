import type { FaultDetail } from '../../numerics/errors.ts';
import { conductorHeight, conductorWidth } from './conductor-size.ts';
import type { CoilSpec } from './types.ts';

/** Densest packing of equal round strands: pi / (2 sqrt 3). */
const DENSEST_STRANDS = Math.PI / (2 * Math.sqrt(3));

/** A length in millimetres for a message, four significant digits. */
export function millimetres(metres: number): string {
  return `${Number((metres * 1e3).toPrecision(4))} mm`;
}

/** Faults of single numbers in a coil: signs, whole numbers, sizes that contradict each other. Paths start at the coil. */
export function coilSpecFaults(spec: CoilSpec): FaultDetail[] {
  const faults: FaultDetail[] = [];
  const add = (code: string, path: string, required: string, received: string) => {
    faults.push({ code, path, required, received });
  };
  const positive = (path: string, value: number) => {
    if (!(value > 0 && Number.isFinite(value))) add('not-positive', path, 'a length above 0 mm', millimetres(value));
  };
  const notNegative = (path: string, value: number) => {
    if (!(value >= 0 && Number.isFinite(value))) add('negative', path, 'a length of 0 mm or more', millimetres(value));
  };
  const count = (path: string, value: number) => {
    if (!(Number.isInteger(value) && value >= 1)) add('not-a-count', path, 'a whole number, at least 1', `${value}`);
  };

  if (spec.winding === 'spiral') {
    if (!(spec.turns >= 1 && Number.isFinite(spec.turns)))
      add('not-a-count', 'turns', 'a number, at least 1', `${spec.turns}`);
  } else count('turns', spec.turns);
  count('layers', spec.layers);
  count('filars', spec.filars);
  if (spec.layers > spec.turns)
    add('empty-layer', 'layers', `at most ${Math.floor(spec.turns)}, the number of turns`, `${spec.layers}`);

  const { conductor, outline } = spec;
  if (conductor.kind === 'litz') {
    count('conductor.strands', conductor.strands);
    positive('conductor.strandDiameter', conductor.strandDiameter);
    positive('conductor.bundleDiameter', conductor.bundleDiameter);
    const least = Math.sqrt(conductor.strands / DENSEST_STRANDS) * conductor.strandDiameter;
    const needed = conductor.strands === 1 ? conductor.strandDiameter : least;
    if (conductor.bundleDiameter < needed * (1 - 1e-9)) {
      add(
        'strands-do-not-fit',
        'conductor.bundleDiameter',
        `at least ${millimetres(needed)} to hold ${conductor.strands} strands of ${millimetres(conductor.strandDiameter)}`,
        millimetres(conductor.bundleDiameter),
      );
    }
  } else if (conductor.kind === 'solid') {
    positive('conductor.diameter', conductor.diameter);
    if (!(conductor.insulatedDiameter >= conductor.diameter)) {
      add(
        'insulation-inside-wire',
        'conductor.insulatedDiameter',
        `at least the wire's ${millimetres(conductor.diameter)}`,
        millimetres(conductor.insulatedDiameter),
      );
    }
  } else {
    positive('conductor.width', conductor.width);
    positive('conductor.thickness', conductor.thickness);
  }
  if (spec.layers > 1) {
    const height = conductorHeight(conductor);
    if (!(spec.layerPitch >= height * (1 - 1e-9))) {
      add(
        'layers-overlap',
        'layerPitch',
        `at least the conductor's ${millimetres(height)}; layers lack ${millimetres(height - spec.layerPitch)} of spacing`,
        millimetres(spec.layerPitch),
      );
    }
  }

  if (outline.shape === 'circle') {
    positive('outline.outerDiameter', outline.outerDiameter);
    notNegative('outline.innerDiameter', outline.innerDiameter);
    if (outline.innerDiameter >= outline.outerDiameter) {
      add(
        'inside-out',
        'outline.innerDiameter',
        `below the outer diameter, ${millimetres(outline.outerDiameter)}`,
        millimetres(outline.innerDiameter),
      );
    }
  } else if (outline.shape === 'path') {
    positive('outline.pitch', outline.pitch);
    if (outline.points.length < 6 || outline.points.length % 2 !== 0) {
      add('too-few-points', 'outline.points', 'at least three points', `${outline.points.length / 2}`);
    } else if (!outline.points.every(Number.isFinite))
      add('not-finite', 'outline.points', 'finite numbers', 'a point that is not');
  } else {
    positive('outline.outerWidth', outline.outerWidth);
    positive('outline.outerHeight', outline.outerHeight);
    notNegative('outline.innerWidth', outline.innerWidth);
    notNegative('outline.innerHeight', outline.innerHeight);
    if (outline.innerWidth >= outline.outerWidth) {
      add(
        'inside-out',
        'outline.innerWidth',
        `below the outer width, ${millimetres(outline.outerWidth)}`,
        millimetres(outline.innerWidth),
      );
    }
    if (outline.innerHeight >= outline.outerHeight) {
      add(
        'inside-out',
        'outline.innerHeight',
        `below the outer height, ${millimetres(outline.outerHeight)}`,
        millimetres(outline.innerHeight),
      );
    }
    if (outline.shape === 'roundedRectangle') {
      const width = conductorWidth(conductor);
      const largest = Math.min(outline.outerWidth, outline.outerHeight) / 2;
      const least = conductor.kind === 'trace' ? 0 : width;
      if (!(outline.outerCornerRadius >= least * (1 - 1e-9) && outline.outerCornerRadius <= largest * (1 + 1e-9))) {
        add(
          'corner-not-windable',
          'outline.outerCornerRadius',
          `from ${millimetres(least)}${least > 0 ? ' (the conductor bends no tighter than its own width)' : ''} to ${millimetres(largest)} (half the shorter side)`,
          millimetres(outline.outerCornerRadius),
        );
      }
      if (outline.innerCornerRadius !== null) {
        const largestInner = Math.min(outline.innerWidth, outline.innerHeight) / 2;
        if (!(outline.innerCornerRadius >= 0 && outline.innerCornerRadius <= largestInner * (1 + 1e-9))) {
          add(
            'corner-not-windable',
            'outline.innerCornerRadius',
            `from 0 mm to ${millimetres(largestInner)} (half the shorter inner side)`,
            millimetres(outline.innerCornerRadius),
          );
        }
      }
    }
  }
  return faults;
}
