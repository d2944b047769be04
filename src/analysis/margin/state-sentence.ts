import type { Boards, DriveLimit, Limit, OperatingPoint } from '../../physics/circuit/types.ts';

const volts = (v: number): string => `${v.toFixed(2)} V`;
const amps = (a: number): string => `${a.toFixed(2)} A`;
const celsius = (t: number): string => `${Math.round(t)} °C`;
const kilohertz = (f: number): string => `${Math.round(f / 1e3)} kHz`;

/** What the transmitter's side runs into, and what helps against it. */
type Remedy = (point: OperatingPoint, boards: Boards) => readonly [string, string];

const DRIVE_LIMITS = Object.freeze<Record<DriveLimit, Remedy>>({
  link: () => [
    'the link gives no more within the frequency window',
    'Bring the coils closer or more central, raise the supply voltage, or retune the series capacitors',
  ],
  coilCurrent: (point, { drive }) => [
    `the transmitter coil is at its limit of ${amps(drive.coilCurrentLimit)}`,
    `Bring the coils closer or more central; a higher supply voltage does not help against this limit (${amps(point.transmitterCoilA)} flows now)`,
  ],
  supplyCurrent: (_, { drive }) => [
    `the supply gives no more than ${amps(drive.supplyCurrentLimit)}`,
    'Take a supply that gives more current, or a higher voltage, which needs less of it',
  ],
  supplySag: (point, { drive }) => [
    `${drive.supplyResistance.toFixed(2)} Ω of supply, cable and connectors let no more power through (${volts(drive.supplyResistance * point.supplyA)} is lost in them)`,
    'Shorten or thicken the cable, or take a higher supply voltage',
  ],
});

function isDriveLimit(limit: Limit | null): limit is DriveLimit {
  return limit !== null && Object.hasOwn(DRIVE_LIMITS, limit);
}

/** One sentence or two in plain words for the state of an operating point: what happens, and what to change. */
export function stateSentence(point: OperatingPoint, boards: Boards, askedA: number): string {
  const { drive, pickup, thermal } = boards;
  const { regulator } = pickup;
  const [why, what] = DRIVE_LIMITS[isDriveLimit(point.limitedBy) ? point.limitedBy : 'link'](point, boards);
  switch (point.state) {
    case 'regulated':
      return point.shortfallV > 0.02
        ? `Holds ${amps(point.outputA)}, with the rectified voltage ${volts(point.shortfallV)} below what the receiver asks for: ${why}. ${what}, if you want reserve.`
        : `Holds ${amps(point.outputA)} at ${kilohertz(point.frequency)} with ${volts(point.rectifiedV)} rectified.`;
    case 'starved':
      if (point.rectifiedV >= point.neededV)
        return `Already at its least drive (${kilohertz(point.frequency)}) the transmitter needs more for ${amps(askedA)} than it gets: ${why}. ${what}.`;
      return point.outputV > 0
        ? `The rectified voltage ends at ${volts(point.rectifiedV)}, where the regulator needs ${volts(point.neededV)} for ${amps(askedA)}: ${why}. ${what}.`
        : `The output collapses under ${amps(askedA)}: ${why}. ${what}.`;
    case 'overfed':
      return `At its least drive (${kilohertz(point.frequency)}) the transmitter still gives ${volts(point.rectifiedV)} where the receiver asks for ${volts(point.targetV)}; the rest becomes heat in the receiver, now ${celsius(point.receiverC)}. Lower the supply voltage, widen the gap, or use a transmitter that can reduce its duty.`;
    case 'overvoltage':
      return `The rectified voltage would reach ${volts(point.rectifiedV)}, above the receiver's limit of ${volts(regulator.overvoltage)}; a real board disconnects or clamps. Lower the supply voltage or widen the gap.`;
    case 'currentLimited':
      return `The regulator limits at ${amps(regulator.currentLimit)}; ${amps(askedA)} is asked. Lower the load or take a receiver with a higher limit.`;
    case 'hot':
      return point.limitedBy === 'cell'
        ? `The cell would settle at ${celsius(point.cellC)}; it may be charged up to ${celsius(thermal.cellChargeMax)}. Charge with less current, lower the supply voltage, or lead the heat away from the cell.`
        : `The receiver would settle at ${celsius(point.receiverC)} and shuts down at ${celsius(thermal.shutdown)}. Lower the supply voltage or the load, or lead the heat away.`;
    case 'asleep':
      return `At the ping (${kilohertz(drive.pingFrequency)}) the rectified voltage reaches only ${volts(point.wakeRectifiedV)}; the receiver needs ${volts(pickup.wakeV)} to wake. A link that would hold need not start: bring the coils closer for starting, or raise the supply voltage.`;
    case 'stopped':
      return stoppedSentence(point, boards, askedA);
  }
}

function stoppedSentence(point: OperatingPoint, { pickup }: Boards, askedA: number): string {
  const { stop } = pickup;
  const check = 'Check the threshold against the data sheet.';
  if (stop?.minimumRectifiedV != null && point.rectifiedV < stop.minimumRectifiedV)
    return `The board ends the transfer: ${volts(point.rectifiedV)} rectified is under its threshold of ${volts(stop.minimumRectifiedV)}. Bring the coils closer or raise the supply voltage. ${check}`;
  const lost = point.losses.receiverCoil + point.losses.rectifier;
  if (stop?.foreignObjectLossW != null && lost > stop.foreignObjectLossW)
    return `The transmitter ends the transfer: ${lost.toFixed(2)} W does not arrive rectified, more than the ${stop.foreignObjectLossW.toFixed(2)} W it takes for a foreign object. Lower the load, or take a coil of less resistance. ${check}`;
  return `The board ends the transfer: ${amps(askedA)} is under its least load of ${amps(stop?.minimumLoadA ?? 0)}. Keep a load on it. ${check}`;
}

const LIMIT_WORDS: Readonly<Record<Limit, string>> = Object.freeze({
  link: 'the link: no frequency in the window gives the rectified voltage the regulator needs',
  regulatorCurrent: "the receiver regulator's own current limit",
  coilCurrent: 'the current limit of the transmitter coil',
  supplyCurrent: 'the current limit of the supply',
  supplySag: 'the resistance of supply, cable and connectors',
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

const LIMIT_NAMES: Readonly<Record<Limit, string>> = Object.freeze({
  link: 'link',
  regulatorCurrent: 'regulator',
  coilCurrent: 'coil current',
  supplyCurrent: 'supply current',
  supplySag: 'cable',
  shutdown: 'shut-down heat',
  cell: 'cell heat',
  touch: 'touch heat',
  overvoltage: 'overvoltage',
  asleep: 'does not wake',
  stopped: 'protocol',
});

/** What sets the largest current, in a word or two for a table. */
export function limitName(limit: Limit): string {
  return LIMIT_NAMES[limit];
}
