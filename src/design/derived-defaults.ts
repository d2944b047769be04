import { dividerOutputV } from './divider-output.ts';
import type { PartlyFilledDesign } from './schema.ts';
import type { BoostDocument, ChainStepDocument, CoilDocument, Design, FerriteDocument } from './types.ts';

type PartCoil = PartlyFilledDesign['transmitter']['coil'];

/** Rounds away the binary dust of a sum of decimal numbers, far below any tolerance. */
function tidy(value: number): number {
  return Number(value.toPrecision(12));
}

function fillCoil(coil: PartCoil): CoilDocument {
  const given = coil.conductor;
  const conductor =
    given.kind === 'solid'
      ? { ...given, insulatedDiameterMm: given.insulatedDiameterMm ?? tidy(1.1 * given.diameterMm) }
      : given;
  const height =
    conductor.kind === 'litz'
      ? conductor.bundleDiameterMm
      : conductor.kind === 'solid'
        ? conductor.insulatedDiameterMm
        : tidy(conductor.thicknessMm + 0.2);
  return { ...coil, conductor, layerPitchMm: coil.layerPitchMm ?? height };
}

/** Sum of the stack's layers, mm; null without a stack. */
export function stackSumMm(stack: readonly { readonly thicknessMm: number }[]): number | null {
  return stack.length === 0 ? null : tidy(stack.reduce((sum, layer) => sum + layer.thicknessMm, 0));
}

function clamp(value: number, low: number, high: number): number {
  return Math.min(Math.max(value, low), high);
}

type PartFerrite = PartlyFilledDesign['transmitter']['ferrite'];

/** A tolerance that was not stated is that of a given value, or the wide one of a guess. */
function fillFerrite(ferrite: PartFerrite, at: string, taken: ReadonlySet<string>): FerriteDocument | null {
  if (ferrite === null) return null;
  const guessed = (key: string) => taken.has(`${at}.${key}`);
  return {
    ...ferrite,
    standoffToleranceMm: ferrite.standoffToleranceMm ?? (guessed('standoffMm') ? 0.2 : 0.1),
    relativePermeabilityTolerancePercent:
      ferrite.relativePermeabilityTolerancePercent ?? (guessed('relativePermeability') ? 60 : 20),
  };
}

function fillBoards(part: PartlyFilledDesign, taken: ReadonlySet<string>) {
  const drive = part.transmitter.drive;
  const pickup = part.receiver.pickup;
  const regulator = pickup.regulator;
  const lowV = pickup.target.lowV ?? tidy(regulator.outputV + 0.3);
  return {
    drive: {
      ...drive,
      frequencyTolerancePercent:
        drive.frequencyTolerancePercent ??
        (['frequencyMinKhz', 'frequencyMaxKhz'].some((key) => taken.has(`transmitter.drive.${key}`)) ? 5 : 1),
      dutyMin: drive.dutyMin ?? (drive.bridge === 'full' ? 1 : 0.5),
      pingKhz:
        drive.pingKhz ?? clamp(175, drive.frequencyMinKhz, Math.max(drive.frequencyMinKhz, drive.frequencyMaxKhz)),
    },
    pickup: {
      ...pickup,
      rectifier: {
        ...pickup.rectifier,
        dropV: pickup.rectifier.dropV ?? (pickup.rectifier.kind === 'synchronous' ? 0.05 : 0.35),
      },
      regulator: {
        ...regulator,
        overvoltageV: regulator.overvoltageV ?? Math.max(15, tidy(1.5 * regulator.outputV)),
      },
      target: {
        ...pickup.target,
        lowV,
        highV: pickup.target.highV ?? Math.max(lowV, tidy(regulator.outputV + 2)),
      },
    },
  };
}

type PartStep = PartlyFilledDesign['demand']['loads'][number]['through'][number];
type PartBoost = PartlyFilledDesign['demand']['away']['through'][number];

/** NaN, which `crossFaults` refuses, where neither an output voltage nor a divider is given. */
function fillBoost(step: PartBoost): BoostDocument {
  const set = step.feedback ? tidy(dividerOutputV(step.feedback)) : Number.NaN;
  return { ...step, outputV: step.outputV ?? set };
}

function fillStep(step: PartStep): ChainStepDocument {
  if (step.kind === 'boost') return fillBoost(step);
  if (step.kind === 'charger') return step;
  return {
    ...step,
    cutoffA: step.cutoffA ?? tidy(step.capacityAh / 20),
    emptyV: step.emptyV ?? step.restV[0]?.[1] ?? tidy((step.chargeVoltageV * 5) / 6),
  };
}

/**
 * Fills what depends on other keys.
 *
 * @param gapMm the gap already agreed between placement and stack.
 * @param defaultsTaken paths that took a default: a tolerance is wider where its value is a guess.
 */
export function fillDerivedDefaults(part: PartlyFilledDesign, gapMm: number, defaultsTaken: readonly string[]): Design {
  const taken = new Set(defaultsTaken);
  const { drive, pickup } = fillBoards(part, taken);
  const placement = { ...part.placement, gapMm };
  const magnets = part.holding.magnets;
  return {
    ...part,
    transmitter: {
      ...part.transmitter,
      coil: fillCoil(part.transmitter.coil),
      ferrite: fillFerrite(part.transmitter.ferrite, 'transmitter.ferrite', taken),
      drive,
    },
    receiver: {
      ...part.receiver,
      coil: fillCoil(part.receiver.coil),
      ferrite: fillFerrite(part.receiver.ferrite, 'receiver.ferrite', taken),
      pickup,
    },
    placement,
    demand: {
      ...part.demand,
      loads: part.demand.loads.map((load) => ({
        ...load,
        atV: load.atV ?? pickup.regulator.outputV,
        durationMs: load.durationMs ?? (load.kind === 'peak' ? 1 : 0),
        through: load.through.map(fillStep),
      })),
      away: { through: part.demand.away.through.map(fillBoost) },
    },
    holding: {
      ...part.holding,
      magnets: magnets === null ? null : { ...magnets, gapMm: magnets.gapMm ?? gapMm },
    },
    readings: part.readings.map((reading) => ({
      ...reading,
      gapMm: reading.gapMm ?? gapMm,
      offsetXMm: reading.offsetXMm ?? placement.offsetXMm,
      offsetYMm: reading.offsetYMm ?? placement.offsetYMm,
    })),
  };
}
