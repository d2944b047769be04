import type { HandleId, LinkSceneData } from '../types.ts';
import type { Facing, HandlePlace } from './place.ts';
import { posePlaces } from './pose-places.ts';
import { shapePlaces } from './shape-places.ts';

/** All handles on offer, in the order in which the keyboard visits them. */
export function handlePlaces(data: LinkSceneData, facing: Facing): readonly HandlePlace[] {
  const all = [
    ...posePlaces(data, facing),
    ...shapePlaces(data, 'transmitter', facing),
    ...shapePlaces(data, 'receiver', facing),
  ];
  if (data.handles === undefined) return all;
  const wanted = new Set<HandleId>(data.handles);
  return all.filter((place) => wanted.has(place.id));
}
