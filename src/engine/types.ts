import type { ExposureReport, FieldSource } from '../analysis/exposure/exposure-report.ts';
import type { OperatingSpread } from '../analysis/feed/operating-spread.ts';
import type { HoldReport } from '../analysis/hold/hold-report.ts';
import type { Lesson } from '../analysis/lessons/lesson.ts';
import type { BoardBounds } from '../analysis/pair/board-bounds.ts';
import type { CoilRowReport } from '../analysis/pair/coil-row.ts';
import type { CoilSizeQuestion } from '../analysis/pair/coil-size-reading.ts';
import type { RetuneAnswer } from '../analysis/pair/retune.ts';
import type { RivalsRequest } from '../analysis/pair/rivals.ts';
import type { FoundDesign, SearchAnswer } from '../analysis/pair/search-answer.ts';
import type { SearchRequest } from '../analysis/pair/search-space.ts';
import type { CoilReading } from '../analysis/pair/unknown-coil.ts';
import type { RivalsAnswer } from '../analysis/pair/verdict.ts';
import type { FitReport, FittedEnsemble } from '../analysis/prove/fit-report.ts';
import type { FitOptions } from '../analysis/prove/optimum.ts';
import type { Sensitivity } from '../analysis/sensitivity/sensitivity.ts';
import type { SupplyChoice } from '../analysis/supply/supply-choice.ts';
import type { LineSweep, OffsetMap, PoseAnswer, QuickAnswer, SweepAxis } from '../analysis/types.ts';
import type { Design } from '../design/types.ts';
import type { FaultDetail } from '../numerics/errors.ts';

export type { QuickAnswer } from '../analysis/types.ts';

/** What a worker returns for an expected failure: plain data, because thrown errors lose their fields on the way. */
export type Outcome<T> =
  | { readonly ok: true; readonly value: T; readonly elapsedMs: number }
  | { readonly ok: false; readonly faults: readonly FaultDetail[]; readonly message: string };

/** Progress of a long job, 0..1, with a phrase for the reader. */
export interface Progress {
  readonly fraction: number;
  readonly stage: string;
}

export interface MapRequest {
  readonly design: Design;
  readonly points: number;
  /** Half-width in mm; null: from the coils' size, grown until the margin is below -20 %. */
  readonly spanMm: number | null;
  /**
   * Least level of the link model. `rough`: the first that can be had, within a second or so; its map comes without the
   * exact circuit's checks, and where the plates' tolerances are not worked out yet its bands leave them out. Default: `coarse`
   * up to 48 points a side, else `fine`.
   */
  readonly level?: 'rough' | 'coarse' | 'fine';
}

export interface SweepRequest {
  readonly design: Design;
  readonly axis: SweepAxis;
  readonly from: number;
  readonly to: number;
  readonly points: number;
  /**
   * As in `MapRequest`; default `coarse`. A `rough` line is by first harmonic alone (up to 170 points of margin off near collapse)
   * and says so (`firstLook`), whatever model it comes from.
   */
  readonly level?: 'rough' | 'coarse';
}

export interface SupplyRequest {
  readonly design: Design;
  /** Two to four different voltages. */
  readonly suppliesV: readonly number[];
}

export interface FitRequest {
  readonly design: Design;
  readonly options: Partial<FitOptions>;
}

export interface FitMapRequest {
  readonly design: Design;
  readonly ensemble: FittedEnsemble;
  readonly points: number;
}

/**
 * The engine as the page and the command line see it. Every call may be aborted; a newer request of the same kind
 * replaces an older one that has not finished.
 */
