import { fitAnswer } from '../../src/analysis/prove/answer-words.ts';
import { benchPoses } from '../../src/analysis/prove/bench-links.ts';
import { fitParameters, valueAt } from '../../src/analysis/prove/fit-parameters.ts';
import type { FitReport, ReadingResult } from '../../src/analysis/prove/fit-report.ts';
import { readingFacts } from '../../src/analysis/prove/reading-checks.ts';
import type { Design } from '../../src/design/types.ts';
import { InputError } from '../../src/numerics/errors.ts';

/** An invented fit for tests of the page: the shape of a real one, none of its numbers. */
export function fakeFit(design: Design): FitReport {
  if (design.readings.length === 0) {
    throw new InputError({ code: 'no-readings', path: 'readings', required: 'at least one reading', received: 'none' });
  }
  const { poses, poseOf } = benchPoses(design);
  const parameters = fitParameters(design, poses);
  const readings = design.readings.map((reading, index): ReadingResult => {
    const { supplyA, outputV } = reading;
    const distance = ((index * 7) % 5) / 2 - 1;
    return {
      reading: index,
      regulated: reading.regulated,
      residuals: reading.regulated
        ? [
            ...(supplyA === null
              ? []
              : [
                  {
                    quantity: 'supplyA' as const,
                    measured: supplyA,
                    predicted: supplyA - 0.01 * distance,
                    sigma: 0.01,
                    distance,
                  },
                ]),
            ...(outputV === null
              ? []
              : [
                  {
                    quantity: 'outputV' as const,
                    measured: outputV,
                    predicted: 5,
                    sigma: 0.02,
                    distance: (outputV - 5) / 0.02,
                  },
                ]),
          ]
        : [],
      maxOutputA: reading.regulated ? null : 1,
      limitDistance: reading.regulated ? null : 1.2,
      leftOut: 0.6 + 0.1 * (index % 4),
      flags: readingFacts(design.meters, reading).flags,
    };
  });
  const groups = new Map<string, number[]>();
  design.readings.forEach((reading, index) => {
    const key = `${poseOf[index]}|${Math.round(reading.supplyV)}`;
    groups.set(key, [...(groups.get(key) ?? []), index]);
  });
  const curves = [...groups].map(([key, of]) => {
    const [pose, volts] = key.split('|').map(Number);
    const loadA = Float64Array.from({ length: 12 }, (_, k) => 0.05 + 0.08 * k);
    return {
      pose,
      poseName: poses[pose].name,
      supplyV: volts,
      loadA,
      efficiency: loadA.map((a) => 0.78 - 0.02 * pose - 0.012 / a - 0.05 * a),
      collapseA: 1,
      readings: of,
    };
  });
  const reach = { before: { value: 4, low: 0, high: 11 }, after: { value: 3.9, low: 3.1, high: 4.4 } };
  const supply = (supplyV: number) => ({
    supplyV,
    maxOutputA: { before: { value: 1, low: 0.7, high: 1.2 }, after: { value: 1.02, low: 0.97, high: 1.06 } },
    marginPercent: { before: { value: 28, low: -10, high: 54 }, after: { value: 31, low: 24, high: 36 } },
    verdict: 'holds' as const,
  });
  const consequence: FitReport['consequence'] = {
    demandA: 0.78,
    wantedMarginPercent: design.demand.wantedMarginPercent,
    reachMm: reach,
    reachEndMm: 22,
    recessPlayMm: { before: 0, after: 3.1 },
    supplies: [supply(5), supply(9)],
  };
  // A load that no such bench carries: the model does not explain it.
  const explains = design.readings.every(({ outputA }) => (outputA ?? 0) < 3);
  const agreement = explains ? 1.1 : 7.2;
  const answer = fitAnswer({ explains, agreement, consequence });
  return {
    title: design.title,
    sentence: `${answer.agreement}${answer.reach}`,
    fixes: 'They fix the receiver series capacitor to 112–118\u00a0nF.',
    converged: true,
    readingsUsed: design.readings.length,
    observations: 2 * design.readings.length,
    chi2: 30,
    dataChi2: 25,
    probability: 0.4,
    agreement,
    explains,
    verdict: 'The readings agree with the model within 1.1 of their accuracy.',
    suggestions: [],
    parameters: parameters.map((parameter, j) => ({
      id: parameter.id,
      name: parameter.name,
      group: parameter.group,
      path: parameter.path,
      unit: parameter.unit,
      prior: { value: parameter.prior, low: valueAt(parameter, -1.96), high: valueAt(parameter, 1.96) },
      because: parameter.because,
      fitted: { value: valueAt(parameter, 0.3), low: valueAt(parameter, -0.3), high: valueAt(parameter, 0.9) },
      shrink: j % 3 === 0 ? 0.31 : 0.92,
      pull: 0.3,
      decidedBy: j % 3 === 0 ? 'readings' : 'prior',
    })),
    combinations: [
      { words: 'the sum of resistance of supply and cable and bridge switch resistance', shrink: 0.2, parts: [] },
    ],
    singularValues: [9, 3, 1],
    optima: [{ chi2: 30, weight: 1, starts: 16, converged: true, values: [] }],
    readings,
    next: [
      {
        kind: 'frequency',
        sentence: 'Read the operating frequency at 5 V, 0.70 A, 5.9 mm gap.',
        narrowing: 0.2,
        leaves: 0.4,
      },
      {
        kind: 'anotherGap',
        sentence: 'Read the supply current at 8.9 mm gap, 5 V, 0.60 A.',
        narrowing: 0.02,
        leaves: 0.8,
      },
    ],
    consequence,
    curves,
    ensemble: { parameters, optima: [] },
    takeOver: {
      changes: [
        {
          name: 'transmitter series capacitor',
          path: 'transmitter.drive.seriesCapacitanceNf',
          unit: 'nF',
          from: design.transmitter.drive.seriesCapacitanceNf,
          to: 389.2,
          wasComputed: false,
        },
        {
          name: 'transmitter inductance',
          path: 'transmitter.coil.inductanceUh',
          unit: 'uH',
          from: 6.3,
          to: 6.41,
          wasComputed: true,
        },
        { name: 'coupling', path: 'receiver.couplingFactor', unit: '1', from: 1, to: 1.012, wasComputed: false },
      ],
      left: ['gate charge', 'rectifier drop'],
    },
    notes: [],
  };
}
