/**
 * An engine of invented, smooth numbers for tests of the page: quick, without workers, and the same every time. Nothing it
 * says has anything to do with a real link.
 */
import { coilSizeReading } from '../../src/analysis/pair/coil-size-reading.ts';
import type { LineSweep, OffsetMap, PoseAnswer } from '../../src/analysis/types.ts';
import { demandOf } from '../../src/design/demand.ts';
import type { Design } from '../../src/design/types.ts';
import type { Engine, MapRequest, Outcome, QuickAnswer, SweepRequest } from '../../src/engine/types.ts';
import { InputError } from '../../src/numerics/errors.ts';
import type { LinkState } from '../../src/physics/circuit/types.ts';
import { fakeExposure } from './fake-exposure.ts';
import { fakeFit } from './fake-fit.ts';
import { fakeHoldReport, type Reserve } from './fake-hold.ts';
import { fakeLesson } from './fake-lesson.ts';
import { fakeBounds, fakeRetune, fakeRivals, fakeRow, fakeSearch } from './fake-rivals.ts';
import { fakeSensitivity, fakeSupplyChoice } from './fake-supply.ts';

export interface FakeEngineOptions {
  /** Before each answer, ms. */
  readonly delayMs: number;
}

interface Place {
  readonly xMm: number;
  readonly yMm: number;
  readonly gapMm: number;
}

function placeOf(design: Design): Place {
  const { offsetXMm, offsetYMm, gapMm } = design.placement;
  return { xMm: offsetXMm, yMm: offsetYMm, gapMm };
}

function coupling(design: Design, { xMm, yMm, gapMm }: Place): number {
  const turns = Math.sqrt(design.receiver.coil.turns / 14);
  const r2 = (xMm / 17) ** 2 + (yMm / 21) ** 2;
  return Math.min(0.95, 0.62 * turns * Math.exp(-gapMm / 34) * Math.exp(-(r2 ** 0.9)));
}

function reserve(design: Design, place: Place): number {
  const k = coupling(design, place);
  return (design.transmitter.drive.supplyV / 5) * 3.6 * Math.max(0, k - 0.12) ** 1.15;
}

function reserveOf(design: Design): Reserve {
  return (xMm, yMm, gapMm) => reserve(design, { xMm, yMm, gapMm });
}

function wait(ms: number, signal?: AbortSignal): Promise<void> {
  return new Promise((resolve, reject) => {
    const stop = (): void => reject(new DOMException('stopped', 'AbortError'));
    if (signal?.aborted) return stop();
    const timer = setTimeout(resolve, ms);
    signal?.addEventListener('abort', () => {
      clearTimeout(timer);
      stop();
    });
  });
}

