import type { RandomSource } from '../../../src/numerics/random.ts';
import type { Boards, Drive, LinkElectrical, Pickup, Thermal } from '../../../src/physics/circuit/types.ts';

/** A plausible 5 W pair on plausible boards: full bridge, linear regulator. Our own numbers. */
export function typicalBoards(
  supplyV: number,
  change: { drive?: Partial<Drive>; pickup?: Partial<Pickup>; thermal?: Partial<Thermal> } = {},
): Boards {
  return {
    drive: {
      supplyV,
      supplyResistance: 0.1,
      supplyCurrentLimit: 3,
      bridge: 'full',
      control: 'frequency',
      seriesCapacitance: 400e-9,
      seriesCapacitorResistance: 0.01,
      frequencyMin: 108e3,
      frequencyMax: 215e3,
      dutyMin: 1,
      supplyMinFraction: 1,
      switchResistance: 0.02,
      coilCurrentLimit: 6,
      idleCurrent: 0.019,
      gateCharge: 41e-9,
      deadTime: 76e-9,
      pingFrequency: 175e3,
      standbyPower: 0.1,
      ...change.drive,
    },
    pickup: {
      seriesCapacitance: 110e-9,
      seriesCapacitorResistance: 0.02,
      parallelCapacitance: 1.8e-9,
      wakeV: 4,
      rectifier: { kind: 'synchronous', dropV: 0.11, resistance: 0.05 },
      reservoirCapacitance: 20e-6,
      regulator: {
        kind: 'linear',
        outputV: 5,
        dropoutV: 0.05,
        dropoutResistance: 0.15,
        currentLimit: 1.2,
        idleCurrent: 0.01,
        overvoltage: 15,
        efficiency: 0.9,
      },
      target: { lowV: 5.27, highV: 7, decayA: 0.08 },
      stop: null,
      ...change.pickup,
    },
    thermal: {
      ambient: 25,
      transmitterResistance: 18,
      receiverResistance: 30,
      receiverToCell: 20,
      cellToAmbient: 25,
      shutdown: 85,
      cellChargeMax: 45,
      touchMax: 48,
      ...change.thermal,
    },
  };
}

export function typicalLink(coupling: number, l1 = 6.3e-6, l2 = 15e-6): LinkElectrical {
  return {
    l1,
    l2,
    m: coupling * Math.sqrt(l1 * l2),
    r1: { dc: 0.06, linear: 1e-7, quadratic: 2e-12, quartic: 0 },
    r2: { dc: 0.2, linear: 2e-7, quadratic: 4e-12, quartic: 0 },
  };
}

export interface RandomCase {
  readonly link: LinkElectrical;
  readonly boards: Boards;
  readonly loadA: number;
}

/** A random link on random boards: k 0.02-0.9, loads 0-3 A, supplies 3-24 V, both bridges, all controls and regulators. */
export function randomCase(source: RandomSource): RandomCase {
  const random = () => source.uniform();
  const between = (low: number, high: number) => low + (high - low) * random();
  const spread = (low: number, high: number) => low * (high / low) ** random();
  const chance = (share: number) => random() < share;
  const l1 = spread(4e-6, 40e-6);
  const l2 = spread(4e-6, 40e-6);
  const k = between(0.02, 0.9);
  const bridge = chance(0.7) ? ('full' as const) : ('half' as const);
  const control = chance(0.6) ? ('frequency' as const) : chance(0.5) ? ('duty' as const) : ('supply' as const);
  const frequencyMin = spread(80e3, 150e3);
  const wide = chance(0.85);
  const outputV = chance(0.7) ? 5 : between(3.3, 12);
  const linear = chance(0.75);
  const lowV = outputV + between(0.1, 0.6);
  return {
    link: {
      l1,
      l2,
      m: k * Math.sqrt(l1 * l2) * (chance(0.2) ? -1 : 1),
      r1: { dc: spread(0.02, 0.3), linear: spread(1e-8, 3e-7), quadratic: spread(1e-13, 8e-12), quartic: 0 },
      r2: { dc: spread(0.05, 0.6), linear: spread(1e-8, 4e-7), quadratic: spread(1e-13, 1e-11), quartic: 0 },
    },
    boards: {
      drive: {
        supplyV: between(3, 24),
        supplyResistance: chance(0.3) ? 0 : spread(0.02, 0.5),
        supplyCurrentLimit: between(0.5, 5),
        bridge,
        control,
        seriesCapacitance: 1 / ((2 * Math.PI * spread(60e3, 140e3)) ** 2 * l1),
        seriesCapacitorResistance: 0.01,
        frequencyMin,
        frequencyMax: wide ? frequencyMin * between(1.2, 2.2) : frequencyMin,
        dutyMin: chance(0.5) ? (bridge === 'full' ? 1 : 0.5) : between(0.02, bridge === 'full' ? 1 : 0.5),
        supplyMinFraction: between(0.1, 1),
        switchResistance: spread(0.005, 0.1),
        coilCurrentLimit: between(1, 10),
        idleCurrent: between(0, 0.05),
        gateCharge: spread(1e-9, 1e-7),
        deadTime: spread(2e-8, 3e-7),
        pingFrequency: frequencyMin * between(1, 1.8),
        standbyPower: between(0, 0.2),
      },
      pickup: {
        seriesCapacitance: 1 / ((2 * Math.PI * spread(80e3, 180e3)) ** 2 * l2),
        seriesCapacitorResistance: 0.02,
        parallelCapacitance: chance(0.25) ? 0 : spread(2e-10, 1e-8),
        wakeV: between(2, 5),
        rectifier: {
          kind: chance(0.5) ? 'synchronous' : 'diode',
          dropV: between(0, 0.6),
          resistance: spread(0.01, 0.2),
        },
        reservoirCapacitance: spread(5e-6, 1e-4),
        regulator: {
          kind: linear ? 'linear' : 'switching',
          outputV,
          dropoutV: between(0, 0.3),
          dropoutResistance: between(0, 0.3),
          currentLimit: between(0.5, 3),
          idleCurrent: spread(1e-3, 3e-2),
          overvoltage: outputV + between(5, 20),
          efficiency: between(0.75, 0.95),
        },
        target: { lowV, highV: lowV + between(0, 3), decayA: spread(0.02, 0.5) },
        stop: chance(0.2)
          ? {
              minimumRectifiedV: chance(0.5) ? 3 : null,
              foreignObjectLossW: chance(0.5) ? 1 : null,
              minimumLoadA: chance(0.3) ? 0.02 : null,
            }
          : null,
      },
      thermal: {
        ambient: between(0, 40),
        transmitterResistance: between(5, 40),
        receiverResistance: between(10, 60),
        receiverToCell: between(5, 40),
        cellToAmbient: between(5, 40),
        shutdown: between(70, 120),
        cellChargeMax: 45,
        touchMax: between(45, 60),
      },
    },
    loadA: chance(0.1) ? 0 : between(0, 3),
  };
}
