import type { DesignDocument } from '../../design/schema.ts';
import type { Command } from '../command.ts';

export interface ArrangeMagnetsArgs {
  /** 1 to 4. */
  readonly pairs: number;
}

/** Lays out another number of pairs about as far from the middle as those there are. */
export const arrangeMagnets: Command<ArrangeMagnetsArgs> = Object.freeze({
  name: 'arrange-magnets',
  label: () => 'Arrange the magnets',
  perform: (document: DesignDocument, { pairs }: ArrangeMagnetsArgs): DesignDocument => {
    const magnets = document.holding?.magnets;
    if (!magnets || magnets.positionsMm.length === pairs) return document;
    const far = (axis: 0 | 1) => magnets.positionsMm.reduce((most, at) => Math.max(most, Math.abs(at[axis])), 0);
    return {
      ...document,
      holding: {
        ...document.holding,
        magnets: { ...magnets, positionsMm: arranged(pairs, far(0), far(1), magnets.diameterMm) },
      },
    };
  },
});

/** Positions of so many pairs within about the given distances; never nearer to each other than two diameters. */
function arranged(pairs: number, farX: number, farY: number, diameterMm: number): [number, number][] {
  const least = diameterMm;
  const x = Math.max(farX, least);
  const y = Math.max(farY, least);
  const along = farX >= farY;
  switch (pairs) {
    case 1:
      return [along ? [x, 0] : [0, y]];
    case 2:
      return along
        ? [
            [-x, 0],
            [x, 0],
          ]
        : [
            [0, -y],
            [0, y],
          ];
    case 3:
      return [
        [-x, -y],
        [x, -y],
        [0, y],
      ];
    default:
      return [
        [-x, -y],
        [x, -y],
        [x, y],
        [-x, y],
      ];
  }
}
