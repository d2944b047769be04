import { css } from 'lit';

export const rankedBarsStyle = css`
  /* The line of collapse may run behind it. */
  text.above {
    paint-order: stroke;
    stroke: var(--paper);
    stroke-width: 4px;
    stroke-linejoin: round;
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
  :host([stale]) .bar {
    opacity: 0.45;
  }
`;