export interface Engine {
  quick(design: Design, signal?: AbortSignal): Promise<Outcome<QuickAnswer>>;
  /** @param onFirst called with the answer whose bands still leave out the plates' tolerances, where those take longer */
  solve(design: Design, signal?: AbortSignal, onFirst?: (answer: PoseAnswer) => void): Promise<Outcome<PoseAnswer>>;
  map(
    request: MapRequest,
    signal?: AbortSignal,
    onProgress?: (progress: Progress) => void,
  ): Promise<Outcome<OffsetMap>>;
  sweep(
    request: SweepRequest,
    signal?: AbortSignal,
    onProgress?: (progress: Progress) => void,
  ): Promise<Outcome<LineSweep>>;
  /**
   * Lines of the field that the transmitter's current makes, plates included: strips [n, 3] row-major x y z in the
   * transmitter's frame, m. Some tenths of a second once the link context stands.
   */
  field(
    design: Design,
    signal?: AbortSignal,
    onProgress?: (progress: Progress) => void,
  ): Promise<Outcome<readonly Float64Array[]>>;
  /**
   * What keeps the device in place: recess, magnets, stack, lottery. Some seconds after the link model stands; what was worked
   * out before for the same recess, magnets or link is not worked out again.
   * @param onFirst called with `holdFirst`'s answer on the way
   */
  hold(
    design: Design,
    signal?: AbortSignal,
    onProgress?: (progress: Progress) => void,
    onFirst?: (report: HoldReport) => void,
  ): Promise<Outcome<HoldReport>>;
  /**
   * The same in some tenths of a second from the best link model that stands (a coarse one is built where there is none): no
   * direct solutions, magnets without ferrite, no gaps, fewer placements, unless they are known already.
   */
  holdFirst(
    design: Design,
    signal?: AbortSignal,
    onProgress?: (progress: Progress) => void,
  ): Promise<Outcome<HoldReport>>;
  /** The design against fair rivals and the user's own candidates: some seconds each. */
  rivals(
    request: RivalsRequest,
    signal?: AbortSignal,
    onProgress?: (progress: Progress) => void,
  ): Promise<Outcome<RivalsAnswer>>;
  /** The design's row of transmitter coils, the best one driven. Some seconds a coil where there are plates. */
  row(design: Design, signal?: AbortSignal, onProgress?: (progress: Progress) => void): Promise<Outcome<CoilRowReport>>;
  /** One of the lessons, 1 to 6, worked out; the one on ferrite takes some seconds. */
  lesson(number: number, signal?: AbortSignal): Promise<Outcome<Lesson>>;
  /** Series capacitors for the coils as placed, and parts near them. */
  retune(design: Design, signal?: AbortSignal): Promise<Outcome<RetuneAnswer>>;
  /** Intervals over plausible boards, for a design that says what it does not know of its own; some seconds. */
  bounds(
    design: Design,
    signal?: AbortSignal,
    onProgress?: (progress: Progress) => void,
  ): Promise<Outcome<BoardBounds>>;
  /** What the sizes of a coil, read with a ruler or traced, say of its inductance. */
  coilSizes(question: CoilSizeQuestion, signal?: AbortSignal): Promise<Outcome<CoilReading>>;
  /**
   * A better coil within what may be changed. Some tens of seconds to minutes.
   * @param onFront called with the designs found so far
   */
  search(
    request: SearchRequest,
    signal?: AbortSignal,
    onProgress?: (progress: Progress) => void,
    onFront?: (front: readonly FoundDesign[]) => void,
  ): Promise<Outcome<SearchAnswer>>;
  /** How far the operating point at the demand may be off, by the tolerances; some tenths of a second after `solve`. */
  spread(design: Design, signal?: AbortSignal): Promise<Outcome<OperatingSpread>>;
  /**
   * The field around the link at an operating point against published reference levels; some tenths of a second after `solve`,
   * whose operating point it takes. Null where no current flows.
   */
  exposure(design: Design, source: FieldSource, signal?: AbortSignal): Promise<Outcome<ExposureReport | null>>;
  /**
   * The design under two to four supply voltages and which to take. Circuits at the pose take a second or two, the reaches
   * some seconds more once the link model stands.
   * @param onFirst called with the choice whose reaches are still missing
   */
  supplies(
    request: SupplyRequest,
    signal?: AbortSignal,
    onProgress?: (progress: Progress) => void,
    onFirst?: (choice: SupplyChoice) => void,
  ): Promise<Outcome<SupplyChoice>>;
  /** What moves the largest current at the design's pose, ranked, by the exact circuit; a few seconds. */
  sensitivity(
    design: Design,
    signal?: AbortSignal,
    onProgress?: (progress: Progress) => void,
  ): Promise<Outcome<Sensitivity>>;
  /** Fits the design's readings: some seconds once the field at their places is solved. */
  fit(
    request: FitRequest,
    signal?: AbortSignal,
    onProgress?: (progress: Progress) => void,
  ): Promise<Outcome<FitReport>>;
  /** The map of a fit, with the bands it leaves; some seconds once the link model stands. */
  fitMap(
    request: FitMapRequest,
    signal?: AbortSignal,
    onProgress?: (progress: Progress) => void,
  ): Promise<Outcome<OffsetMap>>;
  dispose(): void;
}
