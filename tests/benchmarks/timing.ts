/** Processor time of one run, milliseconds. */
export interface Timing {
  readonly min: number;
  readonly median: number;
  readonly max: number;
  readonly runs: number;
}

/** Results of the work go here, so that nothing is optimised away. */
export const sink: { value: unknown } = { value: null };

/** Processor time of this process, so that other work on the machine does not count. Resolves a microsecond. */
function processorTime(): number {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1e3;
}

/**
 * Times a piece of work: some runs to warm up, then samples of at least two milliseconds for about `forMs`.
 * @param fewest samples that are taken however long they last
 */
export function time(work: () => unknown, forMs = 400, fewest = 5): Timing {
  const warmUntil = performance.now() + Math.min(100, forMs / 4);
  let runs = 0;
  let started = processorTime();
  do {
    sink.value = work();
    runs++;
  } while (performance.now() < warmUntil);
  const batch = Math.max(1, Math.round(2 / Math.max(1e-4, (processorTime() - started) / runs)));
  const times: number[] = [];
  const end = performance.now() + forMs;
  while (times.length < fewest || (performance.now() < end && times.length < 200)) {
    started = processorTime();
    for (let k = 0; k < batch; k++) sink.value = work();
    times.push((processorTime() - started) / batch);
  }
  times.sort((a, b) => a - b);
  return {
    min: times[0]!,
    median: times[times.length >> 1]!,
    max: times[times.length - 1]!,
    runs: times.length * batch,
  };
}
