import type { Outcome } from './types.ts';

export type Failed = Extract<Outcome<never>, { readonly ok: false }>;

/**
 * Sends out chunks starting at 0, size, 2 size, ... in order, `width` at a time, and stops at the first that fails.
 * Borders do not depend on the width, so neither do results.
 */
export async function inChunks(
  count: number,
  size: number,
  width: number,
  chunk: (from: number) => Promise<Failed | null>,
): Promise<Failed | null> {
  let next = 0;
  let failed: Failed | null = null;
  const lane = async (): Promise<void> => {
    while (next < count && !failed) {
      const from = next;
      next += size;
      const outcome = await chunk(from);
      failed ??= outcome;
    }
  };
  await Promise.all(Array.from({ length: width }, lane));
  return failed;
}
