import type { FeedbackDocument, LegDocument } from './types.ts';

/** Resistance of one leg, kilohm: (resistor + series + used part of the trimmer) beside the parallel resistor. */
export function legKohm(leg: LegDocument): number {
  const row = leg.resistorKohm + leg.seriesKohm + leg.trimmerTurn * leg.trimmerKohm;
  return leg.parallelKohm === null ? row : (row * leg.parallelKohm) / (row + leg.parallelKohm);
}

/**
 * Voltage that a feedback divider sets, V: reference (1 + top / bottom). Textbook result for an amplifier that holds the
 * divider's tap at its reference (from memory); the tap's own current is left out.
 */
export function dividerOutputV(feedback: FeedbackDocument): number {
  return feedback.referenceV * (1 + legKohm(feedback.top) / legKohm(feedback.bottom));
}
