/** Reserve current over demand, %. Without any demand the margin is without bound; 999 stands for it. */
export function marginPercent(current: number, demand: number): number {
  return demand > 0 ? Math.min(999, 100 * (current / demand - 1)) : 999;
}