function poseAnswer(design: Design): PoseAnswer {
  const k = coupling(design, placeOf(design));
  const max = reserve(design, placeOf(design));
  const demand = demandOf(design);
  const margin = (at: number, demandA: number): number => 100 * (at / demandA - 1);
  const l1 = 9.2e-6;
  const l2 = 13.1e-6;
  return {
    link: {
      transmitterInductanceH: l1,
      receiverInductanceH: l2,
      mutualInductanceH: k * Math.sqrt(l1 * l2),
      coupling: k,
      transmitterResistanceOhm: 0.08,
      receiverResistanceOhm: 0.16,
      transmitterQ: 101,
      receiverQ: 72,
      atFrequencyHz: 140e3,
      linkEfficiencyLimit: 0.94,
      optimalLoadOhm: 6.1,
      errors: { mutualInductanceH: 4e-8, transmitterInductanceH: 5e-8, receiverInductanceH: 8e-8, coupling: 0.003 },
      air: {
        transmitterInductanceH: 6.3e-6,
        receiverInductanceH: 8.4e-6,
        mutualInductanceH: 0.7 * k * Math.sqrt(l1 * l2),
        coupling: 0.82 * k,
      },
      couplingBand: { value: k, low: k - 0.008, high: k + 0.008 },
    },
    operatingPoint: {
      state: margin(max, demand.demandA) < 0 ? 'starved' : 'regulated',
      sentence: 'Regulated at 5.00 V.',
      frequencyHz: 128e3,
      duty: 1,
      supplyA: 0.97,
      outputV: 5,
      outputA: demand.demandA,
      rectifiedV: 5.4,
      targetV: 5.3,
      neededV: 5.2,
      shortfallV: 0,
      limitedBy: null,
      sagV: 0.097,
      efficiency: 0.78,
      losses: {
        supply: 0.09,
        bridge: 0.05,
        transmitterIdle: 0.09,
        transmitterCoil: 0.2,
        receiverCoil: 0.14,
        rectifier: 0.2,
        regulator: 0.35,
      },
      transmitterCoilARms: 1.6,
      receiverCoilARms: 0.95,
      currentCorrelation: -0.2,
      harmonics: [],
      transmitterCapacitorVPeak: 9,
      receiverCapacitorVPeak: 14,
      transmitterCoilVPeak: 15,
      receiverCoilVPeak: 21,
      highVoltage: false,
      receiverC: 41,
      cellC: 35,
      caseC: 34,
      transmitterC: 33,
      wakes: true,
      wakeRectifiedV: 5.2,
      method: 'multiHarmonic',
      methodError: 0.002,
      methodWords: 'an invented method',
      severalPoints: false,
    },
    margin: {
      maxOutputA: max,
      maxOutputBand: { value: max, low: 0.93 * max, high: 1.07 * max },
      demandA: demand.demandA,
      demandNames: demand.demandNames,
      marginPercent: margin(max, demand.demandA),
      marginBandPercent: {
        value: margin(max, demand.demandA),
        low: margin(0.93 * max, demand.demandA),
        high: margin(1.07 * max, demand.demandA),
      },
      marginW: 5 * (max - demand.demandA),
      limitedBy: 'link',
      limits: {
        link: max,
        regulatorCurrent: 1.2,
        coilCurrent: Number.POSITIVE_INFINITY,
        supplyCurrent: Number.POSITIVE_INFINITY,
        supplySag: Number.POSITIVE_INFINITY,
        shutdown: Number.POSITIVE_INFINITY,
        cell: Number.POSITIVE_INFINITY,
        touch: Number.POSITIVE_INFINITY,
      },
      furtherBranch: false,
      supply: {
        drawnA: 1.3,
        currentLimitA: 3,
        resistanceOhm: 0.1,
        sagV: 0.13,
        sagCostA: 0.05,
        sentence: 'At that load the supply gives 1.30 of at most 3 A.',
      },
      peaks: demand.peaks.map((peak) => ({
        name: peak.name,
        demandA: peak.currentA,
        maxOutputA: max,
        marginPercent: margin(max, peak.currentA),
      })),
    },
    sensitivity: [],
    notes: [],
    cautions: [],
  } as PoseAnswer;
}

/** Ring at which `value` along rays from the centre falls below `level`, mm; empty where it never reaches it. */
function ringAt(value: (xMm: number, yMm: number) => number, level: number): Float64Array[] {
  if (!(value(0, 0) > level)) return [];
  const points: number[] = [];
  for (let i = 0; i < 120; i += 1) {
    const angle = (i / 120) * 2 * Math.PI;
    let low = 0;
    let high = 80;
    for (let n = 0; n < 40; n += 1) {
      const r = (low + high) / 2;
      if (value(r * Math.cos(angle), r * Math.sin(angle)) > level) low = r;
      else high = r;
    }
    points.push(low * Math.cos(angle), low * Math.sin(angle));
  }
  return [Float64Array.from(points)];
}

function leastRadius(rings: readonly Float64Array[]): { reach: number; deg: number } {
  let reach = Number.POSITIVE_INFINITY;
  let deg = 0;
  for (const ring of rings) {
    for (let i = 0; i < ring.length; i += 2) {
      const r = Math.hypot(ring[i], ring[i + 1]);
      if (r < reach) {
        reach = r;
        deg = (Math.atan2(ring[i + 1], ring[i]) * 180) / Math.PI;
      }
    }
  }
  return rings.length === 0 ? { reach: 0, deg: 0 } : { reach, deg };
}

