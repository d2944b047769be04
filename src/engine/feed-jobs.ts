import { type ExposureReport, exposureReport, type FieldSource } from '../analysis/exposure/exposure-report.ts';
import { type OperatingSpread, operatingSpread } from '../analysis/feed/operating-spread.ts';
import type { PlateSensitivity } from '../analysis/margin/plate-sensitivity.ts';
import type { Design } from '../design/types.ts';

/** Jobs of what the operating point does: its spread, and the field around it. */
export const feedJobs = {
  operatingSpread: (a: { readonly design: Design; readonly plates: readonly PlateSensitivity[] }): OperatingSpread =>
    operatingSpread(a.design, a.plates),
  exposure: (a: {
    readonly design: Design;
    readonly source: FieldSource;
    readonly plates: readonly PlateSensitivity[];
  }): ExposureReport | null => exposureReport(a.design, a.source, a.plates),
};
