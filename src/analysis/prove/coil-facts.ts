import type { Design } from '../../design/types.ts';
import { resistanceAt } from '../../physics/circuit/board-model.ts';
import { COPPER_REFERENCE_C, linkContext } from '../link/link-context.ts';
import type { BenchLink } from './bench-links.ts';

/** A coil as the design has it: what its keys for measured values would have to say to change nothing. */
export interface CoilFacts {
  /** Alone, with its ferrite and metal, uH. */
  readonly inductanceUh: number;
  /** Its winding alone in the middle of the window, at the temperature of the law, mohm. */
  readonly resistanceMohm: number;
  /** What a factor on its whole resistance is taken of: winding, core and metal at the design's place, mohm. */
  readonly wholeMohm: number;
}

export interface PairFacts {
  readonly transmitter: CoilFacts;
  readonly receiver: CoilFacts;
}

/** Both coils of a design. @param home the link at the design's own place. With ferrite some tenths of a second, once. */
export function pairFacts(design: Design, home: BenchLink): PairFacts {
  const context = linkContext(design);
  const alone = context.plates?.alone('coarse') ?? { dL1: 0, dL2: 0 };
  const milliohm = (law: BenchLink['electrical']['r1']): number =>
    1e3 * resistanceAt(law, context.middleFrequency, COPPER_REFERENCE_C);
  return {
    transmitter: {
      inductanceUh: 1e6 * (context.l1.value + alone.dL1) * context.inductanceScale1,
      resistanceMohm: milliohm(context.copper1) * context.resistanceScale1,
      wholeMohm: milliohm(home.electrical.r1),
    },
    receiver: {
      inductanceUh: 1e6 * (context.l2.value + alone.dL2) * context.inductanceScale2,
      resistanceMohm: milliohm(context.copper2) * context.resistanceScale2,
      wholeMohm: milliohm(home.electrical.r2),
    },
  };
}
