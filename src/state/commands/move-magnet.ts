import type { DesignDocument } from '../../design/schema.ts';
import type { Command } from '../command.ts';

export interface MoveMagnetArgs {
  readonly index: number;
  /** In the device's own plane, mm. */
  readonly xMm: number;
  readonly yMm: number;
}

/** Two coordinates that are this close count as mirror images, mm. */
const SAME = 0.01;

/** Moves a pair of magnets and, as far as they stand so, its mirror images in both axes with it. */
export const moveMagnet: Command<MoveMagnetArgs> = Object.freeze({
  name: 'move-magnet',
  label: () => 'Move the magnets',
  perform: (document: DesignDocument, { index, xMm, yMm }: MoveMagnetArgs): DesignDocument => {
    const magnets = document.holding?.magnets;
    const held = magnets?.positionsMm[index];
    if (!magnets || !held) return document;
    const along = (value: number, from: number, to: number): number | null =>
      Math.abs(value - from) < SAME ? to : Math.abs(value + from) < SAME ? -to + 0 : null;
    const positionsMm = magnets.positionsMm.map(([x, y], i): [number, number] => {
      if (i === index) return [xMm, yMm];
      const toX = along(x, held[0], xMm);
      const toY = along(y, held[1], yMm);
      return toX === null || toY === null ? [x, y] : [toX, toY];
    });
    return { ...document, holding: { ...document.holding, magnets: { ...magnets, positionsMm } } };
  },
});
