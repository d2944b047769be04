import { css } from 'lit';

/** Curves, limits, dots and the marker of a lesson's figure. */
export const lessonChartStyle = css`
  .curve {
    fill: none;
    stroke-width: 2.2;
  }
  .first {
    stroke: var(--ink);
  }
  .second {
    stroke: var(--second);
    stroke-dasharray: 7 4;
  }
  .limit {
    stroke: var(--soft);
    stroke-width: 1.5;
    stroke-dasharray: 2 4;
  }
  text.second {
    fill: var(--second);
    stroke: var(--sheet);
  }
  text.first {
    stroke: var(--sheet);
  }
  text.limit {
    fill: var(--soft);
    stroke: var(--sheet);
    stroke-dasharray: none;
    stroke-width: 4px;
  }
  text.second {
    stroke-dasharray: none;
  }
  .level {
    stroke: var(--good);
    stroke-width: 1.4;
    stroke-dasharray: 8 5;
  }
  text.level {
    fill: var(--good);
    stroke: var(--sheet);
    stroke-dasharray: none;
    stroke-width: 4px;
  }
  .dot {
    fill: var(--copper);
    stroke: var(--sheet);
    stroke-width: 1.5;
  }
  text.dot {
    fill: var(--copper);
    stroke: var(--sheet);
    stroke-width: 4px;
  }
  .marker {
    cursor: ew-resize;
  }
  .marker .now {
    stroke: var(--steel);
    stroke-width: 1.4;
  }
  .marker .knob {
    stroke: var(--steel);
    stroke-width: 2.6;
  }
  .read {
    fill: var(--sheet);
    stroke-width: 2;
    stroke-dasharray: none;
  }
`;
