/**
 * The switched link circuit as a piecewise-linear system.
 *
 * State order (8 numbers): transmitter current, transmitter capacitor voltage, receiver current, receiver series capacitor
 * voltage, parallel capacitor voltage, rectified voltage, the constant 1, the bridge voltage. The last two only carry the forcing.
 *
 * Two modes are enough: rectifier `off` and `on` with positive current. Conduction with negative current is the `on` mode
 * seen through a change of sign of everything but the rectified voltage and the constant.
 */
export interface SwitchedNetwork {
  /** H. */
  readonly l1: number;
  readonly l2: number;
  readonly m: number;
  /** Series capacitances, F. */
  readonly c1: number;
  readonly cs: number;
  /** Loop resistances, ohm: transmitter with its conducting switches and capacitor, receiver with its capacitor, without rectifier. */
  readonly r1: number;
  readonly r2: number;
  /** Parallel capacitance, F; 0: none. */
  readonly cd: number;
  /**
   * Resistance in series with the parallel capacitor, ohm: damps its ringing with the leakage inductance as the coils' eddy loss at that
   * high frequency does, and hardly touches the fundamental. 0: none.
   */
  readonly ringingResistance: number;
  /** Both conducting rectifier devices together: V, ohm. */
  readonly rectifierDrop: number;
  readonly rectifierResistance: number;
  /** F; Infinity holds the rectified voltage. */
  readonly reservoir: number;
  /** A, drawn from the reservoir; without meaning for an infinite reservoir. */
  readonly loadA: number;
}

export const I1 = 0;
export const VC1 = 1;
export const I2 = 2;
export const VCS = 3;
export const VCD = 4;
export const VR = 5;
export const ONE = 6;
export const V1 = 7;
/** States that move; the other two are constant between events. */
export const ACTIVE = 6;
export const SIZE = 8;

/** Below this the two conducting devices count as this many ohm, so that their current stays defined by their voltage. */
const LEAST_RECTIFIER_RESISTANCE = 1e-4;

/** A parallel capacitor that rings faster than this multiple of the drive has too little charge to matter and counts as absent. */
const FASTEST_RINGING = 150;

/** Ringing frequency of the parallel capacitor with the receiver's leakage inductance, Hz. */
export function ringingFrequency(network: SwitchedNetwork): number {
  const leakage = network.l2 - (network.m * network.m) / network.l1;
  const capacitance = (network.cd * network.cs) / (network.cd + network.cs);
  return 1 / (2 * Math.PI * Math.sqrt(leakage * capacitance));
}

/** The network with rectifier resistance kept above zero and without a parallel capacitor too small to matter at `frequency`; the
 * sign of the mutual inductance only names the receiver's terminals and is dropped. */
export function tameNetwork(network: SwitchedNetwork, frequency: number): SwitchedNetwork {
  const rectifierResistance = Math.max(network.rectifierResistance, LEAST_RECTIFIER_RESISTANCE);
  const cd = network.cd > 0 && ringingFrequency(network) < FASTEST_RINGING * frequency ? network.cd : 0;
  return { ...network, m: Math.abs(network.m), rectifierResistance, cd };
}

export interface NetworkMatrices {
  /** `[8, 8]` row-major, 1/s. */
  readonly off: Float64Array;
  readonly on: Float64Array;
}

/** Matrices of both modes. `network` must have been through `tameNetwork`. */
export function networkMatrices(network: SwitchedNetwork): NetworkMatrices {
  const { l1, l2, m, c1, cs, r1, r2, cd, rectifierDrop: drop, rectifierResistance: rd, reservoir, loadA } = network;
  const rs = cd > 0 ? network.ringingResistance : 0;
  const off = new Float64Array(SIZE * SIZE);
  const on = new Float64Array(SIZE * SIZE);
  const determinant = l1 * l2 - m * m;
  const perReservoir = Number.isFinite(reservoir) ? 1 / reservoir : 0;
  for (const a of [off, on]) {
    a[VC1 * SIZE + I1] = 1 / c1;
    a[VCS * SIZE + I2] = 1 / cs;
    a[VR * SIZE + ONE] = -loadA * perReservoir;
  }
  const couple = (a: Float64Array, loop2: readonly (readonly [number, number])[]) => {
    // L1 i1' - M i2' = v1 - r1 i1 - vC1;  -M i1' + L2 i2' = -r2 i2 - vCs - v2
    const loop1: readonly (readonly [number, number])[] = [
      [I1, -r1],
      [VC1, -1],
      [V1, 1],
    ];
    for (const [state, value] of loop1) {
      a[I1 * SIZE + state] += (l2 / determinant) * value;
      a[I2 * SIZE + state] += (m / determinant) * value;
    }
    for (const [state, value] of loop2) {
      a[I1 * SIZE + state] += (m / determinant) * value;
      a[I2 * SIZE + state] += (l1 / determinant) * value;
    }
  };
  if (cd > 0) {
    couple(off, [
      [I2, -r2 - rs],
      [VCS, -1],
      [VCD, -1],
    ]);
    off[VCD * SIZE + I2] = 1 / cd;
    // Rectifier current g (vCd + rs i2 - vr - drop); what it takes does not flow through rs.
    const g = 1 / (rd + rs);
    const pass = 1 - rs * g;
    couple(on, [
      [I2, -r2 - rs * pass],
      [VCS, -1],
      [VCD, -pass],
      [VR, -rs * g],
      [ONE, -rs * g * drop],
    ]);
    on[VCD * SIZE + I2] = pass / cd;
    on[VCD * SIZE + VCD] = -g / cd;
    on[VCD * SIZE + VR] = g / cd;
    on[VCD * SIZE + ONE] = (g * drop) / cd;
    on[VR * SIZE + I2] += g * rs * perReservoir;
    on[VR * SIZE + VCD] += g * perReservoir;
    on[VR * SIZE + VR] -= g * perReservoir;
    on[VR * SIZE + ONE] -= g * drop * perReservoir;
  } else {
    couple(on, [
      [I2, -r2 - rd],
      [VCS, -1],
      [VR, -1],
      [ONE, -drop],
    ]);
    // Receiver loop open: no current, the transmitter rings alone.
    off[I1 * SIZE + I1] = -r1 / l1;
    off[I1 * SIZE + VC1] = -1 / l1;
    off[I1 * SIZE + V1] = 1 / l1;
    off[VCS * SIZE + I2] = 0;
    on[VR * SIZE + I2] += perReservoir;
  }
  return { off, on };
}
