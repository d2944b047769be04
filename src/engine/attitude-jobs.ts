import type { AttitudeHalf } from '../analysis/link/attitude-grid.ts';
import {
  type AttitudePart,
  assembleAttitudePart,
  attitudePoses,
  boundAttitudePart,
  carriesTo,
  modelAtAttitude,
  solveAttitudePoses,
} from '../analysis/link/attitude-part.ts';
import { linkContext } from '../analysis/link/link-context.ts';
import type { Attitude, LinkDomain } from '../analysis/link/link-domain.ts';
import type { LinkModel } from '../analysis/link/link-model.ts';
import type { Design } from '../design/types.ts';

/** Jobs that carry a link model to other attitudes. */
export const attitudeJobs = {
  attitudePoses: (a: {
    readonly design: Design;
    readonly domain: LinkDomain;
    readonly which: AttitudeHalf;
  }): Float64Array => attitudePoses(linkContext(a.design), a.domain, a.which),
  attitudeSolve: (a: { readonly design: Design; readonly poses: Float64Array }): Float64Array =>
    solveAttitudePoses(linkContext(a.design), a.poses),
  attitudePart: (a: {
    readonly design: Design;
    readonly model: LinkModel;
    readonly values: Readonly<Record<AttitudeHalf, Float64Array | null>>;
  }): AttitudePart => {
    const context = linkContext(a.design);
    return boundAttitudePart(context, a.model, assembleAttitudePart(context, a.model.domain, a.values));
  },
  attitudeAble: (a: {
    readonly design: Design;
    readonly base: LinkModel;
    readonly attitude: Attitude;
    readonly gap: number;
  }): boolean => carriesTo(linkContext(a.design), a.base, a.attitude, a.gap),
  modelAtAttitude: (a: {
    readonly design: Design;
    readonly model: LinkModel;
    readonly part: AttitudePart;
    readonly attitude: Attitude;
    readonly gap: number;
  }): LinkModel | null => modelAtAttitude(linkContext(a.design), a.model, a.part, a.attitude, a.gap),
};
