/** What ticks need of a scale, whoever made it. */
interface TickedScale {
  (value: number): number;
  ticks(count: number): number[];
  range(): readonly number[];
}

/** Ticks of which the last, which carries the unit, does not touch the one before. */
export function roomyTicks(scale: TickedScale, width: number): number[] {
  const all = scale.ticks(Math.max(2, Math.floor(width / 70)));
  const [, right] = scale.range();
  const last = all.at(-1);
  const before = all.at(-2);
  if (last === undefined || before === undefined) return all;
  return right - scale(last) < 18 && scale(last) - scale(before) < 56 ? [...all.slice(0, -2), last] : all;
}
