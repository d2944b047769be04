/** Best that two resonant coils can do, whatever the boards. */
export interface LinkLimit {
  /** Largest efficiency coil to coil, 0..1. */
  readonly efficiency: number;
  /** Load resistance in series with the receiver coil that reaches it, ohm. */
  readonly optimalLoad: number;
  /** K^2 = k^2 Q1 Q2. */
  readonly figureOfMerit: number;
}

/**
 * Efficiency limit of a series-tuned link: K^2 / (1 + sqrt(1 + K^2))^2.
 *
 * @param coupling k, its sign is ignored. @param transmitterQ @param receiverQ quality factors, > 0. @param receiverResistance ohm.
 *
 * Accuracy: closed form, 1e-15. Source: maximum link efficiency, e.g. Kurs et al., Science 317 (2007) 83 (U form); Zargham and Gulak,
 * IEEE Trans. Biomed. Circuits Syst. 6 (2012); from memory, confirmed by brute-force optimisation of the circuit in
 * reference-cases/link-limit.
 */
export function linkLimit(
  coupling: number,
  transmitterQ: number,
  receiverQ: number,
  receiverResistance: number,
): LinkLimit {
  const square = coupling * coupling * transmitterQ * receiverQ;
  const root = Math.sqrt(1 + square);
  return {
    efficiency: square / (1 + root) ** 2,
    optimalLoad: receiverResistance * root,
    figureOfMerit: square,
  };
}