function offsetMap({ design, points, spanMm }: MapRequest): OffsetMap {
  const span = spanMm ?? 32;
  const gapMm = design.placement.gapMm;
  const axis = Float64Array.from({ length: points }, (_, i) => -span + (2 * span * i) / (points - 1));
  const demand = demandOf(design);
  const at = (xMm: number, yMm: number): number => reserve(design, { xMm, yMm, gapMm });
  const count = points * points;
  const maxOutputA = new Float64Array(count);
  const k = new Float64Array(count);
  for (let j = 0; j < points; j += 1) {
    for (let i = 0; i < points; i += 1) {
      maxOutputA[j * points + i] = at(axis[i], axis[j]);
      k[j * points + i] = coupling(design, { xMm: axis[i], yMm: axis[j], gapMm });
    }
  }
  const wanted = design.demand.wantedMarginPercent;
  const safeOutline = ringAt(at, demand.demandA * (1 + wanted / 100));
  const collapseOutline = ringAt(at, demand.demandA);
  const wakeOutline = ringAt(at, 0.85 * demand.demandA);
  const safe = leastRadius(safeOutline);
  return {
    gapMm,
    xMm: axis,
    yMm: axis.slice(),
    maxOutputA,
    peakOutputA: maxOutputA,
    marginPercent: maxOutputA.map((a) => 100 * (a / demand.demandA - 1)),
    coupling: k,
    mutualInductanceH: k.map((v) => v * 1.1e-5),
    wakes: new Uint8Array(count).fill(1),
    demandA: demand.demandA,
    wantedMarginPercent: wanted,
    safeOutline,
    collapseOutline,
    wakeOutline,
    reachMm: { value: safe.reach, low: 0.93 * safe.reach, high: 1.06 * safe.reach },
    holdReachMm: leastRadius(collapseOutline).reach,
    wakeReachMm: leastRadius(wakeOutline).reach,
    innerLimitMm: 0,
    peakReachMm: demand.peaks.map((peak) => ({
      name: peak.name,
      reachMm: leastRadius(ringAt(at, peak.currentA)).reach,
    })),
    tightestDeg: safe.deg,
    timing: { linkModelMs: 1, gridMs: 1, circuitMs: 1, totalMs: 3 },
  } as OffsetMap;
}

function lineSweep({ design, axis, from, to, points }: SweepRequest): LineSweep {
  const demand = demandOf(design);
  const at = Float64Array.from({ length: points }, (_, i) => from + ((to - from) * i) / (points - 1));
  const here = placeOf(design);
  const place = (value: number): Place => ({
    xMm: axis === 'offsetX' ? value : here.xMm,
    yMm: axis === 'offsetY' ? value : here.yMm,
    gapMm: axis === 'gap' ? value : here.gapMm,
  });
  const max = at.map((value) => reserve(design, place(value)));
  const margin = max.map((a) => 100 * (a / demand.demandA - 1));
  const k = at.map((value) => coupling(design, place(value)));
  return {
    axis,
    at,
    maxOutputA: max,
    marginPercent: margin,
    marginLowPercent: margin.map((m, i) => m - 5 - 0.4 * Math.abs(at[i])),
    marginHighPercent: margin.map((m, i) => m + 5 + 0.4 * Math.abs(at[i])),
    coupling: k,
    mutualInductanceH: k.map((v) => v * 1.1e-5),
    transmitterInductanceH: at.map(() => 9.2e-6),
    receiverInductanceH: at.map(() => 13.1e-6),
    efficiency: at.map(() => 0.78),
    frequencyHz: at.map(() => 128e3),
    states: Array.from(margin, (m): LinkState => (m < 0 ? 'starved' : 'regulated')),
    demandA: demand.demandA,
  };
}

export interface FakeEngine extends Engine {
  /** How often each question was asked. */
  readonly asked: Record<
    | 'quick'
    | 'solve'
    | 'map'
    | 'sweep'
    | 'field'
    | 'hold'
    | 'holdFirst'
    | 'spread'
    | 'exposure'
    | 'rivals'
    | 'retune'
    | 'coilSizes'
    | 'bounds'
    | 'search'
    | 'lesson'
    | 'row'
    | 'supplies'
    | 'fit'
    | 'fitMap'
    | 'sensitivity',
    number
  >;
}

