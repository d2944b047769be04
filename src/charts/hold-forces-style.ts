import { css } from 'lit';

export const holdForcesStyle = css`
  .friction-band {
    fill: var(--hatch);
    fill-opacity: 0.75;
    stroke: none;
  }
  .friction {
    stroke: var(--soft);
    stroke-width: 1.4;
    stroke-dasharray: 2 3;
    fill: none;
  }
  .curve {
    fill: none;
    stroke-width: 2.2;
    pointer-events: none;
  }
  .curve.restoring {
    stroke: var(--ink);
  }
  .curve.pull {
    stroke: var(--second);
    stroke-dasharray: 7 4;
  }
  .curve.air {
    stroke: var(--ink);
    stroke-width: 1;
    stroke-opacity: 0.6;
    stroke-dasharray: 1 3;
    stroke-linecap: round;
  }
  .curve.tipping {
    stroke: var(--second);
    stroke-width: 1.8;
  }
  .zero {
    stroke: var(--ink);
    stroke-width: 1.6;
  }
  .mark {
    stroke: var(--ink);
    stroke-width: 1;
    stroke-opacity: 0.7;
  }
  text.restoring,
  text.mark {
    fill: var(--ink);
    stroke-opacity: 1;
  }
  text.pull,
  text.tipping {
    fill: var(--second);
    stroke-dasharray: none;
  }
  text.friction,
  text.air {
    fill: var(--soft);
    stroke: var(--sheet);
    stroke-width: 4px;
    stroke-dasharray: none;
  }
  .reading {
    pointer-events: none;
  }
  .reading-dot {
    fill: var(--sheet);
    stroke: var(--ink);
    stroke-width: 2;
  }
  .reading-dot.pull,
  .reading-dot.tipping {
    stroke: var(--second);
  }
  :host([stale]) .curve {
    opacity: 0.5;
  }
`;
