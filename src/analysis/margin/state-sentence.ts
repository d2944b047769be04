import type { Limit, OperatingPoint } from '../../physics/circuit/types.ts';

const volts = (v: number): string => `${v.toFixed(2)} V`;
const amps = (a: number): string => `${a.toFixed(2)} A`;
const celsius = (t: number): string => `${Math.round(t)} °C`;

/** What must be reached for regulation, V. */
export interface StateFacts {
  readonly minimumRectifiedV: number;
  readonly overvoltageV: number;
  readonly wakeV: number;
  readonly currentLimitA: number;
  readonly coilCurrentLimitA: number;
  readonly shutdownC: number;
  readonly cellChargeMaxC: number;
  readonly frequencyMinHz: number;
  readonly frequencyMaxHz: number;
}

/** One sentence in plain words for the state of an operating point: what happens, and what to change. */
export function stateSentence(point: OperatingPoint, facts: StateFacts): string {
  switch (point.state) {
    case 'regulated':
      return point.rectifiedV < point.targetV - 0.02
        ? `Holds ${amps(point.outputA)}, with the rectified voltage ${volts(point.targetV - point.rectifiedV)} below what the receiver asks for: the transmitter is at the end of its range.`
        : `Holds ${amps(point.outputA)} at ${Math.round(point.frequency / 1e3)} kHz with ${volts(point.rectifiedV)} rectified.`;
    case 'starved':
      return `The rectified voltage ends at ${volts(point.rectifiedV)}; the regulator needs ${volts(facts.minimumRectifiedV)} for ${amps(point.outputA)}. Bring the coils closer or more central, raise the supply voltage, or retune the series capacitors.`;
    case 'overfed':
      return `At its least drive (${Math.round(point.frequency / 1e3)} kHz) the transmitter still gives ${volts(point.rectifiedV)} where the receiver asks for ${volts(point.targetV)}; the rest becomes heat in its regulator. Lower the supply voltage, widen the gap, or use a transmitter that can reduce its duty.`;
    case 'overvoltage':
      return `The rectified voltage would reach ${volts(point.rectifiedV)}, above the receiver's limit of ${volts(facts.overvoltageV)}; a real board disconnects or clamps. Lower the supply voltage or widen the gap.`;
    case 'currentLimited':
      return point.outputA > facts.currentLimitA
        ? `The regulator limits at ${amps(facts.currentLimitA)}; ${amps(point.outputA)} is asked. Lower the load or take a receiver with a higher limit.`
        : `The transmitter's coil or supply current is at its limit (${amps(point.transmitterCoilA)} in the coil, ${amps(point.supplyA)} from the supply). Bring the coils closer, or use a stronger supply or a higher supply voltage.`;
    case 'hot':
      return `The receiver would settle at ${celsius(point.receiverC)} (shut-down at ${celsius(facts.shutdownC)}) and the cell at ${celsius(point.cellC)} (charging stops at ${celsius(facts.cellChargeMaxC)}). Lower the supply voltage or the load, or lead the heat away from the cell.`;
    case 'asleep':
      return `At the ping the rectified voltage reaches only ${volts(point.wakeRectifiedV)}; the receiver needs ${volts(facts.wakeV)} to wake. A link that would hold need not start: bring the coils closer for starting.`;
    case 'stopped':
      return 'The board would end the transfer by its protocol threshold at this pose. Check the thresholds against its data sheet.';
  }
}

const LIMIT_WORDS: Readonly<Record<Limit, string>> = Object.freeze({
  link: 'the link: no frequency in the window gives the rectified voltage the regulator needs',
  regulatorCurrent: "the receiver regulator's own current limit",
  coilCurrent: 'the current limit of the transmitter coil',
  supplyCurrent: 'the current limit of the supply',
  shutdown: "the receiver's thermal shut-down",
  cell: "the cell's charge temperature limit",
  touch: 'the touch temperature limit',
  overvoltage: "the receiver's overvoltage limit",
  asleep: 'waking: the receiver does not start here',
  stopped: "the board's protocol threshold",
});

/** What sets the largest current, in words that end a sentence. */
export function limitWords(limit: Limit): string {
  return LIMIT_WORDS[limit];
}
