/** One answer to "what keeps it in place?": recess, magnets, stack, lottery. */
import type { Design } from '../../design/types.ts';
import type { Uncertain } from '../types.ts';
import { keptGaps } from './gap-steps.ts';
import type { LotteryCondition } from './lottery.ts';
import { type LotteryOptions, type LotteryPieces, type LotteryReport, lotteryReport } from './lottery-report.ts';
import { type MagnetReport, type MagnetReportOptions, magnetReport } from './magnet-report.ts';
import { type RecessMargins, type RecessReport, recessReport } from './recess-report.ts';
import { type BandedRegion, holesInWords, type RegionReport } from './region-report.ts';
import type { SafeRegion } from './safe-region.ts';
import { shareText } from './share-text.ts';
import { type GapLimits, type StackThickness, stackThickness } from './tolerance-stack.ts';

/** What the report needs from the link and circuit. Offsets (mm) and turns (rad) count from the design's resting place. */
export interface HoldDependencies extends RecessMargins {
  /** What a placement must carry, each met where its slack is >= 0: typical load first, then each peak. */
  readonly conditions: readonly LotteryCondition[];
  /** Margin of the worst continuous load at home against the gap, percent; null: not asked. */
  readonly marginAtGap: ((gapMm: number) => number) | null;
  /** Gaps between which `marginAtGap` may be asked, mm. */
  readonly gapRangeMm?: readonly [number, number];
  readonly magnets: Partial<MagnetReportOptions>;
  readonly lottery: Partial<LotteryOptions>;
  /** Largest clearance looked at, mm. */
  readonly mostClearanceMm: number;
  /** Worst safe region and volume; null: not asked. */
  readonly region: RegionReport | null;
}

export interface HoldReport {
  readonly format: 'offcentre-hold';
  readonly version: 1;
  readonly title: string;
  /** The answer in words. */
  readonly sentence: string;
  readonly recess: RecessReport;
  readonly magnets: MagnetReport | null;
  readonly stack: {
    readonly thickness: StackThickness | null;
    readonly limits: GapLimits | null;
    /** Whether the worst-case and the rss stack keep the wanted margin at home; null where not known. */
    readonly worstKeepsMargin: boolean | null;
    readonly rssKeepsMargin: boolean | null;
  };
  /** Where the device is safe at the design's own gap and turn: what the map of Place shows; null: not asked. */
  readonly safeHere: SafeRegion | null;
  /** Its reach with the band of model and tolerances, mm. */
  readonly safeHereReachMm: Uncertain | null;
  readonly region: RegionReport | null;
  /** Holes and pieces of the safe regions in words; empty where they are whole. */
  readonly regionNotes: readonly string[];
  readonly lottery: LotteryReport;
  readonly notes: readonly string[];
}

/** The parts of a report that are worked out one by one. */
export interface HoldParts {
  readonly recess: RecessReport;
  readonly magnets: MagnetReport | null;
  readonly limits: GapLimits | null;
  readonly safeHere: BandedRegion | null;
  readonly region: RegionReport | null;
}

/**
 * The report that `hold --json` prints: plain data, all lengths in mm unless the name says otherwise.
 * @param deps callbacks; `marginAt` is called some ten thousand times, `directMarginAt` a few times, `conditions` with
 * arrays of some ten thousand placements.
 * @throws InputError for a holding that cannot be.
 */
export function holdReport(design: Design, deps: HoldDependencies): HoldReport {
  const parts: HoldParts = {
    recess: recessReport(design, deps, deps.mostClearanceMm),
    magnets: magnetReport(design, deps.magnets),
    limits: deps.marginAtGap ? keptGaps(design, deps.marginAtGap, deps.gapRangeMm ?? null) : null,
    safeHere: null,
    region: deps.region,
  };
  return assembleHold(design, parts, deps.conditions, deps.lottery);
}

/** Puts the parts together and holds the lottery over them. */
export function assembleHold(
  design: Design,
  parts: HoldParts,
  conditions: readonly LotteryCondition[],
  options: Partial<LotteryOptions>,
  pieces: LotteryPieces | null = null,
): HoldReport {
  const { recess, magnets, limits, safeHere, region } = parts;
  const thickness = design.stack.length > 0 ? stackThickness(design.stack) : null;
  const keeps = (range: { readonly thinnestMm: number; readonly thickestMm: number } | null): boolean | null => {
    if (!limits || !range) return null;
    if (limits.thinnestMm === null || limits.thickestMm === null) return false;
    return range.thinnestMm >= limits.thinnestMm - 1e-3 && range.thickestMm <= limits.thickestMm + 1e-3;
  };
  const lottery = lotteryReport(design, conditions, recess, magnets?.holding ?? null, options, pieces);
  const regionNotes = [
    ...(safeHere ? holesInWords(safeHere.region, 'At the design’s own gap') : []),
    ...(region?.notes ?? []),
  ];
  return {
    format: 'offcentre-hold',
    version: 1,
    title: design.title,
    sentence: sentence(design, recess, magnets, lottery),
    recess,
    magnets,
    stack: {
      thickness,
      limits,
      worstKeepsMargin: keeps(thickness?.worst ?? null),
      rssKeepsMargin: keeps(thickness?.rss ?? null),
    },
    safeHere: safeHere?.region ?? null,
    safeHereReachMm: safeHere?.reachMm ?? null,
    region,
    regionNotes,
    lottery,
    notes: [
      'The lottery’s interval is that of the drawing; the model’s own band is shown with the recess.',
      'Offsets and turns count from the resting place of the design.',
      ...(lottery.turnNote === null ? [] : [lottery.turnNote]),
      ...regionNotes,
    ],
  };
}

function sentence(design: Design, recess: RecessReport, magnets: MagnetReport | null, lottery: LotteryReport): string {
  const wanted = design.demand.wantedMarginPercent;
  const parts: string[] = [];
  const { clearanceMm, worst, unlimited } = recess.recommended;
  if (clearanceMm === null)
    parts.push(
      `No recess keeps ${wanted} % in reserve: even a snug one leaves ${worst.marginPercent.toFixed(1)} % (${worst.name}).`,
    );
  else if (unlimited)
    parts.push(`Any recess up to ${clearanceMm.toFixed(1)} mm of clearance keeps ${wanted} % in reserve.`);
  else
    parts.push(
      `A recess with up to ${clearanceMm.toFixed(2)} mm of clearance on each side keeps ${wanted} % in reserve; it runs out first at the ${worst.name}.`,
    );
  if (magnets) {
    const { holding } = magnets;
    parts.push(
      holding.restBandMm === null
        ? `The magnets hold with ${holding.pullN.toFixed(1)} N but do not bring it home against friction.`
        : `The magnets bring it home from ${holding.captureRadiusMm.toFixed(1)} mm and leave it within ${holding.restBandMm.toFixed(1)} mm${magnets.restBandIsSafe === false ? ', which is not wholly safe' : ''}.`,
    );
  }
  const words: Record<string, string> = {
    nothing: 'put down freely',
    recess: 'in the recess',
    magnets: 'with the magnets',
    both: 'with both',
  };
  const chances = lottery.byAid.map(
    ({ aid, answer }) =>
      `${shareText(answer.all.probability)} ${words[aid]} (${shareText(answer.all.wilson.low)} to ${shareText(answer.all.wilson.high)})`,
  );
  parts.push(`It works in ${chances.join(', ')}.`);
  return parts.join(' ');
}
