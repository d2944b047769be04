import type { FeedBands } from '../analysis/feed/feed-bands.ts';
import { type FlowNode, flowNodes } from '../analysis/feed/flow.ts';
import type { OperatingSpread } from '../analysis/feed/operating-spread.ts';
import type { WattBands } from '../charts/energy-flow.ts';

/** Loss of the flow by its id, and the entry of the spread that bounds it. */
const LINK_LOSSES = Object.freeze({
  cable: 'supply',
  bridge: 'bridge',
  transmitterIdle: 'transmitterIdle',
  transmitterCoil: 'transmitterCoil',
  receiverCoil: 'receiverCoil',
  rectifier: 'rectifier',
  regulator: 'regulator',
} as const);

const LINK_STRETCHES = Object.freeze({
  supply: 'supplyW',
  transmitterBoard: 'transmitterBoardW',
  transmitterCoil: 'transmitterCoilW',
  receiverCoil: 'receiverCoilW',
  rectifier: 'rectifierW',
  regulator: 'regulatorW',
} as const);

/** Bands of the flow's losses and stretches, by their ids. */
export function wattBands(root: FlowNode, spread: OperatingSpread | null, bands: FeedBands | null): WattBands {
  const out: Record<string, { low: number; high: number }> = {};
  const put = (id: string, watts: number, less: number, more: number): void => {
    out[id] = { low: Math.max(0, watts - less), high: watts + more };
  };
  const chain = (id: string, key: keyof FeedBands): void => {
    const band = bands?.[key];
    if (band && Number.isFinite(band.low) && Number.isFinite(band.high)) out[id] = { low: band.low, high: band.high };
  };
  for (const node of flowNodes(root)) {
    const stretch = LINK_STRETCHES[node.id as keyof typeof LINK_STRETCHES];
    if (spread && stretch) put(node.id, node.watts, spread.less[stretch], spread.more[stretch]);
    if (node.id.endsWith('/stored')) chain(node.id, 'storedW');
    if (node.id.endsWith('/cell')) chain(node.id, 'cellW');
    for (const loss of node.losses) {
      const key = LINK_LOSSES[loss.id.replace(/^loss:/, '') as keyof typeof LINK_LOSSES];
      if (spread && key) put(loss.id, loss.watts, spread.less[key], spread.more[key]);
      if (loss.id === 'cell/heat') chain(loss.id, 'awayCellHeatW');
      else if (loss.id === 'boost/heat') chain(loss.id, 'awayConverterW');
      else if (loss.id.endsWith('/cell/heat')) chain(loss.id, 'cellHeatW');
      else if (loss.name === 'charger') chain(loss.id, 'chargerW');
    }
  }
  if (root.id === 'cell') {
    chain('cell', 'awayCellW');
    chain('boost', 'awayInputW');
  }
  return out;
}
