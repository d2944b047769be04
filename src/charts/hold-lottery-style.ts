import { css } from 'lit';

export const holdLotteryStyle = css`
  .row-line {
    stroke: var(--rule);
    stroke-width: 1;
  }
  .interval {
    stroke: var(--ink);
    stroke-width: 2;
  }
  .point {
    fill: var(--sheet);
    stroke: var(--ink);
    stroke-width: 2;
  }
  .chosen .point {
    fill: var(--ink);
  }
  text.name,
  text.value {
    fill: var(--soft);
  }
  .chosen text {
    fill: var(--ink);
    font-weight: 650;
  }
  .curve {
    fill: none;
    stroke: var(--ink);
    stroke-width: 2;
  }
  .band {
    fill: var(--ink);
    fill-opacity: 0.13;
    stroke: none;
  }
  .now {
    stroke: var(--ink);
    stroke-width: 1;
    stroke-dasharray: 4 3;
  }
  .reading-dot {
    fill: var(--sheet);
    stroke: var(--ink);
    stroke-width: 2;
  }
  .reading {
    pointer-events: none;
  }
  :host([stale]) .point,
  :host([stale]) .interval,
  :host([stale]) .curve {
    opacity: 0.5;
  }
`;
