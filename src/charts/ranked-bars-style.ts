import { css } from 'lit';

export const rankedBarsStyle = css`
  .row {
    fill: var(--grid);
  }
  text.name {
    fill: var(--ink);
  }
  tspan.note {
    fill: var(--soft);
  }
  .bar {
    stroke: var(--ink);
    stroke-width: 1.4;
  }
  .bar.more {
    fill: var(--ink);
  }
  .bar.less {
    fill: var(--sheet);
  }
  .nothing {
    stroke: var(--ink);
    stroke-width: 1.4;
  }
  .collapse {
    stroke: var(--bad);
    stroke-width: 1.6;
    stroke-dasharray: 3 3;
  }
  text.collapse-word {
    fill: var(--bad);
  }
  .handle {
    pointer-events: none;
  }
  :host([stale]) .bar {
    opacity: 0.45;
  }
`;
