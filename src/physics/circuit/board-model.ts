import { COPPER_TEMPERATURE_COEFFICIENT } from '../constants.ts';
import type { BridgeDrive } from './periodic-steady-state.ts';
import type { Drive, LinkElectrical, Pickup, ResistanceLaw } from './types.ts';

/** Copper temperature for which `ResistanceLaw` is stated, C. */
export const RESISTANCE_REFERENCE_C = 20;

/** Forward drop of the switch bodies that conduct during the dead time, V. Common practice, no source. */
export const DEAD_TIME_DROP_V = 0.8;

/** Load under which waking is judged, A: the receiver's start-up draw before it switches its output on. Common practice, no source. */
export const WAKE_LOAD_A = 1e-3;

/** Coil resistance (ohm) at a frequency (Hz) and copper temperature (C). Eddy terms go with conductivity, the ferrite term stays. */
export function resistanceAt(law: ResistanceLaw, frequency: number, temperatureC: number): number {
  const copper = 1 + COPPER_TEMPERATURE_COEFFICIENT * (temperatureC - RESISTANCE_REFERENCE_C);
  const square = frequency * frequency;
  const value = law.dc * copper + law.linear * frequency + ((law.quadratic + law.quartic * square) * square) / copper;
  return Math.max(value, 0.02 * law.dc);
}

/**
 * Eddy resistance beyond that at the drive frequency, ohm, that the receiver's parallel capacitor meets where it rings with the leakage
 * inductance (about a megahertz). The law's quadratic term is followed up to there and bends with its quartic one, so that it never turns down.
 */
export function ringingResistance(link: LinkElectrical, pickup: Pickup, frequency: number, receiverC: number): number {
  if (!(pickup.parallelCapacitance > 0)) return 0;
  const leakage = link.l2 - (link.m * link.m) / link.l1;
  const ringing = 1 / (2 * Math.PI * Math.sqrt(leakage * pickup.parallelCapacitance));
  const share = link.m / link.l1;
  const eddy = eddyAt(link.r2, ringing) - eddyAt(link.r2, frequency);
  const reflected = (eddyAt(link.r1, ringing) - eddyAt(link.r1, frequency)) * share * share;
  const copper = 1 + COPPER_TEMPERATURE_COEFFICIENT * (receiverC - RESISTANCE_REFERENCE_C);
  return Math.max(0, (eddy + reflected) / copper);
}

function eddyAt(law: ResistanceLaw, frequency: number): number {
  const square = frequency * frequency;
  const bend = law.quadratic > 0 ? Math.max(0, -law.quartic) / law.quadratic : 0;
  return law.linear * frequency + (law.quadratic * square) / (1 + bend * square);
}

/**
 * Where the controller stands: a frequency and, between 0 (least drive) and 1 (full), the second actuator, which is the duty or the
 * bridge supply. All controls walk the same path: least drive at the highest frequency, full drive there, then down in frequency.
 */
export interface Setting {
  readonly frequency: number;
  readonly level: number;
}

export interface BridgeSetting {
  readonly duty: number;
  /** Bridge voltage as a fraction of the supply after its resistance. */
  readonly supplyFraction: number;
}

export function fullDuty(drive: Drive): number {
  return drive.bridge === 'full' ? 1 : 0.5;
}

/** Whether the second actuator moves at all. */
export function hasLevel(drive: Drive): boolean {
  return drive.control === 'supply' ? drive.supplyMinFraction < 1 : drive.dutyMin < fullDuty(drive) - 1e-9;
}

export function bridgeSetting(drive: Drive, level: number): BridgeSetting {
  const most = fullDuty(drive);
  if (drive.control === 'supply') {
    return { duty: most, supplyFraction: drive.supplyMinFraction + level * (1 - drive.supplyMinFraction) };
  }
  const least = Math.min(drive.dutyMin, most);
  return { duty: least + level * (most - least), supplyFraction: 1 };
}

export function bridgeDrive(drive: Drive, setting: Setting, suppliedV: number): BridgeDrive {
  const { duty, supplyFraction } = bridgeSetting(drive, setting.level);
  return { bridge: drive.bridge, volts: suppliedV * supplyFraction, frequency: setting.frequency, duty };
}

