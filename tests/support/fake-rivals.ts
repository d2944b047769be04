import type { BoardBounds } from '../../src/analysis/pair/board-bounds.ts';
import type { CandidateReport } from '../../src/analysis/pair/candidate-report.ts';
import type { CoilRowReport } from '../../src/analysis/pair/coil-row.ts';
import type { Metrics } from '../../src/analysis/pair/metrics.ts';
import type { RetuneAnswer, Tuning } from '../../src/analysis/pair/retune.ts';
import { rivalsOf } from '../../src/analysis/pair/rivals.ts';
import type { FoundDesign, SearchAnswer } from '../../src/analysis/pair/search-answer.ts';
import { nearestParts } from '../../src/analysis/pair/standard-values.ts';
import type { RivalsAnswer } from '../../src/analysis/pair/verdict.ts';
import type { OffsetMap, PoseAnswer } from '../../src/analysis/types.ts';
import type { Design } from '../../src/design/types.ts';

/** An invented report: the pose's numbers, and a reach that grows with `step`. */
function report(design: Design, pose: PoseAnswer, step: number): CandidateReport {
  const at: Metrics = {
    coupling: pose.link.coupling,
    maxOutputA: pose.margin.maxOutputA,
    reachMm: 6 + step,
    alongXMm: 8 + step,
    alongYMm: 6 + step,
  };
  const ring = Float64Array.from({ length: 80 }, (_, i) => {
    const angle = (Math.floor(i / 2) * Math.PI) / 20;
    return (6 + step) * (i % 2 === 0 ? Math.cos(angle) : Math.sin(angle));
  });
  return {
    design,
    link: pose.link,
    operatingPoint: pose.operatingPoint,
    margin: pose.margin,
    reachMm: { value: at.reachMm, low: at.reachMm - 0.8, high: at.reachMm + 0.7 },
    worstDeg: 90,
    wakeReachMm: 12,
    safeOutline: [ring],
    transmitterCopper: { lengthM: 1.01, resistanceOhm: 0.033 },
    receiverCopper: { lengthM: 1.56, resistanceOhm: 0.089 },
    coilLossW: 0.23,
    at,
    changes: [{ name: 'gap', path: 'placement.gapMm', up: { ...at, reachMm: at.reachMm - 0.8 }, down: at }],
    edgeMm: 18,
    numerical: { coupling: 0.001, l1: 0.003, l2: 0.003, m: 0.004 },
  };
}

export function fakeRivals(design: Design, pose: PoseAnswer): RivalsAnswer {
  const { candidates, refused } = rivalsOf(design);
  return {
    judged: candidates.map(({ design: own, ...name }, i) => ({ ...name, report: report(own, pose, i) })),
    refused,
  };
}

export function fakeRetune(design: Design): RetuneAnswer {
  const tuning = (transmitterNf: number, receiverNf: number, worstA: number): Tuning => ({
    transmitterNf,
    receiverNf,
    transmitterResonanceHz: 93e3,
    receiverResonanceHz: 107e3,
    maxOutputA: worstA + 0.1,
    worstA,
    bestA: worstA + 0.2,
    idleState: 'regulated',
    demandState: 'regulated',
  });
  const { seriesCapacitanceNf: c1 } = design.transmitter.drive;
  const { seriesCapacitanceNf: c2 } = design.receiver.pickup;
  return {
    transmitterInductanceH: 9.2e-6,
    receiverInductanceH: 13.1e-6,
    transmitterTolerancePercent: 5,
    receiverTolerancePercent: 5,
    demandA: 0.78,
    now: tuning(c1, c2, 0.8),
    receiver: tuning(c1, 1.2 * c2, 1),
    both: tuning(0.9 * c1, 1.1 * c2, 1.1),
    receiverParts: nearestParts(1.2 * c2, 'E12', 2).map((part) => ({
      series: 'E12' as const,
      part,
      tuning: tuning(c1, part.total, 0.98),
    })),
    transmitterParts: nearestParts(0.9 * c1, 'E12', 1).map((part) => ({ series: 'E12' as const, part })),
  };
}

export function fakeSearch(design: Design, pose: PoseAnswer): SearchAnswer {
  const front = [0, 1, 2].map((i): FoundDesign => {
    const { receiver } = design;
    return {
      design: { ...design, receiver: { ...receiver, coil: { ...receiver.coil, turns: receiver.coil.turns + i } } },
      result: {
        violation: 0,
        value: -8 - i,
        reachMm: 8 + i,
        maxOutputA: 1 + i / 10,
        lossW: 0.4 + i / 10,
        receiverC: 40,
      },
    };
  });
  return {
    goal: 'reach',
    own: report(design, pose, 0),
    ownResult: { violation: 0, value: -6, reachMm: 6, maxOutputA: 1, lossW: 0.6, receiverC: 41 },
    front,
    confirmed: front.slice(2).map((found) => ({ ...found, report: report(found.design, pose, 4) })),
    trials: 48,
  };
}

/** Two discs that overlap. */
export function fakeRow(map: OffsetMap): CoilRowReport {
  return {
    centresMm: [
      [0, 0],
      [20, 0],
    ],
    map,
    driven: new Uint8Array(map.marginPercent.length),
    deadSpots: [],
    safeLengthMm: 31,
    pieces: 1,
    safeAreaMm2: 600,
    idle: { drivenA: 1.4, frequencyHz: 128e3, lossW: 0.004, openV: 12.3 },
  };
}

/** Intervals with one row for each thing that is not known. */
export function fakeBounds({ transmitter, receiver }: Design): BoardBounds {
  const names = [
    ...transmitter.drive.unknown.map((what) => (what === 'supply' ? 'supply voltage' : `transmitter ${what}`)),
    ...receiver.pickup.unknown.map((what) => `receiver ${what}`),
  ];
  const end = (value: number, board: string) => ({ value, board, because: 'the link' });
  return {
    unknowns: names.map((name) => ({ name, assumption: '4.75 to 12 V: a USB supply behind a cable' })),
    boards: 9,
    carrying: 5,
    demandA: 0.78,
    maxOutputA: { low: end(0.31, '4.75 V'), high: end(1.2, '12 V') },
    reachMm: { low: end(0, '4.75 V'), high: end(14.2, '9 V') },
    alone: names.map((name, i) => ({ name, lowA: 0.3 + i / 10, highA: 1.2 })),
  };
}
