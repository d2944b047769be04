import { ConvergenceError, InputError } from '../numerics/errors.ts';
import type { attitudeJobs } from './attitude-jobs.ts';
import type { feedJobs } from './feed-jobs.ts';
import type { fieldJobs } from './field-jobs.ts';
import type { fitJobs } from './fit-jobs.ts';
import type { holdJobs } from './hold-jobs.ts';
import { linkJobs } from './link-jobs.ts';
import type { pairJobs } from './pair-jobs.ts';
import type { supplyJobs } from './supply-jobs.ts';
import type { Outcome } from './types.ts';

type LaterJobs = typeof attitudeJobs &
  typeof feedJobs &
  typeof fieldJobs &
  typeof fitJobs &
  typeof holdJobs &
  typeof pairJobs &
  typeof supplyJobs;
type Work = typeof linkJobs & LaterJobs;
export type JobName = keyof Work;
export type JobArguments<K extends JobName> = Parameters<Work[K]>[0];
export type JobResult<K extends JobName> = ReturnType<Work[K]>;

/** Groups of jobs that no first visit needs: a worker fetches a group when one of its jobs is first asked for. */
const GROUPS = Object.freeze({
  attitude: async () => (await import('./attitude-jobs.ts')).attitudeJobs,
  feed: async () => (await import('./feed-jobs.ts')).feedJobs,
  field: async () => (await import('./field-jobs.ts')).fieldJobs,
  fit: async () => (await import('./fit-jobs.ts')).fitJobs,
  hold: async () => (await import('./hold-jobs.ts')).holdJobs,
  pair: async () => (await import('./pair-jobs.ts')).pairJobs,
  supply: async () => (await import('./supply-jobs.ts')).supplyJobs,
});

const GROUP_OF: { readonly [K in keyof LaterJobs]: keyof typeof GROUPS } = Object.freeze({
  attitudePoses: 'attitude',
  attitudeSolve: 'attitude',
  attitudePart: 'attitude',
  attitudeAble: 'attitude',
  modelAtAttitude: 'attitude',
  operatingSpread: 'feed',
  exposure: 'feed',
  fieldSeeds: 'field',
  fieldTrace: 'field',
  benchLink: 'fit',
  benchFacts: 'fit',
  fitSearch: 'fit',
  fitExact: 'fit',
  fitSettle: 'fit',
  fitOptimum: 'fit',
  fitAnswers: 'fit',
  fitCurve: 'fit',
  fittedDesign: 'fit',
  fittedGrid: 'fit',
  fittedCheck: 'fit',
  holdPlans: 'hold',
  holdAttitudeCount: 'hold',
  holdAttitudePart: 'hold',
  holdAttitudes: 'hold',
  holdLayer: 'hold',
  holdWorstPlaces: 'hold',
  holdWorstDirect: 'hold',
  holdRecessQuick: 'hold',
  holdRecessStep: 'hold',
  holdRecessBand: 'hold',
  holdRecessDirect: 'hold',
  holdMagnetCount: 'hold',
  holdMagnetForces: 'hold',
  holdMagnetFlux: 'hold',
  holdMagnetHeat: 'hold',
  holdSaturated: 'hold',
  holdMagnets: 'hold',
  holdGapMargins: 'hold',
  holdLottery: 'hold',
  holdReport: 'hold',
  rivals: 'pair',
  centredInductances: 'pair',
  narrowPlan: 'pair',
  narrowPoses: 'pair',
  candidate: 'pair',
  rowMembers: 'pair',
  rowMap: 'pair',
  rowAnswer: 'pair',
  lesson: 'pair',
  coilSizes: 'pair',
  boardCount: 'pair',
  boardTrials: 'pair',
  boardBounds: 'pair',
  retune: 'pair',
  searchBase: 'pair',
  searchTrials: 'pair',
  searchDesigns: 'pair',
  supplies: 'supply',
  poseLinks: 'supply',
  supplyReport: 'supply',
  supplyPoints: 'supply',
  gapScan: 'supply',
  linkAtGap: 'supply',
  supplyGapPoint: 'supply',
  nextGap: 'supply',
  gapReach: 'supply',
  supplyChoice: 'supply',
  sensitivityStart: 'supply',
  sensitivityRow: 'supply',
  sensitivityRank: 'supply',
});

/**
 * Does one job: a pure function of plain data, short enough to be one chunk. The same functions run in browser workers, in
 * Node threads and in this thread. Expected failures come back as data, because thrown errors lose their fields on the way
 * out of a worker.
 */
export async function doJob<K extends JobName>(name: K, args: JobArguments<K>): Promise<Outcome<JobResult<K>>> {
  const jobs = (name in linkJobs ? linkJobs : await GROUPS[GROUP_OF[name as keyof LaterJobs]]()) as unknown as Work;
  const run = jobs[name] as (input: JobArguments<K>) => JobResult<K>;
  const began = performance.now();
  try {
    return { ok: true, value: run(args), elapsedMs: performance.now() - began };
  } catch (error) {
    if (error instanceof InputError) return { ok: false, faults: error.faults, message: error.message };
    if (error instanceof ConvergenceError) return { ok: false, faults: [], message: error.message };
    throw error;
  }
}
