import type { Project, Projected } from '../guide-strokes.ts';
import type { HandleId } from '../types.ts';
import type { Vec3 } from '../vectors.ts';
import { canFollow } from './drag-rule.ts';
import type { HandlePlace } from './place.ts';

/** Two handles nearer than this cannot be told apart by a pointer, CSS pixels. */
const APART = 17;

/**
 * Which handles can be used from here: those that would move towards the viewer cannot, and where two of those always
 * shown coincide, the first in order stays (the centre before yaw and tilt). The attended one always stays.
 * @param sight direction from the viewer to the picture.
 */
export function usablePlaces(
  places: readonly HandlePlace[],
  sight: Vec3,
  project: Project,
  attended: HandleId | null,
): readonly boolean[] {
  const kept: Projected[] = [];
  return places.map((place) => {
    if (place.id === attended) return true;
    if (!canFollow(place.rule, sight)) return false;
    if (place.offered !== 'rest') return true;
    const at = project(place.at);
    if (kept.some((other) => Math.hypot(other.x - at.x, other.y - at.y) < APART)) return false;
    kept.push(at);
    return true;
  });
}
