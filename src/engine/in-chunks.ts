import type { Outcome } from './types.ts';

export type Failed = Extract<Outcome<never>, { readonly ok: false }>;

/**
 * Sends out chunks starting at 0, size, 2 size, ..., `width` at a time, and stops at the first that fails. Each of the
 * `width` lanes goes through its own part of the range in order, so that neighbours meet in one worker's cache; a lane
 * that has finished takes the last chunk of the one with most left.
 * Borders do not depend on the width, so neither do results.
 */
export async function inChunks(
  count: number,
  size: number,
  width: number,
  chunk: (from: number) => Promise<Failed | null>,
): Promise<Failed | null> {
  const chunks = Math.ceil(count / size);
  const parts = Array.from({ length: width }, (_, lane) => ({
    next: Math.floor((lane * chunks) / width),
    end: Math.floor(((lane + 1) * chunks) / width),
  }));
  let failed: Failed | null = null;
  const take = (own: { next: number; end: number }): number | null => {
    if (own.next < own.end) return own.next++;
    const richest = parts.reduce((a, b) => (b.end - b.next > a.end - a.next ? b : a));
    return richest.next < richest.end ? --richest.end : null;
  };
  const lane = async (own: { next: number; end: number }): Promise<void> => {
    for (let index = take(own); index !== null && !failed; index = take(own)) {
      const outcome = await chunk(index * size);
      failed ??= outcome;
    }
  };
  await Promise.all(parts.map(lane));
  return failed;
}
