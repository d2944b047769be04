import type { Design } from '../../design/types.ts';
import { couplingOf } from '../link/link-at-pose.ts';
import type { Bench } from './bench.ts';
import { type BenchLink, shiftedLink } from './bench-links.ts';
import { stateAt } from './bench-state.ts';
import type { PairFacts } from './coil-facts.ts';
import type { Change, TakeOver } from './design-changes.ts';
import type { FittedValue } from './fit-report.ts';
import type { ParameterId } from './parameter-names.ts';

/** Fitted values have no more digits than this: their bands are wider by far. */
const DIGITS = 5;
/** A value that moved by less than this share of its prior standard deviation stays. */
const LEAST_PULL = 0.05;

/** As lists print it: a change that cannot be seen is none. */
const shown = (value: number): string => value.toPrecision(4);

/** Their prior's width rests on a stated tolerance, which stays; so nothing looks better known for being written down. */
const BY_TOLERANCE: ReadonlySet<ParameterId> = new Set([
  'transmitterCapacitance',
  'receiverCapacitance',
  'transmitterInductance',
  'receiverInductance',
  'coupling',
  'frequencyMin',
  'frequencyMax',
]);

/** Errors of the bench: they stay with the readings. What the common gap error does to the link is put into its factors. */
const OF_THE_BENCH: ReadonlySet<ParameterId> = new Set(['gap', 'poseGap', 'poseOffset']);

/**
 * What to write into the design so that it computes what the fit found at its own place.
 *
 * Inductances and resistances go into the coils' keys for measured values, the coupling into `receiver.couplingFactor`. Values that were
 * guessed stay where the readings say next to nothing of them: a stated value would count as better known. Tolerances stay: the readings
 * are still in the design, and a narrower prior would count them twice.
 *
 * @param home the link at the design's own place. @param z of the best optimum.
 */
export function takeOverOf(
  design: Design,
  bench: Bench,
  values: readonly FittedValue[],
  z: Float64Array,
  home: BenchLink,
  facts: PairFacts,
): TakeOver {
  const state = stateAt(bench.boards, bench.parameters, z);
  const found = shiftedLink(home, state.gapShift, 0, state.scales);
  const { electrical } = home;
  const changes: Change[] = [];
  const left: string[] = [];
  values.forEach(({ id, name, path, unit, prior, fitted, decidedBy, pull }) => {
    if (OF_THE_BENCH.has(id)) return;
    const put = (to: number, key: string, from: number, as: Change['unit'], wasComputed = false): void => {
      const next = Number(to.toPrecision(DIGITS));
      if (next !== from) changes.push({ name, path: key, unit: as, from, to: next, wasComputed });
    };
    if (!BY_TOLERANCE.has(id) && decidedBy === 'prior') {
      left.push(name);
      return;
    }
    const side = id.startsWith('transmitter') ? 'transmitter' : 'receiver';
    const { coil } = design[side];
    switch (id) {
      case 'transmitterInductance':
      case 'receiverInductance': {
        const factor = side === 'transmitter' ? found.l1 / electrical.l1 : found.l2 / electrical.l2;
        const from = facts[side].inductanceUh;
        put(from * factor, `${side}.coil.inductanceUh`, from, 'uH', coil.inductanceUh === null);
        return;
      }
      case 'transmitterResistance':
      case 'receiverResistance': {
        // The fit's factor is on the whole; core and metal have no key, so the winding takes their share of it.
        const { resistanceMohm: from, wholeMohm } = facts[side];
        const to = Math.max(0.01, from + (fitted.value - 1) * wholeMohm);
        put(to, `${side}.coil.resistanceMohm`, from, 'mohm', coil.resistanceMohm === null);
        return;
      }
      case 'coupling': {
        const from = design.receiver.couplingFactor;
        put((from * couplingOf(found)) / couplingOf(electrical), 'receiver.couplingFactor', from, '1');
        return;
      }
      default:
        if (path !== null && Math.abs(pull) >= LEAST_PULL && shown(fitted.value) !== shown(prior.value))
          put(Math.max(0, fitted.value), path, prior.value, unit);
    }
  });
  return { changes, left };
}
