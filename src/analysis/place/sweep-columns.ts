import { demandOf } from '../../design/demand.ts';
import type { Design } from '../../design/types.ts';
import type { LineSweep, SweepAxis } from '../types.ts';
import type { SweepPoint } from './line-sweep.ts';

/** The line from its points. */
export function lineSweepOf(
  design: Design,
  axis: SweepAxis,
  points: readonly SweepPoint[],
  firstLook: boolean,
): LineSweep {
  const column = (key: Exclude<keyof SweepPoint, 'state' | 'link' | 'less' | 'more'>): Float64Array =>
    Float64Array.from(points, (point) => point[key]);
  return {
    axis,
    at: column('at'),
    maxOutputA: column('maxOutputA'),
    marginPercent: column('marginPercent'),
    marginLowPercent: column('marginLowPercent'),
    marginHighPercent: column('marginHighPercent'),
    coupling: column('coupling'),
    mutualInductanceH: column('mutualInductanceH'),
    transmitterInductanceH: column('transmitterInductanceH'),
    receiverInductanceH: column('receiverInductanceH'),
    efficiency: column('efficiency'),
    frequencyHz: column('frequencyHz'),
    states: points.map((point) => point.state),
    demandA: demandOf(design).demandA,
    firstLook,
  };
}