export function createFakeEngine({ delayMs }: FakeEngineOptions = { delayMs: 0 }): FakeEngine {
  const asked = {
    quick: 0,
    solve: 0,
    map: 0,
    sweep: 0,
    field: 0,
    hold: 0,
    holdFirst: 0,
    spread: 0,
    exposure: 0,
    rivals: 0,
    retune: 0,
    coilSizes: 0,
    bounds: 0,
    search: 0,
    lesson: 0,
    row: 0,
    supplies: 0,
    fit: 0,
    fitMap: 0,
    sensitivity: 0,
  };
  async function answer<T>(kind: keyof typeof asked, make: () => T, signal?: AbortSignal): Promise<Outcome<T>> {
    asked[kind] += 1;
    await wait(delayMs, signal);
    return { ok: true, value: make(), elapsedMs: delayMs };
  }
  return {
    asked,
    quick: (design, signal) =>
      answer(
        'quick',
        (): QuickAnswer => {
          const { link, margin } = poseAnswer(design);
          return {
            coupling: link.coupling,
            mutualInductanceH: link.mutualInductanceH,
            maxOutputA: margin.maxOutputA,
            marginPercent: margin.marginPercent,
            from: 'model',
          };
        },
        signal,
      ),
    solve: (design, signal) => answer('solve', () => poseAnswer(design), signal),
    map: async (request, signal, onProgress) => {
      onProgress?.({ fraction: 0.5, stage: 'map' });
      return answer('map', () => offsetMap(request), signal);
    },
    sweep: (request, signal) => answer('sweep', () => lineSweep(request), signal),
    field: (design, signal) =>
      answer(
        'field',
        () => {
          const r = 0.001 * (6 + design.placement.gapMm / 10);
          return [0, 2, 4].map((turn) =>
            Float64Array.from({ length: 3 * 24 }, (_, i) => {
              const angle = (2 * Math.PI * Math.floor(i / 3)) / 23;
              const out = 0.018 + r * Math.cos(angle);
              return i % 3 === 2 ? r * Math.sin(angle) : out * (i % 3 === 0 ? Math.cos(turn) : Math.sin(turn));
            }),
          );
        },
        signal,
      ),
    hold: async (design, signal, onProgress, onFirst) => {
      onFirst?.(fakeHoldReport(design, reserveOf(design), false));
      onProgress?.({ fraction: 0.5, stage: 'recess and magnets' });
      return answer('hold', () => fakeHoldReport(design, reserveOf(design), true), signal);
    },
    holdFirst: (design, signal) => answer('holdFirst', () => fakeHoldReport(design, reserveOf(design), false), signal),
    rivals: ({ design }, signal) => answer('rivals', () => fakeRivals(design, poseAnswer(design)), signal),
    // Lessons are short enough to be real, but for the one on ferrite, which is drawn without its field.
    lesson: (number, signal) => answer('lesson', () => fakeLesson(number), signal),
    row: (design, signal) => answer('row', () => fakeRow(offsetMap({ design, points: 33, spanMm: null })), signal),
    retune: (design, signal) => answer('retune', () => fakeRetune(design), signal),
    bounds: (design, signal) => answer('bounds', () => fakeBounds(design), signal),
    coilSizes: (question, signal) => answer('coilSizes', () => coilSizeReading(question), signal),
    search: ({ design }, signal) => answer('search', () => fakeSearch(design, poseAnswer(design)), signal),
    exposure: (design, source, signal) => answer('exposure', () => fakeExposure(design, source), signal),
    spread: (design, signal) =>
      answer(
        'spread',
        () => {
          const { losses, receiverC, cellC, transmitterC, efficiency } = poseAnswer(design).operatingPoint;
          const of = (share: number) => ({
            ...(Object.fromEntries(Object.entries(losses).map(([key, watts]) => [key, share * watts])) as Record<
              keyof typeof losses,
              number
            >),
            supplyW: 0.25 * share,
            transmitterBoardW: 0.24 * share,
            transmitterCoilW: 0.22 * share,
            receiverCoilW: 0.2 * share,
            rectifierW: 0.16 * share,
            regulatorW: 0.1 * share,
            supplyA: 0.05 * share,
            frequencyHz: 5e3 * share,
            efficiency: 0.1 * share * efficiency,
            receiverC: 0.1 * share * receiverC,
            cellC: 0.1 * share * cellC,
            transmitterC: 0.1 * share * transmitterC,
          });
          return { less: of(0.3), more: of(0.4) };
        },
        signal,
      ),
    fit: async ({ design }, signal, onProgress) => {
      onProgress?.({ fraction: 0.5, stage: 'start 8 of 16' });
      try {
        return await answer('fit', () => fakeFit(design), signal);
      } catch (error) {
        if (error instanceof InputError) return { ok: false, faults: error.faults, message: error.message };
        throw error;
      }
    },
    fitMap: ({ design, points }, signal) => answer('fitMap', () => offsetMap({ design, points, spanMm: null }), signal),
    supplies: async (request, signal, onProgress, onFirst) => {
      onFirst?.(fakeSupplyChoice(request, false));
      onProgress?.({ fraction: 0.5, stage: 'how far at each supply' });
      return answer('supplies', () => fakeSupplyChoice(request, true), signal);
    },
    sensitivity: (design, signal) => answer('sensitivity', () => fakeSensitivity(design), signal),
    dispose: () => undefined,
  };
}