/** What the supply gives when the bridge and its logic draw power. */
export interface SupplyDraw {
  /** After the supply's resistance, V. */
  readonly suppliedV: number;
  readonly supplyA: number;
  /** More power than the supply's resistance lets through was asked; `suppliedV` is then half the open voltage. */
  readonly overloaded: boolean;
}

/** Current of the controller and of the gates, A, independent of voltage. */
export function standingCurrent(drive: Drive, frequency: number): number {
  return drive.idleCurrent + drive.gateCharge * frequency;
}

/** Self-consistent supply voltage for a power (W) drawn at it beside the standing current. */
export function supplyDraw(drive: Drive, power: number, frequency: number): SupplyDraw {
  const standing = standingCurrent(drive, frequency);
  const open = drive.supplyV - drive.supplyResistance * standing;
  const square = open * open - 4 * drive.supplyResistance * power;
  const overloaded = square < 0;
  const suppliedV = overloaded ? open / 2 : (open + Math.sqrt(square)) / 2;
  return { suppliedV, supplyA: power / suppliedV + standing, overloaded };
}

/** Power lost in the switches' bodies while both are off, W. */
export function deadTimeLoss(drive: Drive, frequency: number, peakA: number): number {
  return 2 * DEAD_TIME_DROP_V * drive.deadTime * frequency * peakA;
}

/** Resistance of the transmitter loop, ohm: coil, capacitor, conducting switches. */
export function transmitterLoop(link: LinkElectrical, drive: Drive, frequency: number, temperatureC: number): number {
  const switches = drive.bridge === 'full' ? 2 : 1;
  return (
    resistanceAt(link.r1, frequency, temperatureC) + drive.seriesCapacitorResistance + switches * drive.switchResistance
  );
}

/** Resistance of the receiver loop without rectifier, ohm. */
export function receiverLoop(link: LinkElectrical, pickup: Pickup, frequency: number, temperatureC: number): number {
  return resistanceAt(link.r2, frequency, temperatureC) + pickup.seriesCapacitorResistance;
}

/** Least rectified voltage at which the regulator holds its output, V. */
export function neededRectifiedV(pickup: Pickup, loadA: number): number {
  const { outputV, dropoutV, dropoutResistance } = pickup.regulator;
  return outputV + dropoutV + dropoutResistance * loadA;
}

/** Rectified voltage the receiver asks for, V: falls with load, never below what its regulator needs. */
export function targetRectifiedV(pickup: Pickup, loadA: number): number {
  const { lowV, highV, decayA } = pickup.target;
  const target = lowV + (highV - lowV) * (decayA > 0 ? Math.exp(-loadA / decayA) : 0);
  return Math.max(target, neededRectifiedV(pickup, loadA));
}

/**
 * Rectifier current for a load at a rectified voltage, A. A linear regulator passes its load; a switching one converts power, also below
 * drop-out, where its output follows the rectified voltage.
 */
export function rectifierDemand(pickup: Pickup, loadA: number, rectifiedV: number): number {
  const { kind, efficiency, idleCurrent } = pickup.regulator;
  if (kind === 'linear') return loadA + idleCurrent;
  if (!(rectifiedV > 0)) return idleCurrent;
  return (regulatedV(pickup, loadA, rectifiedV) * loadA) / (efficiency * rectifiedV) + idleCurrent;
}

/** Output voltage for a load at a rectified voltage, V. */
export function regulatedV(pickup: Pickup, loadA: number, rectifiedV: number): number {
  const { outputV, dropoutV, dropoutResistance } = pickup.regulator;
  return Math.max(0, Math.min(outputV, rectifiedV - dropoutV - dropoutResistance * loadA));
}

/** Largest load that a rectifier current carries at a rectified voltage, A. */
export function loadFromRectifier(pickup: Pickup, rectifierA: number, rectifiedV: number): number {
  const { kind, outputV, efficiency, idleCurrent } = pickup.regulator;
  const passed = Math.max(0, rectifierA - idleCurrent);
  return kind === 'linear' ? passed : (passed * efficiency * rectifiedV) / outputV;
}
