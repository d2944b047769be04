/** A loop pair at one frequency with its voltages, for the bound on a harmonic. SI. */
export interface HarmonicCircuit {
  readonly l1: number;
  readonly l2: number;
  readonly m: number;
  readonly c1: number;
  readonly cs: number;
  /** Loop resistances, ohm. */
  readonly r1: number;
  readonly r2: number;
  readonly bridge: 'full' | 'half';
  readonly duty: number;
  /** Bridge supply after its resistance and control, V. */
  readonly bridgeV: number;
  /** Rectified voltage with the drops of both conducting devices, V. */
  readonly rectifierV: number;
}

export interface HarmonicBound {
  readonly order: number;
  /** rms, A, at most. */
  readonly transmitterA: number;
  readonly receiverA: number;
}

/**
 * Upper bounds of the coil currents' harmonics: bridge and rectifier taken as square waves whose parts add in the worst phase,
 * over the impedances of the coupled loops at that frequency. A parallel capacitor softens the rectifier's edges and is left out,
 * so its own ringing is too.
 *
 * @param frequency Hz of the drive. @param most highest order
 * Source: bridge harmonics as in the README of physics/circuit; two coupled loops.
 */
export function harmonicBounds(circuit: HarmonicCircuit, frequency: number, most = 15): HarmonicBound[] {
  const out: HarmonicBound[] = [];
  for (let n = 2; n <= most; n++) {
    const omega = 2 * Math.PI * frequency * n;
    const bridge = bridgePeak(circuit, n);
    const rectifier = n % 2 === 1 ? (4 * circuit.rectifierV) / (Math.PI * n) : 0;
    if (bridge === 0 && rectifier === 0) continue;
    const x1 = omega * circuit.l1 - 1 / (omega * circuit.c1);
    const x2 = omega * circuit.l2 - 1 / (omega * circuit.cs);
    const xm = omega * Math.abs(circuit.m);
    // Determinant of [[r1 + j x1, -j xm], [-j xm, r2 + j x2]].
    const re = circuit.r1 * circuit.r2 - x1 * x2 + xm * xm;
    const im = circuit.r1 * x2 + circuit.r2 * x1;
    const size = Math.hypot(re, im) * Math.SQRT2;
    out.push({
      order: n,
      transmitterA: (Math.hypot(circuit.r2, x2) * bridge + xm * rectifier) / size,
      receiverA: (xm * bridge + Math.hypot(circuit.r1, x1) * rectifier) / size,
    });
  }
  return out;
}

function bridgePeak({ bridge, duty, bridgeV }: HarmonicCircuit, n: number): number {
  if (bridge === 'half') return Math.abs(((2 * bridgeV) / (Math.PI * n)) * Math.sin(n * Math.PI * duty));
  return n % 2 === 1 ? Math.abs(((4 * bridgeV) / (Math.PI * n)) * Math.sin((n * Math.PI * duty) / 2)) : 0;
}
