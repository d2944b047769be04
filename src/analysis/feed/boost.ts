import { boostInputA } from '../../design/demand.ts';

/** A boost converter on a source with resistance. */
export interface BoostPoint {
  /** From the source, without the converter's own current, A; Infinity where the source cannot give the power. */
  readonly inputA: number;
  /** At the converter's input, V; 0 where it collapsed. */
  readonly inputV: number;
  /** Output power at which the source's voltage breaks down, W; Infinity without source resistance. */
  readonly collapseW: number;
  readonly sourceLossW: number;
  readonly converterLossW: number;
  readonly collapsed: boolean;
}

/** Largest output power of a boost converter on a source of open voltage E behind R, W: efficiency E^2 / (4 R). */
export function boostCollapseW(sourceV: number, resistanceOhm: number, efficiency: number): number {
  return resistanceOhm === 0 ? Number.POSITIVE_INFINITY : (efficiency * sourceV * sourceV) / (4 * resistanceOhm);
}

/**
 * Where a boost converter comes to rest on its source, on the branch of the smaller current.
 *
 * @param outputW asked of the converter, W, at least 0. @param efficiency 0..1
 *
 * Source: power balance (E - R I) I = P / efficiency; both branches meet at `boostCollapseW`. Textbook result, from memory.
 * Accuracy: reference-cases/chain, boost-input and boost-collapse.
 */
export function boostPoint(sourceV: number, resistanceOhm: number, outputW: number, efficiency: number): BoostPoint {
  const collapseW = boostCollapseW(sourceV, resistanceOhm, efficiency);
  const inputA = boostInputA(sourceV, resistanceOhm, outputW / efficiency);
  if (!Number.isFinite(inputA)) {
    return { inputA, inputV: 0, collapseW, sourceLossW: Number.NaN, converterLossW: Number.NaN, collapsed: true };
  }
  return {
    inputA,
    inputV: sourceV - resistanceOhm * inputA,
    collapseW,
    sourceLossW: resistanceOhm * inputA * inputA,
    converterLossW: outputW / efficiency - outputW,
    collapsed: false,
  };
}
