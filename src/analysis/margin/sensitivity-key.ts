import type { Design } from '../../design/types.ts';
import { linkKey } from '../link/link-key.ts';

/** What the sensitivities depend on: the link, and the pose coarsely, because they change slowly with it. */
export function sensitivityKey(design: Design): string {
  const { gapMm, offsetXMm, offsetYMm, yawDeg, tiltXDeg, tiltYDeg } = design.placement;
  const near = [Math.round(2 * Math.log2(gapMm)), Math.round(offsetXMm / 4), Math.round(offsetYMm / 4)];
  return JSON.stringify([linkKey(design), near, [yawDeg, tiltXDeg, tiltYDeg].map(Math.round)]);
}
