import type { Design, DriveDocument } from '../../design/types.ts';
import { knownBoards } from '../../design/unknown-board.ts';
import { tunedCapacitance } from './retune.ts';

/** Both sides' inductances as placed, H. */
export interface PlacedInductances {
  readonly l1: number;
  readonly l2: number;
}

/** One choice of what is not known. */
interface Level {
  readonly words: string;
  readonly put: (design: Design) => Design;
}

/** Something that a design does not know of its boards, and what it may be. */
export interface BoardUnknown {
  /** Path of the entry that says so. */
  readonly path: string;
  /** In words: `supply voltage`. */
  readonly name: string;
  /** What is taken instead: a range of the trade. */
  readonly assumption: string;
  readonly levels: readonly Level[];
}

/** A design with one choice of everything it does not know. */
export interface PlausibleBoard {
  readonly design: Design;
  readonly words: string;
}

// Common practice, no source, all of it: USB with a long cable or a supply that negotiates; controllers that go down to a
// corner near 100 kHz; coils tuned near 100 kHz within a tenth; one fixed frequency near 128 kHz.
const SUPPLIES_V = [4.75, 9, 12] as const;
const LOWEST_KHZ = [100, 125] as const;
const HIGHEST_KHZ = [145, 205] as const;
const RESONANCE_KHZ = [90, 100, 110] as const;
const FIXED_KHZ = 128;
const FIXED_HALF_KHZ = 0.05;
/** On less a small board's bridge is a full one. */
const HALF_BRIDGE_V = 8;

function driven(design: Design, change: Partial<DriveDocument>): Design {
  const { transmitter } = design;
  return { ...design, transmitter: { ...transmitter, drive: { ...transmitter.drive, ...change } } };
}

function supply(volts: number): Level {
  return { words: `${volts} V`, put: (design) => driven(design, { supplyV: volts }) };
}

/** The ping stays within the window. */
function frequencies(lowKhz: number, highKhz: number): Level {
  return {
    words: `${lowKhz} to ${highKhz} kHz`,
    put: (design) => {
      const pingKhz = Math.min(Math.max(design.transmitter.drive.pingKhz, lowKhz), highKhz);
      return driven(design, { frequencyMinKhz: lowKhz, frequencyMaxKhz: highKhz, pingKhz });
    },
  };
}

const CONTROLS: readonly Level[] = [
  {
    words: 'full bridge, frequency moved',
    put: (design) => driven(design, { bridge: 'full', control: 'frequency', dutyMin: 1 }),
  },
  {
    words: 'half bridge, frequency moved',
    put: (design) =>
      design.transmitter.drive.supplyV < HALF_BRIDGE_V
        ? driven(design, { bridge: 'full', control: 'frequency', dutyMin: 1 })
        : driven(design, { bridge: 'half', control: 'frequency', dutyMin: 0.5 }),
  },
  {
    words: 'fixed frequency, bridge supply moved',
    put: (design) => {
      const { frequencyMinKhz: low, frequencyMaxKhz: high } = design.transmitter.drive;
      const at = Math.min(Math.max(FIXED_KHZ, low), high);
      return driven(design, {
        bridge: 'full',
        control: 'supply',
        dutyMin: 1,
        supplyMinFraction: 0.2,
        // The format wants a window.
        frequencyMinKhz: at - FIXED_HALF_KHZ,
        frequencyMaxKhz: at + FIXED_HALF_KHZ,
        pingKhz: at,
      });
    },
  },
];

const nanofarads = (inductanceH: number, kilohertz: number): number =>
  Number((1e9 * tunedCapacitance(inductanceH, 1e3 * kilohertz)).toPrecision(4));

function capacitorRange(inductanceH: number): string {
  const [low, high] = [RESONANCE_KHZ.at(-1)!, RESONANCE_KHZ[0]];
  const ends = [low, high].map((kilohertz) => Number(nanofarads(inductanceH, kilohertz).toPrecision(3)));
  return `resonates with its coil as placed at ${high} to ${low} kHz: ${ends[0]} to ${ends[1]} nF`;
}

/** What the design does not know of its boards, each with the choices of the trade; empty where it knows them. */
export function boardUnknowns(design: Design, { l1, l2 }: PlacedInductances): BoardUnknown[] {
  const { drive } = design.transmitter;
  const out: BoardUnknown[] = [];
  if (drive.unknown.includes('supply'))
    out.push({
      path: 'transmitter.drive.unknown',
      name: 'supply voltage',
      assumption: `${SUPPLIES_V[0]} to ${SUPPLIES_V.at(-1)} V: a USB supply behind a cable, or one that negotiates`,
      levels: SUPPLIES_V.map(supply),
    });
  if (drive.unknown.includes('frequency'))
    out.push({
      path: 'transmitter.drive.unknown',
      name: 'frequency window',
      assumption: `from ${LOWEST_KHZ[0]} to ${LOWEST_KHZ.at(-1)} kHz at the lowest up to ${HIGHEST_KHZ[0]} to ${HIGHEST_KHZ.at(-1)} kHz`,
      levels: LOWEST_KHZ.flatMap((low) => HIGHEST_KHZ.map((high) => frequencies(low, high))),
    });
  if (drive.unknown.includes('capacitor'))
    out.push({
      path: 'transmitter.drive.unknown',
      name: 'transmitter capacitor',
      assumption: capacitorRange(l1),
      levels: RESONANCE_KHZ.map((kilohertz) => ({
        words: `${nanofarads(l1, kilohertz)} nF at the transmitter`,
        put: (of) => driven(of, { seriesCapacitanceNf: nanofarads(l1, kilohertz) }),
      })),
    });
  if (design.receiver.pickup.unknown.includes('capacitor'))
    out.push({
      path: 'receiver.pickup.unknown',
      name: 'receiver capacitor',
      assumption: capacitorRange(l2),
      levels: RESONANCE_KHZ.map((kilohertz) => ({
        words: `${nanofarads(l2, kilohertz)} nF at the receiver`,
        put: (of) => ({
          ...of,
          receiver: {
            ...of.receiver,
            pickup: { ...of.receiver.pickup, seriesCapacitanceNf: nanofarads(l2, kilohertz) },
          },
        }),
      })),
    });
  // Last: it looks at the supply and the window that were put.
  if (drive.unknown.includes('control'))
    out.push({
      path: 'transmitter.drive.unknown',
      name: 'bridge and control',
      assumption: `full bridge, or half from ${HALF_BRIDGE_V} V up; frequency moved, or the bridge supply at ${FIXED_KHZ} kHz`,
      levels: CONTROLS,
    });
  return out;
}

/** Every combination of the choices, each as a design that knows its boards. */
export function plausibleBoards(design: Design, unknowns: readonly BoardUnknown[]): PlausibleBoard[] {
  let boards: PlausibleBoard[] = [{ design: knownBoards(design), words: '' }];
  for (const { levels } of unknowns)
    boards = boards.flatMap((board) =>
      levels.map(({ words, put }) => ({
        design: put(board.design),
        words: board.words === '' ? words : `${board.words}, ${words}`,
      })),
    );
  return boards;
}
