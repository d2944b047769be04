/** Something lost on the way, and where its heat goes. */
export interface FlowLoss {
  readonly id: string;
  readonly name: string;
  readonly watts: number;
  readonly where: string;
}

/** A stretch of the energy flow: what comes in leaves as losses and goes on to the next stretches. */
export interface FlowNode {
  readonly id: string;
  readonly name: string;
  readonly watts: number;
  readonly side: 'transmitter' | 'receiver' | 'device';
  readonly losses: readonly FlowLoss[];
  /** Empty: here it is used, or kept. */
  readonly next: readonly FlowNode[];
}

/** All stretches, each before those it feeds. */
export function flowNodes(root: FlowNode): FlowNode[] {
  return [root, ...root.next.flatMap(flowNodes)];
}

/** Power that ends in use or in the cell, W. */
export function usefulW(root: FlowNode): number {
  return flowNodes(root).reduce((sum, node) => sum + (node.next.length === 0 ? node.watts - lostW(node) : 0), 0);
}

function lostW(node: FlowNode): number {
  return node.losses.reduce((sum, loss) => sum + loss.watts, 0);
}

/** The largest difference between what enters a stretch and what leaves it, relative to what the source gives. */
export function flowImbalance(root: FlowNode): number {
  let worst = 0;
  for (const node of flowNodes(root)) {
    if (node.next.length === 0) continue;
    const out = node.next.reduce((sum, next) => sum + next.watts, lostW(node));
    worst = Math.max(worst, Math.abs(out - node.watts));
  }
  return worst / Math.max(root.watts, 1e-12);
}
